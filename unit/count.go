package unit

import "strings"

// A countSystem is a way of numbering yarn. In a direct system the number grows
// with the mass of a length, in an indirect one with the length of a mass.
type countSystem struct {
	one     LinearDensity // the density of count 1
	direct  bool
	grouped bool // a comma before three digits parts thousands
}

// density returns the density of one strand of the given count.
func (c countSystem) density(count float64) LinearDensity {
	if c.direct {
		return LinearDensity(count) * c.one
	}
	return c.one / LinearDensity(count)
}

// countSystems holds the written names of the systems. The symbols cc, wc and
// the like are those of ASTM D2260; cut is the American woollen cut of 300 yd.
var countSystems = namedSystems([]namedSystem{
	{"tex", countSystem{one: Tex, direct: true}},
	{"ktex, kilotex", countSystem{one: Kilotex, direct: true}},
	{"dtex, decitex", countSystem{one: Dtex, direct: true}},
	{"den, denier, deniers", countSystem{one: Denier, direct: true}},
	{"nm, mc, metric count", countSystem{one: FromNm(1)}},
	{"ne, nec, cc, cotton, cotton count", countSystem{one: FromCottonCount(1)}},
	{"nek, wc, worsted, worsted count", countSystem{one: FromWorstedCount(1)}},
	{"run, runs, woollen run, woollen runs, woolen run, woolen runs", countSystem{one: FromWoollenRun(1)}},
	{"nel, lea, leas, linen, linen lea, linen count", countSystem{one: FromLea(1)}},
	{"cut, cuts, woollen cut, woollen cuts, woolen cut, woolen cuts", countSystem{one: FromLea(1)}},
	{"yorkshire skein, yorkshire skeins, yorkshire skeins woollen", countSystem{one: FromYorkshireSkeins(1)}},
	{"ypp", countSystem{one: FromYardsPerPound(1), grouped: true}},
})

type namedSystem struct {
	names string // parted by commas
	countSystem
}

func namedSystems(systems []namedSystem) map[string]countSystem {
	m := make(map[string]countSystem)
	for _, s := range systems {
		for name := range strings.SplitSeq(s.names, ", ") {
			m[name] = s.countSystem
		}
	}
	return m
}

var linearDensityScale = scale{
	kind: KindLinearDensity, read: readLinearDensity,
	lo: float64(0.01 * Tex), hi: float64(100 * Kilotex), limits: "0.01 tex to 100 ktex",
}

// ParseLinearDensity reads how heavy a length of yarn or roving is, in a count
// system (147.6 tex, 90 den, Nm 6.8, 20s cotton, Ne 20/2, 2.1 run) or as length
// by mass either way up (3,360 yd/lb, 400 m / 100 g, 25 grains/120 yd).
//
// The result is that of the whole yarn. A folded count of an indirect system,
// Ne 20/2 or 2/20s cotton, is its count divided by the folds, take-up ignored.
// In a direct system R 60 tex/2 is 60 tex, the resultant of two strands, and
// 30 tex x 2 is 60 tex, the sum (ISO 1139 notation, from memory). Densities from
// 0.01 tex to 100 ktex are accepted. The error is a *ParseError.
func ParseLinearDensity(text string) (LinearDensity, error) {
	v, err := linearDensityScale.parse(text)
	return LinearDensity(v), err
}

func readLinearDensity(toks []token) (float64, *fault) {
	c := takeCount(toks)
	if len(c.figures) == 0 {
		return 0, noNumber()
	}
	if c.known {
		t, f := c.density()
		return float64(t), f
	}
	if i := perMark(toks); i > 0 {
		t, f := lengthByMass(toks[:i], toks[i+1:])
		return float64(t), f
	}
	if c.name != "" {
		return 0, unknownUnit(KindLinearDensity, c.name)
	}
	if c.plural || perFold(c.figures) {
		return 0, systemMissing()
	}
	return 0, noUnit(KindLinearDensity)
}

// systemMissing is the fault of 64s and of 20/2, which are counts of no system.
func systemMissing() *fault {
	return &fault{
		problem: "it does not say in which count system",
		advice: "name one, as in 20/2 Ne (cotton), 64s worsted, 20s linen, Nm 28/2 or R 60 tex/2; " +
			"a quality number such as 64s is the fineness of a fibre and not of a yarn",
	}
}

// lengthByMass reads the two sides of 3360 yd/lb or of 25 grains/120 yd.
func lengthByMass(top, bottom []token) (LinearDensity, *fault) {
	first, second := lengthSymbols, massSymbols
	a, f := first.terms(top)
	if f != nil && f.foreign {
		first, second = second, first
		a, f = first.terms(top)
	}
	switch {
	case f != nil && f.foreign:
		return 0, unknownUnit(KindLinearDensity, spell(top))
	case f != nil:
		return 0, f
	}
	b, f := second.divisor(bottom)
	switch {
	case f != nil:
		return 0, f
	case a == 0 || b == 0:
		return 0, &fault{problem: "neither the length nor the mass can be zero", advice: "give both as measured, as in 400 m/100 g"}
	case first.kind == KindMass:
		a, b = b, a
	}
	return LinearDensityOf(Mass(b), Length(a)), nil
}

// divisor reads the part of a ratio after the division, where a unit alone is
// one of it.
func (u symbolTable) divisor(toks []token) (float64, *fault) {
	v, f := u.terms(orOne(toks))
	if f != nil && f.foreign {
		f = &fault{
			problem: "the part after the division is not a " + string(u.kind),
			advice:  "divide a length by a mass or a mass by a length, as in 400 m/100 g",
		}
	}
	return v, f
}
