package journal

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"waketwist/unit"
)

func day(n int) time.Time { return dawn.AddDate(0, 0, n) }

func TestAge(t *testing.T) {
	const d = 24 * time.Hour
	two := []Stretch{{Started: day(0), Ended: day(2)}, {Started: day(5), Ended: day(6)}}
	tests := []struct {
		name            string
		stretches       []Stretch
		at              time.Time
		outside, inside time.Duration
		ok              bool
	}{
		{"none recorded", nil, day(9), 0, 0, false},
		{"both rested", two, day(9), 3 * d, 9 * d, true},
		{"in any order", []Stretch{two[1], two[0]}, day(9), 3 * d, 9 * d, true},
		{"before all", two, day(-1), 0, 0, false},
		{"at the first metre", two, day(0), 0, 0, true},
		{"in the middle of the first", two, day(1), 0, d, true},
		{"between the two", two, day(4), 2 * d, 4 * d, true},
		{"in the middle of the second", []Stretch{two[1], two[0]}, day(5).Add(d / 2), 0, 5*d + d/2, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			outside, inside, ok := Bobbin{Stretches: tt.stretches}.Age(tt.at)
			if outside != tt.outside || inside != tt.inside || ok != tt.ok {
				t.Errorf("%v, %v, %v; want %v, %v, %v", outside, inside, ok, tt.outside, tt.inside, tt.ok)
			}
		})
	}
}

func TestSpunUntil(t *testing.T) {
	if got := (Bobbin{}).SpunUntil(); !got.IsZero() {
		t.Errorf("nothing spun until %v", got)
	}
	b := Bobbin{Stretches: []Stretch{{Started: day(3), Ended: day(4)}, {Started: day(0), Ended: day(1)}}}
	if got := b.SpunUntil(); !got.Equal(day(4)) {
		t.Errorf("spun until %v", got)
	}
}

func TestThickness(t *testing.T) {
	d, w := ptr(0.4*unit.Millimetre), ptr(unit.Wraps(2000))
	tests := []struct {
		name         string
		bobbin       Bobbin
		want         unit.Length
		measured, ok bool
	}{
		{"neither", Bobbin{}, 0, false, false},
		{"measured", Bobbin{Diameter: d}, *d, true, true},
		{"wraps", Bobbin{Wraps: w}, 0.5 * unit.Millimetre, false, true},
		{"both", Bobbin{Diameter: d, Wraps: w}, *d, true, true},
	}
	for _, tt := range tests {
		got, measured, ok := tt.bobbin.Thickness()
		if got != tt.want || measured != tt.measured || ok != tt.ok {
			t.Errorf("%s: %v, %v, %v", tt.name, got, measured, ok)
		}
	}
}

func TestValid(t *testing.T) {
	s := Sample{Readings: []Reading{
		{ID: 1}, {ID: 2, Refused: "Out of focus."}, {ID: 3, SupersededBy: 4}, {ID: 4, Supersedes: 3}, {ID: 5, Struck: "slipped"},
	}}
	if diff := cmp.Diff([]Reading{s.Readings[0], s.Readings[3]}, s.Valid()); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if got := (Sample{}).Valid(); got != nil {
		t.Errorf("valid of none: %v", got)
	}
}

func TestDepthWords(t *testing.T) {
	tests := []struct {
		depth float64
		want  string
	}{
		{0, "the outermost layer"},
		{0.12, "the outermost layer"},
		{0.13, "a quarter of the way in"},
		{0.25, "a quarter of the way in"},
		{0.5, "the middle of the bobbin"},
		{0.8, "three quarters of the way in"},
		{0.88, "the last layer on the core"},
		{1, "the last layer on the core"},
	}
	for _, tt := range tests {
		if got := DepthWords(tt.depth); got != tt.want {
			t.Errorf("%v: %q, want %q", tt.depth, got, tt.want)
		}
	}
}

func TestTargetInForce(t *testing.T) {
	p := Project{}
	if got := p.Target(); got != nil {
		t.Errorf("a target before one is set: %v", got)
	}
	p.Targets = []Target{{ID: 1}, {ID: 2}}
	if got := p.Target(); got == nil || got.ID != 2 {
		t.Errorf("in force: %v", got)
	}
}

func TestBobbinOfProject(t *testing.T) {
	p := Project{Bobbins: []Bobbin{{ID: 3}, {ID: 5}}}
	if got := p.Bobbin(5); got != &p.Bobbins[1] {
		t.Errorf("bobbin 5: %v", got)
	}
	if got := p.Bobbin(4); got != nil {
		t.Errorf("bobbin 4: %v", got)
	}
}
