package yarn

import (
	"math"

	"waketwist/unit"
)

// values works out the rows of testdata/checks.csv that print numbers.
var values = map[string]func() []float64{
	"TW01": func() []float64 {
		k := unit.TwistFactorOf(15*unit.TurnPerInch, unit.FromCottonCount(36))
		return []float64{k.TwistMultiplier()}
	},
	"TW02":    func() []float64 { return []float64{multiplier(1).PerCentimetreRootTex()} },
	"TW03":    func() []float64 { return []float64{multiplier(4).PerCentimetreRootTex()} },
	"TW04":    func() []float64 { return []float64{multiplier(1).AlphaMetric()} },
	"TW05":    func() []float64 { return []float64{unit.TurnPerInch.PerMetre()} },
	"TW06":    diameterFromAngle,
	"TW07":    func() []float64 { return []float64{tangent(100, Diameter(1, 1, 1))} },
	"TW09_10": func() []float64 { return takenUp(10) },
	"TW09_20": func() []float64 { return takenUp(20) },
	"TW09_30": func() []float64 { return takenUp(30) },
	"TW11": func() []float64 {
		least, middle, most := Pretension(1)
		return []float64{100 * least.Newtons(), 100 * middle.Newtons(), 100 * most.Newtons()}
	},
	"TW13": func() []float64 {
		least, middle, most := Pretension(200)
		return []float64{middle.Newtons(), least.Newtons(), most.Newtons(), middle.Mass().Grams()}
	},
	"TW20": func() []float64 { return []float64{float64(TwistLeft(250, 191.253, deg(20.5579)))} },
	"DI01": func() []float64 { return []float64{1 / Diameter(unit.FromCottonCount(1), 1, 1/1.1).Inches()} },
	"DI02": func() []float64 { return []float64{Diameter(100, 1, 1/1.1).Millimetres()} },
	"DI03": func() []float64 {
		v := specificVolume(unit.Inch/28, unit.FromCottonCount(1))
		return []float64{Diameter(unit.FromCottonCount(36), 1, 1/v).Inches()}
	},
	"DI04": func() []float64 { return []float64{WoolDensity} },
	"DI06": func() []float64 { return volumeAndPacking(0.9) },
	"DI07": func() []float64 { return volumeAndPacking(0.84) },
	"DI08": func() (out []float64) {
		for _, packing := range []float64{0.6, 0.5, 0.4, 0.3} {
			out = append(out, Diameter(100, packing, WoolDensity).Millimetres())
		}
		return out
	},
	"DI10": func() []float64 { return perInch(0.95, 32) },
	"DI11": func() []float64 { return perInch(0.95, 60, 15) },
	"DI12": func() []float64 { return perInch(0.9, 20) },
	"DI13": func() []float64 { return perInch(0.9, 46) },
	"DI14": worstedWraps,
	"DI15": worstedTurns,
	"DI16": softPlied,
	"BP01": func() []float64 { return []float64{90 - ZeroTwist(2).Degrees()} },
	"BP02": func() []float64 { return []float64{90 - ZeroTwist(3).Degrees()} },
	"BP03": func() []float64 { return []float64{90 - ZeroTwist(4).Degrees()} },
	"BP04": func() []float64 { return []float64{math.Cos(float64(ZeroTwist(3)))} },
	"BP05": func() []float64 {
		return []float64{math.Cos(float64(ZeroTwist(2))), math.Cos(float64(ZeroTwist(4)))}
	},
	"BP06": func() []float64 { return []float64{mostHeld(2), mostHeld(3), mostHeld(4)} },
	"BP07": func() []float64 {
		return []float64{ContactRadius(2, deg(45)) / 2, ContactRadius(2, ZeroTwist(2)) / 2}
	},
	"BP08": closePacked,
	"BP10": func() []float64 { return balancedRatios(1.5, 0.8) },
	"BP11": func() []float64 { return balancedRatios(4, 0.6) },
	"BP12": func() []float64 {
		return []float64{Balanced(2, 1, 0.5).Degrees(), balancedRatios(1, 0.5)[1]}
	},
	"BP13": func() []float64 { return balancedRatios(1.5, 0.2823529412)[:2] },
	"BP16": func() []float64 {
		d, t, b, ply, strand := workedFromTex(100, 400)
		return []float64{d, t, b, strand, ply, strand / 400, ply / 400}
	},
	"BP17": func() []float64 {
		d, t, b, ply, _ := workedFromTex(200, 250)
		return []float64{d, t, b, ply, ply / 250}
	},
	"BP18": func() []float64 { return perPlyLength(1.5, 15, 20, 25, 30) },
	"BP19": func() []float64 { return perPlyLength(4, 20, 25, 30) },
	"SN04": func() []float64 {
		ratio, _ := SnarlTensionRatio(0.5)
		return []float64{ratio}
	},
}

// multiplier is the factor of a twist multiplier in turns per inch over the
// square root of the cotton count.
func multiplier(tm float64) unit.TwistFactor {
	return unit.TwistFactorOf(unit.Twist(tm)*unit.TurnPerInch, unit.FromCottonCount(1))
}

