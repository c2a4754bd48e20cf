package reading

import (
	"path/filepath"
	"testing"

	"waketwist/raster"
	"waketwist/unit"
	"waketwist/yarn"
)

// What cannot be read as it is may be read in other tones, from either side.
func TestOtherTones(t *testing.T) {
	for _, c := range []struct {
		file  string
		plies int
		truth float64 // degrees, S
	}{
		{"drawn_smooth_singles.jpg", 1, 14.5},
		{"drawn_few_turns.jpg", 2, 11.0},
		{"drawn_heather_four_ply.jpg", 4, 36.9}, // hairs hide how its edges swell, by which it passes for a rope
	} {
		for orient, want := range map[raster.Orientation]yarn.Direction{1: yarn.S, 2: yarn.Z} {
			p := raster.NewPhoto(decode(t, filepath.Join("testdata", c.file)), orient)
			if r := readOnce(newSource(p), Options{}); r.Readable {
				t.Errorf("%s stored as %d: read as it is, %d strands", c.file, orient, r.Plies)
			}
			r, why := Explain(p, Options{})
			if !r.Readable || r.Plies != c.plies || r.Direction != want || !r.Has(OtherTones) {
				t.Errorf("%s stored as %d: %d strands, %v, %v (%v)", c.file, orient, r.Plies, r.Direction, r.Flags, r.Reason)
				continue
			}
			if b := unit.Angle(c.truth) * unit.Degree; b < r.Angle.Low || b > r.Angle.High {
				t.Errorf("%s stored as %d: %.1f to %.1f, want %.1f", c.file, orient, r.Angle.Low.Degrees(), r.Angle.High.Degrees(), c.truth)
			}
			if why.Strip == nil {
				t.Errorf("%s stored as %d: nothing explains it", c.file, orient)
			}
		}
	}
}

// Where the band that stands out most is refused, as this one would be if it were taken
// for a rope, two others that are explained alike are believed.
func TestOtherBandsAgree(t *testing.T) {
	for orient, want := range map[raster.Orientation]yarn.Direction{1: yarn.Z, 2: yarn.S} {
		p := raster.NewPhoto(decode(t, filepath.Join("testdata", "drawn_four_ply_across_ruler.jpg")), orient)
		src := newSource(p)
		m := makeCueMap(src, Options{}.At)
		src.ground, src.seen = m.look(), &witness{}
		all := candidates(src, m.findBands(m.bandsTried()), m)
		all[0].refused = TooMany
		r := others{refuse(TooMany), all[0].quality()}.read(src, all, m, Options{})
		if !r.Readable || r.Plies != 4 || r.Direction != want || r.Angle.Low > 37.9*unit.Degree || r.Angle.High < 37.9*unit.Degree {
			t.Errorf("stored as %d: %d strands, %v, %.1f to %.1f (%v)", orient, r.Plies, r.Direction, r.Angle.Low.Degrees(), r.Angle.High.Degrees(), r.Reason)
			continue
		}
		why := src.seen.explanation(src, r.Reading)
		if why.Model == nil || why.Fits[0].Plies != 4 || why.Fits[0].Direction != want {
			t.Errorf("stored as %d: explained by %v", orient, why.Fits)
		}
	}
}

// A strand that was seen amid others of its rope is no singles in any tone.
func TestNoOtherTonesForStrands(t *testing.T) {
	src := newSource(loadPhoto(t, filepath.Join("testdata", "drawn_strand_of_rope.jpg")))
	first := readOnce(src, Options{})
	amid := first.amid
	first.amid = false
	if r := readAgain(src, Options{}, first); first.Readable || !amid || r.Structure != Singles {
		t.Fatalf("this picture shows nothing: %v, amid others %v, in other tones %v", first.Reason, amid, r.Reason)
	}
	if r := Read(src.photo, Options{}); r.Readable {
		t.Errorf("read as %d strands, %v", r.Plies, r.Direction)
	}
}

// Nor is the grain of the ground between two ropes narrow singles in any tone.
func TestNoOtherTonesForNarrowYarn(t *testing.T) {
	if r := Read(loadPhoto(t, filepath.Join("testdata", "drawn_gap_between_ropes.jpg")), Options{}); r.Readable {
		t.Errorf("read as %d strands, %v, %.0f pixels wide", r.Plies, r.Direction, r.Width.Value)
	}
}

func TestAgreed(t *testing.T) {
	two := func(d yarn.Direction, degrees float64) look {
		return look{Reading: Reading{Readable: true, Plies: 2, Direction: d, Angle: interval(unit.Angle(degrees)*unit.Degree, 1*unit.Degree)}}
	}
	three := two(yarn.Z, 20)
	three.Plies = 3
	for _, c := range []struct {
		name string
		all  []look
		want float64 // degrees, 0 where nothing is believed
	}{
		{"nothing", nil, 0},
		{"three alike", []look{two(yarn.Z, 21), two(yarn.Z, 19), two(yarn.Z, 20)}, 20},
		{"too few", []look{two(yarn.Z, 20), two(yarn.Z, 20)}, 0},
		{"other plies besides", []look{two(yarn.Z, 20), three, two(yarn.Z, 20), two(yarn.Z, 20)}, 20},
		{"other plies instead", []look{two(yarn.Z, 20), three, two(yarn.Z, 20)}, 0},
		{"gainsaid", []look{two(yarn.Z, 20), two(yarn.Z, 20), two(yarn.Z, 20), two(yarn.S, 20)}, 0},
		{"far apart", []look{two(yarn.Z, 20), two(yarn.Z, 24), two(yarn.Z, 28)}, 0},
	} {
		got, ok := agreed(c.all, leastAgreed)
		if ok != (c.want > 0) || ok && (got.Angle.Value.Degrees() < c.want-0.01 || got.Angle.Value.Degrees() > c.want+0.01) {
			t.Errorf("%s: %v, %.1f degrees, want %.1f", c.name, ok, got.Angle.Value.Degrees(), c.want)
		}
		for _, l := range c.all {
			if ok && l.Plies == got.Plies && (l.Angle.Value < got.Angle.Low || l.Angle.Value > got.Angle.High) {
				t.Errorf("%s: %.1f to %.1f leaves out %.1f", c.name, got.Angle.Low.Degrees(), got.Angle.High.Degrees(), l.Angle.Value.Degrees())
			}
		}
	}
}
