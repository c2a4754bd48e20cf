package cli

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/BurntSushi/toml"

	"waketwist/plan"
	"waketwist/unit"
)

// planFile is a plan as it is written.
type planFile struct {
	Cloth     *planCloth     `toml:"cloth"`
	Knit      *planKnit      `toml:"knit"`
	Yarn      *planYarn      `toml:"yarn"`
	Fibre     planFibre      `toml:"fibre"`
	Work      planWork       `toml:"work"`
	Leftovers *planLeftovers `toml:"leftovers"`
}

type planCloth struct {
	Width  word `toml:"width"`
	Length word `toml:"length"`
	Weave  word `toml:"weave"`
	Shafts word `toml:"shafts"`
	Sett   word `toml:"sett"`
	Picks  word `toml:"picks"`
	DrawIn word `toml:"draw-in"`
	TakeUp word `toml:"take-up"`
	Shrink word `toml:"shrink"`
	Waste  word `toml:"waste"`
	Fringe word `toml:"fringe"`
	Spare  word `toml:"spare"`
}

type planKnit struct {
	Width      word `toml:"width"`
	Length     word `toml:"length"`
	Swatch     word `toml:"swatch"`
	SwatchMass word `toml:"swatch-mass"`
	Spare      word `toml:"spare"`
}

type planYarn struct {
	Length      word `toml:"length"`
	Grist       word `toml:"grist"`
	Plies       word `toml:"plies"`
	Angle       word `toml:"angle"`
	Direction   word `toml:"direction"`
	Preparation word `toml:"preparation"`
	WashLoss    word `toml:"wash-loss"`
	PlyTakeUp   word `toml:"ply-take-up"`
}

type planFibre struct {
	Spinning  word `toml:"spinning"`
	Sampling  word `toml:"sampling"`
	Preparing word `toml:"preparing"`
	Scouring  word `toml:"scouring"`
	InHand    word `toml:"in-hand"`
}

type planWork struct {
	Bobbin  word `toml:"bobbin"`
	Pace    word `toml:"pace"`
	PlyPace word `toml:"ply-pace"`
	Ratio   word `toml:"ratio"`
	Draw    word `toml:"draw"`
}

type planLeftovers struct {
	Bobbins []word `toml:"bobbins"`
}

// word is one value of a plan. A bare number is taken as it is written, so that
// the one who reads it may say which unit it lacks.
type word string

// UnmarshalTOML takes a text or a number.
func (w *word) UnmarshalTOML(v any) error {
	switch v := v.(type) {
	case string:
		*w = word(strings.TrimSpace(v))
	case int64, float64:
		*w = word(fmt.Sprint(v))
	default:
		return words("a value stands in quotes")
	}
	return nil
}

// longestPlan is the most of a file that is read as a plan, in bytes.
const longestPlan = 1 << 20

func (c *planCmd) read(stdin io.Reader) (f planFile, err error) {
	if c.File == "-" {
		return decodePlan(stdin)
	}
	file, err := os.Open(string(c.File))
	if err != nil {
		return f, misused("“%s” cannot be opened; check that it is a file you may read", c.File)
	}
	defer file.Close()
	return decodePlan(file)
}

func decodePlan(r io.Reader) (f planFile, err error) {
	content, err := io.ReadAll(io.LimitReader(r, longestPlan+1))
	if err != nil {
		return f, misused("the plan cannot be read; check that it is a text file")
	}
	if len(content) > longestPlan {
		return f, misused("the file is too long for a plan")
	}
	known, err := toml.Decode(string(content), &f)
	var parse toml.ParseError
	switch {
	case errors.As(err, &parse):
		return f, misused("line %d of the plan cannot be read: %s; write each value as in width = \"50 cm\"", parse.Position.Line, strings.TrimSuffix(oneLine(parse.Message), "."))
	case err != nil:
		return f, misused("the plan cannot be read; write a heading such as [cloth], and below it each value as in width = \"50 cm\"")
	}
	if extra := known.Undecoded(); len(extra) > 0 {
		return f, misused("the plan has no place for “%s”; “waketwist plan --help” lists what it has", extra[0])
	}
	return f, nil
}

func (l *planLeftovers) ply() (*plan.Leftover, error) {
	bobbins := make([]unit.Mass, len(l.Bobbins))
	for i, b := range l.Bobbins {
		var err error
		if bobbins[i], err = unit.ParseMass(string(b)); err != nil {
			return nil, misused("leftovers: %v", err)
		}
	}
	out, err := plan.Leftovers(bobbins)
	if err != nil {
		return nil, misused("%v", err)
	}
	return &out, nil
}
