package reading

import (
	"image"
	"testing"

	"waketwist/raster"
)

// enlarged scales a picture up by linear interpolation, which adds pixels and
// no detail.
func enlarged(m *image.YCbCr, by float64) *image.YCbCr {
	b := m.Bounds()
	out := image.NewYCbCr(image.Rect(0, 0, int(float64(b.Dx())*by), int(float64(b.Dy())*by)), image.YCbCrSubsampleRatio444)
	src := raster.NewPhoto(m, 1)
	for c, pix := range [3][]uint8{out.Y, out.Cb, out.Cr} {
		p := src.Reduce(raster.Channel(c), 1)
		for y := range out.Rect.Dy() {
			for x := range out.Rect.Dx() {
				pix[y*out.YStride+x] = uint8(p.At(float64(x)/by, float64(y)/by) + 0.5)
			}
		}
	}
	return out
}

// Ten pixels of yarn stay ten, however far they are spread; twenty-four that the
// camera saw are enough.
func TestEnlargedYarnIsTooSmall(t *testing.T) {
	at := func(diameter float64) *image.YCbCr {
		return drawing(400, 500, drawn{n: 2, degrees: 30, z: true, diameter: diameter, x: 200})
	}
	for by := 1.8; by <= 2.5; by += 0.35 {
		if r := Read(raster.NewPhoto(enlarged(at(10), by), 1), Options{}); r.Reason != TooSmall {
			t.Errorf("10 pixels enlarged %.2f times: readable %v, %v, want too small", by, r.Readable, r.Reason)
		}
	}
	if r := Read(raster.NewPhoto(at(24), 1), Options{}); !r.Readable {
		t.Errorf("24 pixels: refused as %v", r.Reason)
	}
}

// A two-ply shows half its width where one strand lies behind the other, and is as
// large as where it shows all.
func TestFullWidthOfUnevenOutline(t *testing.T) {
	c := &cut{outline: &outline{}}
	for i := range 100 {
		half := 8.0
		if i%4 < 2 {
			half = 14
		}
		c.outline.top, c.outline.bottom = append(c.outline.top, -half), append(c.outline.bottom, half)
	}
	if got := c.full(); got != 28 {
		t.Errorf("full width %.1f, want 28", got)
	}
}
