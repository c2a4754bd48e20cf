package cloth

import (
	"math"

	"waketwist/unit"
)

// Allowance is a share added on top: 0.05 makes 100 into 105. It is 0 or more.
type Allowance float64

// On returns v with the allowance added.
func On[T ~float64](a Allowance, v T) T { return v * T(1+a) }

// Piece is a cloth that is wanted, with one value for each thing that can differ.
type Piece struct {
	Width, Length unit.Length // finished: washed and dry
	DrawIn        Loss        // of the width, from reed to off the loom
	TakeUp        Loss        // of the length, from on the loom to off it
	WashWidth     Loss
	WashLength    Loss
	Waste         unit.Length // of the warp, that the loom keeps
	Fringe        unit.Length // both ends together, beyond what waste gives
	Ends          Density[OnLoom]
	Picks         Density[OffLoom]
	WeftCrimp     Allowance // weft longer than the reed is wide
	Spare         Allowance // yarn beyond what is reckoned
}

// Needs is what a Piece takes. Yarn is yarn as it goes on the loom.
type Needs struct {
	WidthOffLoom  unit.Length
	ReedWidth     unit.Length
	WovenOffLoom  unit.Length
	WovenOnLoom   unit.Length
	WarpLength    unit.Length // of each end
	Ends, Picks   int         // the nearest whole numbers
	Warp, Weft    unit.Length // of yarn
	Yarn          unit.Length // both
	YarnWithSpare unit.Length
}

// Needs works back from the finished cloth, each loss by dividing. It refuses
// with an *Error sizes of nothing and losses of nearly all.
func (p Piece) Needs() (Needs, error) {
	if err := p.check(); err != nil {
		return Needs{}, err
	}
	n := Needs{WidthOffLoom: Before(p.WashWidth, p.Width), WovenOffLoom: Before(p.WashLength, p.Length)}
	n.ReedWidth = Before(p.DrawIn, n.WidthOffLoom)
	n.WovenOnLoom = Before(p.TakeUp, n.WovenOffLoom)
	n.WarpLength = n.WovenOnLoom + p.Waste + p.Fringe
	n.Ends = int(max(1, math.Round(p.Ends.Threads(n.ReedWidth))))
	n.Picks = int(max(1, math.Round(p.Picks.Threads(n.WovenOffLoom))))
	n.Warp = unit.Length(n.Ends) * n.WarpLength
	n.Weft = On(p.WeftCrimp, unit.Length(p.Picks.Threads(n.WovenOffLoom))*n.ReedWidth)
	n.Yarn = n.Warp + n.Weft
	n.YarnWithSpare = On(p.Spare, n.Yarn)
	return n, nil
}

func (p Piece) check() error {
	for _, l := range []struct {
		what string
		loss Loss
	}{{"A draw-in", p.DrawIn}, {"A take-up", p.TakeUp}, {"A shrinkage in width", p.WashWidth}, {"A shrinkage in length", p.WashLength}} {
		if err := l.loss.check(l.what); err != nil {
			return err
		}
	}
	switch {
	case !(p.Width > 0 && p.Length > 0):
		return refuse("Give the finished width and length.", "A cloth of no width or no length needs no yarn.")
	case !(p.Width <= 100*unit.Metre && p.Length <= 10*unit.Kilometre):
		return refuse("Check the units.", "A cloth of %s by %s is larger than any loom weaves.", p.Width, p.Length)
	case !(p.Ends > 0 && p.Picks > 0):
		return refuse("Give threads per inch or centimetre, above zero.", "A cloth needs ends and picks.")
	case !(p.Ends <= mostDense && float64(p.Picks) <= mostDense):
		return refuse("Check the units.", "More than 500 ends or picks in an inch are not woven.")
	case !(p.Waste >= 0 && p.Fringe >= 0 && p.WeftCrimp >= 0 && p.Spare >= 0) || p.WeftCrimp > 3 || p.Spare > 3:
		return refuse("Give zero or more, and no more than three times the yarn.", "Waste, fringe, crimp and spare yarn cannot be that.")
	}
	return nil
}

// mostDense is 500 threads an inch, per metre.
const mostDense = 500 / 0.0254

// AtWheel returns what to have before the yarn is washed so that yarn is left,
// and the singles for it: as many as strands, each longer by what the ply takes
// up.
func AtWheel(yarn unit.Length, wash Loss, strands int, plyTakeUp Loss) (plied, singles unit.Length, err error) {
	if err := wash.check("A shrinkage of the yarn"); err != nil {
		return 0, 0, err
	}
	if err := plyTakeUp.check("A take-up of the ply"); err != nil {
		return 0, 0, err
	}
	if strands < 1 {
		return 0, 0, refuse("Give the strands of the ply, 1 for singles.", "A yarn of %d strands is none.", strands)
	}
	plied = Before(wash, yarn)
	return plied, unit.Length(strands) * Before(plyTakeUp, plied), nil
}

// GristAtWheel returns the density that a yarn has before a wash that shortens
// it, from its density washed: shorter yarn is heavier for its length.
func GristAtWheel(washed unit.LinearDensity, wash Loss) unit.LinearDensity {
	return After(wash, washed)
}
