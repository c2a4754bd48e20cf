package reading

import (
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"waketwist/raster"
	"waketwist/unit"
	"waketwist/yarn"
)

func TestDrawnPliesComeBack(t *testing.T) {
	for _, d := range []drawn{
		{2, 15, true, 60, 200}, {2, 28, false, 90, 200}, {2, 42, true, 70, 200},
		{3, 20, false, 80, 200}, {3, 35, true, 80, 200}, {4, 30, false, 90, 200},
	} {
		t.Run(fmt.Sprintf("%d-ply %v %.0f", d.n, d.direction(), d.degrees), func(t *testing.T) {
			r := Read(photoOf(drawing(400, 900, d)), Options{})
			if !r.Readable || r.Plies != d.n || r.Direction != d.direction() {
				t.Fatalf("read %v %d %v (%v)", r.Readable, r.Plies, r.Direction, r.Reason)
			}
			if off := math.Abs(r.Angle.Value.Degrees() - d.degrees); off > 3 {
				t.Errorf("angle %.1f, want %.0f", r.Angle.Value.Degrees(), d.degrees)
			}
			if off := math.Abs(r.Width.Value/d.diameter - 1); off > 0.12 {
				t.Errorf("width %.1f, want %.0f", r.Width.Value, d.diameter)
			}
			if off := math.Abs(r.Pitch.Value/d.pitch() - 1); off > 0.03 {
				t.Errorf("pitch %.1f, want %.1f", r.Pitch.Value, d.pitch())
			}
			if off := math.Abs(r.Axis.Degrees() - 90); off > 1.5 {
				t.Errorf("axis %.1f, want 90", r.Axis.Degrees())
			}
		})
	}
}

func TestBundleIsReadYarnByYarn(t *testing.T) {
	var plies []drawn
	for i := range 5 {
		plies = append(plies, drawn{2, 30, false, 60, 150 + 66*float64(i)})
	}
	r := Read(photoOf(drawing(560, 900, plies...)), Options{})
	if !r.Readable || r.StrandsInView != 5 || r.Plies != 2 || r.Direction != yarn.S {
		t.Fatalf("read %v: %d yarns of %d plies, %v (%v)", r.Readable, r.StrandsInView, r.Plies, r.Direction, r.Reason)
	}
	if !r.Has(SeveralStrands) {
		t.Error("several yarns are not flagged")
	}
	if off := math.Abs(r.Angle.Value.Degrees() - 30); off > 4 {
		t.Errorf("angle %.1f, want 30", r.Angle.Value.Degrees())
	}
}

func TestReadAtABox(t *testing.T) {
	m := drawing(900, 700, drawn{2, 30, false, 60, 250}, drawn{2, 22, true, 60, 650})
	for _, c := range []struct {
		at      image.Rectangle
		want    yarn.Direction
		degrees float64
	}{
		{image.Rect(210, 200, 290, 500), yarn.S, 30},
		{image.Rect(610, 200, 690, 500), yarn.Z, 22},
		{image.Rect(650, 350, 651, 351), yarn.Z, 22}, // a tap
	} {
		r := Read(photoOf(m), Options{At: c.at})
		if !r.Readable || r.Direction != c.want {
			t.Errorf("at %v: %v %v (%v), want %v", c.at, r.Readable, r.Direction, r.Reason, c.want)
			continue
		}
		if off := math.Abs(r.Angle.Value.Degrees() - c.degrees); off > 3 {
			t.Errorf("at %v: angle %.1f, want %.0f", c.at, r.Angle.Value.Degrees(), c.degrees)
		}
	}
}

func TestStatedPliesAreKept(t *testing.T) {
	m := photoOf(drawing(400, 900, drawn{3, 30, true, 80, 200}))
	for n := 2; n <= 3; n++ {
		r := Read(m, Options{Plies: n})
		if r.Readable && (r.Plies != n || !r.Has(StatedPlies)) {
			t.Errorf("stated %d: read %d, flags %v", n, r.Plies, r.Flags)
		}
	}
	if r := Read(m, Options{Plies: 3}); !r.Readable || math.Abs(r.Angle.Value.Degrees()-30) > 3 {
		t.Errorf("stated 3: %v %.1f (%v)", r.Readable, r.Angle.Value.Degrees(), r.Reason)
	}
	if r := Read(m, Options{Plies: 1}); r.Readable && r.Structure != Singles {
		t.Errorf("stated singles: read as %v", r.Structure)
	}
}

