package plan

import (
	"fmt"
	"math"
	"strings"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/unit"
)

// Conflict is wishes that cannot all be had, and which one to let go.
type Conflict struct {
	Problem string
	Drop    string
}

const (
	// slack is how far rounded figures may lie apart without contradicting each
	// other.
	slack        = 0.03
	unlikely     = 0.05
	steepSingles = 50 * unit.Degree
	// fewFibres in the cross-section of singles is about as fine as a hand spins
	// (common practice).
	fewFibres = 20
)

// conflicts names wishes that contradict each other.
func (s *solver) conflicts(r *Result) (out []Conflict) {
	for _, find := range []func(*Result) []Conflict{s.twofold, s.crowded, s.unlike, s.tooWide, s.overTwisted, s.tooFine, s.short, s.weak, s.nothingLeft} {
		out = append(out, find(r)...)
	}
	return out
}

// twofold finds quantities that follow in two ways which do not agree.
func (s *solver) twofold(r *Result) (out []Conflict) {
	var told basis
	for _, c := range s.checks {
		ratio := make([]float64, s.n)
		for i := range ratio {
			ratio[i] = math.Log(c.column[i] / s.columns[c.q][i])
		}
		e := estimate.FromDraws(ratio)
		if e.Low < slack && e.High > -slack || s.from[c.q].and(c.from) == told {
			continue
		}
		told = s.from[c.q].and(c.from)
		say := items[c.q].kind.say
		out = append(out, Conflict{
			fmt.Sprintf("What is wished contradicts itself: from %s, the %s would be %s, and %s.",
				list(c.from, c.q), items[c.q].short(), say(estimate.FromDraws(c.column).Value), s.stands(c.q, r)),
			s.drop(told, ""),
		})
	}
	return out
}

// stands says what a quantity is, and why.
func (s *solver) stands(q quantity, r *Result) string {
	now := items[q].kind.say(r.estimates[q].Value)
	if s.source[q] == Wished {
		return now + " is wished"
	}
	return fmt.Sprintf("from %s it is %s", list(s.from[q], q), now)
}

// list names the wishes of a basis but one.
func list(b basis, but quantity) string {
	var names []string
	for q := range quantities {
		if b.has(q) && q != but && items[q].choice {
			names = append(names, "the "+items[q].short())
		}
	}
	if len(names) == 0 {
		return "what is assumed"
	}
	return enumerate(names, "and")
}

func enumerate(list []string, word string) string {
	if len(list) == 1 {
		return list[0]
	}
	return strings.Join(list[:len(list)-1], ", ") + " " + word + " " + list[len(list)-1]
}

// drop says which wish to let go, and what it would become. Each is tried.
func (s *solver) drop(b basis, otherwise string) string {
	var options []string
	before := s.hard()
	for q := range quantities {
		if b.has(q) && items[q].choice {
			if becomes := s.tryWithout(q, before); becomes != "" {
				options = append(options, becomes)
			}
		}
	}
	out := "Drop one of them."
	if len(options) > 0 {
		out = "Drop " + strings.Join(options, "; or drop ") + "."
	}
	return strings.TrimSpace(out + " " + otherwise)
}

// tryWithout solves without a wish and says what it becomes; nothing where as much
// contradicts itself as before, or where that leaves it open.
func (s *solver) tryWithout(q quantity, before int) string {
	w := s.w.without(q)
	again := work(&w, fewCount)
	if again.hard() >= before || !again.known(q) {
		return ""
	}
	v := again.median(q)
	if !(v > items[q].kind.least && v < items[q].kind.most) {
		return ""
	}
	return fmt.Sprintf("the %s, and it becomes %s", items[q].short(), items[q].kind.say(v))
}

// hard counts the contradictions of a trial, without asking what to drop.
func (s *solver) hard() (n int) {
	for _, c := range s.checks {
		if r := math.Abs(math.Log(estimate.FromDraws(c.column).Value / s.median(c.q))); r > 2*slack {
			n++
		}
	}
	for _, side := range sides {
		if s.tight(side) {
			n++
		}
	}
	for _, o := range odds {
		if s.odd(o) {
			n++
		}
	}
	if plied(s.w) && s.known(qSinglesAngle) && s.median(qSinglesAngle) > float64(steepSingles) {
		n++
	}
	if s.seeded {
		return n
	}
	for _, st := range s.stockLines() {
		if st.Enough < unlikely {
			n++
		}
	}
	return n
}

