package accuracy_test

import (
	"errors"
	"image"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waketwist/internal/accuracy"
	"waketwist/reading"
	"waketwist/unit"
	"waketwist/yarn"
)

const table = `file,readable,unreadable_why,light,plies,direction,angle_deg,envelope_px,pitch_px,turns
a.jpg,1,,lamp,2,S,30,60,200,5
b.jpg,1,,day,1,Z,20,50,,
c.jpg,0,rod,day,,,,,,
`

func truths(t *testing.T) []accuracy.Truth {
	t.Helper()
	out, err := accuracy.ReadTruth(strings.NewReader(table))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestReadTruth(t *testing.T) {
	want := []accuracy.Truth{
		{File: "a.jpg", Readable: true, Plies: 2, Direction: yarn.S, Angle: 30 * unit.Degree, WidthPixels: 60, PitchPixels: 200, Turns: 5},
		{File: "b.jpg", Readable: true, Plies: 1, Direction: yarn.Z, Angle: 20 * unit.Degree, WidthPixels: 50},
		{File: "c.jpg", Why: "rod"},
	}
	if diff := cmp.Diff(want, truths(t)); diff != "" {
		t.Errorf("truths (-want +got):\n%s", diff)
	}
	for _, spoilt := range []string{"", "file,angle_deg\na.jpg,steep\n", "file,direction\na.jpg,X\n", "file,plies\na.jpg\n"} {
		if out, err := accuracy.ReadTruth(strings.NewReader(spoilt)); err == nil {
			t.Errorf("%q was read as %v", spoilt, out)
		}
	}
}

// read is a reading of so many strands at an angle, 2 degrees to either side.
func read(plies int, d yarn.Direction, degrees, width, pitch float64) reading.Reading {
	at := unit.Angle(degrees) * unit.Degree
	return reading.Reading{
		Readable: true, Plies: plies, Direction: d, Angle: reading.Angle{Value: at, Low: at - 2*unit.Degree, High: at + 2*unit.Degree},
		Width: reading.Pixels{Value: width}, Pitch: reading.Pixels{Value: pitch},
	}
}

func TestTally(t *testing.T) {
	tr := truths(t)
	out := []accuracy.Outcome{
		{Truth: tr[0], Reading: read(2, yarn.S, 31, 63, 202)},
		{Truth: tr[0], Reading: read(3, yarn.Z, 32.5, 60, 200)},
		{Truth: tr[1]},
		{Truth: tr[2], Reading: read(1, yarn.Z, 10, 50, 0)},
	}
	got := accuracy.Tally(out)
	if got.Readable != 3 || got.Unreadable != 1 || got.Answered != 2 || got.FalseAnswers != 1 || got.WrongDirection != 1 || got.PliesOK != 1 || got.Held != 1 {
		t.Errorf("tally %+v", got)
	}
	if mae := got.MeanErrorDegrees(); mae < 1.74 || mae > 1.76 {
		t.Errorf("mean error %.2f degrees, want 1.75", mae)
	}
	for _, want := range []string{"| 2 | 2 | 1.75 |", "answered 66.7 %, wrong directions 1, false answers 1 of 1", "width median error 5.0 % (2), pitch 1.0 % (2)"} {
		if !strings.Contains(got.String(), want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	for i, want := range []string{"", "direction Z, want S", "", "unreadable (rod)"} {
		if wrong := out[i].Wrong(); (want == "") != (wrong == "") || !strings.Contains(wrong, want) {
			t.Errorf("outcome %d is wrong in %q, want %q", i, wrong, want)
		}
	}
	if line := out[1].String(); !strings.Contains(line, "DIRECTION PLIES interval") {
		t.Errorf("line %q", line)
	}
}

func TestJudge(t *testing.T) {
	o, err := accuracy.Judge(truths(t)[2], func() (image.Image, error) { return image.NewGray(image.Rect(0, 0, 300, 200)), nil })
	if err != nil || o.Reading.Readable || o.Wrong() != "" {
		t.Errorf("an even grey was read as %+v (%v)", o.Reading, err)
	}
	if _, err := accuracy.Judge(truths(t)[2], func() (image.Image, error) { return nil, errors.New("torn") }); err == nil {
		t.Error("a picture that cannot be decoded was judged")
	}
}
