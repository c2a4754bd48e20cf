package drawing

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"strconv"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// layRuler lays a white rule along the lower edge, or along the left edge when
// the yarn stands rather than lies.
func (p *plate) layRuler(scene Scene) error {
	length, breadth := p.w, int(min(0.15*float64(p.h), 9*scene.PixelsPerMillimetre))
	upright := math.Abs(math.Sin(float64(scene.Axis))) > 0.71
	if upright {
		length, breadth = p.h, int(min(0.15*float64(p.w), 9*scene.PixelsPerMillimetre))
	}
	rule, err := markRuler(length, breadth, scene.PixelsPerMillimetre)
	if err != nil {
		return err
	}
	for y := range breadth {
		for x := range length {
			ink := linear(color.NRGBA{0xe6, 0xe4, 0xdc, 255}).scaled(float64(rule.GrayAt(x, y).Y) / 255)
			at := (p.h-breadth+y)*p.w + x
			if upright {
				at = x*p.w + breadth - 1 - y
			}
			ink.a = 1
			p.pix[at] = ink
		}
	}
	return nil
}

// markRuler draws the marks of a rule, black on white, its marked edge on top:
// one a millimetre, longer at five and ten, numbered in centimetres.
func markRuler(length, breadth int, perMM float64) (*image.Gray, error) {
	m := image.NewGray(image.Rect(0, 0, length, breadth))
	for i := range m.Pix {
		m.Pix[i] = 255
	}
	const start = 2.5 // millimetres before the first mark
	for mm := 0; (start+float64(mm))*perMM < float64(length); mm++ {
		long := 0.26
		switch {
		case mm%10 == 0:
			long = 0.46
		case mm%5 == 0:
			long = 0.36
		}
		mark(m, (start+float64(mm))*perMM, max(1, 0.1*perMM), int(long*float64(breadth)))
	}
	return m, number(m, start*perMM, 10*perMM)
}

// mark draws a line down from the edge, soft where it covers part of a pixel.
func mark(m *image.Gray, x, width float64, long int) {
	for i := int(x - width/2); i <= int(x+width/2); i++ {
		covered := min(float64(i+1), x+width/2) - max(float64(i), x-width/2)
		for j := range long {
			v := 255 * (1 - 0.88*min(1, max(0, covered)))
			m.SetGray(i, j, color.Gray{uint8(v)})
		}
	}
}

// number writes 0, 1, 2, ... a centimetre apart under the long marks.
func number(m *image.Gray, start, centimetre float64) error {
	breadth := float64(m.Rect.Dy())
	face, err := rulerFace(min(0.42*breadth, 0.5*centimetre))
	if err != nil {
		return err
	}
	d := font.Drawer{Dst: m, Src: image.NewUniform(color.Gray{30}), Face: face}
	for cm := 0; start+float64(cm)*centimetre < float64(m.Rect.Dx()); cm++ {
		text := strconv.Itoa(cm)
		left := start + float64(cm)*centimetre - float64(d.MeasureString(text))/128
		d.Dot = fixed.Point26_6{X: fixed.Int26_6(64 * left), Y: fixed.Int26_6(64 * 0.9 * breadth)}
		d.DrawString(text)
	}
	return nil
}

func rulerFace(pixels float64) (font.Face, error) {
	f, err := opentype.Parse(goregular.TTF)
	if err != nil {
		return nil, fmt.Errorf("the rule's numbers cannot be drawn: %w", err)
	}
	return opentype.NewFace(f, &opentype.FaceOptions{Size: max(6, pixels), DPI: 72})
}
