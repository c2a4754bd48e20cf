package cli

import (
	"fmt"

	"waketwist/unit"
	"waketwist/yarn"
)

// spinning is a way of spinning wool with the shares of a strand's cross-section
// that its fibres fill (Hearle, Grosberg and Backer, from memory).
type spinning struct {
	words        string
	loose, dense float64
}

var worstedSpun, woollenSpun = spinning{"worsted-spun", 0.5, 0.6}, spinning{"woollen-spun", 0.3, 0.4}

// diameters are the least and the most that singles of a density have in wool.
func (s spinning) diameters(t unit.LinearDensity) (least, most unit.Length) {
	return yarn.Diameter(t, s.dense, yarn.WoolDensity), yarn.Diameter(t, s.loose, yarn.WoolDensity)
}

// thicknessWords says how thick singles of a density are in wool.
func thicknessWords(t unit.LinearDensity) string {
	lw, mw := worstedSpun.diameters(t)
	lo, mo := woollenSpun.diameters(t)
	return fmt.Sprintf("Singles of this count in wool are %.2g to %.2g mm thick %s and %.2g to %.2g mm %s; how densely the fibres lie is from memory.",
		lw.Millimetres(), mw.Millimetres(), worstedSpun.words, lo.Millimetres(), mo.Millimetres(), woollenSpun.words)
}

// testWords says under which tension a yarn is measured.
func testWords(t unit.LinearDensity) string {
	least, middle, most := yarn.Pretension(t)
	return fmt.Sprintf("Measure its length and twist under %.3g N, the weight of %s; %.3g to %.3g N will do (ISO 2061, 0.5 cN/tex). Yarn that stretches by 0.5 %% or more under that, as soft handspun yarn may, wants less: only what stretches it by 0.1 %% at most.",
		middle.Newtons(), middle.Mass(), least.Newtons(), most.Newtons())
}

// factored is a twist together with the count of its yarn, as JSON.
type factored struct {
	PerMetre      float64 `json:"turns_per_m"`
	PerCentimetre float64 `json:"turns_per_cm"`
	PerInch       float64 `json:"turns_per_in"`
	Tex           float64 `json:"tex"`
	Factor        float64 `json:"twist_factor"` // turns per metre times the square root of tex
	Multiplier    float64 `json:"cotton_multiplier"`
	AlphaMetric   float64 `json:"alpha_metric"`
}

// runFactor prints a twist together with the count of its yarn.
func (c *convertCmd) runFactor(a *app, asked string, q unit.Quantity) error {
	u, ok := q.(unit.Twist)
	if !ok {
		return misused("--count: “%s” is no twist; the count stands beside one, as in “350 tpm” --count “147 tex”", oneLine(asked))
	}
	t, err := unit.ParseLinearDensity(string(c.Count))
	if err != nil {
		return misused("--count: %v", err)
	}
	k := unit.TwistFactorOf(u, t)
	if c.JSON {
		return writeJSON(a.Stdout, factored{
			u.PerMetre(), u.PerCentimetre(), u.PerInch(), t.Tex(), float64(k), k.TwistMultiplier(), k.AlphaMetric(),
		})
	}
	if err := printLines(a.Stdout, asked, q, append(u.Lines(), factorLines(k)...)); err != nil {
		return err
	}
	_, err = fmt.Fprintf(a.Stdout, "\n%s\n", folded(fibreWords(u, t), proseWidth))
	return err
}

// factorLines are the ways in which the trade gives a twist factor.
func factorLines(k unit.TwistFactor) []unit.Line {
	return []unit.Line{
		{Label: "twist factor", Text: fmt.Sprintf("%.4g turns/m × √tex", float64(k))},
		{Label: "the same in centimetres", Text: fmt.Sprintf("%.4g turns/cm × √tex", k.PerCentimetreRootTex())},
		{Label: "cotton multiplier", Text: fmt.Sprintf("%.3g tpi / √Ne", k.TwistMultiplier())},
		{Label: "metric alpha", Text: fmt.Sprintf("%.4g turns/m / √Nm", k.AlphaMetric())},
	}
}

// fibreWords says how the fibres lie in wool singles of this twist and count.
func fibreWords(u unit.Twist, t unit.LinearDensity) string {
	least, _ := worstedSpun.diameters(t)
	_, most := woollenSpun.diameters(t)
	flat, steep := yarn.SurfaceAngleOf(yarn.StrandTwist(u), least), yarn.SurfaceAngleOf(yarn.StrandTwist(u), most)
	if unit.Angle(flat) > steepestSingles {
		return "That is more twist than wool singles of this count take."
	}
	return fmt.Sprintf("In wool singles of this twist the surface fibres lie at %.0f° (%s, dense) to %.0f° (%s, loose), and twisting has taken up %.1f to %.1f %% of the length; how densely the fibres lie is from memory.",
		flat.Degrees(), worstedSpun.words, steep.Degrees(), woollenSpun.words, 100*flat.Retraction(), 100*steep.Retraction())
}
