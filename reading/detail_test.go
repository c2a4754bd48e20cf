package reading

import (
	"image"
	"testing"

	"waketwist/raster"
	"waketwist/yarn"
)

// overdrawn is how many times finer than a sensor's pixels a picture is drawn here.
const overdrawn = 4

// enlarged is what a sensor sees of a picture, scaled up by linear interpolation,
// which adds pixels and no detail.
func enlarged(m *image.YCbCr, by float64) *image.YCbCr {
	b := m.Bounds()
	by /= overdrawn
	out := image.NewYCbCr(image.Rect(0, 0, int(float64(b.Dx())*by), int(float64(b.Dy())*by)), image.YCbCrSubsampleRatio444)
	src := raster.NewPhoto(m, 1)
	for c, pix := range [3][]uint8{out.Y, out.Cb, out.Cr} {
		p := src.Reduce(raster.Channel(c), overdrawn)
		for y := range out.Rect.Dy() {
			for x := range out.Rect.Dx() {
				pix[y*out.YStride+x] = uint8(p.At(float64(x)/by/overdrawn, float64(y)/by/overdrawn) + 0.5)
			}
		}
	}
	return out
}

// softened is a picture blurred by a lens.
func softened(m *image.YCbCr, sigma float64) *image.YCbCr {
	out := image.NewYCbCr(m.Rect, m.SubsampleRatio)
	photo := raster.NewPhoto(m, 1)
	for c, pix := range [3][]uint8{out.Y, out.Cb, out.Cr} {
		p := photo.Reduce(raster.Channel(c), 1)
		soft := raster.NewField(p.W, p.H)
		for y := range p.H {
			for x, v := range p.Row(y) {
				soft.Row(y)[x] = float32(v)
			}
		}
		soft.BlurRows(sigma)
		soft.BlurColumns(sigma)
		for i, v := range soft.Pix {
			pix[i] = uint8(v + 0.5)
		}
	}
	return out
}

// Ten pixels of yarn stay ten, however far they are spread; twenty-four that the
// camera saw are enough, also somewhat out of focus.
func TestEnlargedYarnIsTooSmall(t *testing.T) {
	at := func(diameter float64) *image.YCbCr {
		return drawing(240*overdrawn, 400*overdrawn, drawn{n: 2, degrees: 30, z: true, diameter: diameter * overdrawn, x: 120 * overdrawn})
	}
	for _, c := range []struct{ diameter, by float64 }{{10, 1.8}, {10, 2.5}, {7, 5}, {7, 8}} {
		if r := Read(photoOf(enlarged(at(c.diameter), c.by)), Options{}); r.Reason != TooSmall {
			t.Errorf("%.0f pixels enlarged %.2f times: readable %v, %v, want too small", c.diameter, c.by, r.Readable, r.Reason)
		}
	}
	for _, sigma := range []float64{0.3, 0.8} {
		r := Read(photoOf(softened(enlarged(at(25), 1), sigma)), Options{})
		if !r.Readable || r.Direction != yarn.Z || !r.Has(UnsurePlies) {
			t.Errorf("25 pixels blurred by %.1f: readable %v, %v, %v, %v", sigma, r.Readable, r.Reason, r.Direction, r.Flags)
		}
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