// side is the threads of one direction.
type side struct {
	q     quantity
	word  string
	share func(cloth.Weave) cloth.Share
}

var sides = []side{{qEnds, "ends", cloth.Weave.EndsShare}, {qPicks, "picks", cloth.Weave.PicksShare}}

// tight reports whether threads are wished closer than the weave has room for.
func (s *solver) tight(d side) bool {
	return woven(s.w) && s.known(qGrist) && s.known(d.q) && s.source[d.q] == Wished && s.median(d.q) > s.closest(d.share)*(1+1e-9)
}

func (s *solver) crowded(*Result) (out []Conflict) {
	for _, side := range sides {
		if s.tight(side) {
			out = append(out, Conflict{
				fmt.Sprintf("The %s and the weave contradict each other: %s of %s are wished, and yarn of this weight has room for %s.",
					items[side.q].short(), sayDensity(s.median(side.q)), side.word, sayDensity(s.closest(side.share))),
				s.drop(s.from[side.q].and(s.from[qGrist]), "Or take a weave with longer floats."),
			})
		}
	}
	return out
}

// odd is what two wishes make of a third thing that no yarn has: beyond what was
// ever met (wraps: an assumption, well outside of cloth.PriorWrapFactor), or
// beyond what can be (packing).
type odd struct {
	q, a, b     quantity
	least, most float64
	said        string
}

var odds = []odd{
	{qFactor, qGrist, qWraps, 0.6, 4, "a wrap would hold %s diameters of a yarn of that weight, and 1 to 2.5 are usual"},
	{qPacking, qSinglesGrist, qDiameter, packings.least, packings.most, "%s of the singles would be fibre, and 30 to 60 %% are usual"},
}

func (s *solver) odd(o odd) bool {
	return s.known(o.q) && s.source[o.q] == Follows && !(s.median(o.q) >= o.least && s.median(o.q) <= o.most)
}

// unlike finds weights and thicknesses that no one yarn has.
func (s *solver) unlike(*Result) (out []Conflict) {
	for _, o := range odds {
		if s.odd(o) {
			out = append(out, Conflict{
				fmt.Sprintf("The %s and the %s contradict each other: "+o.said+" (common practice).", items[o.a].short(), items[o.b].short(), items[o.q].kind.say(s.median(o.q))),
				s.drop(s.from[o.a].and(s.from[o.b]), ""),
			})
		}
	}
	return out
}

func (s *solver) tooWide(*Result) []Conflict {
	if !s.known(qLoomWidth) || !s.known(qReed) || s.median(qReed) <= s.median(qLoomWidth)*(1+1e-9) {
		return nil
	}
	across := []quantity{qWidth, qWidthOff, qReed, qEndCount}
	w := s.w.without(across...)
	w.given = put(w.given, qReed, entry{Estimate: cloth.Exactly(s.median(qLoomWidth))})
	again := work(&w, fewCount)
	advice := "Drop the width of the loom and borrow a wider one; or weave it in panels."
	for _, q := range across {
		if s.source[q] == Wished && again.known(q) {
			advice = fmt.Sprintf("Drop the %s, and it becomes %s; or weave it in panels, or on a wider loom.", items[q].short(), items[q].kind.say(again.median(q)))
			break
		}
	}
	return []Conflict{{
		fmt.Sprintf("The width and the loom contradict each other: the reed would take %s, and the loom has %s.", lengths.say(s.median(qReed)), lengths.say(s.median(qLoomWidth))), advice,
	}}
}

func (s *solver) overTwisted(r *Result) []Conflict {
	if !plied(s.w) || !s.known(qSinglesAngle) || r.estimates[qSinglesAngle].Value <= float64(steepSingles) {
		return nil
	}
	return []Conflict{{
		fmt.Sprintf("The twist asks for singles of %s, and singles steeper than about %s lose their strength (common practice).", degrees(r.estimates[qSinglesAngle].Value), degrees(float64(steepSingles))),
		s.drop(s.from[qSinglesAngle], "Give a flatter one."),
	}}
}

// finestFibre is about as thin as wool comes (common practice).
const finestFibre = 15e-6

