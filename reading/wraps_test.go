package reading

import (
	"image"
	"math"
	"path/filepath"
	"testing"

	"waketwist/raster"
	"waketwist/unit"
	"waketwist/yarn"
)

// wrapped draws yarns at equal distances, all of the same phase.
func wrapped(w, h, n int, apart float64, d drawn) *image.YCbCr {
	var all []drawn
	for i := range n {
		d.x = float64(w)/2 + (float64(i)-float64(n-1)/2)*apart
		all = append(all, d)
	}
	return drawing(w, h, all...)
}

// A wound is so many yarns at equal distances in a picture of w by h pixels.
type wound struct {
	w, h, yarns int
	apart       float64
	drawn
}

func (c wound) read() Reading {
	return Read(photoOf(wrapped(c.w, c.h, c.yarns, c.apart, c.drawn)), Options{})
}

// What lies side by side is found by what repeats across it, gaps or yarns.
func TestRepeatsAcross(t *testing.T) {
	for _, c := range []struct {
		n     int
		apart float64
		drawn
	}{
		{5, 100, drawn{n: 2, degrees: 30, diameter: 92, z: true}},
		{4, 120, drawn{n: 3, degrees: 20, diameter: 80}},
		{8, 40, drawn{n: 4, degrees: 38, diameter: 38, z: true}},
	} {
		m := makeCueMap(newSource(photoOf(wrapped(640, 900, c.n, c.apart, c.drawn))), image.Rectangle{})
		found := m.newProfile(m.cells()).repeats()
		if len(found) == 0 {
			t.Errorf("%+v: nothing repeats", c)
			continue
		}
		if apart := found[0].apart * float64(m.k); math.Abs(apart/c.apart-1) > 0.08 {
			t.Errorf("%+v: found %.1f pixels apart", c, apart)
		}
		if off := math.Abs(found[0].dir - math.Pi/2); off > 3*math.Pi/180 {
			t.Errorf("%+v: found %.1f degrees askew", c, off*180/math.Pi)
		}
	}
}

// Yarns are read where the gaps between them stand out more than they do.
func TestWrapsBetweenGapsAreRead(t *testing.T) {
	for _, d := range []drawn{
		{n: 2, degrees: 30, diameter: 150, z: true},
		{n: 3, degrees: 41, diameter: 150},
	} {
		p := photoOf(wrapped(960, 900, 4, 165, d))
		r := Read(p, Options{})
		if !r.Readable {
			t.Errorf("%+v: refused: %v", d, r.Reason)
			continue
		}
		want := unit.Angle(d.degrees * math.Pi / 180)
		if r.Plies != d.n || r.Direction != d.direction() || math.Abs(float64(r.Angle.Value-want)) > float64(4*unit.Degree) {
			t.Errorf("%+v: read %d %v %v of %d yarns", d, r.Plies, r.Direction, r.Angle.Value, r.StrandsInView)
		}
	}
}

// Strands that lie in line from yarn to yarn repeat across as well; the edges of
// the bundle tell that its yarns run otherwise.
func TestWrapsTurnAlongTheirEdges(t *testing.T) {
	d := drawn{n: 3, degrees: 25, diameter: 90, z: true}
	src := newSource(photoOf(wrapped(800, 900, 5, 95, d)))
	m := makeCueMap(src, image.Rectangle{})
	p := m.newProfile(m.cells())
	w := p.wraps(src, repeat{dir: math.Pi/2 + 5*math.Pi/180, apart: 95 / float64(m.k)})
	turn, ok := w.turn()
	if off := w.dir + turn - math.Pi/2; !ok || math.Abs(off) > math.Pi/180 {
		t.Errorf("the edges turn by %.1f degrees (%v), want -5", turn*180/math.Pi, ok)
	}
}

// What lies far askew shows too little of its edges to be turned at once.
func TestWrapsAreTurnedOnceMore(t *testing.T) {
	for _, skew := range []float64{-30, -28, 28} {
		d := drawn{n: 3, degrees: 25, diameter: 90, z: true}
		src := newSource(photoOf(wrapped(800, 900, 5, 99, d)))
		m := makeCueMap(src, image.Rectangle{})
		w, askew := m.newProfile(m.cells()).straight(src, repeat{dir: math.Pi/2 + skew*math.Pi/180, apart: 99 / float64(m.k)})
		if w == nil {
			t.Errorf("%.0f degrees askew: no wraps (askew %v)", skew, askew)
		} else if off := (w.dir - math.Pi/2) * 180 / math.Pi; math.Abs(off) > 1.5 {
			t.Errorf("%.0f degrees askew: still %.1f", skew, off)
		}
	}
}

