package job

import (
	"math"
	"strings"
	"testing"
	"time"

	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

func targetOf(wheel, rewet, washed float64) journal.Target {
	at := func(deg float64) journal.Interval {
		a := unit.Angle(deg) * unit.Degree
		return journal.Interval{Value: a, Low: a - 3*unit.Degree, High: a + 3*unit.Degree}
	}
	return journal.Target{Plan: journal.Plan{Strands: 2}, Line: yarn.StrandCentre, Angle: at(rewet), Washed: at(washed), Wheel: at(wheel)}
}

func checkSample(state estimate.State, degrees ...float64) journal.Sample {
	s := journal.Sample{Run: 1, State: state, Load: estimate.AtWheel}
	for _, d := range degrees {
		s.Readings = append(s.Readings, journal.Reading{
			Structure: journal.Ply, Plies: 2, Line: yarn.StrandCentre, Angle: unit.Angle(d) * unit.Degree, SD: rest.PhotographSD,
		})
	}
	return s
}

func TestCheckComparesInItsOwnState(t *testing.T) {
	target := targetOf(26, 34, 32)
	tests := []struct {
		name string
		s    journal.Sample
		want Standing
	}{
		{"at the wheel, on target", checkSample(estimate.Rested, 26, 27), OnTarget},
		{"at the wheel, soft", checkSample(estimate.Rested, 20, 19), TooFew},
		{"at the wheel, hard", checkSample(estimate.Fresh, 34, 35), TooMany},
		{"re-wet, as at the wheel", checkSample(estimate.Rewet, 26, 26), TooFew},
		{"re-wet, on target", checkSample(estimate.Rewet, 34), OnTarget},
		{"washed, on target", checkSample(estimate.Washed, 32), OnTarget},
		{"not read", checkSample(estimate.Rested), Unknown},
	}
	for _, tt := range tests {
		c := CheckOf(tt.s, target, Drive{}, nil)
		if c.Standing != tt.want {
			t.Errorf("%s: standing %d, want %d (%s)", tt.name, c.Standing, tt.want, c.Words())
		}
		if strings.ContainsAny(c.Words(), "\n") || strings.Contains(c.Words(), "NaN") {
			t.Errorf("%s: not one line: %q", tt.name, c.Words())
		}
	}
}

func TestCheckPutsTheChangeIntoTreadles(t *testing.T) {
	ratio, draw, d := 8.0, 24*unit.Inch, unit.Inch/30
	c := CheckOf(checkSample(estimate.Rewet, 20, 20, 20), targetOf(30, 40, 38), DriveOf(journal.Drive{Ratio: &ratio, Draw: &draw}, nil), &d)
	// 8.01 - 3.48 turns per inch over 24 inches, 8 turns a treadle.
	if want := (8.01 - 3.48) * 24 / 8; c.Treadles == nil || math.Abs(c.Treadles.Value-want) > 0.2 {
		t.Errorf("treadles %+v, want %.1f", c.Treadles, want)
	}
	rpm, beat := 600.0, 4*time.Second
	c = CheckOf(checkSample(estimate.Rewet, 20, 20, 20), targetOf(30, 40, 38), DriveOf(journal.Drive{RPM: &rpm, Draw: &draw, Beat: &beat}, nil), &d)
	if want := 600 * math.Tan(40*math.Pi/180) / math.Tan(20*math.Pi/180); c.RPM == nil || math.Abs(c.RPM.Value-want) > 40 {
		t.Errorf("motor %+v, want %.0f", c.RPM, want)
	}
}

func TestCheckOnAnotherLineIsLessSure(t *testing.T) {
	same := CheckOf(checkSample(estimate.Rewet, 30, 30, 30), targetOf(26, 34, 32), Drive{}, nil)
	s := checkSample(estimate.Rewet, 30, 30, 30)
	for i := range s.Readings {
		s.Readings[i].Line = yarn.VisibleBorder
	}
	other := CheckOf(s, targetOf(26, 34, 32), Drive{}, nil)
	if other.Smallest <= same.Smallest {
		t.Errorf("across lines a change of %.2f shows, on one line %.2f", other.Smallest, same.Smallest)
	}
}

// A photograph of a ply that was read as singles says nothing of the strands.
func TestCheckLeavesReadingsOfSinglesOut(t *testing.T) {
	s := checkSample(estimate.Rested, 26, 26, 5)
	s.Readings[2].Structure, s.Readings[2].Line, s.Readings[2].Plies = journal.Singles, yarn.SurfaceFibre, 1
	target := targetOf(26, 34, 32)
	if c := CheckOf(s, target, Drive{}, nil); c.Standing != OnTarget || math.Abs(c.Read.Value.Degrees()-26) > 0.1 || c.Read.N != 2 {
		t.Errorf("read %.1f from %d, %s", c.Read.Value.Degrees(), c.Read.N, c.Words())
	}
	s.Readings = s.Readings[2:]
	if c := CheckOf(s, target, Drive{}, nil); c.Standing != Unknown || !strings.Contains(c.Words(), "as singles") {
		t.Errorf("standing %d: %s", c.Standing, c.Words())
	}
	run := runOf(20, 25, 30, 35, 40)
	before := Drift(run)
	run.Checks[0].Readings = append(run.Checks[0].Readings, s.Readings...)
	if after := Drift(run); after != before {
		t.Errorf("a reading of singles moves the drift: %q, %q", before, after)
	}
}

// Off the middle of a wide target is not off the target.
func TestCheckWithinTheTarget(t *testing.T) {
	target := targetOf(26, 34, 32)
	for degrees, within := range map[float64]bool{23.4: true, 19: false, 28.6: true, 33: false} {
		c := CheckOf(checkSample(estimate.Rested, degrees, degrees, degrees, degrees, degrees, degrees), target, Drive{}, nil)
		if c.Standing == OnTarget || strings.Contains(c.Words(), "may balance as it is") != within {
			t.Errorf("at %v degrees: %q", degrees, c.Words())
		}
	}
}
