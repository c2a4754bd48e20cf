package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/unit"
	"waketwist/wheel"
	"waketwist/yarn"
)

// Text is a plan as it is written: values by the keys of their fields, each with
// its unit, inches and metric as one likes. One value fixes a link of the chain;
// two, as in "5-15%" or "90 to 110 g", leave it between them; what is left out
// is solved for, taken from common practice, or left out of the answer.
type Text map[string]string

// Field is a place for a value in a text.
type Field struct {
	Key     string // "part.name"
	Part    Part
	Name    string
	Example string
	Choices []string // the words that it takes; nil for a value
	Long    bool     // takes several lines
}

// Fields are the places of a text, from the top of the chain.
func Fields() (out []Field) {
	for _, w := range wordFields {
		out = append(out, w.Field)
		for q := range quantities {
			if it := items[q]; w.before == it.part && !q.outcome() {
				out = append(out, Field{Key: it.field, Part: it.part, Name: capital(it.name), Example: it.example()})
			}
		}
	}
	return out
}

// wordField is a field that is no quantity. Those of before's part follow it.
type wordField struct {
	Field
	before Part
	read   func(w *Wish, text string) error
}

var wordFields = []wordField{
	{Field{"cloth.weave", ClothPart, "Weave", "2/2-twill", nil, true}, "", readWeave},
	{Field{"cloth.shafts", ClothPart, "Shafts of the loom", "4", nil, false}, "", func(w *Wish, s string) (err error) { w.Shafts, err = readWhole(s); return }},
	{Field{"cloth.reed", ClothPart, "Dents of the reed", "10/in", nil, false}, "", readReed},
	{Field{"cloth.shrink", ClothPart, "Shrinkage both ways", "8-15%", nil, false}, "", readShrink},
	{Field{"cloth.weft-twist", ClothPart, "Twist of another weft", "S or Z", []string{"", "S", "Z"}, false}, ClothPart, func(w *Wish, s string) (err error) { w.WeftTwist, err = yarn.ParseDirection(s); return }},
	{Field{"knit.swatch", KnitPart, "Swatch, width and length", "10 cm, 10 cm", nil, false}, KnitPart, readSwatch},
	{Field{"yarn.plies", YarnPart, "Plies", "2", nil, false}, "", func(w *Wish, s string) (err error) { w.Plies, err = readWhole(s); return }},
	{Field{"yarn.direction", YarnPart, "Twist of the ply", "S or Z", []string{"", "S", "Z"}, false}, "", func(w *Wish, s string) (err error) { w.Direction, err = yarn.ParseDirection(s); return }},
	{Field{"yarn.preparation", YarnPart, "Preparation", "worsted", []string{"", "worsted", "semi", "woollen"}, false}, "", func(w *Wish, s string) (err error) {
		w.Preparation, err = finish.ParsePreparation(s)
		return
	}},
	{Field{"yarn.character", YarnPart, "Character", "firm", []string{"", "firm", "soft"}, false}, YarnPart, readCharacter},
	{Field{"singles.bobbins", SinglesPart, "Singles in hand, bobbin by bobbin", "92 g, 88 g", nil, false}, SinglesPart, readStrands},
	{Field{"fibre.from", FibrePart, "Bought as", "raw", []string{"", "prepared", "scoured", "raw"}, false}, "", readStart},
	{Field{"fibre.breed", FibrePart, "Breed", "Romney", nil, false}, FibrePart, readBreed},
	{Field{"work.machine", WorkPart, "One of your machines", "", nil, false}, "", readMachine},
	{Field{"work.wheel", WorkPart, "Kind of wheel", "flyer-led", []string{"", "flyer-led", "bobbin-led", "double-drive", "spindle", "motor"}, false}, "", readKind},
	{Field{"work.ratio", WorkPart, "Ratio, or those of your whorls", "8:1, 12:1", nil, false}, "", readRatios},
	{Field{"work.speed", WorkPart, "Turns of the motor in a minute", "900", nil, false}, "", readSpeed},
	{Field{"work.core", WorkPart, "Across the bare core of a bobbin-led bobbin", "1.5 in", nil, false}, "", readCore},
	{Field{"work.full", WorkPart, "Across it when full", "4 in", nil, false}, "", readFull},
	{Field{"work.draw", WorkPart, "Length drawn at a time", "24 in", nil, false}, WorkPart, readDraw},
	{Field{"weighed.prepared", WorkPart, "Fibre when the spinning began", "260 g", nil, false}, "", weighedMass(func(m *Weighed) *unit.Mass { return &m.Prepared })},
	{Field{"weighed.left", WorkPart, "Fibre left now", "120 g", nil, false}, "", weighedLeft(func(m *Weighed) **unit.Mass { return &m.Left })},
	{Field{"weighed.spun", WorkPart, "Singles spun so far", "130 g", nil, false}, "", weighedMass(func(m *Weighed) *unit.Mass { return &m.Spun })},
	{Field{"weighed.spun-length", WorkPart, "Their length, where it is known", "900 m", nil, false}, "", func(w *Wish, s string) error {
		v, err := unit.ParseLength(s)
		w.weighed().Length = v
		return err
	}},
	{Field{"weighed.step", WorkPart, "Step of the scale", "1 g", nil, false}, "", weighedMass(func(m *Weighed) *unit.Mass { return &m.Step })},
	{Field{"weighed.done", WorkPart, "Part of the fabric that is done", "40%", nil, false}, "", func(w *Wish, s string) error {
		v, err := readShare(s)
		w.weighed().Done = cloth.Share(v)
		return err
	}},
	{Field{"weighed.used", WorkPart, "Yarn in it", "180 g", nil, false}, "", weighedMass(func(m *Weighed) *unit.Mass { return &m.UsedYarn })},
	{Field{"weighed.left-yarn", WorkPart, "Yarn left", "240 g", nil, false}, "", weighedLeft(func(m *Weighed) **unit.Mass { return &m.LeftYarn })},
}

