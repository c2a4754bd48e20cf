package plan

import (
	"strings"
	"testing"
)

// TestNothing takes nothing where there may be nothing.
func TestNothing(t *testing.T) {
	r := solved(t, shawl.with("cloth.waste", "0 in", "cloth.fringe", "0.0 cm"))
	near(t, "warp without waste, in", Of(r, WarpLength).Value.Inches(), 90.91, 0.005)
	r = solved(t, shawl.with("cloth.waste", "0 to 10 in"))
	near(t, "warp with some waste, in", Of(r, WarpLength).Value.Inches(), 95.91, 0.1)
	r = solved(t, shawl.with("work.speed", "900 rpm", "work.draw", "24 in"))
	near(t, "turns of the motor", float64(r.Wish.Wheel.Motor.Stated), 900, 0)
}

// TestUnknownHandIsAssumed says bobbins and hours where the wish is silent, widely,
// and lets them be solved for where hours are wished.
func TestUnknownHandIsAssumed(t *testing.T) {
	r := solved(t, shawl)
	for _, q := range []quantity{qBobbins, qPlyBobbins, qHours, qPlyHours} {
		if e := r.estimates[q]; r.source[q] != Follows || !(e.Low > 0 && e.High > e.Low) {
			t.Errorf("%s is %+v", items[q].name, e)
		}
	}
	hours := solved(t, shawl.with("work.hours", "50 h"))
	near(t, "pace that 50 h ask for, m/h", float64(Of(hours, SpinningPace).Value), Of(r, SinglesLength).Value.Metres()/50, 0.5)
	some := solved(t, shawl.with("cloth.length", "", "work.hours", "50 h"))
	if len(some.Conflicts) > 0 || !(Of(some, Length).Value > 0) {
		t.Errorf("50 h make %s of cloth: %v", Of(some, Length).Value, some.Conflicts)
	}
	if hand := solved(t, Text{"singles.bobbins": "60 g, 55 g", "singles.grist": "100 tex"}); hand.source[qHours] != Unknown {
		t.Error("singles in hand are spun again")
	}
}

// TestFleeceIsCalledSo says in which state fibre is to be had, and warns where it
// can hurt.
func TestFleeceIsCalledSo(t *testing.T) {
	for from, want := range map[string]struct {
		have, do string
		steps    int
	}{"raw": {"Raw fleece: ", "pregnant people keep away", 2}, "scoured": {"Fibre, scoured: ", "Points of combs", 1}, "prepared": {"Fibre, ready to spin: ", "Spin ", 0}} {
		r, bare := solved(t, shawl.with("fibre.from", from)), solved(t, shawl)
		if have := r.Shopping()[0]; !strings.HasPrefix(have, want.have) {
			t.Errorf("%s: %q", from, have)
		}
		if do := strings.Join(r.ToDo(), "\n"); !strings.Contains(do, want.do) || len(r.preparing()) != want.steps || len(bare.preparing()) != 0 {
			t.Errorf("%s: %q", from, do)
		}
	}
}

// TestSpindle counts flicks.
func TestSpindle(t *testing.T) {
	r := solved(t, shawl.with("work.wheel", "spindle", "work.ratio", "12:1", "work.draw", "24 in"))
	for _, l := range r.Lines() {
		if l.Field == "" && !strings.HasPrefix(l.Name, "Flicks a draw") {
			t.Errorf("%s", l.Name)
		}
	}
}

// TestHalfAWeighing asks for what is missing and reckons with nothing where
// nothing is left.
func TestHalfAWeighing(t *testing.T) {
	tests := []struct {
		weighed []string
		says    string
	}{
		{[]string{"weighed.prepared", "600 g"}, "The fibre that is left is not weighed."},
		{[]string{"weighed.prepared", "600 g", "weighed.spun", "300 g"}, "The fibre that is left is not weighed."},
		{[]string{"weighed.prepared", "600 g", "weighed.left", "300 g"}, "the singles are not weighed"},
		{[]string{"weighed.used", "200 g"}, "which part of the fabric is done"},
		{[]string{"weighed.done", "40%", "weighed.used", "200 g"}, "the yarn that is left"},
		{[]string{"weighed.done", "150%", "weighed.used", "200 g"}, "as in 40%."},
		{[]string{"weighed.prepared", "300 g", "weighed.spun", "290 g", "weighed.left", "0 g"}, "There: no fibre;"},
		{[]string{"weighed.prepared", "600 g", "weighed.spun", "330 g", "weighed.left", "300 g"}, "weigh 10 % more than the fibre that is gone"},
		{[]string{"weighed.done", "100%", "weighed.used", "500 g"}, "nothing more is needed"},
		{[]string{"weighed.done", "50%", "weighed.used", "230 g", "weighed.left-yarn", "250 g"}, " oz), from 2"},
	}
	for _, tt := range tests {
		o, err := solved(t, shawl.with(tt.weighed...)).Outlook()
		said := ""
		if err != nil {
			said = err.Error()
		} else {
			said = o.Say()
		}
		if !strings.Contains(said, tt.says) {
			t.Errorf("%v: %q, want %q", tt.weighed, said, tt.says)
		}
	}
}
