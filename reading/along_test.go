package reading

import (
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"testing"

	"waketwist/raster"
	"waketwist/yarn"
)

// points is a line through places across and down by turns.
func points(v ...float64) (line []Point) {
	for i := 0; i+1 < len(v); i += 2 {
		line = append(line, Point{v[i], v[i+1]})
	}
	return line
}

// mirroredLine is a line on the mirrored picture.
func mirroredLine(line []Point, width int) []Point {
	out := slices.Clone(line)
	for i := range out {
		out[i].X = float64(width-1) - out[i].X
	}
	return out
}

// A line along one of several strands reads that one, also where the points lie
// beside its middle, and mirrored the mirrored twist.
func TestReadAlongALine(t *testing.T) {
	for _, c := range []struct {
		file   string
		line   []Point
		plies  int
		border float64 // degrees, as the eye reads it
	}{
		{"brown_loop.jpg", points(250, 620, 330, 540, 440, 480, 560, 447, 650, 440, 760, 460, 860, 505), 2, 24},
		{"brown_loop.jpg", points(255, 625, 336, 548, 437, 473, 566, 453, 655, 446, 754, 452, 855, 500), 2, 24},
		{"brown_loop.jpg", points(520, 458, 590, 443, 650, 440, 720, 447, 830, 485), 2, 24},
		{"pc_s2_clean_pair.jpg", points(78, 5, 80, 150, 78, 318), 0, 39},
		{"pc_s2_clean_pair.jpg", points(268, 5, 275, 150, 285, 318), 0, 40}, // beside a wide shadow
		{"green_yarn_diagonal.jpg", points(413, 7, 321, 195, 195, 459, 69, 689, 18, 890), 2, 33},
		{"pc_s2_red_green_steep.jpg", points(154, 2, 116, 162, 91, 312, 79, 481), 0, 45},
	} {
		for orient, want := range map[raster.Orientation]yarn.Direction{1: yarn.S, 2: yarn.Z} {
			if c.file == "green_yarn_diagonal.jpg" {
				want = map[yarn.Direction]yarn.Direction{yarn.S: yarn.Z, yarn.Z: yarn.S}[want]
			}
			p := raster.NewPhoto(decode(t, filepath.Join("testdata", c.file)), orient)
			line := c.line
			w, h := p.Size()
			if orient == 2 {
				line = mirroredLine(line, w)
			}
			if err := CheckLine(line, w, h); err != nil {
				t.Fatal(err)
			}
			r := Read(p, Options{Plies: c.plies, Along: line})
			if !r.Readable || r.Direction != want || math.Abs(r.Border.Degrees()-c.border) > 8 {
				t.Errorf("%s %v stored as %d: %v, border at %.0f (%v), want %v and %.0f", c.file, c.line, orient, r.Direction, r.Border.Degrees(), r.Reason, want, c.border)
			}
			if !slices.Equal(r.Overlay.Drawn, line) {
				t.Errorf("%s: the line %v is given back as %v", c.file, line, r.Overlay.Drawn)
			}
		}
	}
}

// Of ends that hang side by side, the one is read along which the line lies.
func TestLineChoosesTheYarn(t *testing.T) {
	ends := []drawn{
		{n: 2, degrees: 22, z: true, diameter: 60, x: 60},
		{n: 3, degrees: 26, diameter: 60, x: 150},
		{n: 2, degrees: 30, z: true, diameter: 60, x: 240},
	}
	p := photoOf(drawing(301, 800, ends...))
	for _, d := range ends {
		r := Read(p, Options{Along: points(d.x+10, 20, d.x-8, 400, d.x+5, 780)})
		if !r.Readable || r.Direction != d.direction() || r.Plies != d.n || r.StrandsInView != 1 {
			t.Errorf("%d strands at %.0f, %v: read as %d, %v, %d side by side (%v)", d.n, d.degrees, d.direction(), r.Plies, r.Direction, r.StrandsInView, r.Reason)
			continue
		}
		if off := math.Abs(r.Angle.Value.Degrees() - d.degrees); off > 2 {
			t.Errorf("%d strands at %.0f are %.1f degrees off", d.n, d.degrees, off)
		}
	}
}

// lineAtRandom is a line of two to five points, straight or bent, in a picture.
func lineAtRandom(r *rand.Rand, w, h float64) []Point {
	for {
		n := 2 + r.IntN(4)
		piece := (0.25 + 0.7*r.Float64()) * w / float64(n-1)
		dir, bend := 2*math.Pi*r.Float64(), (2*r.Float64()-1)*1.2/float64(n)
		line := []Point{{r.Float64() * w, r.Float64() * h}}
		for i := range n - 1 {
			sin, cos := math.Sincos(dir + bend*float64(i))
			line = append(line, Point{line[i].X + piece*cos, line[i].Y + piece*sin})
		}
		if CheckLine(line, int(w), int(h)) == nil {
			return line
		}
	}
}

// Lines laid anywhere on what is no twisted yarn read nothing, strands stated or not.
func TestNothingAlongLinesWithoutYarn(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("testdata", "neg_*.jpg"))
	if err != nil || len(files) == 0 {
		t.Fatal("no photographs without yarn", err)
	}
	r := rand.New(rand.NewPCG(7, 1))
	for _, file := range append(files, filepath.Join("testdata", "pc_singles_untwisted.jpg")) {
		p := loadPhoto(t, file)
		w, h := p.Size()
		for range 6 {
			line := lineAtRandom(r, float64(w), float64(h))
			for _, plies := range []int{0, 2} {
				if r := Read(p, Options{Plies: plies, Along: line}); r.Readable {
					t.Errorf("%s %v: read as %d strands, %v", file, line, r.Plies, r.Direction)
				}
			}
		}
	}
}

// What crosses a line, and a line on bare ground, are refused for that.
func TestLineThatFollowsNothing(t *testing.T) {
	p := photoOf(drawing(700, 700, drawn{n: 2, degrees: 25, diameter: 60, x: 350}))
	for name, line := range map[string][]Point{
		"across": points(100, 300, 600, 420), "slanting": points(240, 30, 460, 670), "bare ground": points(60, 30, 80, 650), "within": points(340, 300, 360, 320),
	} {
		for _, plies := range []int{0, 2} {
			if r := Read(p, Options{Plies: plies, Along: line}); r.Readable || r.Reason.Sentence() == "" {
				t.Errorf("%s, %d strands: %v at %.0f", name, plies, r.Direction, r.Angle.Value.Degrees())
			}
		}
	}
	for _, line := range [][]Point{points(5, 5), points(5, 5, 5, 5), points(-40, 3, math.NaN(), 8)} {
		if r := Read(p, Options{Along: line}); r.Readable {
			t.Errorf("%v is read", line)
		}
	}
}