// Read puts a text into the terms of a wish. What cannot be read is told by the
// key of its field; the rest is read all the same.
func Read(t Text) (w Wish, problems map[string]error) {
	problems = map[string]error{}
	note := func(key string, err error) {
		if err != nil && problems[key] == nil {
			problems[key] = err
		}
	}
	for _, f := range wordFields {
		if text := strings.TrimSpace(t[f.Key]); text != "" {
			note(f.Key, f.read(&w, text))
		}
	}
	for q := range quantities {
		key := items[q].field
		text := strings.TrimSpace(t[key])
		if text == "" || q.outcome() {
			continue
		}
		e, err := q.read(text)
		if err == nil {
			err = q.check(entry{Estimate: e})
		}
		if was, twice := w.given[q]; err == nil && twice && q == qFineness && (e.Low > was.High || e.High < was.Low) {
			err = words(fmt.Sprintf("The breed and the diameter contradict each other: its fibres are %s. Leave one of them out.", between(items[q].kind, was.Estimate)))
		}
		note(key, err)
		w.given = put(w.given, q, entry{Estimate: e})
	}
	w.Fabric = t.Fabric()
	for key, err := range complete(&w) {
		note(key, err)
	}
	for key, text := range t {
		if w.Fabric == Woven && strings.HasPrefix(key, "knit.") && strings.TrimSpace(text) != "" {
			note(key, words("A plan is of one fabric: leave the cloth or the knitting out."))
		}
	}
	fields := Fields()
	for key := range t {
		if strings.TrimSpace(t[key]) != "" && !slices.ContainsFunc(fields, func(f Field) bool { return f.Key == key }) {
			note(key, words("A plan has no place for it."))
		}
	}
	return w, problems
}

// Fabric tells the fabric from the parts that are filled in.
func (t Text) Fabric() Fabric {
	fabric := NoFabric
	for key, text := range t {
		switch part, _, _ := strings.Cut(key, "."); {
		case strings.TrimSpace(text) == "":
		case part == "cloth":
			return Woven
		case part == "knit":
			fabric = Knitted
		}
	}
	return fabric
}

