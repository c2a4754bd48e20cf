package cli

import (
	"strings"

	"waketwist/cloth"
	"waketwist/unit"
)

// askPiece reads the size and the losses of a piece.
func (c *settCmd) askPiece(k *settAsk) error {
	if c.Width == "" && c.Length == "" {
		for _, f := range []struct {
			name string
			text text
		}{
			{"--shrink", c.Shrink}, {"--draw-in", c.DrawIn}, {"--take-up", c.TakeUp}, {"--waste", c.Waste},
			{"--fringe", c.Fringe}, {"--sample-width", c.SampleWidth}, {"--sample-length", c.SampleLength},
		} {
			if f.text != "" {
				return misused("%s is of a piece; give --width and --length with it", f.name)
			}
		}
		return nil
	}
	if c.Width == "" || c.Length == "" {
		return misused("--width and --length go together: the finished size of the piece")
	}
	o := cloth.Order{
		DrawIn: cloth.WeavingLoss(), TakeUp: cloth.WeavingLoss(), WashWidth: cloth.WashingLoss(), WashLength: cloth.WashingLoss(),
		Waste: cloth.LoomWaste(), WeftCrimp: cloth.WeftCrimp, Spare: cloth.Spare,
	}
	for _, read := range []func(*cloth.Order) error{c.sizes, c.losses, c.samples} {
		if err := read(&o); err != nil {
			return err
		}
	}
	k.order, k.takeUpGiven = &o, c.TakeUp != "" || c.SampleLength != ""
	return nil
}

func (c *settCmd) sizes(o *cloth.Order) error {
	var waste unit.Length
	size, allowance := unit.ParseLength, unit.OrNothing(unit.ParseLength)
	for _, l := range []struct {
		flag string
		text text
		into *unit.Length
		read func(string) (unit.Length, error)
	}{{"--width", c.Width, &o.Width, size}, {"--length", c.Length, &o.Length, size}, {"--waste", c.Waste, &waste, allowance}, {"--fringe", c.Fringe, &o.Fringe, allowance}} {
		if l.text == "" {
			continue
		}
		v, err := l.read(string(l.text))
		if err != nil {
			return misused("%s: %v", l.flag, err)
		}
		*l.into = v
	}
	if c.Waste != "" {
		o.Waste = cloth.Exactly(waste)
	}
	return nil
}

func (c *settCmd) losses(o *cloth.Order) (err error) {
	if c.Shrink != "" {
		if o.WashWidth, err = parseLoss("--shrink", c.Shrink); err != nil {
			return err
		}
		o.WashLength = o.WashWidth
	}
	if c.DrawIn != "" {
		if o.DrawIn, err = parseLoss("--draw-in", c.DrawIn); err != nil {
			return err
		}
	}
	if c.TakeUp != "" {
		o.TakeUp, err = parseLoss("--take-up", c.TakeUp)
	}
	return err
}

// readingSlack is the standard deviation of a length read on a sample.
const readingSlack = 2 * unit.Millimetre

func (c *settCmd) samples(o *cloth.Order) error {
	for _, s := range []struct {
		flag, other string
		text, given text
	}{{"--sample-width", "--draw-in", c.SampleWidth, c.DrawIn}, {"--sample-length", "--take-up", c.SampleLength, c.TakeUp}} {
		if s.text == "" {
			continue
		}
		if s.given != "" {
			return misused("%s measures what %s guesses; leave one out", s.flag, s.other)
		}
		m, err := parseSample(s.flag, s.text)
		if err != nil {
			return err
		}
		weaving, washing, err := m.Losses(readingSlack)
		if err != nil {
			return misused("%s: %v", s.flag, err)
		}
		if s.flag == "--sample-width" {
			o.DrawIn, o.WashWidth = weaving, washing
		} else {
			o.TakeUp, o.WashLength = weaving, washing
		}
	}
	return nil
}

func parseSample(flag string, t text) (m cloth.Measured, err error) {
	parts := strings.FieldsFunc(string(t), func(r rune) bool { return r == ';' })
	if len(parts) == 1 {
		parts = strings.Split(string(t), ", ")
	}
	if len(parts) != 3 {
		return m, misused("%s: three lengths are wanted, on the loom, off it and washed, as in “10 in, 9 in, 8 in”", flag)
	}
	for i, into := range []*unit.Length{&m.OnLoom, &m.OffLoom, &m.Washed} {
		if *into, err = unit.ParseLength(parts[i]); err != nil {
			return m, misused("%s: %v", flag, err)
		}
	}
	return m, nil
}
