package cli

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"waketwist/internal/job"
	"waketwist/internal/overlay"
	"waketwist/reading"
)

// sheetsIn makes a folder and names a file in it for every photograph, by the
// photograph's own name, what it shows, and the kind of file. Names that fall
// together are numbered, and no photograph is written over.
func sheetsIn(folder string, photos []string, what, kind string) ([]string, error) {
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return nil, notWritten(folder, err)
	}
	taken := map[string]bool{}
	for _, p := range photos {
		taken[placeOf(p)] = true
	}
	out := make([]string, len(photos))
	for i, p := range photos {
		stem := filepath.Join(folder, strings.TrimSuffix(filepath.Base(p), filepath.Ext(p))+"-"+what)
		name := stem + kind
		for n := 2; taken[placeOf(name)]; n++ {
			name = stem + "-" + strconv.Itoa(n) + kind
		}
		taken[placeOf(name)] = true
		out[i] = name
	}
	return out, nil
}

// placeOf is where a file lies, alike for names that some systems take for one.
func placeOf(name string) string {
	if whole, err := filepath.Abs(name); err == nil {
		name = whole
	}
	return strings.ToLower(name)
}

func notWritten(name string, err error) error {
	var path *os.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	return words(fmt.Sprintf("%s cannot be written: %v. Name another folder, or make room", name, err))
}

// overlayTo draws what was read over the reduced picture and writes it to a
// file; a file that is no picture becomes a card with the reason.
func (l look) overlayTo(name string, small image.Image) error {
	sheet, err := l.overlaid(small)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, sheet, &jpeg.Options{Quality: 90}); err != nil {
		return err
	}
	if err := os.WriteFile(name, out.Bytes(), 0o666); err != nil {
		return notWritten(name, err)
	}
	return nil
}

func (l look) overlaid(small image.Image) (image.Image, error) {
	if small == nil {
		return overlay.Card(l.caption())
	}
	share := float64(small.Bounds().Dx()) / float64(l.width)
	var scale [][]job.Spot
	if l.scale != nil {
		scale = l.scale.Lines
	}
	return overlay.Draw(small, share, job.TraceRead(l.reading), scale, l.caption())
}

// caption says in short what was read.
func (l look) caption() overlay.Caption {
	name := filepath.Base(l.photo)
	if l.refused != "" {
		return overlay.Caption{Head: "Not read", Lines: []string{l.refused, name + l.legendDrawn()}, Trouble: true}
	}
	r := l.reading
	head := fmt.Sprintf("%s, %.1f° (%.1f° to %.1f°, 9 times in 10)",
		kind(r), r.Angle.Value.Degrees(), r.Angle.Low.Degrees(), r.Angle.High.Degrees())
	legend := "Dashed: the axis. Thin: the edges. White: the line that was read."
	if r.Structure == reading.Ply {
		legend = "Dashed: the axis. Thin: the edges. Rings: one full turn apart. White: the line that was read."
	}
	return overlay.Caption{Head: head, Lines: []string{l.spans(), name + ". " + legend + l.legendDrawn()}}
}

// legendDrawn names the line that was drawn along the yarn, where one was.
func (l look) legendDrawn() string {
	if len(l.reading.Overlay.Drawn) == 0 {
		return ""
	}
	return " Dotted: the line that was drawn along the yarn."
}