// complete finds what belongs together and was given apart.
func complete(w *Wish) map[string]error {
	out := map[string]error{}
	if w.Fabric == Woven && w.Weave.Ends() == 0 {
		w.Weave, _ = cloth.Named("plain")
	}
	if len(w.Strands) > 0 {
		var all unit.Mass
		for _, m := range w.Strands {
			all += m
		}
		if said := w.given[qSinglesInHand]; w.has(qSinglesInHand) && (float64(all) < said.Low*(1-slack) || float64(all) > said.High*(1+slack)) {
			out["singles.in-hand"] = words(fmt.Sprintf("The bobbins hold %s together; leave this out, or weigh again.", all))
		}
		if !w.has(qSinglesInHand) {
			Give(w, SinglesInHand, cloth.Exactly(all))
		}
	}
	for i, q := range states {
		for _, other := range states[:i] {
			if w.has(q) && w.has(other) {
				out[items[q].field] = words("Give what is in hand in one state only, as fibre, singles or yarn; halfway, fill in what the scale says in the middle of the work.")
			}
		}
	}
	if key, err := w.completeWheel(); err != nil {
		out[key] = err
	}
	return out
}

// states are what the mass in hand may be; each can be made of the one before.
var states = []quantity{qFibreInHand, qSinglesInHand, qYarnInHand}

func (w *Wish) completeWheel() (string, error) {
	h := w.Wheel
	switch {
	case h == nil:
		return "", nil
	case h.Draw == 0:
		return "work.draw", words("Give the length that you draw at a time, as in “24 in”.")
	case w.Machine != "" && (h.Motor != nil || h.Treadled != nil || len(h.Whorls) > 0):
		return "work.machine", words("Give a wheel of yours by its name, or kind and ratio of another, not both.")
	case w.Machine != "":
		return "", nil
	case h.Motor != nil && (len(h.Whorls) > 0 || h.Treadled != nil && h.Treadled.Kind != 0):
		return "work.speed", words("Give the motor's speed, or kind and ratio of a treadled wheel, not both.")
	case h.Motor != nil:
		h.Treadled = nil
		return "", nil
	case h.driven:
		return "work.speed", words("Give the motor's speed, turns of the flyer in a minute, as in “900”.")
	case len(h.Whorls) == 0 && h.treadled().Kind == wheel.Spindle:
		return "work.ratio", words("Give the turns that a flick gives the spindle, counted, as in “12:1”.")
	case len(h.Whorls) == 0:
		return "work.ratio", words("Give the ratio, turns of the flyer for one treadle, as in “8:1”.")
	}
	t := h.treadled()
	if t.Kind == 0 {
		t.Kind = wheel.FlyerLed
	}
	if t.Kind == wheel.BobbinLed && t.Bobbin.Core == 0 {
		return "work.core", words("On a bobbin-led wheel each wrap takes a turn: give the diameter of the bare core.")
	}
	if len(h.Whorls) == 1 {
		t.Whorl, h.Whorls = h.Whorls[0], nil
	}
	return "", nil
}

// read reads one value, or two with "to" or, for shares, a hyphen between them.
func (q quantity) read(text string) (e estimate.Estimate[float64], err error) {
	k := items[q].kind
	if q.mayBeNone() {
		k.read = unit.OrNothing(k.read)
	}
	from, to, two := strings.Cut(text, " to ")
	if !two && (k.unit == losses.unit) {
		from, to, two = cutShares(text)
	}
	if !two {
		v, err := k.read(text)
		return cloth.Exactly(v), err
	}
	if _, err := k.read(from); err != nil { // the unit stands once, after the second
		from += " " + strings.TrimLeft(to, "0123456789., ")
	}
	low, err := k.read(from)
	if err != nil {
		return e, err
	}
	high, err := k.read(to)
	if err != nil {
		return e, err
	}
	if low > high && k.unit != losses.unit { // as “1500 to 1700 yd/lb” is in tex
		low, high = high, low
	}
	e = estimate.Estimate[float64]{Value: (low + high) / 2, Low: low, High: high}
	if k.unit != losses.unit && low > 0 {
		e.Value = math.Sqrt(low * high)
	}
	return e, nil
}

// cutShares parts "5-15%"; a leading hyphen is a sign.
func cutShares(text string) (from, to string, two bool) {
	for _, dash := range []string{"-", "–"} {
		if i := strings.LastIndex(text, dash); i > 0 {
			return strings.TrimSpace(strings.TrimSuffix(text[:i], "%")) + "%", strings.TrimSpace(text[i+len(dash):]), true
		}
	}
	return "", "", false
}
