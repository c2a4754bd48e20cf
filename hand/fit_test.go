package hand

import (
	"fmt"
	"math"
	"testing"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

func eye(degrees ...float64) (out []Reading) {
	for i, d := range degrees {
		out = append(out, Reading{fmt.Sprint("eye ", i), unit.Angle(d) * unit.Degree, yarn.VisibleBorder, rest.EyeSD})
	}
	return out
}

func photo(degrees ...float64) (out []Reading) {
	for i, d := range degrees {
		out = append(out, Reading{fmt.Sprint("photo ", i), unit.Angle(d) * unit.Degree, yarn.StrandCentre, rest.PhotographSD})
	}
	return out
}

const day = 24 * time.Hour

func mustFit(t testing.TB, r Record) *Posterior {
	t.Helper()
	p, err := Fit(r)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The solution in logarithms is that of package yarn.
func TestPlybackIsTheBalance(t *testing.T) {
	for _, k := range []float64{0.05, 0.3, 0.7, 2, 10} {
		for _, a := range []float64{2, 10, 25, 40, 58} {
			twist := math.Tan(a * math.Pi / 180)
			y, byT, byK := plyback(math.Log(twist), math.Log(k))
			want := float64(yarn.Balanced(2, yarn.Stiffness(k), yarn.Living(twist)))
			if got := math.Atan(math.Exp(y)); math.Abs(got-want) > 1e-6 {
				t.Errorf("k %v, singles %v deg: %v, want %v", k, a, got, want)
			}
			const h = 1e-5
			up, _, _ := plyback(math.Log(twist)+h, math.Log(k))
			stiff, _, _ := plyback(math.Log(twist), math.Log(k)+h)
			if byT < steepestSlope && math.Abs((up-y)/h-byT) > 1e-3 || math.Abs((stiff-y)/h-byK) > 1e-3 && byT < steepestSlope {
				t.Errorf("k %v, singles %v deg: slopes %v %v, want %v %v", k, a, byT, byK, (up-y)/h, (stiff-y)/h)
			}
		}
	}
}

func full() Record {
	return Record{
		Bobbins: []Bobbin{{ID: "a", Fibre: "merino", Clips: []Clip{
			{State: estimate.Fresh, Readings: eye(33)},
			{State: estimate.Rested, Age: 3 * day, Room: rest.Steady(50), Place: "x", Depth: 0.3, Readings: eye(20, 22)},
			{State: estimate.Rewet, Place: "x", Depth: 0.3, Soak: 10, Readings: photo(36)},
			{State: estimate.RewetDried, Place: "y", Depth: 0.8, Readings: photo(35)},
		}, Singles: []SinglesReading{{Angle: yarn.SurfaceAngle(32 * unit.Degree), SD: 3 * unit.Degree, Place: "x", Depth: 0.3}}}},
		Skeins: []Skein{{ID: "s", Preparation: finish.Woollen, Strands: 3, WheelLength: 100, WashedLength: 88,
			WheelDiameter: 2 * unit.Millimetre, WashedDiameter: 2.3 * unit.Millimetre, Wheel: eye(33, 35), Washed: photo(38)}},
	}
}

// Every slope is the derivative of its prediction.
func TestSlopesAreDerivatives(t *testing.T) {
	f := newFitter(full())
	for i := range f.global {
		f.global[i] = 0.3 * math.Sin(float64(3*i+1))
	}
	for i := range f.locals {
		for j := range f.locals[i] {
			f.locals[i][j] = 0.4 * math.Cos(float64(5*j+i))
		}
	}
	for _, term := range f.terms {
		value := func() float64 {
			r, _ := f.look(term, f.global, f.locals[term.block])
			return term.observed - r*term.sd
		}
		_, s := f.look(term, f.global, f.locals[term.block])
		slope := append(append([]float64{}, s.global...), s.local...)
		for i := range slope {
			at := &f.global
			j := i
			if i >= len(f.global) {
				at, j = &f.locals[term.block], i-len(f.global)
			}
			const h = 1e-5
			(*at)[j] += h
			up := value()
			(*at)[j] -= 2 * h
			down := value()
			(*at)[j] += h
			if got, want := slope[i], (up-down)/(2*h); math.Abs(got-want) > 1e-4*(1+math.Abs(want)) {
				t.Errorf("%s: slope %d is %v, want %v", term.id, i, got, want)
			}
		}
	}
}