func TestOverlayFitsTheReading(t *testing.T) {
	d := drawn{2, 30, true, 80, 200}
	r := Read(photoOf(drawing(400, 900, d)), Options{})
	if !r.Readable {
		t.Fatal(r.Reason)
	}
	o := r.Overlay
	for i, p := range o.Axis {
		if math.Abs(p.X-d.x) > 4 {
			t.Errorf("axis point %d at x %.1f, want %.0f", i, p.X, d.x)
		}
		wide := math.Hypot(o.Edges[0][i].X-o.Edges[1][i].X, o.Edges[0][i].Y-o.Edges[1][i].Y)
		if math.Abs(wide/d.diameter-1) > 0.12 {
			t.Errorf("edges %.1f apart, want %.0f", wide, d.diameter)
		}
	}
	dx, dy := o.Strand[1].X-o.Strand[0].X, o.Strand[1].Y-o.Strand[0].Y
	lean := math.Atan(-dx / dy) // from upright, to the right for Z
	if off := math.Abs(lean*180/math.Pi - r.Angle.Value.Degrees()); off > 1.5 {
		t.Errorf("strand line leans %.1f, want %.1f", lean*180/math.Pi, r.Angle.Value.Degrees())
	}
	if len(o.PitchMarks) < 3 {
		t.Fatalf("%d pitch marks", len(o.PitchMarks))
	}
	for i, p := range o.PitchMarks[1:] {
		q := o.PitchMarks[i]
		if gap := math.Hypot(p.X-q.X, p.Y-q.Y); math.Abs(gap/r.Pitch.Value-1) > 0.2 {
			t.Errorf("pitch marks %.1f apart, want %.1f", gap, r.Pitch.Value)
		}
	}
}

// overlaps reports whether two readings of one yarn agree within their
// intervals.
func overlaps(a, b Angle) bool { return a.Low <= b.High && b.Low <= a.High }

// A photograph turned by quarter turns reads the same; mirrored, S and Z swap
// and the angle stays.
func TestTurnedAndMirrored(t *testing.T) {
	files, err := filepath.Glob("testdata/*.jpg")
	if err != nil || len(files) == 0 {
		t.Fatal("no pictures", err)
	}
	for _, file := range files {
		img := decode(t, file)
		first := Read(raster.NewPhoto(img, 1), Options{})
		if !first.Readable {
			continue // TestAccuracy counts refusals
		}
		for _, o := range []raster.Orientation{2, 3, 6} {
			r := Read(raster.NewPhoto(img, o), Options{})
			if !r.Readable {
				continue
			}
			swapped := o == 2
			if same := r.Direction == first.Direction; same == swapped {
				t.Errorf("%s stored as %d: %v after %v", file, o, r.Direction, first.Direction)
			}
			if r.Plies == first.Plies && !overlaps(r.Angle, first.Angle) {
				t.Errorf("%s stored as %d: %.1f after %.1f", file, o, r.Angle.Value.Degrees(), first.Angle.Value.Degrees())
			}
		}
	}
}

func TestHalfSizeReadsTheSame(t *testing.T) {
	for _, file := range []string{"dev_004.jpg", "dev_022.jpg", "dev_054.jpg", "dev_030.jpg"} {
		p := loadPhoto(t, filepath.Join("testdata", file))
		whole, half := Read(p, Options{}), Read(halved(p), Options{})
		if !whole.Readable || !half.Readable {
			t.Errorf("%s: readable %v, at half size %v", file, whole.Readable, half.Readable)
			continue
		}
		if whole.Direction != half.Direction || !overlaps(whole.Angle, half.Angle) {
			t.Errorf("%s: %v %.1f, at half size %v %.1f", file, whole.Direction, whole.Angle.Value.Degrees(),
				half.Direction, half.Angle.Value.Degrees())
		}
		if ratio := half.Width.Value / whole.Width.Value; math.Abs(ratio-0.5) > 0.05 {
			t.Errorf("%s: width at half size is %.3f of the whole", file, ratio)
		}
	}
}

func TestReadIsDeterministic(t *testing.T) {
	p := loadPhoto(t, filepath.Join("testdata", "dev_055.jpg"))
	a, b := Read(p, Options{}), Read(p, Options{})
	if a.Angle != b.Angle || a.Width != b.Width || a.Pitch != b.Pitch || !slices.Equal(a.Flags, b.Flags) {
		t.Errorf("two readings of one picture differ: %+v and %+v", a, b)
	}
}

// plain fills a picture by a function of place.
func plain(w, h int, f func(x, y int) uint8) *raster.Photo {
	m := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.SetGray(x, y, color.Gray{Y: f(x, y)})
		}
	}
	return raster.NewPhoto(m, 1)
}

