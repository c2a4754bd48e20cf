package reading

import (
	"image"
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"
)

// Where a ply-back sample parts into its loop, the strands turn less: that
// stretch counts neither for the pitch nor for the width.
func TestLoopIsLeftOut(t *testing.T) {
	for file, pitch := range map[string]float64{"dev_043.jpg": 130.96, "dev_056.jpg": 230.23} {
		r := Read(loadPhoto(t, filepath.Join("testdata", file)), Options{})
		if !r.Readable || r.Plies != 2 {
			t.Errorf("%s: read as %d strands (%v)", file, r.Plies, r.Reason)
			continue
		}
		if math.Abs(r.Pitch.Value/pitch-1) > 0.015 {
			t.Errorf("%s: pitch %.1f, want %.1f", file, r.Pitch.Value, pitch)
		}
	}
}

// A loop is a great part of a ply-back that shows one turn, and it must not spoil
// what the turn says.
func TestShortPlyBackIsRead(t *testing.T) {
	for _, degrees := range []float64{11, 14, 18, 22} {
		for _, z := range []bool{false, true} {
			d := drawn{n: 2, degrees: degrees, z: z, diameter: 90, x: 200}
			r := Read(photoOf(plyBack(d, 1)), Options{})
			if !r.Readable || r.Plies != 2 || r.Direction != d.direction() {
				t.Errorf("%.0f deg: %d strands, %v (%v)", degrees, r.Plies, r.Direction, r.Reason)
			} else if a := r.Angle; a.Low.Degrees() > degrees || a.High.Degrees() < degrees {
				t.Errorf("%.0f deg: %.1f to %.1f", degrees, a.Low.Degrees(), a.High.Degrees())
			}
		}
	}
}

// plyBack is a picture of so many turns of a two-ply that hangs from the loop in
// which its strands turn back.
func plyBack(d drawn, turns float64) *image.YCbCr {
	const loop = 2.4 // widths
	top := int((loop + 0.6) * d.diameter)
	m := drawing(int(2*d.x)+1, top+int(turns*d.pitch()))
	r := rand.New(rand.NewPCG(3, 4))
	d.draw(m.SubImage(image.Rect(0, top, m.Rect.Dx(), m.Rect.Dy())).(*image.YCbCr), r)
	q := newPly(2, round, d.degrees*math.Pi/180)
	unit := d.diameter / 2 / q.envelope()
	for s := range 2000 {
		u := float64(s) / 1000 // up one leg and down the other
		side, up := 1.0, u
		if u > 1 {
			side, up = -1, 2-u
		}
		across := side * unit * (q.R + 0.9*math.Sin(math.Pi*up)) * math.Sqrt(1-up*up*up*up)
		disc(m, d.x+across, float64(top)-up*loop*d.diameter, unit)
	}
	return m
}

// disc draws a place of a strand that is lit from the front.
func disc(m *image.YCbCr, cx, cy, radius float64) {
	for y := int(cy - radius); y <= int(cy+radius); y++ {
		for x := int(cx - radius); x <= int(cx+radius); x++ {
			v := ((float64(x)-cx)*(float64(x)-cx) + (float64(y)-cy)*(float64(y)-cy)) / (radius * radius)
			if v < 1 && image.Pt(x, y).In(m.Rect) {
				i := m.YOffset(x, y)
				m.Y[i] = max(m.Y[i], uint8(60+140*math.Sqrt(1-v)))
				m.Cb[i], m.Cr[i] = 118, 140
			}
		}
	}
}
