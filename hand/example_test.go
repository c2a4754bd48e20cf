package hand_test

import (
	"fmt"
	"math"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/hand"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

const day = 24 * time.Hour

// weeks is a spinner's record: bobbins of one fibre, read dry and re-wet by
// photograph, a reading mistyped, and three skeins measured before and after the
// wash.
func weeks() (r hand.Record) {
	photo := func(id string, degrees float64) []hand.Reading {
		return []hand.Reading{{ID: id, Angle: unit.Angle(degrees) * unit.Degree, Line: yarn.StrandCentre, SD: rest.PhotographSD}}
	}
	for i, angles := range [][2]float64{{21, 35}, {19, 33}, {23, 73}, {20, 36}, {18, 34}} {
		id := fmt.Sprintf("bobbin %d", i+1)
		r.Bobbins = append(r.Bobbins, hand.Bobbin{ID: id, Fibre: "merino", Clips: []hand.Clip{
			{State: estimate.Rested, Age: time.Duration(3+i) * day, Room: rest.Steady(55), Place: "outside", Readings: photo(id+" dry", angles[0])},
			{State: estimate.Rewet, Soak: 25, Place: "outside", Readings: photo(id+" re-wet", angles[1])},
		}})
	}
	for i, washed := range []unit.Length{91, 90, 92} {
		r.Skeins = append(r.Skeins, hand.Skein{ID: fmt.Sprintf("skein %d", i+1), Preparation: finish.Semi, Strands: 2,
			WheelLength: 100 * unit.Metre, WashedLength: washed * unit.Metre})
	}
	return r
}

func ExampleFit() {
	p, err := hand.Fit(weeks())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range p.Suspects() {
		fmt.Printf("%s says %.0f°, about %.0f° is expected\n", s.Reading, s.Read.Degrees(), s.Expected.Degrees())
	}
	before, after := rest.Prior(finish.Semi), p.Knowledge("merino", finish.Semi)
	fmt.Printf("stiffness ratio known within a factor of %.1f, before of %.1f\n", within(after.Stiffness), within(before.Stiffness))
	// Output:
	// bobbin 3 re-wet says 73°, about 36° is expected
	// stiffness ratio known within a factor of 2.4, before of 6.3
}

// within is the factor up and down in which 90 % of a spread lies.
func within(s rest.Spread) float64 { return math.Exp(estimate.Reach * s.Sigma) }

func ExamplePosterior_Forecast() {
	p, err := hand.Fit(weeks())
	if err != nil {
		fmt.Println(err)
		return
	}
	look := 22 * unit.Degree
	f, err := p.Forecast(hand.Question{Bobbins: []string{"bobbin 1", "bobbin 2"}, Preparation: finish.Semi, Strands: 2,
		Line: yarn.StrandCentre, Rested: 10 * day, Room: rest.Steady(55), Wheel: &look, Singles: yarn.Z})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("plied at %s it is %s after the wash, more than nine to one: %v; it hangs turning %s\n", look, f.Verdict, f.Under > 0.9, f.Hangs)
	// Output:
	// plied at 22.0° it is under-plied after the wash, more than nine to one: true; it hangs turning S
}

func ExamplePosterior_Next() {
	p, err := hand.Fit(weeks())
	if err != nil {
		fmt.Println(err)
		return
	}
	q := hand.Question{Bobbins: []string{"bobbin 1"}, Preparation: finish.Semi, Strands: 2, Line: yarn.StrandCentre}
	gains, err := p.Next(q, hand.WantedPly, []hand.Candidate{
		{Kind: hand.RewetClip, Bobbin: "bobbin 1", Place: "outside", Line: yarn.StrandCentre},
		{Kind: hand.RewetClip, Bobbin: "bobbin 1", Place: "inside", Depth: 0.6, Line: yarn.StrandCentre},
		{Kind: hand.SinglesAngle, Bobbin: "bobbin 1", Place: "inside", Depth: 0.6},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	best := gains[0]
	fmt.Printf("a clip from %s at depth %.1f narrows the answer from %.0f to %.0f degrees\n", best.Candidate.Place, best.Candidate.Depth, best.Now, best.Then)
	// Output:
	// a clip from inside at depth 0.6 narrows the answer from 8 to 7 degrees
}
