package plan

import (
	"cmp"
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"waketwist/estimate"
)

// Line is one link of the chain in words.
type Line struct {
	Part   Part
	Field  string // the key under which it can be given
	Key    string // a name with its unit, for programs
	Name   string
	Source Source
	Value  float64 // these three in the unit of Key
	Low    float64
	High   float64
	Text   string // the value in both systems of units
	Range  string // the same of the interval; empty where there is no spread
	State  string // of the yarn or cloth that it speaks of; empty where it has none
	Why    string // one sentence
}

// Lines returns the chain from cloth at the top to work at the bottom; what the
// plan does not reach, and what was only assumed on the way, has no line.
func (r *Result) Lines() (out []Line) {
	for q := range quantities {
		if r.shown(q) {
			out = append(out, r.line(q))
		}
	}
	for _, s := range r.Settings {
		out = append(out, s.lines()...)
	}
	return out
}

// LineOf returns the line of a field, whether Lines has it or not; ok is false
// where the plan does not reach it.
func (r *Result) LineOf(field string) (l Line, ok bool) {
	for q := range quantities {
		if items[q].field == field && r.source[q] != Unknown {
			return r.line(q), true
		}
	}
	return l, false
}

// shown leaves out losses and the like, which Assumed and Given tell, and what
// bounds the plan, which Stocks tell.
func (r *Result) shown(q quantity) bool {
	e := r.estimates[q]
	if r.source[q] == Unknown || e.High == 0 {
		return false
	}
	switch q {
	case qDrawIn, qTakeUp, qWashWidth, qWashLength, qWaste, qFringe, qSpare, qLoomWidth, qTension, qBreaking, qPieces, qSwatchMass,
		qFactor, qWash, qPlyTakeUp, qPacking, qStiffness, qSpinning, qSampling, qPreparing, qScouring, qFineness,
		qYarnInHand, qSinglesInHand, qFibreInHand, qTimeInHand, qBobbin, qPace, qPlyPace:
		return false
	}
	return q != qPrepared || e.High != r.estimates[qFibre].High
}

func (r *Result) line(q quantity) Line {
	it, e := items[q], r.estimates[q]
	l := Line{
		Part: it.part, Field: it.field, Key: keyOf(it), Name: capital(r.nameOf(q)), Source: r.source[q],
		Value: e.Value / it.kind.scale, Low: e.Low / it.kind.scale, High: e.High / it.kind.scale,
		Text: it.kind.say(e.Value), State: stateOf(q), Why: r.why(q),
	}
	l.Range = between(it.kind, e)
	return l
}

// between says an interval; it is empty where there is no spread.
func between(k kind, e estimate.Estimate[float64]) string {
	if math.Abs(e.High-e.Low) <= 1e-9*math.Abs(e.Value) || k.say(e.Low) == k.say(e.High) {
		return ""
	}
	return k.say(e.Low) + " to " + k.say(e.High)
}

// nameOf calls the angle of singles that stay so by its name.
func (r *Result) nameOf(q quantity) string {
	if q == qAngle && r.Wish.Plies == 1 {
		return "angle of the yarn's fibres"
	}
	return items[q].name
}

func keyOf(it item) string {
	_, name, _ := strings.Cut(it.field, ".")
	key := strings.ToLower(string(it.part[:1])) + string(it.part[1:])
	key = strings.Fields(key)[0] + "_" + strings.ReplaceAll(name, "-", "_")
	if it.kind.unit == "" {
		return key
	}
	return key + "_" + it.kind.unit
}

func capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}

// stateOf is the state of what a quantity speaks of.
func stateOf(q quantity) string {
	switch q {
	case qWidth, qLength, qKnitWidth, qKnitLength, qYarn, qGrist, qWraps, qEndsWashed, qPicksWashed:
		return "washed"
	case qAngle, qSinglesAngle:
		return "re-wet"
	case qAtWheel, qGristAtWheel, qSingles, qSinglesGrist, qDiameter, qSinglesTwist, qPlyTwist:
		return "at the wheel"
	case qReed, qLengthOn, qEnds, qWarpLength, qEndCount:
		return "on the loom"
	case qWidthOff, qLengthOff, qPicks, qPickCount:
		return "off the loom"
	}
	return ""
}

// why says in a sentence where a quantity comes from.
func (r *Result) why(q quantity) string {
	switch r.source[q] {
	case Wished:
		return "It is as you wish it."
	case Learnt:
		return "Your own hand taught it: " + readings(r.Wish.learnt[q].readings) + "."
	case Assumed:
		return "It is assumed, as you left it open."
	}
	switch q {
	case qPlyTwist, qSinglesTwist, qSinglesAngle, qSingles:
		return r.whyTwist(q)
	case qYarn, qMass, qGrist:
		return r.whyYarn(q)
	}
	return reasons[q]
}

