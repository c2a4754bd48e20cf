package raster

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"
)

// noisePicture is a YCbCr picture of random values.
func noisePicture(w, h int, ratio image.YCbCrSubsampleRatio) *image.YCbCr {
	r := rand.New(rand.NewPCG(1, uint64(w*h)))
	m := image.NewYCbCr(image.Rect(0, 0, w, h), ratio)
	for _, p := range [][]uint8{m.Y, m.Cb, m.Cr} {
		for i := range p {
			p[i] = uint8(r.UintN(256))
		}
	}
	return m
}

// upright turns a picture pixel by pixel as the tag says, by the words of the
// standard: where row 0 and column 0 of the stored picture lie.
func upright(m *image.YCbCr, o Orientation) *image.Gray {
	w, h := m.Rect.Dx(), m.Rect.Dy()
	out := image.NewGray(image.Rect(0, 0, w, h))
	if o >= 5 {
		out = image.NewGray(image.Rect(0, 0, h, w))
	}
	for y := range h {
		for x := range w {
			var ux, uy int
			switch o {
			case 1: // row 0 top, column 0 left
				ux, uy = x, y
			case 2: // top, right
				ux, uy = w-1-x, y
			case 3: // bottom, right
				ux, uy = w-1-x, h-1-y
			case 4: // bottom, left
				ux, uy = x, h-1-y
			case 5: // left, top
				ux, uy = y, x
			case 6: // right, top
				ux, uy = h-1-y, x
			case 7: // right, bottom
				ux, uy = h-1-y, w-1-x
			case 8: // left, bottom
				ux, uy = y, w-1-x
			}
			out.SetGray(ux, uy, color.Gray{Y: m.Y[m.YOffset(x, y)]})
		}
	}
	return out
}

// Points are sampled many at a time as one by one, also outside and at the edges.
func TestSampleIsAt(t *testing.T) {
	p := &Plane{W: 9, H: 7, Stride: 12, Pix: noisePicture(12, 7, image.YCbCrSubsampleRatio444).Y}
	var x, y []float64
	for _, v := range []float64{math.Inf(-1), -3, -1e-9, 0, 0.25, 3, 5.5, 5.999, 6, 6.001, 7.75, 8, 8.5, 40, math.NaN()} {
		for _, u := range []float64{-2, 0, 1.125, 7.999, 8, 8.001, 12, math.NaN()} {
			x, y = append(x, u), append(y, v)
		}
	}
	got := make([]float32, len(x))
	p.Sample(got, x, y)
	for i, v := range got {
		if want := p.At(x[i], y[i]); v != want {
			t.Errorf("at %g, %g: %g, one by one %g", x[i], y[i], v, want)
		}
	}
}

func TestReduceTurnsAndAverages(t *testing.T) {
	for _, size := range [][2]int{{24, 18}, {25, 19}, {7, 31}, {70, 52}} {
		m := noisePicture(size[0], size[1], image.YCbCrSubsampleRatio420)
		for o := Orientation(1); o <= 8; o++ {
			for _, k := range []int{1, 2, 3, 5} {
				got := NewPhoto(m, o).Reduce(Luma, k)
				checkMeans(t, got, upright(m, o), k)
			}
		}
	}
}

func checkMeans(t *testing.T, got *Plane, want *image.Gray, k int) {
	t.Helper()
	w, h := want.Rect.Dx(), want.Rect.Dy()
	if got.W != (w+k-1)/k || got.H != (h+k-1)/k {
		t.Fatalf("size %d x %d, want %d x %d reduced by %d", got.W, got.H, w, h, k)
	}
	for j := range got.H {
		for i := range got.W {
			var sum, n int
			for y := j * k; y < min((j+1)*k, h); y++ {
				for x := i * k; x < min((i+1)*k, w); x++ {
					sum += int(want.GrayAt(x, y).Y)
					n++
				}
			}
			if mean := (sum + n/2) / n; int(got.Row(j)[i]) != mean {
				t.Fatalf("k %d at (%d, %d): %d, want %d", k, i, j, got.Row(j)[i], mean)
			}
		}
	}
}

