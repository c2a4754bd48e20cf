package job

import (
	"image"
	"math"
	"strings"
	"testing"

	"waketwist/internal/journal"
	"waketwist/reading"
	"waketwist/unit"
	"waketwist/yarn"
)

func near(got, want, share float64) bool { return math.Abs(got-want) <= share*math.Abs(want) }

// sizedBy sizes spans by two points in a picture of w by h pixels.
func sizedBy(s Scale, seen Spans, w, h int) (Sizes, error) {
	f, err := s.Within(w, h)
	if err != nil {
		return Sizes{}, err
	}
	return f.Measure(seen)
}

func TestMeasurePly(t *testing.T) {
	// 800 pixels on 20 mm, along a slant: 40 pixels a millimetre.
	s, err := ParseScale("100, 200,580,840 = 20 mm")
	if err != nil {
		t.Fatal(err)
	}
	r := reading.Reading{Structure: reading.Ply, Plies: 2, Width: reading.Pixels{Value: 50, SD: 1}, Pitch: reading.Pixels{Value: 160, SD: 2}}
	z, err := sizedBy(s, SpansOf(r), 1500, 1000)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"pixels a millimetre", z.Scale.PerMillimetre.Pixels, 40},
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
	s := Scale{By: Points, To: Spot{300, 0}, Known: 10 * unit.Millimetre}
	a := 25 * unit.Degree
	r := reading.Reading{Structure: reading.Singles, Width: reading.Pixels{Value: 24, SD: 1}, Angle: reading.Angle{Value: a, SD: unit.Degree}}
	z, err := sizedBy(s, SpansOf(r), 400, 300)
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
	if z, err := sizedBy(s, SpansOf(r), 400, 300); err != nil || z.Turns.Value != 0 {
		t.Errorf("fibres along the yarn: turns %v, error %v, want none", z.Turns.Value, err)
	}
}

func TestScaleSpreadGrowsWithPicture(t *testing.T) {
	s := Scale{By: Points, To: Spot{800, 0}, Known: 20 * unit.Millimetre}
	a, errA := s.Within(900, 700)
	b, errB := s.Within(8000, 6000)
	if errA != nil || errB != nil {
		t.Fatal(errA, errB)
	}
	if small, large := a.PerMillimetre, b.PerMillimetre; small.Pixels != large.Pixels || !near(large.SD, small.SD*8/1.5, 1e-9) {
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
		{"coin", "not a scale"},
		{"coins=20 mm", "not a box"},
		{"coin=20", "unit"},
		{"coin=2 m", "no diameter"},
		{"coin 10,10,20=20 mm", "not a box"},
		{"coin 10,10,0,20=20 mm", "not a box"},
		{"ruler -5,10,30,20=1 mm", "not a box"},
		{"ruler=1 m", "finest marks"},
		{"ruler=10 um", "finest marks"},
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
		_, err = sizedBy(s, Spans{Wide: Span{Pixels: 90}}, 400, 300)
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

func TestParseScaleByThing(t *testing.T) {
	for text, want := range map[string]Scale{
		"coin=23.25 mm":                 {By: Coin, Known: 23.25 * unit.Millimetre},
		" coin 600, 200,300,310 = 1 in": {By: Coin, At: image.Rect(600, 200, 900, 510), Known: unit.Inch},
		"ruler=1/16 in":                 {By: Ruler, Known: unit.Inch / 16},
		"ruler 10,20,400,40=1 mm":       {By: Ruler, At: image.Rect(10, 20, 410, 60), Known: unit.Millimetre},
		"120,80,920,80=20 mm":           {By: Points, From: Spot{120, 80}, To: Spot{920, 80}, Known: 20 * unit.Millimetre},
	} {
		got, err := ParseScale(text)
		if err != nil || got.By != want.By || got.At != want.At || got.From != want.From || got.To != want.To || !near(float64(got.Known), float64(want.Known), 1e-12) {
			t.Errorf("%q is %+v, %v; want %+v", text, got, err, want)
		}
	}
}
