package drawing

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"waketwist/unit"
	"waketwist/yarn"
)

// Sheet says how large a drawing is and which way the yarn lies.
type Sheet struct {
	PixelsPerMillimetre float64
	// Length of yarn shown. Drawings that are to be compared share the scale
	// and the length.
	Length unit.Length
	// Upright stands the yarn on end; otherwise it lies across the page.
	Upright bool
}

// margin is the room on each side of the yarn for hair and thick places, in
// outer diameters.
const margin = 0.3

// maxPixels bounds a picture, so that a slip in a number cannot eat the memory.
const maxPixels = 24_000_000

// Draw makes a drawing of the yarn on a transparent background. The picture is
// as long as the sheet says and 1.6 outer diameters wide; the yarn fades out at
// its ends. It fails when a number lies outside what can be drawn.
func Draw(y Yarn, sheet Sheet) (*image.NRGBA, error) {
	if err := y.check(); err != nil {
		return nil, err
	}
	length := sheet.PixelsPerMillimetre * sheet.Length.Millimetres()
	across := sheet.PixelsPerMillimetre * y.OuterDiameter().Millimetres() * (1 + 2*margin)
	if !(length >= 1 && across >= 1 && length*across <= maxPixels) {
		return nil, fmt.Errorf("a drawing of %.4g by %.4g pixels cannot be made: change the scale or the length", length, across)
	}
	w, h := int(math.Round(length)), int(math.Ceil(across))
	band := renderBand(y, sheet.PixelsPerMillimetre, w, h, drawingLight(y, sheet.Upright))
	band.fadeEnds(0.5*across/(1+2*margin), y.Loop)
	return band.picture(sheet.Upright), nil
}

// drawingLight stands at the upper left of the page, towards the viewer. For S
// twist the strip is turned over, and the light with it.
func drawingLight(y Yarn, upright bool) light {
	from := vec{z: -0.36, x: -0.56, y: 0.75}
	if upright {
		from = vec{z: 0.56, x: -0.36, y: 0.75}
	}
	return light{from: mirrored(y, from).unit(), ambient: 0.34, rim: 0.3}
}

func mirrored(y Yarn, v vec) vec {
	if y.Direction == yarn.S {
		v.x = -v.x
	}
	return v
}

// band is a painted stretch of yarn at the picture's own resolution, row by
// row, with its direction of twist.
type band struct {
	w, h int
	pix  []paint
}

// renderBand draws the yarn finer than asked for and averages.
func renderBand(y Yarn, perMM float64, w, h int, l light) *band {
	fine := fineness(y.StrandDiameter.Millimetres() * perMM)
	s := newStrip(y, perMM*float64(fine), w*fine, h*fine)
	sh := newShader(s, l)
	painted := sh.paintAll()
	addHair(s, sh.dyes, painted)
	return reduce(s, painted, w, h, fine)
}

// fineness is how many samples a pixel needs each way.
func fineness(strandPixels float64) int {
	switch {
	case strandPixels < 6:
		return 4
	case strandPixels < 14:
		return 3
	}
	return 2
}

func reduce(s *strip, painted []paint, w, h, fine int) *band {
	b := &band{w: w, h: h, pix: make([]paint, w*h)}
	inParallel(w, func(from, to int) {
		for i := from; i < to; i++ {
			for j := range h {
				row := j
				if s.yarn.Direction == yarn.S {
					row = h - 1 - j
				}
				b.pix[row*w+i] = average(painted, s.height, i*fine, j*fine, fine)
			}
		}
	})
	return b
}

// average returns the mean paint of a block of samples.
func average(painted []paint, height, column, row, fine int) paint {
	var sum paint
	for i := column; i < column+fine; i++ {
		for _, p := range painted[i*height+row:][:fine] {
			sum = paint{sum.r + p.r, sum.g + p.g, sum.b + p.b, sum.a + p.a}
		}
	}
	return sum.scaled(1 / float64(fine*fine))
}

// fadeEnds thins the yarn out over a number of pixels; a loop is an end itself.
func (b *band) fadeEnds(over float64, loop bool) {
	for i := range b.w {
		f := smooth((float64(i) + 0.5) / over)
		if !loop {
			f *= smooth((float64(b.w-i) - 0.5) / over)
		}
		if f == 1 {
			continue
		}
		for j := range b.h {
			b.pix[j*b.w+i] = b.pix[j*b.w+i].scaled(f)
		}
	}
}

// smooth rises from 0 at 0 to 1 at 1 and stays there.
func smooth(t float64) float64 {
	t = min(1, max(0, t))
	return t * t * (3 - 2*t)
}

// picture turns light into the bytes of a picture, upright by a quarter turn
// anticlockwise if asked for.
func (b *band) picture(upright bool) *image.NRGBA {
	if !upright {
		m := image.NewNRGBA(image.Rect(0, 0, b.w, b.h))
		for k, p := range b.pix {
			m.SetNRGBA(k%b.w, k/b.w, p.nrgba())
		}
		return m
	}
	m := image.NewNRGBA(image.Rect(0, 0, b.h, b.w))
	for k, p := range b.pix {
		m.SetNRGBA(k/b.w, b.w-1-k%b.w, p.nrgba())
	}
	return m
}

func (p paint) nrgba() color.NRGBA {
	if p.a <= 0.002 {
		return color.NRGBA{}
	}
	ch := func(v float32) uint8 {
		return uint8(255*math.Sqrt(float64(min(1, max(0, v/p.a)))) + 0.5)
	}
	return color.NRGBA{ch(p.r), ch(p.g), ch(p.b), uint8(255*min(1, p.a) + 0.5)}
}