func TestPlaneReduceInSteps(t *testing.T) {
	m := noisePicture(48, 36, image.YCbCrSubsampleRatio444)
	p := NewPhoto(m, 1)
	once, twice := p.Reduce(Luma, 6), p.Reduce(Luma, 2).Reduce(3)
	if once.W != twice.W || once.H != twice.H {
		t.Fatalf("sizes differ: %d x %d and %d x %d", once.W, once.H, twice.W, twice.H)
	}
	for i := range once.Pix {
		if d := int(once.Pix[i]) - int(twice.Pix[i]); d < -1 || d > 1 {
			t.Errorf("pixel %d: %d at once, %d in steps", i, once.Pix[i], twice.Pix[i])
		}
	}
	if p := NewPlane(5, 5); p.Reduce(1) != p {
		t.Error("reducing by 1 made a copy")
	}
}

func TestReduceSharesMemoryOfUprightLuma(t *testing.T) {
	m := noisePicture(16, 8, image.YCbCrSubsampleRatio444)
	p := NewPhoto(m, 1).Reduce(Luma, 1)
	if &p.Pix[0] != &m.Y[0] {
		t.Error("an upright luma plane was copied")
	}
}

func TestChromaFollowsSubsampling(t *testing.T) {
	for ratio, step := range map[image.YCbCrSubsampleRatio]int{
		image.YCbCrSubsampleRatio444: 1, image.YCbCrSubsampleRatio422: 2,
		image.YCbCrSubsampleRatio420: 2, image.YCbCrSubsampleRatio411: 4,
	} {
		m := image.NewYCbCr(image.Rect(0, 0, 32, 32), ratio)
		for y := range 32 {
			for x := range 32 {
				m.Cb[m.COffset(x, y)] = uint8(100 + x/8)
			}
		}
		p := NewPhoto(m, 6)
		if got := p.ChromaStep(); got != step {
			t.Errorf("%v: chroma step %d, want %d", ratio, got, step)
		}
		for _, k := range []int{1, 4, 8} {
			got := p.Reduce(Cb, k)
			// Turned clockwise, what ran along x runs down y.
			if v := got.Row(20 / k)[3/k]; v != 102 {
				t.Errorf("%v reduced by %d: %d, want 102", ratio, k, v)
			}
		}
	}
}

func TestPhotoOfOtherKinds(t *testing.T) {
	grey := image.NewGray(image.Rect(2, 3, 12, 9))
	grey.SetGray(5, 5, color.Gray{Y: 200})
	rgba := image.NewNRGBA(grey.Rect)
	rgba.SetNRGBA(5, 5, color.NRGBA{R: 200, G: 200, B: 200, A: 255})
	for _, img := range []image.Image{grey, rgba} {
		p := NewPhoto(img, 1)
		if w, h := p.Size(); w != 10 || h != 6 {
			t.Errorf("%T: size %d x %d", img, w, h)
		}
		if v := p.Reduce(Luma, 1).Row(2)[3]; v != 200 {
			t.Errorf("%T: luma %d, want 200", img, v)
		}
		if v := p.Reduce(Cr, 2).Row(1)[1]; v != 128 {
			t.Errorf("%T: Cr %d, want 128", img, v)
		}
	}
}

func TestEmptyPhoto(t *testing.T) {
	for _, img := range []image.Image{&image.YCbCr{}, &image.Gray{}, image.NewRGBA(image.Rectangle{})} {
		if p := NewPhoto(img, 8).Reduce(Luma, 3); p.W != 0 || p.H != 0 {
			t.Errorf("%T: reduced to %d x %d", img, p.W, p.H)
		}
	}
}

