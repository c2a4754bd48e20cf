package cli

import (
	"bytes"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"

	"waketwist/reading"
	"waketwist/unit"
)

//go:embed explain.tmpl
var explainPage string

var explainTemplate = template.Must(template.New("explain").Parse(explainPage))

// account is a page that shows what one reading rests on.
type account struct {
	Name, Words, Border string
	Refused             bool
	Strip, Model        template.URL // pictures; empty for none
	Lean, Repeat        *plot        // nil for none
	Fits                []fitRow
}

// plot is a curve or bars, in the units of its drawing.
type plot struct {
	Points string // of a curve
	Bars   []bar
	Marks  []plotMark
	Ticks  []plotMark
}

type bar struct{ X, Y, Width, Height float64 }

// plotMark is a place on the horizontal axis with a word to it.
type plotMark struct {
	X     float64
	Words string
}

type fitRow struct {
	Kind, Score string
	Share       float64 // of the best or of one, in percent
}

// The drawings are as wide and high as this, with their zero line below.
const (
	plotWidth  = 720.0
	plotHeight = 180.0
)

// accountOf lays out what a look rests on.
func accountOf(l look) (account, error) {
	a := account{Name: filepath.Base(l.photo), Words: l.prose(), Refused: l.refused != ""}
	if l.refused == "" && l.reading.Structure == reading.Ply {
		a.Border = fmt.Sprintf("%.1f°", l.reading.Border.Degrees())
	}
	e := l.why
	if e.Strip == nil {
		return a, nil
	}
	var err error
	if a.Strip, err = pictureIn(e.Strip); err != nil {
		return a, err
	}
	if e.Model != nil {
		if a.Model, err = pictureIn(e.Model); err != nil {
			return a, err
		}
	}
	a.Lean, a.Repeat = leanPlot(l), repeatPlot(l)
	for _, f := range e.Fits {
		a.Fits = append(a.Fits, fitRow{
			fmt.Sprintf("%d strands, %s", f.Plies, f.Direction), fmt.Sprintf("%.2f", f.Score),
			100 * max(0, f.Score) / max(e.Fits[0].Score, 1),
		})
	}
	return a, nil
}

// pictureIn packs a picture into the page.
func pictureIn(img image.Image) (template.URL, error) {
	var out bytes.Buffer
	if err := png.Encode(&out, img); err != nil {
		return "", err
	}
	return template.URL("data:image/png;base64," + base64.StdEncoding.EncodeToString(out.Bytes())), nil
}

// leanPlot draws the directions of the texture from -90 to 90 degrees, S to the
// left, with the angles that were read.
func leanPlot(l look) *plot {
	p := &plot{}
	most := 1e-12
	for _, b := range l.why.Lean {
		most = max(most, b.Share)
	}
	wide := plotWidth / float64(max(len(l.why.Lean), 1))
	for i, b := range l.why.Lean {
		h := plotHeight * b.Share / most
		p.Bars = append(p.Bars, bar{float64(i) * wide, plotHeight - h, wide * 0.85, h})
	}
	at := func(d float64) float64 { return (d + 90) / 180 * plotWidth }
	for d := -90.0; d <= 90; d += 30 {
		p.Ticks = append(p.Ticks, plotMark{at(d), sideOf(d)})
	}
	if l.refused != "" {
		return p
	}
	side := 1.0
	if l.reading.Direction.String() == "S" {
		side = -1
	}
	mark := func(a unit.Angle, words string) {
		p.Marks = append(p.Marks, plotMark{at(side * a.Degrees()), words})
	}
	mark(l.reading.Angle.Value, "angle read")
	if l.reading.Border > 0 {
		mark(l.reading.Border, "border")
	}
	return p
}

// sideOf words an angle of the plot: to the left the texture leans like an S.
func sideOf(d float64) string {
	switch {
	case d < 0:
		return fmt.Sprintf("S %.0f°", -d)
	case d > 0:
		return fmt.Sprintf("Z %.0f°", d)
	}
	return "along"
}

// repeatPlot draws how like itself the yarn is, some way along, from -1 to 1.
// Singles have nothing that repeats.
func repeatPlot(l look) *plot {
	all := l.why.Repeat
	if len(all) < 2 || l.refused == "" && l.reading.Structure == reading.Singles {
		return nil
	}
	p := &plot{}
	far := all[len(all)-1].AlongPixels
	at := func(along float64) float64 { return along / far * plotWidth }
	var curve strings.Builder
	for _, r := range all {
		fmt.Fprintf(&curve, "%.1f,%.1f ", at(r.AlongPixels), plotHeight/2*(1-r.Correlation))
	}
	p.Points = strings.TrimSpace(curve.String())
	step := math.Pow(10, math.Floor(math.Log10(far)))
	if far/step < 3 {
		step /= 4
	}
	for v := 0.0; v <= far; v += step {
		p.Ticks = append(p.Ticks, plotMark{at(v), fmt.Sprintf("%.0f px", v)})
	}
	if turn := l.reading.Pitch.Value; l.refused == "" && turn > 0 {
		for k := 1; float64(k)*turn <= far && k <= 6; k++ {
			p.Marks = append(p.Marks, plotMark{at(float64(k) * turn), fmt.Sprintf("%d", k)})
		}
	}
	return p
}

// accountTo writes the page to a file.
func (l look) accountTo(name string) error {
	a, err := accountOf(l)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if err := explainTemplate.Execute(&out, a); err != nil {
		return err
	}
	if err := os.WriteFile(name, out.Bytes(), 0o666); err != nil {
		return notWritten(name, err)
	}
	return nil
}
