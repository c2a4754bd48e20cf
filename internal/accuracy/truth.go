// Package accuracy judges readings of photographs whose yarn is known exactly:
// it keeps what is true of a picture in a table beside the pictures, sets
// readings against it and sums them up. Tests of package reading and of package
// drawing share it, so that every set of pictures is judged alike.
package accuracy

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"

	"waketwist/unit"
	"waketwist/yarn"
)

// Truth is what is known of one picture. Numbers that are not known are 0.
type Truth struct {
	File     string
	Readable bool
	Why      string // a word for what makes a picture unreadable

	Plies     int            // 1 for singles
	Direction yarn.Direction // of the last twist
	// Angle is the mean of the local angles of what is in the frame: of the
	// strands' centre lines for a ply, of the surface fibres for singles.
	Angle       unit.Angle
	WidthPixels float64 // of the outer envelope, hair left out
	PitchPixels float64 // axial length of one turn of the ply
	Turns       float64 // in the frame
}

// ReadTruth reads a table of truths with a line of column names. Columns with
// other names are passed over, and an empty number is one that is not known.
func ReadTruth(r io.Reader) ([]Truth, error) {
	rows, err := csv.NewReader(r).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("the table of truths: %w", err)
	}
	if len(rows) == 0 {
		return nil, fmt.Errorf("the table of truths is empty")
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	var out []Truth
	for i, row := range rows[1:] {
		t, err := truthOf(line{column, row})
		if err != nil {
			return nil, fmt.Errorf("line %d of the table of truths: %w", i+2, err)
		}
		out = append(out, t)
	}
	return out, nil
}

// line is one row of the table, by the names of its columns.
type line struct {
	column map[string]int
	fields []string
}

func (l line) text(name string) string {
	if i, ok := l.column[name]; ok {
		return l.fields[i]
	}
	return ""
}

func (l line) number(name string, into *float64) error {
	if l.text(name) == "" {
		return nil
	}
	v, err := strconv.ParseFloat(l.text(name), 64)
	if err != nil {
		return fmt.Errorf("%s %q is no number", name, l.text(name))
	}
	*into = v
	return nil
}

func truthOf(l line) (Truth, error) {
	t := Truth{File: l.text("file"), Readable: l.text("readable") == "1", Why: l.text("unreadable_why")}
	var plies, degrees float64
	for name, into := range map[string]*float64{
		"plies": &plies, "angle_deg": &degrees, "envelope_px": &t.WidthPixels, "pitch_px": &t.PitchPixels, "turns": &t.Turns,
	} {
		if err := l.number(name, into); err != nil {
			return Truth{}, err
		}
	}
	t.Plies, t.Angle = int(plies), unit.Angle(degrees)*unit.Degree
	if d := l.text("direction"); d != "" {
		direction, err := yarn.ParseDirection(d)
		if err != nil {
			return Truth{}, err
		}
		t.Direction = direction
	}
	return t, nil
}
