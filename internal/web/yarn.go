package web

import (
	"bytes"
	"fmt"
	"image/png"
	"math"
	"net/http"
	"net/url"
	"strconv"

	"waketwist/estimate"
	"waketwist/internal/drawing"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/unit"
	"waketwist/yarn"
)

// drawn is a picture of yarn true to its numbers, with its caption.
type drawn struct {
	Address string
	Caption string
	State   string
	W, H    int // on the page, in CSS pixels
	Alt     string
}

// Drawings side by side share this scale: a strand is strandPixels wide and the
// yarn drawnLength pixels long, at double density for sharp screens.
const (
	strandPixels = 26
	drawnLength  = 300
	density      = 2
)

// drawnYarn describes a drawing of a ply at a strand-centre angle. width is the
// strand's width against the others drawn beside it.
func drawnYarn(caption string, strands int, b yarn.CentreAngle, d yarn.Direction, state estimate.State, width float64) drawn {
	if d == yarn.NoDirection {
		d = yarn.S
	}
	b = min(b, yarn.CentreAngle(drawing.MaxAngle))
	q := url.Values{
		"n": {strconv.Itoa(strands)}, "deg": {fmt.Sprintf("%.1f", b.Degrees())}, "d": {d.String()},
		"state": {state.String()}, "w": {fmt.Sprintf("%.2f", width)},
	}
	across := strandPixels * width * (1 + yarn.ContactRadius(strands, b)) * 1.6
	return drawn{
		Address: "/yarn.png?" + q.Encode(), Caption: caption, State: state.String(),
		W: int(math.Ceil(across)), H: drawnLength,
		Alt: fmt.Sprintf("Drawing of a ply of %d strands, twist %s, at %.0f degrees, %s", strands, d, b.Degrees(), job.StateWords(state)),
	}
}

// drawYarn sends a drawing of yarn on a transparent ground.
func (b *bench) drawYarn(w http.ResponseWriter, r *http.Request) error {
	y, err := yarnOf(r.URL.Query())
	if err != nil {
		return &journal.Error{Code: journal.Invalid, Text: "That drawing cannot be made: " + err.Error() + "."}
	}
	// The scale is set by the strand: 1 mm stands for one strand of width 1.
	img, err := drawing.Draw(y, drawing.Sheet{PixelsPerMillimetre: strandPixels * density, Length: drawnLength * unit.Millimetre / strandPixels, Upright: true})
	if err != nil {
		return &journal.Error{Code: journal.Invalid, Text: "That drawing cannot be made: " + err.Error() + "."}
	}
	var out bytes.Buffer
	if err := png.Encode(&out, img); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "image/png")
	w.Header().Set("Cache-Control", "private, max-age=86400")
	w.Write(out.Bytes()) // a reader that left needs no answer
	return nil
}

func yarnOf(q url.Values) (drawing.Yarn, error) {
	n, err := strconv.Atoi(q.Get("n"))
	if err != nil {
		return drawing.Yarn{}, fmt.Errorf("the number of strands is missing")
	}
	deg, err := unit.ParseNumber(q.Get("deg"))
	if err != nil {
		return drawing.Yarn{}, err
	}
	width, err := unit.ParseNumber(q.Get("w"))
	if err != nil || !(width > 0.2 && width < 3) {
		return drawing.Yarn{}, fmt.Errorf("the width is missing or out of range")
	}
	d, err := yarn.ParseDirection(q.Get("d"))
	if err != nil {
		return drawing.Yarn{}, err
	}
	y := drawing.Yarn{
		Plies: n, Direction: d, Angle: unit.Angle(deg) * unit.Degree, StrandDiameter: unit.Length(width) * unit.Millimetre,
		Hairiness: 0.35, UnevennessCV: 0.03, Seed: 7,
	}
	switch q.Get("state") {
	case estimate.Rewet.String():
		y.Finish = drawing.Wet
	case estimate.Washed.String():
		y.Finish = drawing.Washed
	}
	return y, nil
}

// Widths of the strand at the wheel and washed against re-wet, as drawn. Wet
// wool is swollen (Morton and Hearle, table 11.1: 15-17 % in the fibre), a
// washed yarn has bloomed.
const (
	dryWidth    = 0.92
	washedWidth = 1.0
)

// wakeDrawings are the ply as the dry samples would have it, and as it must be:
// at the wheel, re-wet, and washed and dried, on one scale.
func wakeDrawings(p journal.Project, w *job.Waking) []drawn {
	n := p.Plan.Strands
	at := func(e estimate.Estimate[unit.Angle], strands int) yarn.CentreAngle {
		return job.CentreOf(e.Value, w.Line, strands)
	}
	var out []drawn
	if w.DryLook != nil {
		out = append(out, drawnYarn(fmt.Sprintf("plied to the dry look, %.0f°", w.DryLook.Value.Degrees()), n, at(*w.DryLook, 2), w.Direction, estimate.Rested, dryWidth))
	}
	return append(out,
		drawnYarn(fmt.Sprintf("at the wheel, %.0f°", w.WheelLook.Value.Degrees()), n, at(w.WheelLook, n), w.Direction, estimate.Rested, dryWidth),
		drawnYarn(fmt.Sprintf("re-wet, %.0f°", w.Target.Value.Degrees()), n, w.Centre.Value, w.Direction, estimate.Rewet, 1),
		drawnYarn(fmt.Sprintf("washed, %.0f°", w.Washed.Value.Degrees()), n, at(w.Washed, n), w.Direction, estimate.Washed, washedWidth))
}

// targetDrawing is the yarn that a recorded target stands for, re-wet.
func targetDrawing(p journal.Project, t journal.Target) *drawn {
	d := drawnYarn(fmt.Sprintf("re-wet, %.0f°", t.Angle.Value.Degrees()), t.Plan.Strands,
		job.CentreOf(t.Angle.Value, t.Line, t.Plan.Strands), hangOf(p)[1], estimate.Rewet, 1)
	return &d
}

// lookDrawing is the look to aim for at the wheel.
func lookDrawing(ply yarn.Direction, t journal.Target) *drawn {
	d := drawnYarn(fmt.Sprintf("at the wheel, %.0f°", t.Wheel.Value.Degrees()), t.Plan.Strands,
		job.CentreOf(t.Wheel.Value, t.Line, t.Plan.Strands), ply, estimate.Rested, dryWidth)
	return &d
}

// turnsToPutIn shows the turns of a target; nil where no thickness was known.
func turnsToPutIn(p journal.Project, t journal.Target) *measure {
	if t.TurnsTPM == nil {
		return nil
	}
	e := estimate.Estimate[yarn.PlyTwist]{Value: t.TurnsTPM.Value, Low: t.TurnsTPM.Low, High: t.TurnsTPM.High, State: estimate.Rewet}
	if !t.Measured || t.Line != yarn.StrandCentre || job.ByWraps(p.Bobbins) { // turns follow from the centre line and a thickness
		e.Flags = e.Flags.With(estimate.Modelled)
	}
	m := turnsMeasure("Turns to put in", e, "per length of ply")
	return &m
}
