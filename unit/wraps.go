package unit

var wrapsRate = rate{
	kind: KindWraps,
	short: map[string]symbol{
		"wpi":  {size: float64(WrapPerInch)},
		"wpc":  {size: float64(WrapPerCentimetre)},
		"wpcm": {size: float64(WrapPerCentimetre)},
	},
	nouns: "w wrap wraps",
}

var wrapsScale = scale{
	kind: KindWraps, read: wrapsRate.read,
	lo: 0.1 * float64(WrapPerInch), hi: 1000 * float64(WrapPerInch), limits: "0.1 to 1000 wpi",
}

// ParseWraps reads a wrap count such as 18 wpi, 7 wpc or 36 wraps / 2 in. Counts
// from 0.1 to 1000 wpi are accepted. The error is a *ParseError.
func ParseWraps(text string) (Wraps, error) {
	v, err := wrapsScale.parse(text)
	return Wraps(v), err
}

// Room returns the length that one wrap takes, in both systems, as finely as a
// count of wraps tells it, which is two significant figures: "0.98 mm (0.038 in)".
func (w Wraps) Room() string {
	return bothSystems(figures(w.Pitch().Millimetres(), 2)+" mm", figures(w.Pitch().Inches(), 2)+" in")
}

// Metric returns w in wraps per centimetre, to a tenth: "7.1 wpc".
func (w Wraps) Metric() string { return tenth(w.PerCentimetre()) + " wpc" }

// InchPound returns w in wraps per inch, to three significant figures:
// "18 wpi", "18.5 wpi".
func (w Wraps) InchPound() string { return trimmed(figures(w.PerInch(), 3)) + " wpi" }

// String returns w in both systems, wraps per inch first as they are counted
// nearly everywhere: "18 wpi (7.1 wpc)".
func (w Wraps) String() string { return bothSystems(w.InchPound(), w.Metric()) }
