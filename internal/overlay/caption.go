package overlay

import (
	"image"
	"image/color"
	"image/draw"
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// Caption is what stands under a picture.
type Caption struct {
	Head  string // what was read, or that nothing was
	Lines []string
	// Trouble says that the picture was refused.
	Trouble bool
}

var (
	ground  = color.NRGBA{0x10, 0x16, 0x14, 0xff}
	text    = color.NRGBA{0xec, 0xe7, 0xdb, 0xff}
	trouble = color.NRGBA{0xff, 0x9d, 0x8c, 0xff}
)

// row is one line of set text.
type row struct {
	words string
	face  font.Face
	ink   color.Color
}

// set sets the caption as a strip of the given width, as high as its lines.
func (c Caption) set(width int) (*image.RGBA, error) {
	size := min(max(float64(width)/56, 12), 26)
	head, err := face(gobold.TTF, 1.15*size)
	if err != nil {
		return nil, err
	}
	body, err := face(goregular.TTF, size)
	if err != nil {
		return nil, err
	}
	margin := int(0.7 * size)
	colour := text
	if c.Trouble {
		colour = trouble
	}
	var rows []row
	for _, words := range broken(c.Head, head, width-2*margin) {
		rows = append(rows, row{words, head, colour})
	}
	for _, line := range c.Lines {
		for _, words := range broken(line, body, width-2*margin) {
			rows = append(rows, row{words, body, text})
		}
	}
	return typeset(rows, width, margin), nil
}

func face(ttf []byte, size float64) (font.Face, error) {
	f, err := opentype.Parse(ttf)
	if err != nil {
		return nil, err
	}
	return opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingFull})
}

// broken breaks a text into lines that are no wider than the strip where its
// words allow.
func broken(s string, f font.Face, width int) (lines []string) {
	line := ""
	for _, word := range strings.Fields(s) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && font.MeasureString(f, longer).Ceil() > width {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// typeset draws rows one under another.
func typeset(rows []row, width, margin int) *image.RGBA {
	height := 2 * margin
	for _, r := range rows {
		height += r.height()
	}
	strip := image.NewRGBA(image.Rect(0, 0, width, height))
	draw.Draw(strip, strip.Rect, image.NewUniform(ground), image.Point{}, draw.Src)
	y := margin
	for _, r := range rows {
		d := font.Drawer{Dst: strip, Src: image.NewUniform(r.ink), Face: r.face}
		d.Dot = fixed.P(margin, y+r.face.Metrics().Ascent.Ceil())
		d.DrawString(r.words)
		y += r.height()
	}
	return strip
}

func (r row) height() int { return r.face.Metrics().Height.Ceil() }

// Card is a caption by itself, for a file that holds no picture.
func Card(c Caption) (*image.RGBA, error) {
	const width = 800
	return c.set(width)
}
