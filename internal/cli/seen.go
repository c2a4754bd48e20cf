package cli

import (
	"waketwist/internal/job"
	"waketwist/reading"
	"waketwist/unit"
	"waketwist/yarn"
)

// seen is one photograph's reading as JSON. Where it was refused the keys
// between reason and flags are null, but for the scale where one was found.
type seen struct {
	Photo     string      `json:"photo"`
	Readable  bool        `json:"readable"`
	Reason    string      `json:"reason"`
	Structure *string     `json:"structure"`
	Plies     *int        `json:"plies"`
	Direction *string     `json:"direction"`
	Angle     *seenAngle  `json:"angle_deg"`
	Spread    *float64    `json:"angle_spread_deg"`
	Width     *seenPixels `json:"width_px"`
	Pitch     *seenPixels `json:"pitch_px"` // null for singles
	WidthCV   *float64    `json:"width_cv_pct"`
	Axis      *float64    `json:"axis_deg"`
	InView    *int        `json:"strands_in_view"`
	seenSizes
	Flags []reading.Flag `json:"flags"`
}

// seenAngle is the strand-centre helix angle of a ply, or the surface fibre
// angle of singles.
type seenAngle struct {
	Value float64 `json:"value"`
	SD    float64 `json:"sd"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

type seenPixels struct {
	Value float64 `json:"value"`
	SD    float64 `json:"sd"`
}

// seenSizes are what a scale makes of the pixels; null without a scale.
type seenSizes struct {
	Scale       *seenScale `json:"scale"`
	Width       *seenSize  `json:"width_mm"`
	WrapsInch   *seenSize  `json:"wraps_per_inch"`
	WrapsCentim *seenSize  `json:"wraps_per_cm"`
	TurnsInch   *seenSize  `json:"turns_per_inch"` // null where the fibres lie along the yarn
	TurnsMetre  *seenSize  `json:"turns_per_m"`
}

// seenScale is what gave the scale: two points, a coin or a ruler.
type seenScale struct {
	By            job.Gauge `json:"by"`
	PerMillimetre float64   `json:"px_per_mm"`
	SD            float64   `json:"sd"`
	Ratio         *float64  `json:"axis_ratio"` // of a coin's outline, else null
	Marks         *int      `json:"marks"`      // of a ruler, else null
}

func scaleIn(f job.Found) *seenScale {
	out := &seenScale{By: f.By, PerMillimetre: round(f.PerMillimetre.Pixels, 3), SD: round(f.PerMillimetre.SD, 3)}
	switch f.By {
	case job.Coin:
		out.Ratio = ptr(round(f.Ratio, 4))
	case job.Ruler:
		out.Marks = ptr(f.Marks)
	}
	return out
}

type seenSize struct {
	Value float64 `json:"value"`
	SD    float64 `json:"sd"`
}

func seenIn(l look) seen {
	out := seen{Photo: l.photo, Reason: l.refused, Flags: []reading.Flag{}}
	if l.scale != nil {
		out.Scale = scaleIn(*l.scale)
	}
	if l.refused != "" {
		return out
	}
	r := l.reading
	out.Readable = true
	out.Structure = ptr(r.Structure.String())
	out.Plies = ptr(r.Plies)
	if r.Direction != yarn.NoDirection {
		out.Direction = ptr(r.Direction.String())
	}
	out.Angle = &seenAngle{degrees(r.Angle.Value), degrees(r.Angle.SD), degrees(r.Angle.Low), degrees(r.Angle.High)}
	out.Spread = ptr(degrees(r.AngleSpread))
	out.Width = pixels(r.Width)
	if r.Structure == reading.Ply {
		out.Pitch = pixels(r.Pitch)
	}
	out.WidthCV = ptr(round(100*r.WidthCV, 2))
	out.Axis = ptr(degrees(r.Axis))
	out.InView = ptr(r.StrandsInView)
	if l.sizes != nil {
		out.seenSizes = sizesIn(*l.sizes)
	}
	out.Flags = append(out.Flags, r.Flags...)
	return out
}

func sizesIn(z job.Sizes) seenSizes {
	out := seenSizes{
		Scale:       scaleIn(z.Scale),
		Width:       sizeIn(z.Width, unit.Millimetre, 4),
		WrapsInch:   sizeIn(z.Wraps, unit.WrapPerInch, 3),
		WrapsCentim: sizeIn(z.Wraps, unit.WrapPerCentimetre, 3),
	}
	if z.Turns.Value > 0 {
		out.TurnsInch = sizeIn(z.Turns, unit.TurnPerInch, 3)
		out.TurnsMetre = sizeIn(z.Turns, unit.TurnPerMetre, 2)
	}
	return out
}

// sizeIn takes a size apart with a unit, to so many decimals.
func sizeIn[T ~float64](s job.Size[T], unit T, decimals int) *seenSize {
	return &seenSize{round(float64(s.Value/unit), decimals), round(float64(s.SD/unit), decimals)}
}

func degrees(a unit.Angle) float64 { return round(a.Degrees(), 2) }

func pixels(p reading.Pixels) *seenPixels {
	return &seenPixels{round(p.Value, 2), round(p.SD, 2)}
}

func ptr[T any](v T) *T { return &v }