func TestAtIsBilinear(t *testing.T) {
	p := NewPlane(3, 2)
	copy(p.Pix, []uint8{0, 10, 20, 100, 110, 120})
	for _, c := range []struct{ x, y, want float64 }{
		{0, 0, 0}, {0.5, 0, 5}, {1.25, 0.5, 62.5}, {9, 9, 120}, {-4, 1, 100}, {math.NaN(), 0, 0},
	} {
		if got := p.At(c.x, c.y); math.Abs(float64(got)-c.want) > 1e-4 {
			t.Errorf("plane at (%v, %v): %v, want %v", c.x, c.y, got, c.want)
		}
		f := &Field{W: 3, H: 2, Pix: []float32{0, 10, 20, 100, 110, 120}}
		if got := f.At(c.x, c.y); math.Abs(float64(got)-c.want) > 1e-4 {
			t.Errorf("field at (%v, %v): %v, want %v", c.x, c.y, got, c.want)
		}
	}
}

func TestBlurSpreadsAsAsked(t *testing.T) {
	for _, sigma := range []float64{1, 2.3, 5} {
		f := NewField(101, 101)
		f.Pix[50*101+50] = 1
		f.BlurRows(sigma)
		f.BlurColumns(sigma)
		var sum, across, down float64
		for y := range 101 {
			for x, v := range f.Row(y) {
				sum += float64(v)
				across += float64(v) * float64((x-50)*(x-50))
				down += float64(v) * float64((y-50)*(y-50))
			}
		}
		if math.Abs(sum-1) > 1e-4 {
			t.Errorf("sigma %v: sum %v, want 1", sigma, sum)
		}
		for _, v := range []float64{across, down} {
			if got := math.Sqrt(v); math.Abs(got-sigma) > 0.35 {
				t.Errorf("sigma %v: spread %v", sigma, got)
			}
		}
	}
}

// The orientation of a plane wave must come out right at any angle up to the
// middle wave numbers.
func TestGradientOrientation(t *testing.T) {
	for _, wave := range []float64{0.2, 0.7, 1.2} { // radians per pixel
		for d := 0; d < 180; d += 7 {
			sin, cos := math.Sincos(float64(d) * math.Pi / 180)
			f := NewField(48, 48)
			for y := range 48 {
				for x := range 48 {
					f.Pix[y*48+x] = float32(math.Sin(wave * (float64(x)*cos + float64(y)*sin)))
				}
			}
			gx, gy := f.Gradient()
			var xx, xy, yy float64
			for i := range gx.Pix {
				a, b := float64(gx.Pix[i]), float64(gy.Pix[i])
				xx, xy, yy = xx+a*a, xy+a*b, yy+b*b
			}
			got := math.Atan2(2*xy, xx-yy) / 2 * 180 / math.Pi
			if off := math.Abs(math.Remainder(got-float64(d), 180)); off > 0.3 {
				t.Errorf("wave %v at %d degrees: off by %.2f", wave, d, off)
			}
		}
	}
}

func TestCloneSharesNothing(t *testing.T) {
	f := NewField(4, 4)
	g := f.Clone()
	g.Pix[0] = 1
	if f.Pix[0] != 0 {
		t.Error("the copy shares memory")
	}
}

func BenchmarkReduce(b *testing.B) {
	m := noisePicture(1632, 1224, image.YCbCrSubsampleRatio420)
	for _, c := range []struct {
		name   string
		orient Orientation
		k      int
	}{{"upright by 6", 1, 6}, {"turned by 6", 6, 6}, {"turned by 1", 6, 1}} {
		b.Run(c.name, func(b *testing.B) {
			b.SetBytes(1632 * 1224)
			for b.Loop() {
				NewPhoto(m, c.orient).Reduce(Luma, c.k)
			}
		})
	}
}

func BenchmarkGradient(b *testing.B) {
	f := NewField(1024, 128)
	b.SetBytes(int64(len(f.Pix) * 4))
	for b.Loop() {
		f.Gradient()
	}
}
