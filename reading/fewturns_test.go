package reading

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"waketwist/yarn"
)

// streaks are levels that differ from fibre to fibre around a strand.
func streaks(r *rand.Rand) func(around float64) float64 {
	level := make([]float64, 64)
	for i := range level {
		level[i] = r.NormFloat64()
	}
	return func(around float64) float64 {
		_, part := math.Modf(around/(2*math.Pi) + 1024)
		return level[int(part*64)]
	}
}

// streaked is so many turns of a ply whose fibres show as streaks along its strands,
// under light that leaves little shade between them.
func streaked(d drawn, turns, contrast float64) *image.YCbCr {
	m := drawing(int(2*d.x)+1, int(turns*d.pitch()))
	r := rand.New(rand.NewPCG(11, 2))
	q := newPly(d.n, round, d.degrees*math.Pi/180)
	unit := d.diameter / 2 / q.envelope()
	streak := streaks(r)
	for y := range m.Rect.Dy() {
		phi := -2 * math.Pi * float64(y) / unit / q.turnZ
		for x := range m.Rect.Dx() {
			s := q.look(phi, (d.x-float64(x))/unit)
			if !s.hit {
				continue
			}
			light := 150 + 30*s.nx + 12*s.depth*s.depth + contrast*streak(math.Atan2(s.ny, s.nx)) + 2*r.NormFloat64()
			m.Y[m.YOffset(x, y)] = uint8(min(max(light, 0), 255))
			m.Cb[m.COffset(x, y)], m.Cr[m.COffset(x, y)] = 118, 140
		}
	}
	return m
}

// Less than a turn of a flat lay says little when it is laid over itself, and streaks
// may be those of singles; the borders tell the side.
func TestBordersBearOutAFlatLay(t *testing.T) {
	for _, c := range []struct {
		strands                  int
		degrees, turns, contrast float64
	}{{2, 10, 0.8, 4}, {3, 9.5, 0.8, 9}, {3, 10, 0.75, 4}} {
		d := drawn{n: c.strands, degrees: c.degrees, diameter: 100, x: 180}
		r := Read(photoOf(streaked(d, c.turns, c.contrast)), Options{})
		if !r.Readable || r.Plies != c.strands || r.Direction != yarn.Z || !r.Has(FewTurns) {
			t.Errorf("%+v: %d strands, %v, %v (%v)", c, r.Plies, r.Direction, r.Flags, r.Reason)
		} else if a := r.Angle; a.Low.Degrees() > c.degrees || a.High.Degrees() < c.degrees {
			t.Errorf("%+v: %.1f to %.1f", c, a.Low.Degrees(), a.High.Degrees())
		}
	}
}

// Light that changes slowly along singles, and a little later to one side, is no lay
// where the fibres lean against it.
func TestSlowLightIsNoLay(t *testing.T) {
	streak := streaks(rand.New(rand.NewPCG(11, 2)))
	for _, later := range []float64{1, 2} {
		r := Read(cord(180, 1100, 90, func(d float64, y int) float64 {
			slow := 0.15 * math.Sin(2*math.Pi*float64(y)/900+later*d)
			return 0.2 + 0.3*math.Sqrt(1-d*d) + slow + 0.03*streak(math.Asin(d)-float64(y)/45*math.Tan(35*math.Pi/180))
		}), Options{})
		if r.Readable && r.Direction != yarn.S {
			t.Errorf("%.0f later: %d strands, %v at %.1f deg", later, r.Plies, r.Direction, r.Angle.Value.Degrees())
		}
	}
}

