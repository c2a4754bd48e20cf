package reading

import (
	"math/rand/v2"
	"testing"

	"waketwist/unit"
	"waketwist/yarn"
)

// A plain two-ply between light and dark leans one way: the light that shows where its
// strands pass each other makes the half beside it unsteady, no more.
func TestHalfBesideLightGround(t *testing.T) {
	for _, z := range []bool{false, true} {
		d := drawn{n: 2, degrees: 20, z: z, diameter: 60, x: 200}
		m := drawing(400, 900)
		for i := range m.Y {
			if x := i % m.YStride; x < int(d.x) {
				m.Y[i] = 235
			} else {
				m.Y[i] = 20
			}
		}
		d.draw(m, rand.New(rand.NewPCG(3, 4)))
		for i, c := range m.Cb { // the yarn is dark
			if c != 128 {
				m.Y[i] = 30 + (m.Y[i]-30)/4
			}
		}
		r := Read(photoOf(m), Options{})
		want := map[bool]yarn.Direction{false: yarn.S, true: yarn.Z}[z]
		if !r.Readable || r.Direction != want || r.Plies != 2 || r.Angle.Low > 20*unit.Degree || r.Angle.High < 20*unit.Degree {
			t.Errorf("z %v: %d strands, %v, %.1f to %.1f (%v)", z, r.Plies, r.Direction, r.Angle.Low.Degrees(), r.Angle.High.Degrees(), r.Reason)
		}
	}
}

// A yarn beside the one that was explained gainsays it where its texture leans plainly to
// the other side.
func TestNeighbourGainsays(t *testing.T) {
	_, ply := straightCut(drawing(200, 700, drawn{n: 2, degrees: 25, diameter: 80, x: 100}), 100, 80)
	s := likeliest(solutions([]*body{ply.body()}, 0))
	for _, side := range []unit.Angle{-1, 1} {
		src, beside := straightCut(heather(side*20*unit.Degree, side*34*unit.Degree, 0), 100, 80)
		if got := s.gainsaid(src, []*cut{ply, beside}); got != (side > 0) {
			t.Errorf("an S ply beside texture to side %v: gainsaid %v", side, got)
		}
	}
}
