package plan

import (
	"fmt"
	"strconv"
	"strings"

	"waketwist/cloth"
	"waketwist/unit"
	"waketwist/wheel"
)

func readWhole(s string) (int, error) {
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > 1000 {
		return 0, words(fmt.Sprintf("“%s” is not a number of them; give a whole number from 1.", shortened(s)))
	}
	return n, nil
}

// readWeave takes a name, a drawdown or a draft.
func readWeave(w *Wish, s string) error {
	weave, named := cloth.Named(s)
	if named == nil {
		w.Weave = weave
		return nil
	}
	if !strings.ContainsAny(s, "\n") && !strings.HasPrefix(strings.ToLower(s), "threading") {
		return named
	}
	weave, err := cloth.ParseWeave(s)
	w.Weave = weave
	return err
}

func readReed(w *Wish, s string) error {
	d, err := cloth.ParseDensity[cloth.OnLoom](s)
	w.Reed = cloth.Reed(d)
	return err
}

func readShrink(w *Wish, s string) error {
	e, err := qWashWidth.read(s)
	if err == nil {
		err = qWashWidth.check(entry{Estimate: e})
	}
	if err != nil {
		return err
	}
	w.given = put(put(w.given, qWashWidth, entry{Estimate: e}), qWashLength, entry{Estimate: e})
	return nil
}

func readSwatch(w *Wish, s string) (err error) {
	across, along, two := strings.Cut(s, ",")
	if !two {
		return words("Give the swatch's width and length, as in “10 cm, 10 cm”, and its weight as its mass.")
	}
	if w.SwatchWidth, err = unit.ParseLength(strings.TrimSpace(across)); err != nil {
		return err
	}
	w.SwatchLength, err = unit.ParseLength(strings.TrimSpace(along))
	return err
}

func readCharacter(w *Wish, s string) error {
	switch strings.ToLower(s) {
	case "firm", "worsted":
		w.Character = cloth.Firm
	case "soft", "woollen":
		w.Character = cloth.Soft
	default:
		return words(fmt.Sprintf("“%s” is no character of a yarn here; give firm or soft.", shortened(s)))
	}
	return nil
}

func readStart(w *Wish, s string) error {
	for start, word := range []string{"prepared", "scoured", "raw"} {
		if strings.EqualFold(s, word) {
			w.Start = Start(start)
			return nil
		}
	}
	return words(fmt.Sprintf("Fibre is bought raw, scoured or prepared, not “%s”.", shortened(s)))
}

func readStrands(w *Wish, s string) error {
	for _, part := range strings.Split(s, ",") {
		m, err := unit.ParseMass(strings.TrimSpace(part))
		if err != nil {
			return err
		}
		if m <= 0 {
			return words("A bobbin holds nothing; weigh each without its bobbin.")
		}
		w.Strands = append(w.Strands, m)
	}
	return nil
}

func (h *Wheel) treadled() *wheel.Treadled {
	if h.Treadled == nil {
		h.Treadled = &wheel.Treadled{}
	}
	return h.Treadled
}

func (w *Wish) wheel() *Wheel {
	if w.Wheel == nil {
		w.Wheel = &Wheel{}
	}
	return w.Wheel
}

func (w *Wish) weighed() *Weighed {
	if w.Weighed == nil {
		w.Weighed = &Weighed{}
	}
	return w.Weighed
}

func readKind(w *Wish, s string) error {
	kind, err := wheel.ParseKind(s)
	if err != nil {
		return err
	}
	if w.wheel().driven = kind == wheel.MotorDriven; !w.Wheel.driven {
		w.Wheel.treadled().Kind = kind
	}
	return nil
}

func readMachine(w *Wish, s string) error {
	w.Machine = s
	w.wheel()
	return nil
}

func readRatios(w *Wish, s string) error {
	for _, part := range strings.Split(s, ", ") {
		v, err := readNumber(strings.TrimSuffix(strings.TrimSpace(part), ":1"))
		if err != nil || !(v > 0) {
			return words("A ratio is written as in “8:1”, turns of the flyer for one treadle.")
		}
		w.wheel().Whorls = append(w.wheel().Whorls, wheel.Whorl{Stated: wheel.Ratio(v)})
	}
	return nil
}

func readSpeed(w *Wish, s string) error {
	head := strings.TrimSpace(s)
	for _, unit := range []string{"rpm", "/min", "turns a minute"} {
		head = strings.TrimSuffix(head, unit)
	}
	v, err := readNumber(head)
	if err == nil && !(v >= 1 && v <= 20_000) {
		err = words("A flyer turns 1 to 20,000 times a minute; count it, and heed the maker's limit.")
	}
	w.wheel().Motor = &wheel.Motor{Stated: wheel.Speed(v)}
	return err
}

func readCore(w *Wish, s string) (err error) {
	w.wheel().treadled().Bobbin.Core, err = unit.ParseLength(s)
	return err
}

func readFull(w *Wish, s string) (err error) {
	w.wheel().treadled().Bobbin.Full, err = unit.ParseLength(s)
	return err
}

func readDraw(w *Wish, s string) (err error) {
	w.wheel().Draw, err = unit.ParseLength(s)
	return err
}

func weighedMass(of func(*Weighed) *unit.Mass) func(*Wish, string) error {
	return func(w *Wish, s string) (err error) {
		*of(w.weighed()), err = unit.ParseMass(s)
		return err
	}
}

// weighedLeft reads what is left, which may be nothing.
func weighedLeft(of func(*Weighed) **unit.Mass) func(*Wish, string) error {
	return func(w *Wish, s string) error {
		m, err := unit.OrNothing(unit.ParseMass)(s)
		*of(w.weighed()) = &m
		return err
	}
}
