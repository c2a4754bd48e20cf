package reading

import (
	"image"
	"path/filepath"
	"testing"

	"waketwist/raster"
	"waketwist/unit"
	"waketwist/yarn"
)

// Ends of shining cotton that lie in pairs, half of them out of focus, show no lay that
// could be followed, but all that crosses them leans: the direction is read without
// help, roughly, and with a word on the strands.
func TestReadLeaningWithoutHelp(t *testing.T) {
	for orient, want := range map[raster.Orientation]yarn.Direction{1: yarn.S, 2: yarn.Z} {
		r := Read(raster.NewPhoto(decode(t, filepath.Join("testdata", "brown_cotton_warp.jpg")), orient), Options{})
		if !r.Readable || r.Direction != want {
			t.Fatalf("stored as %d: %v (%v), want %v", orient, r.Direction, r.Reason, want)
		}
		if !r.Has(RoughAngle) || !r.Has(UnsurePlies) {
			t.Errorf("stored as %d: flags %v, want a rough angle and unsure strands", orient, r.Flags)
		}
		if got := r.Border.Degrees(); got < 18 || got > 36 {
			t.Errorf("stored as %d: border at %.0f, the eye reads 24 and 30", orient, got)
		}
		if r.Angle.High > steepestPly {
			t.Errorf("stored as %d: the interval reaches %v, where no strands lie", orient, r.Angle.High)
		}
	}
}

// What is common to several yarns is surer than what each of them shows, and what
// leans to both sides is no lean.
func TestBordersOfSeveralYarns(t *testing.T) {
	bodyOf := func(z bool) *body {
		p := photoOf(drawing(200, 700, drawn{n: 2, degrees: 20, z: z, diameter: 60, x: 100}))
		return newBody(cutOut(newSource(p), newAxis([]float64{100, 100}, []float64{20, 680}, 3), 60, cutRounds))
	}
	s, z := bodyOf(false), bodyOf(true)
	one, two := s.borders(), commonBorders([]*body{s, s})
	if one.sure[0] < plainSure || two.angle != one.angle || two.windows < 2*one.windows || two.sure[0] <= one.sure[0] {
		t.Errorf("one yarn: %+v; twice the same: %+v", one, two)
	}
	if both := commonBorders([]*body{s, z}); both.sure[0] >= plainSure || both.share >= plainOver*both.mirror {
		t.Errorf("one yarn of either lean: %+v", both)
	}
}

// Rows of stitches of a knitted cord that lie small side by side look like singles:
// so small, one yarn is read and several are not.
func TestSmallStitchesAreNoSingles(t *testing.T) {
	whole := raster.NewPhoto(singlesDrawn(25*unit.Degree, 12, 2), 1)
	for _, c := range []struct {
		photo   *raster.Photo
		size    float64
		several bool
	}{{whole, 1, true}, {halved(halved(whole)), 0.25, false}} {
		src := newSource(c.photo)
		w, h := c.photo.Size()
		x := float64(w) / 2
		one := cutOut(src, newAxis([]float64{x, x}, []float64{4, float64(h) - 4}, 3*c.size), 60*c.size, cutRounds)
		if r := readSingles(src, []*cut{one}, 0, false); !r.Readable {
			t.Errorf("one, %.0f pixels wide: %v", one.width, r.Reason)
		}
		if r := readSingles(src, []*cut{one, one}, 0, false); r.Readable != c.several {
			t.Errorf("two, %.0f pixels wide: read %v (%v), want %v", one.width, r.Readable, r.Reason, c.several)
		}
	}
}

// What is seen to be a rope where it repeats across the picture is not read by its
// lean elsewhere.
func TestLeaningBesideRopesIsNotRead(t *testing.T) {
	photo := raster.NewPhoto(decode(t, filepath.Join("testdata", "brown_cotton_warp.jpg")), 1)
	src := newSource(photo)
	m := makeCueMap(src, image.Rectangle{})
	if _, ok := readLeaning(src, m, Options{}, nil, nil); !ok {
		t.Error("not read where nothing is known against it")
	}
	for _, reason := range []Reason{TooMany, BothWays, PastLock} {
		if r, ok := readLeaning(src, m, Options{}, nil, &wraps{refused: reason}); ok {
			t.Errorf("read as %v beside wraps refused as %v", r.Direction, reason)
		}
	}
}

// Yarns told apart by gaps in one band are believed to be several only where no other
// band of that place, about as wide, shows them as one.
func TestBundleThatIsOneYarnElsewhereIsDropped(t *testing.T) {
	at := func(x, width float64) *candidate {
		_, c := straightCut(drawing(400, 700, drawn{n: 3, degrees: 20, diameter: width, x: x}), x, width)
		return &candidate{cut: c}
	}
	bundle := at(150, 90)
	for _, c := range []struct {
		name   string
		single *candidate
		left   int
	}{{"the same place", at(150, 88), 0}, {"a strand of it", at(150, 40), 1}, {"beside it", at(290, 90), 1}} {
		if got := len(toldApart([]leaningGroup{{bundle: bundle}}, []*candidate{c.single})); got != c.left {
			t.Errorf("%s: %d bundles left, want %d", c.name, got, c.left)
		}
	}
	if len(toldApart([]leaningGroup{{}}, []*candidate{bundle})) != 1 {
		t.Error("a single yarn is dropped beside itself")
	}
}
