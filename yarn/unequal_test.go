package yarn

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"waketwist/unit"
)

// solved is one case of testdata/unequal.json, which unequal.py beside it works
// out with a general constrained minimiser and none of this package's formulas.
type solved struct {
	Name    string    `json:"name"`
	Slips   bool      `json:"slips"`
	Lengths []float64 `json:"lengths"`
	Strands []struct {
		Diameter  float64 `json:"diameter_mm"`
		Living    float64 `json:"living"`
		Stiffness float64 `json:"stiffness"`
		Torsion   float64 `json:"torsion"`
	} `json:"strands"`
	Turns    float64   `json:"turns_per_metre"`
	Envelope float64   `json:"envelope_mm"`
	Radius   []float64 `json:"radius_mm"`
	Angle    []float64 `json:"angle_deg"`
	Share    []float64 `json:"share"`
	Forced   []struct {
		Turns  float64 `json:"turns_per_metre"`
		Torque float64 `json:"torque"`
	} `json:"forced"`
}

func (c solved) input() (strands []Strand, feed Feed) {
	for _, s := range c.Strands {
		strands = append(strands, Strand{
			Diameter: unit.Length(s.Diameter) * unit.Millimetre, Living: Living(s.Living),
			Stiffness: Stiffness(s.Stiffness), Torsion: TorsionalStiffness(s.Torsion),
		})
	}
	feed.Slips = c.Slips
	for _, l := range c.Lengths {
		feed.Lengths = append(feed.Lengths, unit.Length(l))
	}
	return strands, feed
}

func readSolved(t *testing.T) (cases []solved) {
	t.Helper()
	data, err := os.ReadFile("testdata/unequal.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, &cases); err != nil {
		t.Fatal(err)
	}
	return cases
}

// The two agree to better than 1e-7; ten times that is allowed.
func TestUnequalStrandsAgreeWithAnotherSolver(t *testing.T) {
	const close = 1e-6
	for _, c := range readSolved(t) {
		strands, feed := c.input()
		ply, err := BalanceOf(strands, feed)
		if err != nil {
			t.Errorf("%s: %v", c.Name, err)
			continue
		}
		near(t, c.Name+": turns", float64(ply.Turns), c.Turns, close*c.Turns)
		near(t, c.Name+": envelope in mm", ply.Envelope.Millimetres(), c.Envelope, close*c.Envelope)
		for i, s := range ply.Strands {
			near(t, c.Name+": radius in mm", s.HelixRadius.Millimetres(), c.Radius[i], close*c.Envelope)
			near(t, c.Name+": angle", s.Angle.Degrees(), c.Angle[i], 60*close)
			near(t, c.Name+": share", float64(s.Share), c.Share[i], close)
		}
	}
}

// There the torque is a difference of two energies.
func TestForcedTorqueAgreesWithAnotherSolver(t *testing.T) {
	for _, c := range readSolved(t) {
		strands, feed := c.input()
		for _, f := range c.Forced {
			ply, err := Forced(strands, feed, PlyTwist(f.Turns))
			if err != nil {
				t.Errorf("%s: %v", c.Name, err)
				continue
			}
			near(t, c.Name+": torque", float64(ply.Torque), f.Torque, 2e-4*math.Abs(f.Torque))
		}
	}
}