var reasons = map[quantity]string{
	qWidth:        "What draw-in and wash leave of the width in the reed.",
	qLength:       "What take-up and wash leave of what is woven; the yarn decides it where you leave it open.",
	qEnds:         "Three quarters of the closest that the weave has room for (common practice).",
	qPicks:        "As many as ends, where the weave has room for them.",
	qReed:         "The finished width, divided by what wash and draw-in leave of it.",
	qWidthOff:     "The finished width, divided by what the wash leaves of it.",
	qLengthOff:    "The finished length, divided by what the wash leaves of it.",
	qLengthOn:     "That, divided by what the take-up leaves of it.",
	qEndCount:     "The width in the reed times the sett.",
	qPickCount:    "The length off the loom times the picks.",
	qWarpLength:   "What is woven on the loom, and loom waste and fringe.",
	qWarp:         "All ends, each of that length.",
	qWeft:         "All picks, each as long as the reed is wide and the weft's crimp.",
	qEndsWashed:   "The sett, closed up by draw-in and wash.",
	qPicksWashed:  "The picks, closed up by the wash.",
	qKnitWidth:    "The mass, over that of the swatch for its size and the length.",
	qKnitLength:   "The mass, over that of the swatch for its size and the width.",
	qWraps:        "From its weight; a wrap is looser than touching threads, and by how much differs from hand to hand.",
	qAngle:        "The angle at which singles of these turns rest in balance.",
	qAtWheel:      "The washed length, divided by what the wash leaves of it.",
	qGristAtWheel: "Longer yarn of the same mass is lighter for its length.",
	qSinglesGrist: "The mass of the yarn over the length of its strands.",
	qDiameter:     "From their weight and how densely fibres lie, which differs from hand to hand.",
	qSpun:         "The yarn, divided by what spinning and plying leave.",
	qPrepared:     "That, and what samples take.",
	qFibre:        "That, divided by what scouring and preparing leave, where you do them.",
	qBobbins:      "Each strand's mass over what a bobbin holds, rounded up.",
	qPlyBobbins:   "The yarn's mass over what a bobbin holds, rounded up; ply takes more room than singles.",
	qHours:        "Singles over the length that you spin in an hour.",
	qPlyHours:     "Yarn over the length that you ply in an hour.",
}

func (r *Result) whyYarn(q quantity) string {
	switch {
	case q == qGrist:
		return "It follows from " + list(r.from[qGrist], qGrist) + "."
	case r.FromHand && q == qMass:
		return "What is in hand makes it, less every loss."
	case q == qYarn && r.Wish.Fabric == Woven && !r.FromHand:
		return "Warp and weft, and what you have to spare."
	case q == qMass && r.Wish.Fabric == Knitted:
		return "The swatch's mass for its size, scaled up, and what you have to spare."
	case q == qYarn:
		return "Its mass over its weight for its length."
	}
	return "Length times weight for length."
}

func (r *Result) whyTwist(q quantity) string {
	w := r.Wish
	single := w.Plies == 1
	switch {
	case q == qSingles && single:
		return "The yarn before its wash."
	case q == qSinglesAngle && single:
		return "The angle of the yarn's fibres."
	case q == qSingles:
		take := r.estimates[qPlyTakeUp].Value
		return fmt.Sprintf("%d strands, each longer than the ply by %.2g %%, which plying takes up.", w.Plies, 100*take/(1-take))
	case q == qPlyTwist:
		return fmt.Sprintf("The turns of %d strands that lie at %s, re-wet, on the centre line; twist %s.", w.Plies, degrees(r.estimates[qAngle].Value), cmp.Or(w.Direction.String(), "against that of the singles"))
	case q == qSinglesAngle:
		return "The fibres on the surface lie so in singles whose ply rests in balance at that angle, every turn living."
	case single:
		return "The turns that give singles of this thickness that angle."
	}
	thumb := r.estimates[qPlyTwist].Value / Thumb(w.Plies)
	return fmt.Sprintf("Balance asks for them, twist %s; the rule of thumb of %d/%d would say %s.", cmp.Or(w.Direction.Opposite().String(), "against that of the ply"), w.Plies, w.Plies+1, twists.say(thumb))
}

// lines say how the wheel is set.
func (s Setting) lines() []Line {
	per := "for a draw of " + s.Draw.String()
	if s.Hold != nil {
		return []Line{settingLine("hold_s", "Hold of a draw, "+s.Of, " s", plain(*s.Hold), "The middle twist over the flyer's speed, "+per+".")}
	}
	why := fmt.Sprintf("The middle twist over the ratio and what the band loses, %s, on the whorl %s", per, s.Whorl)
	switch {
	case s.Strokes == "flicks":
		why = fmt.Sprintf("The middle twist over the turns of a flick, %s, %s", s.Whorl, per)
	case s.Full != nil:
		why += fmt.Sprintf(", bobbin empty; when it is full, %.3g", float64(s.Full.Value))
	case s.Chosen:
		why += fmt.Sprintf(", the best of yours; %.0f put in %+.0f %%", float64(s.Whole), 100*float64(s.Off))
	}
	return []Line{settingLine("treadles", capital(s.Strokes)+" a draw, "+s.Of, "", plain(s.Treadles), why+".")}
}

func settingLine(key, name, of string, e estimate.Estimate[float64], why string) Line {
	k := kind{say: func(v float64) string { return sayNumber(v) + of }}
	_, yarn, _ := strings.Cut(name, ", ")
	return Line{
		Part: WorkPart, Key: yarn + "_" + key, Name: name, Source: Follows, Value: e.Value, Low: e.Low, High: e.High,
		Text: k.say(e.Value), Range: between(k, e), Why: why,
	}
}
