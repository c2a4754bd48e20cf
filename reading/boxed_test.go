package reading

import (
	"image"
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"waketwist/raster"
	"waketwist/yarn"
)

// Ends that touch, and a loop over ends of its own colour: no lay can be followed,
// but in the box the strands are seen to lean.
func TestLeanInABox(t *testing.T) {
	rough := 0
	for _, c := range []struct {
		file string
		at   image.Rectangle
		wide float64 // of the strand or the pair, pixels
	}{
		{"brown_cotton_warp.jpg", image.Rect(505, 400, 795, 1000), 90},
		{"brown_loop.jpg", image.Rect(240, 420, 870, 660), 26},
		{"brown_loop.jpg", image.Rect(420, 425, 820, 505), 26},
	} {
		for orient, want := range map[raster.Orientation]yarn.Direction{1: yarn.S, 2: yarn.Z} {
			p := raster.NewPhoto(decode(t, filepath.Join("testdata", c.file)), orient)
			at := c.at
			if w, _ := p.Size(); orient == 2 {
				at.Min.X, at.Max.X = w-at.Max.X, w-at.Min.X
			}
			r := Read(p, Options{Plies: 2, At: at})
			if !r.Readable || r.Direction != want {
				t.Errorf("%s %v stored as %d: %v, flags %v (%v), want %v", c.file, c.at, orient, r.Direction, r.Flags, r.Reason, want)
				continue
			}
			if !r.Has(RoughAngle) {
				continue // a lay was followed after all
			}
			rough++
			if wide := (r.Angle.High - r.Angle.Low).Degrees(); wide < 12 || r.Border.Degrees() < 16 || r.Border.Degrees() > 32 {
				t.Errorf("%s %v stored as %d: border at %.1f, interval %.1f wide; the eye reads about 24", c.file, c.at, orient, r.Border.Degrees(), wide)
			}
			if off := math.Abs(r.Width.Value - c.wide); off > 1.645*r.Width.SD {
				t.Errorf("%s %v stored as %d: %.0f +- %.0f wide, the eye reads %.0f", c.file, c.at, orient, r.Width.Value, r.Width.SD, c.wide)
			}
			if r := Read(p, Options{At: at}); r.Has(RoughAngle) && !(r.Has(UnsurePlies) && r.Direction == want) {
				t.Errorf("%s %v: read by its lean without stated strands: %v, %v", c.file, c.at, r.Direction, r.Flags)
			}
		}
	}
	if rough < 3 {
		t.Errorf("only %d were read by their lean", rough)
	}
}

// Boxes laid anywhere on what is no plied yarn show no lean.
func TestNoLeanInBoxesWithoutPly(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("testdata", "neg_*.jpg"))
	if err != nil || len(files) == 0 {
		t.Fatal("no photographs without yarn", err)
	}
	r := rand.New(rand.NewPCG(3, 5))
	for _, file := range append(files, filepath.Join("testdata", "pc_singles_untwisted.jpg")) {
		p := loadPhoto(t, file)
		w, h := p.Size()
		for range 6 {
			long := (0.3 + 0.7*r.Float64()) * float64(w)
			short := long / (leastBoxAspect + 6*r.Float64())
			x, y := r.Float64()*float64(w), r.Float64()*float64(h)
			at := image.Rect(int(x-long/2), int(y-short/2), int(x+long/2), int(y+short/2)).Intersect(image.Rect(0, 0, w, h))
			src := newSource(p)
			if r, ok := readBoxed(src, makeCueMap(src, at), 2); ok {
				t.Errorf("%s %v: read as %v", file, at, r.Direction)
			}
		}
	}
}

// Drawn plies lean to their side, by between their ridges' and their borders' angle.
func TestBordersLean(t *testing.T) {
	for _, d := range []drawn{
		{n: 2, degrees: 10, z: true, diameter: 40, x: 150},
		{n: 2, degrees: 15, diameter: 60, x: 150},
		{n: 3, degrees: 18, z: true, diameter: 50, x: 150},
	} {
		src := newSource(raster.NewPhoto(drawing(301, 700, d), 1))
		line := newAxis([]float64{d.x, d.x}, []float64{10, 690}, 1)
		l := newBody(evenCut(src, line, d.diameter)).borders()
		low, high := centreOf(math.Abs(l.angle), outermost(d.n)).Degrees(), centreOf(math.Abs(l.angle), ridges).Degrees()
		if l.angle > 0 != d.z || l.mirror > l.share/leanOver || d.degrees < low-2 || d.degrees > high+2 {
			t.Errorf("%d strands at %.0f: border at %.0f, centre lines at %.1f to %.1f, share %.2f, mirrored %.2f", d.n, d.degrees, l.angle, low, high, l.share, l.mirror)
		}
	}
}

// Stripes that go on beyond the width that is looked at are not a yarn's.
func TestStripesAreNotBorders(t *testing.T) {
	m := image.NewYCbCr(image.Rect(0, 0, 300, 700), image.YCbCrSubsampleRatio444)
	for i := range m.Y {
		x, y := float64(i%m.YStride), float64(i/m.YStride)
		m.Y[i] = uint8(128 + 60*math.Sin((x*2+y)/9))
		m.Cb[i], m.Cr[i] = 128, 128
	}
	src := newSource(raster.NewPhoto(m, 1))
	l := newBody(evenCut(src, newAxis([]float64{150, 150}, []float64{10, 690}, 1), 50)).borders()
	if l.share < 0.5 || l.beyond < leanBeyond || l.believed() {
		t.Errorf("stripes: share %.2f, beyond %.2f, believed %v", l.share, l.beyond, l.believed())
	}
}
