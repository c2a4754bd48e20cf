package reading

import (
	"image"
	"math"
	"math/rand/v2"

	"waketwist/raster"
	"waketwist/yarn"
)

// drawn describes a straight ply to be drawn on plain ground.
type drawn struct {
	n        int
	degrees  float64 // helix angle
	z        bool
	diameter float64 // of the envelope, pixels
	x        float64 // of the middle line, which runs down the picture
}

// drawing is a picture of plies hanging side by side on grey ground with some
// noise, lit from the upper left.
func drawing(w, h int, plies ...drawn) *image.YCbCr {
	m := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio444)
	r := rand.New(rand.NewPCG(7, 9))
	for i := range m.Y {
		m.Y[i] = uint8(90 + r.NormFloat64()*2)
		m.Cb[i], m.Cr[i] = 128, 128
	}
	for _, d := range plies {
		d.draw(m, r)
	}
	return m
}

func (d drawn) draw(m *image.YCbCr, r *rand.Rand) { d.drawToned(m, r, nil) }

// drawToned draws a ply whose strands take in such shares of the light, all of it where
// none are given.
func (d drawn) drawToned(m *image.YCbCr, r *rand.Rand, tones []float64) {
	q := newPly(d.n, round, d.degrees*math.Pi/180)
	unit := d.diameter / 2 / q.envelope()
	for y := m.Rect.Min.Y; y < m.Rect.Max.Y; y++ {
		phi := 2 * math.Pi * float64(y-m.Rect.Min.Y) / unit / q.turnZ
		// Looking down the picture, across grows to the left.
		if d.z {
			phi = -phi
		}
		for x := range m.Rect.Dx() {
			s := q.look(phi, (d.x-float64(x))/unit)
			if !s.hit {
				continue
			}
			light := (0.5*s.nx + 0.25*s.ny + 0.5) * (0.35 + 0.65*s.depth*s.depth)
			if tones != nil {
				light *= tones[s.strand]
			}
			i := m.YOffset(x, y)
			m.Y[i] = uint8(min(max(40+180*light+r.NormFloat64()*4, 0), 255))
			m.Cb[m.COffset(x, y)], m.Cr[m.COffset(x, y)] = 118, 140
		}
	}
}

// pitch is the axial length of one turn in pixels.
func (d drawn) pitch() float64 {
	q := newPly(d.n, round, d.degrees*math.Pi/180)
	return q.turnZ * d.diameter / 2 / q.envelope()
}

func (d drawn) direction() yarn.Direction {
	if d.z {
		return yarn.Z
	}
	return yarn.S
}

// photoOf is a photograph stored upright.
func photoOf(m image.Image) *raster.Photo { return raster.NewPhoto(m, 1) }

// halved is a picture reduced to half its size.
func halved(p *raster.Photo) *raster.Photo {
	y := p.Reduce(raster.Luma, 2)
	m := image.NewYCbCr(image.Rect(0, 0, y.W, y.H), image.YCbCrSubsampleRatio444)
	for c, dst := range [][]uint8{m.Y, m.Cb, m.Cr} {
		src := p.Reduce(raster.Channel(c), 2)
		for j := range src.H {
			copy(dst[j*y.W:], src.Row(j))
		}
	}
	return raster.NewPhoto(m, 1)
}
