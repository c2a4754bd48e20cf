package plan

import (
	"slices"

	"waketwist/unit"
)

// Leftover is what plying some bobbins of one grist together uses and leaves.
type Leftover struct {
	Used unit.Mass   // of all bobbins: as many times the lightest as there are
	Left []unit.Mass // on each, in their order
	Even unit.Mass   // on each, had the singles been shared out evenly
}

// Leftovers plies one strand from each of 2 to 7 bobbins until the lightest runs
// out. It refuses with an *Error other numbers, and bobbins of nothing.
func Leftovers(bobbins []unit.Mass) (Leftover, error) {
	if len(bobbins) < 2 || len(bobbins) > 7 {
		return Leftover{}, refuse("Give what each of them holds.", "Strands from 2 to 7 bobbins are plied together, and %d are given.", len(bobbins))
	}
	least := slices.Min(bobbins)
	if !(least > 0) {
		return Leftover{}, refuse("Weigh each without its bobbin.", "A bobbin holds nothing.")
	}
	out := Leftover{Used: unit.Mass(len(bobbins)) * least}
	for _, m := range bobbins {
		out.Left = append(out.Left, m-least)
		out.Even += m / unit.Mass(len(bobbins))
	}
	return out, nil
}

// Thumb returns the twist of a ply over that of its singles by the rule of thumb
// n/(n+1): two thirds for a two-ply (common practice). It is no balance: see
// yarn.Balanced.
func Thumb(plies int) float64 { return float64(plies) / float64(plies+1) }