// Wraps are read where they fill the picture, be it that no band stands out or that
// what does so most is a gap.
func TestWrapsThatFillThePictureAreRead(t *testing.T) {
	for _, c := range []wound{
		{600, 300, 10, 50, drawn{n: 2, degrees: 18, diameter: 45, z: true}},
		{360, 300, 6, 60, drawn{n: 2, degrees: 14, diameter: 48, z: true}},
	} {
		r := c.read()
		if want := unit.Angle(c.degrees * math.Pi / 180); !r.Readable || r.Plies != c.n || r.Direction != c.direction() ||
			math.Abs(float64(r.Angle.Value-want)) > float64(3*unit.Degree) {
			t.Errorf("%+v: read %d %v %v, %v", c, r.Plies, r.Direction, r.Angle.Value, r.Reason)
		}
	}
}

// Strands that lie in line from yarn to yarn look like yarns twisted the other way.
func TestStrandsInLineAreNoYarns(t *testing.T) {
	for _, c := range []wound{
		{340, 420, 8, 50, drawn{n: 2, degrees: 14, diameter: 49, z: true}},
		{408, 300, 8, 60, drawn{n: 2, degrees: 25, diameter: 54, z: true}},
		{212, 420, 5, 50, drawn{n: 2, degrees: 18, diameter: 49, z: true}},
	} {
		r := c.read()
		if r.Readable && r.Direction != c.direction() {
			t.Errorf("%+v: read %d %v", c, r.Plies, r.Direction)
		}
	}
}

// What repeats across a rope at the distance of its strands is no bundle of yarns: so
// small ones are not read.
func TestSmallWrapsMayBeStrands(t *testing.T) {
	for diameter, want := range map[float64]bool{42: true, 19: false} {
		src := newSource(photoOf(wrapped(640, 900, 8, 1.1*diameter, drawn{n: 2, degrees: 30, diameter: diameter})))
		w := makeCueMap(src, image.Rectangle{}).wraps(src)
		if w == nil {
			t.Fatalf("%.0f pixels: no wraps found", diameter)
		}
		if r := readWraps(src, w, Options{}, NoLay); r.Readable != want {
			t.Errorf("%.0f pixels: read %v (%v), want %v", diameter, r.Readable, r.Reason, want)
		}
	}
}

// A line that winds from yarn to yarn along their strands is no yarn, though what lies
// along it leans: here two strands of either colour had passed for S.
func TestLineThatWindsAcrossWraps(t *testing.T) {
	img := decode(t, filepath.Join("testdata", "drawn_wraps_two_colours.jpg"))
	for orient, wrong := range map[raster.Orientation]yarn.Direction{1: yarn.S, 2: yarn.Z} {
		if r := Read(raster.NewPhoto(img, orient), Options{}); r.Readable && r.Direction == wrong {
			t.Errorf("stored as %d: read %v at %.1f degrees", orient, r.Direction, r.Angle.Value.Degrees())
		}
	}
}

// Strands in line from yarn to yarn may stand out as yarns do, and repeat across more
// clearly: on the first of these they lean both ways, on the second they pass for a rope.
func TestWrapsBehindTheirStrands(t *testing.T) {
	for _, c := range []struct {
		file  string
		plies int
		truth float64 // degrees, S
	}{
		{"drawn_wraps_brown_white.jpg", 2, 18.1},
		{"drawn_wraps_three_colours.jpg", 3, 15.1},
	} {
		img := decode(t, filepath.Join("testdata", c.file))
		for orient, want := range map[raster.Orientation]yarn.Direction{1: yarn.S, 2: yarn.Z} {
			r := Read(raster.NewPhoto(img, orient), Options{})
			if !r.Readable || r.Plies != c.plies || r.Direction != want || math.Abs(r.Angle.Value.Degrees()-c.truth) > 3 {
				t.Errorf("%s stored as %d: %d strands, %v, %.1f degrees (%v)", c.file, orient, r.Plies, r.Direction, r.Angle.Value.Degrees(), r.Reason)
			}
		}
	}
}

// Fibres of wraps are looked at where nothing stood out, but not a second time.
func TestFibresOfWrapsAreLookedAtOnce(t *testing.T) {
	yarns := shortSingles(5, 800, 20*unit.Degree, 14, 3)
	m := drawing(singlesApart*9, 800)
	for y := range 800 {
		copy(m.Y[m.YOffset(2*singlesApart, y):], yarns.Y[yarns.YOffset(0, y):yarns.YOffset(0, y)+5*singlesApart])
	}
	src := newSource(photoOf(m))
	w := makeCueMap(src, image.Rectangle{}).wraps(src)
	if w == nil {
		t.Fatal("no wraps found")
	}
	for first, want := range map[Reason]bool{NoYarn: true, TooSmall: true, UnsureReading: false} {
		if r := readWraps(src, w, Options{}, first); r.Readable != want || want && (r.Structure != Singles || r.Direction != yarn.Z) {
			t.Errorf("after %v: read %v, %v %v (%v)", first, r.Readable, r.Structure, r.Direction, r.Reason)
		}
	}
}