// Strands of two colours repeat once a turn: where one turn is in view nothing shows
// twice, and the reading must say how little that is.
func TestOneTurnOfTwoColoursIsUnsure(t *testing.T) {
	for _, c := range []struct {
		turns  float64
		unsure bool
	}{{1.1, true}, {2, false}} {
		d := drawn{n: 2, degrees: 13, diameter: 80, x: 150, z: true}
		m := drawing(301, int(c.turns*d.pitch()), d)
		d.dye(m, 70, 180)
		r := Read(photoOf(m), Options{})
		if !r.Readable || r.Direction != yarn.Z || r.Has(UnsurePlies) != c.unsure {
			t.Errorf("%.1f turns: %v, %v (%v)", c.turns, r.Direction, r.Flags, r.Reason)
		} else if a := r.Angle; c.unsure && a.High-a.Low < 1.9*leaningSpread || a.Low.Degrees() > d.degrees || a.High.Degrees() < d.degrees {
			t.Errorf("%.1f turns: %.1f to %.1f", c.turns, a.Low.Degrees(), a.High.Degrees())
		}
	}
}

// dye gives every strand of a drawn ply a blueness of its own.
func (d drawn) dye(m *image.YCbCr, blue ...uint8) {
	q := newPly(d.n, round, d.degrees*math.Pi/180)
	unit := d.diameter / 2 / q.envelope()
	for y := range m.Rect.Dy() {
		phi := -2 * math.Pi * float64(y) / unit / q.turnZ
		for x := range m.Rect.Dx() {
			if s := q.look(phi, (d.x-float64(x))/unit); s.hit {
				m.Cb[m.COffset(x, y)] = blue[s.strand]
			}
		}
	}
}

// What lies on a place already looked at is a strand of it only where it is narrower;
// of what leans both ways it is a part in any case.
func TestPartOf(t *testing.T) {
	at := func(x, width float64, r Reason) *candidate {
		return &candidate{refused: r, cut: &cut{width: width, strip: &strip{along: newAxis([]float64{x, x}, []float64{0, 400}, 2)}}}
	}
	for _, c := range []struct {
		x, width float64
		of       Reason
		part     bool
	}{
		{100, 50, NoLay, true}, {120, 50, NoLay, true}, {100, 95, NoLay, false}, {110, 110, NoLay, false},
		{300, 50, NoLay, false}, {100, 95, BothWays, true}, {300, 95, BothWays, false},
	} {
		if at(c.x, c.width, NoReason).partOf(at(100, 100, c.of)) != c.part {
			t.Errorf("%+v", c)
		}
	}
}

// The borders seen on drawn plies lean as the model's do or more, and a much steeper
// ply is denied where nothing is seen twice.
func TestBordersDenySteeperPlies(t *testing.T) {
	for _, n := range []int{2, 3, 4} {
		for _, degrees := range []float64{10, 14, 18} {
			d := drawn{n: n, degrees: degrees, diameter: 60, x: 150, z: true}
			line := newAxis([]float64{150, 150}, []float64{10, 890}, 1)
			b := newBody(evenCut(newSource(photoOf(drawing(301, 900, d))), line, d.diameter))
			at := func(degrees, periods float64) fitting {
				return fitting{guess: guess{ply: newPly(n, round, degrees*math.Pi/180), z: true},
					trace: &trace{fold: &fold{periods: periods}}}
			}
			if b.denied(at(degrees, 1.1)) || !b.denied(at(2.6*degrees, 1.1)) || b.denied(at(2.6*degrees, 2)) {
				t.Errorf("%d strands at %.0f deg: borders have %.2f times the tangent of the model's", n, degrees,
					at(degrees, 1).borderTimes(b.borders().angle))
			}
		}
	}
}

// Borders that are seen far steeper than those of the lay are no borders of it.
func TestFarSteeperBordersDenyALay(t *testing.T) {
	w := &witness{}
	read(photoOf(drawing(300, 500, drawn{n: 3, degrees: 35, z: true, diameter: 90, x: 150})), Options{}, w)
	best := w.tried[0].best
	b, m := best.of[0], best.fits[0]
	if b.denied(m) {
		t.Errorf("borders at %+v deny their own lay", b.borders())
	}
	m.guess.ply = newPly(3, round, 20*math.Pi/180)
	if !b.denied(m) {
		t.Errorf("borders at %+v do not deny a lay of 20 degrees", b.borders())
	}
}
