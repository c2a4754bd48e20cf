package unit

// lineFigures is the number of significant figures in Lines: one more than in
// the String methods, for converting on.
const lineFigures = 4

func line(label string, v float64, unit string) Line {
	return Line{label, figures(v, lineFigures) + unit}
}

// poundLine is line for an inch-pound unit, with thousands parted by commas.
func poundLine(label string, v float64, unit string) Line {
	return Line{label, grouped(figures(v, lineFigures)) + unit}
}

// Lines returns l in metres, centimetres, millimetres, inches, feet and yards.
func (l Length) Lines() []Line {
	lines := []Line{
		line("metres", l.Metres(), " m"),
		line("centimetres", float64(l/Centimetre), " cm"),
		line("millimetres", l.Millimetres(), " mm"),
		poundLine("inches", l.Inches(), " in"),
		poundLine("yards", l.Yards(), " yd"),
	}
	if l >= Foot {
		lines = append(lines, Line{"feet and inches", l.feetAndInches()})
	}
	return lines
}

// Lines returns m in grams, kilograms, ounces, pounds and grains.
func (m Mass) Lines() []Line {
	lines := []Line{
		line("grams", m.Grams(), " g"),
		line("kilograms", float64(m/Kilogram), " kg"),
		poundLine("ounces", m.Ounces(), " oz"),
		poundLine("pounds", m.Pounds(), " lb"),
		poundLine("grains", m.Grains(), " grains"),
	}
	if m >= Pound {
		lines = append(lines, Line{"pounds and ounces", m.poundsAndOunces()})
	}
	return lines
}

// Lines returns t in every count system of this package.
func (t LinearDensity) Lines() []Line {
	return []Line{
		line("tex (g/km)", t.Tex(), " tex"),
		line("decitex", t.Dtex(), " dtex"),
		line("denier", t.Denier(), " den"),
		{"metric count", "Nm " + figures(t.Nm(), lineFigures)},
		{"cotton count (840 yd)", "Ne " + figures(t.CottonCount(), lineFigures)},
		line("worsted count (560 yd)", t.WorstedCount(), " worsted"),
		line("woollen run (1600 yd)", t.WoollenRun(), " run"),
		line("linen lea, woollen cut (300 yd)", t.Lea(), " lea"),
		line("Yorkshire skeins (256 yd)", t.YorkshireSkeins(), " Yorkshire skeins"),
		poundLine("yards per pound", t.YardsPerPound(), " yd/lb"),
		line("metres in 100 g", t.MetresPer100g(), " m/100 g"),
		poundLine("grain count", t.GrainsPer120Yards(), " grains/120 yd"),
	}
}

// Lines returns u in turns per metre, centimetre and inch.
func (u Twist) Lines() []Line {
	return []Line{
		line("turns per metre", u.PerMetre(), " turns/m"),
		line("turns per centimetre", u.PerCentimetre(), " turns/cm"),
		line("turns per inch", u.PerInch(), " tpi"),
	}
}

// Lines returns w in wraps per inch and per centimetre, and the room that one
// wrap takes.
func (w Wraps) Lines() []Line {
	return []Line{
		line("wraps per inch", w.PerInch(), " wpi"),
		line("wraps per centimetre", w.PerCentimetre(), " wpc"),
		line("room for one wrap", w.Pitch().Millimetres(), " mm"),
	}
}

// Lines returns a in degrees and radians.
func (a Angle) Lines() []Line {
	return []Line{line("degrees", a.Degrees(), "°"), line("radians", a.Radians(), " rad")}
}

// Lines returns t in degrees Celsius and Fahrenheit.
func (t Temperature) Lines() []Line {
	return []Line{{"Celsius", t.Metric()}, {"Fahrenheit", t.InchPound()}}
}
