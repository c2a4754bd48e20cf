package drawing_test

import (
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waketwist/internal/drawing"
	"waketwist/unit"
	"waketwist/yarn"
)

// Two hairless strands of different colour make the geometry measurable.
func marl(plies int, degrees float64, direction yarn.Direction) drawing.Yarn {
	return drawing.Yarn{
		Plies: plies, Direction: direction, Angle: unit.Angle(degrees) * unit.Degree,
		StrandDiameter: 1 * unit.Millimetre, Seed: 3,
		Dyes: []color.NRGBA{{0xff, 0, 0, 0xff}, {0, 0, 0xff, 0xff}},
	}
}

func draw(t *testing.T, y drawing.Yarn, perMM, millimetres float64) *image.NRGBA {
	t.Helper()
	m, err := drawing.Draw(y, drawing.Sheet{PixelsPerMillimetre: perMM, Length: unit.Length(millimetres) * unit.Millimetre})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// covers returns the summed cover of each column, in pixels.
func covers(m *image.NRGBA) []float64 {
	sums := make([]float64, m.Rect.Dx())
	for x := range sums {
		for y := range m.Rect.Dy() {
			sums[x] += float64(m.NRGBAAt(x, y).A) / 255
		}
	}
	return sums
}

// period returns the lag near the guess at which the series best repeats.
func period(v []float64, guess float64) float64 {
	best, at := math.Inf(1), 0
	for lag := int(0.7 * guess); lag <= int(1.4*guess); lag++ {
		var sum float64
		for i := range len(v) - lag {
			sum += (v[i] - v[i+lag]) * (v[i] - v[i+lag])
		}
		if mean := sum / float64(len(v)-lag); mean < best {
			best, at = mean, lag
		}
	}
	return float64(at)
}

func TestDrawnPitchAndWidth(t *testing.T) {
	const perMM = 40
	for _, plies := range []int{2, 3, 4} {
		for _, degrees := range []float64{15, 28, 44} {
			y := marl(plies, degrees, yarn.S)
			y.Dyes = nil
			pitch := y.Pitch().Millimetres() * perMM
			m := draw(t, y, perMM, 5*pitch/perMM)
			cover := covers(m)
			edge := m.Rect.Dy() // the ends fade
			// The outline repeats n times a turn.
			want := pitch / float64(plies)
			if got := period(cover[edge:len(cover)-edge], want); math.Abs(got-want) > 0.02*want+1 {
				t.Errorf("%d plies at %g deg: outline repeats after %.0f px, want %.1f", plies, degrees, got, want)
			}
			if got, want := envelope(m, int(want)), y.OuterDiameter().Millimetres()*perMM; math.Abs(got-want) > 0.03*want {
				t.Errorf("%d plies at %g deg: %.0f px wide, want %.1f", plies, degrees, got, want)
			}
		}
	}
}

// envelope is the mean over repeats of the outline of its widest spread.
func envelope(m *image.NRGBA, repeat int) float64 {
	var sum, n float64
	for from := m.Rect.Dy(); from+repeat < m.Rect.Dx()-m.Rect.Dy(); from += repeat {
		top, bottom := m.Rect.Dy(), 0
		for x := from; x < from+repeat; x++ {
			for y := range m.Rect.Dy() {
				if m.NRGBAAt(x, y).A > 127 {
					top, bottom = min(top, y), max(bottom, y+1)
				}
			}
		}
		sum, n = sum+float64(bottom-top), n+1
	}
	return sum / n
}

// changes lists the columns at which a row passes from one strand to the other.
func changes(m *image.NRGBA, row int) []int {
	var at []int
	last := 0
	for x := m.Rect.Dy(); x < m.Rect.Dx()-m.Rect.Dy(); x++ {
		c := m.NRGBAAt(x, row)
		strand := 1
		if c.B > c.R {
			strand = 2
		}
		if strand != last && last != 0 {
			at = append(at, x)
		}
		last = strand
	}
	return at
}

// The border between two touching round strands of radius r has at x from the
// axis the slope tan b sqrt(1 - (1 - x/r)^2), so between two heights it goes
// r cot b (arcsin(x2/r - 1) - arcsin(x1/r - 1)) along.
func TestBorderFollowsTheHelix(t *testing.T) {
	const perMM, near, far = 100, 20.0, 40.0 // r is 50 pixels
	reach := math.Asin(far/50-1) - math.Asin(near/50-1)
	for _, degrees := range []float64{10, 20, 30, 38} {
		for direction, sign := range map[yarn.Direction]float64{yarn.S: -1, yarn.Z: 1} {
			y := marl(2, degrees, direction)
			y.Finish = drawing.Wet
			m := draw(t, y, perMM, 4*y.Pitch().Millimetres()+3.2)
			middle := m.Rect.Dy() / 2
			along := meanGap(changes(m, middle-far), changes(m, middle-near))
			// On a yarn lying across, Z falls to the right and S rises.
			got := unit.Atan(50 * reach / along).Degrees()
			if want := sign * degrees; math.Abs(got-want) > 0.05*degrees {
				t.Errorf("%v: border of a helix at %.1f deg, want %g", direction, got, want)
			}
		}
	}
}

// meanGap is the mean distance from places in a to the nearest in b.
func meanGap(a, b []int) float64 {
	var sum, n float64
	for _, from := range a {
		gap := math.Inf(1)
		for _, to := range b {
			if d := float64(to - from); math.Abs(d) < math.Abs(gap) {
				gap = d
			}
		}
		sum, n = sum+gap, n+1
	}
	return sum / n
}

// lean is the mean direction of the texture in the middle, in degrees from the
// axis, falling to the right positive, by the tensor of gradients. Blocks of
// four pixels are averaged first, as differences favour coarse texture.
func lean(m *image.NRGBA) float64 {
	const block = 4
	bright := func(x, y int) (sum float64) {
		for i := range block * block {
			c := m.NRGBAAt(x+i%block, y+i/block)
			sum += float64(c.R) + float64(c.G) + float64(c.B)
		}
		return sum
	}
	var xx, xy, yy float64
	h := m.Rect.Dy()
	for y := h * 5 / 12; y < h*7/12; y++ {
		for x := h; x < m.Rect.Dx()-h; x++ {
			dx, dy := bright(x+1, y)-bright(x-1, y), bright(x, y+1)-bright(x, y-1)
			xx, xy, yy = xx+dx*dx, xy+dx*dy, yy+dy*dy
		}
	}
	across := math.Atan2(2*xy, xx-yy) / 2
	return unit.Angle(math.Mod(across+math.Pi, math.Pi) - math.Pi/2).Degrees()
}

func TestSinglesFibresLeanAtTheAngle(t *testing.T) {
	for _, degrees := range []float64{10, 20, 30, 45} {
		for direction, want := range map[yarn.Direction]float64{yarn.S: -degrees, yarn.Z: degrees} {
			y := marl(1, degrees, direction)
			y.Dyes, y.Finish = nil, drawing.Washed
			if got := lean(draw(t, y, 90, 20)); math.Abs(got-want) > 3 {
				t.Errorf("%v: fibres lean %.1f deg, want %g", direction, got, want)
			}
		}
	}
}

func TestSMirrorsZ(t *testing.T) {
	y := twoPly()
	y.Hairiness = 0.7
	s := draw(t, y, 20, 12)
	y.Direction = yarn.Z
	z := draw(t, y, 20, 12)
	for row := range s.Rect.Dy() {
		for x := range s.Rect.Dx() {
			if a, b := s.NRGBAAt(x, row).A, z.NRGBAAt(x, s.Rect.Dy()-1-row).A; a != b {
				t.Fatalf("at %d, %d the outline of S is %d, that of Z mirrored %d", x, row, a, b)
			}
		}
	}
}

func TestUprightIsAQuarterTurn(t *testing.T) {
	sheet := drawing.Sheet{PixelsPerMillimetre: 15, Length: 10 * unit.Millimetre}
	flat := draw(t, twoPly(), 15, 10)
	sheet.Upright = true
	up, err := drawing.Draw(twoPly(), sheet)
	if err != nil {
		t.Fatal(err)
	}
	for row := range flat.Rect.Dy() {
		for x := range flat.Rect.Dx() {
			if a, b := flat.NRGBAAt(x, row).A, up.NRGBAAt(row, flat.Rect.Dx()-1-x).A; a != b {
				t.Fatalf("at %d, %d cover is %d lying and %d upright", x, row, a, b)
			}
		}
	}
}

func TestSeedDecidesThePicture(t *testing.T) {
	y := twoPly()
	first := draw(t, y, 12, 10)
	if diff := cmp.Diff(first, draw(t, y, 12, 10)); diff != "" {
		t.Errorf("the same seed drew another picture")
	}
	y.Seed++
	if cmp.Equal(first, draw(t, y, 12, 10)) {
		t.Errorf("another seed drew the same picture")
	}
}

// Finishes must be told apart without colour: by hair and by shine.
func TestFinishShowsWithoutColour(t *testing.T) {
	hair, shine := map[drawing.Finish]float64{}, map[drawing.Finish]float64{}
	for _, f := range []drawing.Finish{drawing.Dry, drawing.Wet, drawing.Washed} {
		y := twoPly()
		y.Finish, y.Hairiness, y.UnevennessCV = f, 0.5, 0
		m := draw(t, y, 40, 14)
		bare := y
		bare.Hairiness = 0
		hair[f] = total(covers(m)) - total(covers(draw(t, bare, 40, 14)))
		shine[f] = contrast(m)
	}
	if !(hair[drawing.Washed] > 2*hair[drawing.Dry] && hair[drawing.Dry] > 2*hair[drawing.Wet]) {
		t.Errorf("cover of hair is %v, want washed > dry > wet", hair)
	}
	if !(shine[drawing.Wet] > 1.3*shine[drawing.Dry] && shine[drawing.Dry] >= shine[drawing.Washed]) {
		t.Errorf("brightest over mean is %v, want wet above dry above washed", shine)
	}
}

func total(v []float64) (sum float64) {
	for _, x := range v {
		sum += x
	}
	return sum
}

// contrast is the brightness that one pixel in a hundred passes, over the mean.
func contrast(m *image.NRGBA) float64 {
	var counts [256]int
	var n int
	var sum float64
	for i := 0; i < len(m.Pix); i += 4 {
		if m.Pix[i+3] == 255 {
			counts[m.Pix[i+1]]++
			sum += float64(m.Pix[i+1])
			n++
		}
	}
	above := 0
	for v := 255; v > 0; v-- {
		if above += counts[v]; above > n/100 {
			return float64(v) / (sum / float64(n))
		}
	}
	return 0
}

// The loop is an eye: on its way out a ray along the axis leaves the yarn,
// crosses the opening and meets the tip.
func TestLoopHasAnEye(t *testing.T) {
	y := twoPly()
	y.Loop, y.Hairiness = true, 0
	m := draw(t, y, 30, 15)
	var runs []string
	for x := m.Rect.Dx() / 2; x < m.Rect.Dx(); x++ {
		state := "open"
		if m.NRGBAAt(x, m.Rect.Dy()/2).A > 127 {
			state = "yarn"
		}
		if len(runs) == 0 || runs[len(runs)-1] != state {
			runs = append(runs, state)
		}
	}
	if diff := cmp.Diff([]string{"yarn", "open", "yarn", "open"}, runs); diff != "" {
		t.Errorf("along the axis (-want +got):\n%s", diff)
	}
}

func TestDrawRefuses(t *testing.T) {
	for want, spoil := range map[string]func(*drawing.Yarn, *drawing.Sheet){
		"strands cannot":       func(y *drawing.Yarn, _ *drawing.Sheet) { y.Plies = 0 },
		"say S or Z":           func(y *drawing.Yarn, _ *drawing.Sheet) { y.Direction = yarn.NoDirection },
		"angle of 80":          func(y *drawing.Yarn, _ *drawing.Sheet) { y.Angle = 80 * unit.Degree },
		"angle of NaN":         func(y *drawing.Yarn, _ *drawing.Sheet) { y.Angle = unit.Angle(math.NaN()) },
		"0 mm thick":           func(y *drawing.Yarn, _ *drawing.Sheet) { y.StrandDiameter = 0 },
		"strand radii":         func(y *drawing.Yarn, _ *drawing.Sheet) { y.CentreRadiusRatio = -1 },
		"fibres leaning":       func(y *drawing.Yarn, _ *drawing.Sheet) { y.FibreLean = -70 * unit.Degree },
		"hairiness":            func(y *drawing.Yarn, _ *drawing.Sheet) { y.Hairiness = 2 },
		"unevenness":           func(y *drawing.Yarn, _ *drawing.Sheet) { y.UnevennessCV = 0.9 },
		"finish 9":             func(y *drawing.Yarn, _ *drawing.Sheet) { y.Finish = 9 },
		"needs 2 strands":      func(y *drawing.Yarn, _ *drawing.Sheet) { y.Loop, y.Plies = true, 3 },
		"change the scale":     func(_ *drawing.Yarn, s *drawing.Sheet) { s.PixelsPerMillimetre = 0 },
		"or the length":        func(_ *drawing.Yarn, s *drawing.Sheet) { s.Length = 1 * unit.Metre * 1000 },
		"drawing of NaN by 32": func(_ *drawing.Yarn, s *drawing.Sheet) { s.Length = unit.Length(math.NaN()) },
	} {
		y, sheet := twoPly(), drawing.Sheet{PixelsPerMillimetre: 10, Length: 10 * unit.Millimetre}
		spoil(&y, &sheet)
		if m, err := drawing.Draw(y, sheet); err == nil || m != nil || !strings.Contains(err.Error(), want) {
			t.Errorf("Draw answered %v, want an error with %q", err, want)
		}
	}
}