func TestWhatIsNotYarnIsRefused(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	cases := []struct {
		name  string
		photo *raster.Photo
		want  []Reason // any of these; empty for any reason
	}{
		{"nothing", plain(0, 0, nil), []Reason{TooSmall}},
		{"one pixel", plain(1, 1, func(x, y int) uint8 { return 9 }), []Reason{TooSmall}},
		{"white", plain(400, 300, func(x, y int) uint8 { return 255 }), []Reason{NoYarn}},
		{"black", plain(400, 300, func(x, y int) uint8 { return 3 }), []Reason{TooDark}},
		{"noise", plain(400, 300, func(x, y int) uint8 { return uint8(r.UintN(256)) }), nil},
		{"hair line", plain(400, 300, func(x, y int) uint8 {
			if x == 200 {
				return 20
			}
			return 220
		}), []Reason{TooSmall, NoYarn}},
		{"bar", plain(600, 600, func(x, y int) uint8 {
			if x > 260 && x < 330 {
				return 60
			}
			return uint8(200 + r.UintN(3))
		}), nil},
		{"pencil", plain(600, 600, func(x, y int) uint8 {
			d := math.Abs(float64(x)-300) / 40
			if d > 1 {
				return uint8(90 + r.UintN(4))
			}
			return uint8(120 + 100*math.Sqrt(1-d*d) + float64(r.UintN(3)))
		}), nil},
		{"ramp", plain(500, 400, func(x, y int) uint8 { return uint8(x / 2) }), nil},
		{"checks", plain(500, 400, func(x, y int) uint8 { return uint8(60 + 120*((x/20+y/20)%2)) }), nil},
	}
	for _, c := range cases {
		got := Read(c.photo, Options{})
		if got.Readable {
			t.Errorf("%s: read as %v %d %v %.1f", c.name, got.Structure, got.Plies, got.Direction, got.Angle.Value.Degrees())
		} else if len(c.want) > 0 && !slices.Contains(c.want, got.Reason) {
			t.Errorf("%s: refused as %v, want %v", c.name, got.Reason, c.want)
		}
	}
}

func TestEveryReasonSpeaks(t *testing.T) {
	if NoReason.String() != "" || NoReason.Sentence() != "" {
		t.Error("no reason has something to say")
	}
	seen := map[string]bool{}
	for r := NoReason + 1; int(r) < len(reasonCodes); r++ {
		if seen[r.String()] || r.String() == "" {
			t.Errorf("reason %d: code %q", int(r), r)
		}
		seen[r.String()] = true
		if s := r.Sentence(); !strings.HasSuffix(s, ".") || strings.Count(s, ". ") > 0 || !strings.Contains(s, ";") {
			t.Errorf("%v: %q is not one sentence that says what is wrong; and what to do", r, s)
		}
	}
}

// decode decodes a photograph kept with the tests.
func decode(t testing.TB, path string) image.Image {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := jpeg.Decode(f)
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	return img
}

func loadPhoto(t testing.TB, path string) *raster.Photo {
	t.Helper()
	return raster.NewPhoto(decode(t, path), 1)
}

// readBytes reads a small picture made of the given bytes and checks what must
// hold of any reading.
func readBytes(t *testing.T, w, h, orient, plies uint8, pix []byte) {
	t.Helper()
	m := image.NewYCbCr(image.Rect(0, 0, int(w%90), int(h%90)), image.YCbCrSubsampleRatio420)
	k := 0
	for _, p := range [][]uint8{m.Y, m.Cb, m.Cr} {
		for i := range p {
			if len(pix) > 0 {
				p[i] = pix[k%len(pix)] + uint8(i/len(pix))
				k++
			}
		}
	}
	opt := Options{Plies: int(plies % 6), At: image.Rect(int(plies), 0, int(w), int(h)/2)}
	r := Read(raster.NewPhoto(m, raster.Orientation(orient)), opt)
	if r.Readable == (r.Reason != NoReason) {
		t.Errorf("readable %v with reason %v", r.Readable, r.Reason)
	}
	if v := r.Angle; r.Readable && !(v.Low <= v.Value && v.Value <= v.High && v.Low >= 0 && v.High < 3*unit.Radian) {
		t.Errorf("angle %v", v)
	}
}

func TestSmallRandomPictures(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		pix := make([]byte, 1+r.IntN(60))
		for i := range pix {
			pix[i] = uint8(r.UintN(256))
		}
		readBytes(t, uint8(r.UintN(256)), uint8(r.UintN(256)), uint8(r.UintN(10)), uint8(r.UintN(256)), pix)
	}
}

func FuzzRead(f *testing.F) {
	f.Add(uint8(40), uint8(50), uint8(1), uint8(0), []byte{1, 200, 3})
	f.Add(uint8(64), uint8(33), uint8(6), uint8(3), []byte{0, 255, 0, 255, 90, 17, 3})
	f.Add(uint8(1), uint8(255), uint8(8), uint8(1), []byte{7})
	f.Fuzz(readBytes)
}

// Flat strands, seen over a turn or two and of an unsure number, explain half a yarn
// as well: two strands that change colour along them had passed for three of half the width.
func TestFlatStrandsOfUnsureNumberAreRefused(t *testing.T) {
	if r := Read(loadPhoto(t, "testdata/drawn_changing_colours.jpg"), Options{}); r.Readable && r.Plies != 2 {
		t.Errorf("read %d %v at %.1f degrees", r.Plies, r.Direction, r.Angle.Value.Degrees())
	}
}