func angleOf(degrees float64) SurfaceAngle { return SurfaceAngle(degrees * float64(unit.Degree)) }

// tangent is tan a of singles of diameter d with turns per metre.
func tangent(perMetre float64, d unit.Length) float64 {
	return math.Tan(float64(SurfaceAngleOf(StrandTwist(perMetre), d)))
}

// specificVolume returns the v in cm3/g at which t is d thick.
func specificVolume(d unit.Length, t unit.LinearDensity) float64 {
	bare := float64(d / Diameter(t, 1, 1))
	return bare * bare
}

// diameterFromAngle finds d at which 1000 turns per metre lie at 32 deg.
func diameterFromAngle() []float64 {
	d := root(func(mm float64) float64 {
		return tangent(1000, unit.Length(mm)*unit.Millimetre) - math.Tan(float64(angleOf(32)))
	}, 0.01, 1, 1e-12)
	return []float64{d, specificVolume(unit.Length(d)*unit.Millimetre, 20)}
}

func takenUp(degrees float64) []float64 {
	a := angleOf(degrees)
	return []float64{a.Contraction(), 100 * a.Retraction()}
}

func volumeAndPacking(factor float64) []float64 {
	t := unit.FromYardsPerPound(2500)
	v := specificVolume(unit.Inch/unit.Length(factor*50), t)
	return []float64{v, 1 / (v * WoolDensity)}
}

// perInch sets v by factor sqrt(yd/lb) diameters per inch and returns those of
// cotton counts.
func perInch(factor float64, counts ...float64) (out []float64) {
	v := volumeAndPacking(factor)[0]
	for _, count := range counts {
		out = append(out, 1/Diameter(unit.FromCottonCount(count), 1, 1/v).Inches())
	}
	return out
}

var worstedCounts = []float64{1, 2, 4, 6, 8, 10, 12}

// worstedWraps has one packing, worsted-spun, meet all wraps.
func worstedWraps() (out []float64) {
	for _, count := range worstedCounts {
		out = append(out, 1/Diameter(unit.FromWorstedCount(count), 0.585, WoolDensity).Inches())
	}
	return out
}

func worstedTurns() []float64 {
	least, most := math.Inf(1), 0.0
	for i, tpi := range []float64{3.5, 4.5, 6.5, 8, 9, 10, 11} {
		k := unit.TwistFactorOf(unit.Twist(tpi)*unit.TurnPerInch, unit.FromWorstedCount(worstedCounts[i]))
		one := unit.TwistFactorOf(unit.TurnPerInch, unit.FromWorstedCount(1))
		least, most = min(least, float64(k/one)), max(most, float64(k/one))
	}
	return []float64{least, most}
}

func softPlied() []float64 {
	var ratio, packing []float64
	for _, c := range []struct{ yards, wraps float64 }{{1900, 16}, {1700, 18}} {
		t := unit.FromYardsPerPound(c.yards)
		ratio = append(ratio, c.wraps/math.Sqrt(c.yards))
		packing = append(packing, 1/(specificVolume(unit.Inch/unit.Length(c.wraps), t)*WoolDensity))
	}
	return append(ratio, packing...)
}

// mostHeld returns the turns of the tightest rope per length of strand in
// strand diameters.
func mostHeld(n int) float64 {
	b := ZeroTwist(n)
	return math.Sin(float64(b)) / (2 * math.Pi * ContactRadius(n, b) / 2)
}

// closePacked finds the two-strand helix that fills most of its cylinder.
func closePacked() []float64 {
	at, best := 0.0, 0.0
	for b := 45.0; b < 70; b += 0.001 {
		r := 1 + ContactRadius(2, deg(b))
		if filled := 2 / (r * r * math.Cos(float64(deg(b)))); filled > best {
			at, best = b, filled
		}
	}
	return []float64{90 - at, best}
}

// balancedRatios returns tan b, turns per ply length over those of the singles,
// and the share of these left.
func balancedRatios(k, t float64) []float64 {
	b := Balanced(2, Stiffness(k), Living(t))
	r := Ratios(2, b, SurfaceAngle(unit.Atan(t)))
	return []float64{math.Tan(float64(b)), r.PerPlyLength, r.TwistLeft}
}

func perPlyLength(k float64, degrees ...float64) (out []float64) {
	for _, a := range degrees {
		b := Balanced(2, Stiffness(k), angleOf(a).Living())
		out = append(out, Ratios(2, b, angleOf(a)).PerPlyLength)
	}
	return out
}

func workedFromTex(tex, u float64) (mm, t, b, perPly, perStrand float64) {
	d := Diameter(unit.LinearDensity(tex), 1, 1/1.53)
	a := SurfaceAngleOf(StrandTwist(u), d)
	at := Balanced(2, 1.5, a.Living())
	perPly = float64(Turns(2, at, d))
	return d.Millimetres(), float64(a.Living()), at.Degrees(), perPly, perPly * math.Cos(float64(at))
}
