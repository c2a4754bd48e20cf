package drawing

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"

	"waketwist/internal/accuracy"
	"waketwist/unit"
)

// view is what is in the frame, a loop left out.
type view struct {
	pixels, turns        float64 // along the first yarn
	degrees, degreesSD   float64 // mean local angle and its standard deviation
	envelope, envelopeCV float64 // mean outer diameter, pixels; a fraction
}

// inView goes along the yarns as they are drawn and keeps what lies in the frame.
func (p picture) inView() view {
	var v view
	var angles, widths []float64
	l := lieOf(p.yarn, p.scene.usual())
	for i := range l.scene.Abreast {
		stations, fine, turning := p.stations(i, l)
		for k, st := range stations {
			x, y := l.inPicture((float64(k)+0.5)/float64(fine)-l.before, l.aside(i))
			if x < 0 || y < 0 || x >= float64(l.scene.Size.X) || y >= float64(l.scene.Size.Y) {
				continue
			}
			angles = append(angles, st.angle().Degrees())
			widths = append(widths, 2*(st.centre+st.radius)/float64(fine))
			if i == 0 {
				v.pixels += 1 / float64(fine)
				v.turns += turning(st) / (2 * math.Pi)
			}
		}
	}
	v.degrees, v.degreesSD = meanSD(angles)
	v.envelope, v.envelopeCV = meanSD(widths)
	v.envelopeCV /= max(v.envelope, 1e-9)
	return v
}

// stations are those of the i-th yarn up to its loop, with how fine they lie and
// the radians a column turns.
func (p picture) stations(i int, l lie) ([]station, int, func(station) float64) {
	y := p.yarn.abreast(i)
	radius := y.StrandDiameter.Millimetres() * l.scene.PixelsPerMillimetre / 2
	fine := fineness(2 * radius)
	radius *= float64(fine)
	all := survey(y, radius, l.w*fine)
	if y.Loop {
		all = all[:loopStart(len(all), radius)]
	}
	if y.Plies == 1 {
		return all, fine, func(st station) float64 { return -st.curl }
	}
	return all, fine, func(st station) float64 { return st.rate }
}

// angle is the local angle of a station: of the strands, or of singles' fibres.
func (st station) angle() unit.Angle {
	if st.centre == 0 {
		return unit.Angle(math.Atan(-st.curl * st.radius))
	}
	return unit.Angle(math.Atan2(st.sinB, st.cosB))
}

// truth is what is true of the picture, as it will be judged.
func (p picture) truth(file string) accuracy.Truth {
	t := accuracy.Truth{File: file, Readable: p.why == "", Why: p.why}
	if !t.Readable {
		return t
	}
	v := p.inView()
	t.Plies, t.Direction, t.Angle = p.yarn.Plies, p.yarn.Direction, unit.Angle(v.degrees)*unit.Degree
	t.WidthPixels, t.Turns = v.envelope, v.turns
	if p.yarn.Plies > 1 {
		t.PitchPixels = v.pixels / v.turns
	}
	return t
}

// columns are the names of a table of truths, as far as this one goes.
var columns = []string{
	"file", "readable", "unreadable_why", "plies", "direction", "angle_deg", "angle_spread_deg", "envelope_px", "envelope_cv",
	"pitch_px", "axis_deg", "n_yarns", "px_per_mm", "scene", "fibre_lean_deg", "turns", "visible_px", "background", "scheme",
	"light", "finish", "packing", "defocus_px", "motion_px", "jpeg_q", "width", "height",
}

// row is one line of the table.
func (p picture) row(file string) []string {
	v, n := p.inView(), func(x float64, digits int) string { return strconv.FormatFloat(x, 'f', digits, 64) }
	t := p.truth(file)
	row := []string{file, "0", p.why, "", "", "", "", "", "", "", "", "", "", p.kind, "", "", "", p.ground, p.scheme, p.light}
	if t.Readable {
		pitch, scale := "", ""
		if t.PitchPixels > 0 {
			pitch = n(t.PitchPixels, 2)
		}
		if p.scene.Ruler {
			scale = n(p.scene.PixelsPerMillimetre, 3)
		}
		row = []string{file, "1", "", strconv.Itoa(t.Plies), t.Direction.String(), n(v.degrees, 2), n(v.degreesSD, 2), n(v.envelope, 2), n(v.envelopeCV, 4),
			pitch, n(math.Mod(p.scene.Axis.Degrees(), 180), 2), strconv.Itoa(max(1, p.scene.Abreast)), scale, p.kind, n(p.yarn.FibreLean.Degrees(), 1),
			n(v.turns, 2), n(v.pixels, 1), p.ground, p.scheme, p.light}
	}
	return append(row, []string{"dry", "wet", "washed", "felted", "polished"}[p.yarn.Finish], n(p.yarn.CentreRadiusRatio, 3),
		n(p.scene.BlurPixels, 2), n(p.scene.ShakePixels, 2), strconv.Itoa(p.quality), strconv.Itoa(p.scene.Size.X), strconv.Itoa(p.scene.Size.Y))
}

// writeTruths writes the table of the pictures with these files.
func writeTruths(w io.Writer, pictures []picture, files []string) error {
	table := csv.NewWriter(w)
	rows := [][]string{columns}
	for i, p := range pictures {
		rows = append(rows, p.row(files[i]))
	}
	if err := table.WriteAll(rows); err != nil {
		return fmt.Errorf("the table of truths: %w", err)
	}
	return nil
}
