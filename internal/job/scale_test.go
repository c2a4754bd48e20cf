package job

import (
	"math"
	"strings"
	"testing"

	"waketwist/internal/journal"
	"waketwist/reading"
	"waketwist/unit"
	"waketwist/yarn"
)

func near(got, want, share float64) bool { return math.Abs(got-want) <= share*math.Abs(want) }

func TestMeasurePly(t *testing.T) {
	// 800 pixels on 20 mm, along a slant: 40 pixels a millimetre.
	s, err := ParseScale("100, 200,580,840 = 20 mm")
	if err != nil {
		t.Fatal(err)
	}
	r := reading.Reading{Structure: reading.Ply, Plies: 2, Width: reading.Pixels{Value: 50, SD: 1}, Pitch: reading.Pixels{Value: 160, SD: 2}}
	z, err := s.Measure(SpansOf(r), 1500, 1000)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"pixels a millimetre", z.PerMillimetre.Pixels, 40},
		{"width", z.Width.Value.Millimetres(), 1.25},
		{"wraps", z.Wraps.Value.PerCentimetre(), 8},
		{"turns", z.Turns.Value.PerMetre(), 250},
		// ends to 1.5 pixels each over 800, beside 1 in 50 and 1 in 80
		{"spread of the width", z.Width.SD.Millimetres(), 1.25 * math.Hypot(1./50, 1.5*math.Sqrt2/800)},
		{"spread of the turns", z.Turns.SD.PerMetre(), 250 * math.Hypot(2./160, 1.5*math.Sqrt2/800)},
	} {
		if !near(c.got, c.want, 1e-9) {
			t.Errorf("%s is %v, want %v", c.what, c.got, c.want)
		}
	}
	for _, part := range []string{"1.25 mm", "in)", "wpi", "wpc", "turns/m", "tpi", "give or take 3 %"} {
		if !strings.Contains(z.String(), part) {
			t.Errorf("%q is not said in %q", part, z)
		}
	}
}

// TestMeasureSingles holds the turns of singles to the geometry of package yarn.
func TestMeasureSingles(t *testing.T) {
	s := Scale{To: Spot{300, 0}, Known: 10 * unit.Millimetre}
	a := 25 * unit.Degree
	r := reading.Reading{Structure: reading.Singles, Width: reading.Pixels{Value: 24, SD: 1}, Angle: reading.Angle{Value: a, SD: unit.Degree}}
	z, err := s.Measure(SpansOf(r), 400, 300)
	if err != nil {
		t.Fatal(err)
	}
	if want := yarn.SurfaceAngle(a).Twist(0.8 * unit.Millimetre); !near(float64(z.Turns.Value), float64(want), 1e-9) {
		t.Errorf("turns are %v, want %v", z.Turns.Value, want)
	}
	if float64(z.Turns.SD/z.Turns.Value) <= float64(z.Width.SD/z.Width.Value) {
		t.Errorf("the spread of the turns, %v, does not hold that of the angle", z.Turns.SD)
	}
	r.Angle.Value = 0
	if z, err := s.Measure(SpansOf(r), 400, 300); err != nil || z.Turns.Value != 0 {
		t.Errorf("fibres along the yarn: turns %v, error %v, want none", z.Turns.Value, err)
	}
}

func TestScaleSpreadGrowsWithPicture(t *testing.T) {
	s := Scale{To: Spot{800, 0}, Known: 20 * unit.Millimetre}
	small, large := s.perMillimetre(900, 700), s.perMillimetre(8000, 6000)
	if small.Pixels != large.Pixels || !near(large.SD, small.SD*8/1.5, 1e-9) {
		t.Errorf("in a small picture %v, in a large one %v", small, large)
	}
}

func TestScaleRefused(t *testing.T) {
	for _, tt := range []struct{ text, says string }{
		{"", "not a scale"},
		{"10,10,310=20 mm", "not a scale"},
		{"10,10,310,ten=20 mm", "not a scale"},
		{"10,10,NaN,10=20 mm", "not a scale"},
		{"10,10,Inf,10=20 mm", "not a scale"},
		{"10,10,310,10", "not a scale"},
		{"10,10,310,10=20", "unit"},
		{"10,10,310,10=twenty", "twenty"},
		{"10,10,310,10=-20 mm", "negative"},
		{"10,10,10,10=20 mm", "too near"},
		{"10,10,25,10=20 mm", "too near"},
		{"10,10,310,10=0.2 mm", "no distance"},
		{"10,10,310,10=3 m", "no distance"},
		{"10,10,110,10=90 cm", "a millimetre cannot be meant"},
		{"10,10,9010,10=1 mm", "a millimetre cannot be meant"},
	} {
		if s, err := ParseScale(tt.text); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%q: scale %v, error %v, want one that says %q", tt.text, s, err, tt.says)
		}
	}
	for _, tt := range []struct {
		text, says string
	}{
		{"10,10,410,10=20 mm", "lies outside the picture"},
		{"-10,10,210,10=20 mm", "lies outside the picture"},
		{"10,10,310,10=20 cm", "which no yarn is"},
		{"10,10,310,10=1 mm", ""},
	} {
		s, err := ParseScale(tt.text)
		if err != nil {
			t.Fatal(err)
		}
		_, err = s.Measure(Spans{Wide: Span{Pixels: 90}}, 400, 300)
		if tt.says == "" && err != nil || tt.says != "" && (err == nil || !strings.Contains(err.Error(), tt.says)) {
			t.Errorf("%q on a picture: %v, want %q", tt.text, err, tt.says)
		}
	}
}

// TestTraceKeepsSpans sends a trace through the record.
func TestTraceKeepsSpans(t *testing.T) {
	r := reading.Reading{Structure: reading.Ply, Width: reading.Pixels{Value: 50.123, SD: 1}, Pitch: reading.Pixels{Value: 160, SD: 2}}
	r.Overlay.Axis = []reading.Point{{X: 1, Y: 2}, {X: 3, Y: 4}}
	got, ok := TraceOf(journal.Reading{Trace: TraceRead(r).text()})
	if want := (Spans{Span{50.12, 1}, Span{160, 2}}); !ok || got.Spans != want {
		t.Errorf("the record holds %v, want %v", got.Spans, want)
	}
	drawn, err := DrawnReading(journal.Reading{}, Drawn{Axis: [2]Spot{{0, 0}, {9, 0}}, Strand: [2]Spot{{0, 0}, {9, 9}}})
	if err != nil {
		t.Fatal(err)
	}
	if got, ok := TraceOf(drawn); !ok || got.Spans != (Spans{}) {
		t.Errorf("lines laid by hand hold the lengths %v, which nobody measured", got.Spans)
	}
}