// tooFine finds singles with fewer fibres across than hold together.
func (s *solver) tooFine(*Result) []Conflict {
	if !s.known(qSinglesGrist) {
		return nil
	}
	d := finestFibre
	if s.known(qFineness) {
		d = s.median(qFineness)
	}
	fibre := math.Pi / 4 * d * d * 1e4 * fibreDensity * 1e5 // tex
	n := s.median(qSinglesGrist) / fibre
	if n >= fewFibres {
		return nil
	}
	advice := s.thicker(fewFibres*fibre) + fmt.Sprintf("The finest singles of fibres of %s are about %s.", sayFineness(d), grists.say(fewFibres*fibre))
	if finer := d * math.Sqrt(n/fewFibres); finer >= finestFibre {
		advice += fmt.Sprintf(" Fewer plies, or fibres of %s, go as far.", sayFineness(finer))
	}
	return []Conflict{{
		fmt.Sprintf("The fibre and the yarn contradict each other: the singles would be %.2g fibres thick, and below about %d they do not hold (common practice).", n, fewFibres), advice,
	}}
}

// thicker says what the wishes for a weight become with singles of another one.
func (s *solver) thicker(singles float64) string {
	heavy := []quantity{qGrist, qWraps, qGristAtWheel, qSinglesGrist, qDiameter}
	w := s.w.without(heavy...)
	w.given = put(w.given, qSinglesGrist, entry{Estimate: cloth.Exactly(singles)})
	again := work(&w, fewCount)
	for _, q := range heavy {
		if s.source[q] == Wished && again.known(q) {
			return fmt.Sprintf("Drop the %s, and it becomes %s. ", items[q].short(), items[q].kind.say(again.median(q)))
		}
	}
	return "Drop the size and make it smaller, or have more yarn. "
}

// short finds what is in hand and will not do.
func (s *solver) short(r *Result) (out []Conflict) {
	if s.seeded {
		return nil
	}
	for _, st := range r.Stocks {
		if st.Enough >= unlikely {
			continue
		}
		drop := s.drop(s.from[qMass].with(st.q), "")
		out = append(out, Conflict{
			fmt.Sprintf("The %s and the size contradict each other: there are %s, which make about %s of yarn, and the size takes %s.",
				st.Name, st.Have, masses.say(s.makes(st.q)), masses.say(r.estimates[qMass].Value)), drop,
		})
	}
	return out
}

// makes is the mass of yarn that a stock gives, at the middle.
func (s *solver) makes(q quantity) float64 {
	for _, st := range stocks {
		if st.q == q {
			return estimate.FromDraws(s.reckon(way{of: st.makes})).Value
		}
	}
	return 0
}

// weak finds a warp that its tension breaks.
func (s *solver) weak(*Result) []Conflict {
	load, ok := s.load()
	if !ok || load.AtPeak.Value >= 1 {
		return nil
	}
	return []Conflict{{
		fmt.Sprintf("The tension and the yarn contradict each other: each end bears %s, three times that when the shed opens, and breaks at %s.", load.PerEnd, masses.say(s.median(qBreaking))),
		"Drop the tension and slacken the warp; or size it, or ply the yarn.",
	}}
}

func (s *solver) load() (cloth.WarpLoad, bool) {
	if !s.known(qTension) || !s.known(qBreaking) || !s.known(qEndCount) {
		return cloth.WarpLoad{}, false
	}
	load, err := cloth.LoadOn(int(s.median(qEndCount)), unit.Mass(s.median(qTension)), unit.Mass(s.median(qBreaking)))
	return load, err == nil
}

// nothingLeft finds sizes that what is wished leaves no room for.
func (s *solver) nothingLeft(r *Result) []Conflict {
	if !woven(s.w) || !s.known(qLengthOn) || r.estimates[qLengthOn].Value > 1e-3 {
		return nil
	}
	if s.source[qWarpLength] == Wished {
		return []Conflict{{
			fmt.Sprintf("The length of the warp and the loom contradict each other: each end is %s long, and loom waste and fringe take %s of it.",
				lengths.say(s.median(qWarpLength)), lengths.say(s.median(qWaste)+s.median(qFringe))),
			"Drop the length of the warp and wind a longer one, or weave on a loom that keeps less.",
		}}
	}
	return []Conflict{{
		"The yarn does not even cover the loom waste: no cloth is left.",
		"Drop the width and weave a narrower cloth, or find more yarn.",
	}}
}
