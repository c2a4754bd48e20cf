package job

import (
	"image"
	"slices"
	"strings"
	"testing"

	"waketwist/internal/journal"
	"waketwist/reading"
	"waketwist/unit"
)

func TestParseLine(t *testing.T) {
	for text, want := range map[string][]reading.Point{
		"":                     nil,
		"  ":                   nil,
		"1,2,3,4":              {{X: 1, Y: 2}, {X: 3, Y: 4}},
		"10,20; 30,40 50,60.5": {{X: 10, Y: 20}, {X: 30, Y: 40}, {X: 50, Y: 60.5}},
	} {
		if got, err := ParseLine(text); err != nil || !slices.Equal(got, want) {
			t.Errorf("%q is read as %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"1", "1,2", "1,2,3", "1,2,3,four", "1,2,3,NaN", "1,2,3,Inf", "a line", strings.Repeat("1,", 4000) + "x"} {
		if got, err := ParseLine(text); err == nil || !strings.Contains(err.Error(), "two points or more") || len(err.Error()) > 400 {
			t.Errorf("%.30q is read as %v, %v", text, got, err)
		}
	}
}

// The line and the box are kept with the reading, whether or not anything was read there.
func TestLineIsKeptWithTheReading(t *testing.T) {
	drawn := []reading.Point{{X: 10, Y: 20}, {X: 300, Y: 40}}
	photo := journal.Photo{Hash: strings.Repeat("a", 64), Width: 400, Height: 300}
	for _, r := range []reading.Reading{
		{Reason: reading.OffLine, Overlay: reading.Overlay{Drawn: drawn}},
		{Readable: true, Structure: reading.Ply, Plies: 2, Angle: reading.Angle{Value: 20 * unit.Degree, SD: unit.Degree, Low: 18 * unit.Degree, High: 22 * unit.Degree}, Overlay: reading.Overlay{Drawn: drawn, Axis: drawn}},
	} {
		kept := ReadingOf(r, photo, image.Rect(20, 30, 121, 61))
		if err := kept.Check(); err != nil {
			t.Error(err)
		}
		trace, read := TraceOf(kept)
		if !slices.Equal(trace.Box, []Spot{{20, 30}, {120, 60}}) {
			t.Errorf("the box is kept as %v", trace.Box)
		}
		if read != r.Readable || !slices.Equal(trace.Drawn, []Spot{{10, 20}, {300, 40}}) {
			t.Errorf("%+v: the trace is %+v, read %v", r, trace, read)
		}
	}
}
