package reading

import (
	"math"
	"path/filepath"
	"testing"

	"waketwist/raster"
	"waketwist/unit"
)

// A broad yarn that was split along its clefts is not taken for several of less twist.
func TestNoPartsOfAYarn(t *testing.T) {
	const truth = 35 * unit.Degree
	r := Read(loadPhoto(t, filepath.Join("testdata", "drawn_wide_yarn.jpg")), Options{})
	if r.Readable && (r.Angle.Low > truth || r.Angle.High < truth) {
		t.Errorf("read as %d strands, %.1f to %.1f degrees, %v", r.Plies, r.Angle.Low.Degrees(), r.Angle.High.Degrees(), r.Flags)
	}
}

// Where a shadow widens a bundle along one side, its yarns are still found in
// their places.
func TestSpacedBesideAShadow(t *testing.T) {
	const spacing, step = 20.0, 1.0
	for _, c := range []struct {
		yarns  int
		shadow float64 // pixels along the bottom
	}{{4, 0}, {5, 0}, {5, 6}, {6, 8}} {
		size := spacing * float64(c.yarns)
		rows := 2*int(size) + 1
		e := raster.NewField(3, rows)
		st := &strip{reach: float64(rows/2) * step, step: step, chan_: [3]*raster.Field{e, e, e}}
		for j := range rows {
			across := st.across(j) + size/2 // from the upper edge of the bundle
			v := -4.0
			if across >= 0 && across <= size {
				v = 3 - 4*math.Cos(2*math.Pi*across/spacing)
			}
			for i := range e.W {
				e.Row(j)[i] = float32(v)
			}
		}
		cut := &cut{strip: st, evidence: e}
		width, middle := size+c.shadow, c.shadow/2
		b := cut.spaced(width/spacing, width, middle)
		if len(b.middles) != c.yarns {
			t.Errorf("%+v: %d yarns at %.0f", c, len(b.middles), b.middles)
			continue
		}
		for i, m := range b.middles {
			if want := (float64(i)+0.5)*spacing - size/2; math.Abs(m-want) > 0.15*spacing {
				t.Errorf("%+v: yarn %d at %.1f, want %.1f", c, i, m, want)
			}
		}
	}
}
