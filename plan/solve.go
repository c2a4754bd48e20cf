package plan

import (
	"fmt"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/wheel"
)

// drawCount is how many rows a plan is drawn through, and seed fixes them.
const (
	drawCount = 2000
	seed      = 5
)

// Result is the whole chain. Estimates hold the 90 % interval; those of what was
// not asked are zero.
type Result struct {
	Wish Wish // with the sett and the picks that were taken

	Cloth *cloth.Needs // woven: at the medians of all inputs
	Reed  estimate.Estimate[unit.Length]
	End   estimate.Estimate[unit.Length] // length of each end of the warp
	Warp  estimate.Estimate[unit.Length]
	Weft  estimate.Estimate[unit.Length]

	Yarn         estimate.Estimate[unit.Length] // washed, with spare
	Mass         estimate.Estimate[unit.Mass]
	AtWheel      estimate.Estimate[unit.Length] // before its own wash
	GristAtWheel estimate.Estimate[unit.LinearDensity]
	PlyTwist     estimate.Estimate[unit.Twist] // zero for singles

	TakeUp       estimate.Estimate[cloth.Loss]
	Singles      estimate.Estimate[unit.Length] // of all strands
	SinglesGrist estimate.Estimate[unit.LinearDensity]
	Diameter     estimate.Estimate[unit.Length]
	Angle        estimate.Estimate[unit.Angle] // of the singles' surface fibres, every turn living
	Twist        estimate.Estimate[unit.Twist]
	ThumbTwist   unit.Twist // of the singles by Thumb; zero for singles that stay so

	Spun, Prepared, Fibre estimate.Estimate[unit.Mass] // into spinning; with samples; as bought

	Bobbins, PlyBobbins estimate.Estimate[float64]
	Hours, PlyHours     estimate.Estimate[float64]

	Treadles, PlyTreadles *estimate.Estimate[wheel.Treadles] // a draw; nil without a wheel

	Made         *Made // nil where nothing is in hand
	YarnBlame    []Assumption
	FibreBlame   []Assumption
	Conflicts    []Conflict
	ClosestEnds  cloth.Density[cloth.OnLoom] // that the weave has room for; 0 where not woven
	SettWasGiven bool
}

// Made is what the fibre in hand makes.
type Made struct {
	Yarn   estimate.Estimate[unit.Length] // washed
	Cloth  estimate.Estimate[unit.Length] // length at the wished width; zero where no fabric is wished
	Enough float64                        // how likely it is that it suffices, 0 to 1
}

// Solve reckons a wish backwards, and forwards where fibre is in hand. It refuses
// with an *Error what cannot be meant, and wishes that leave no plan. Wishes that
// contradict each other and still leave one are in Conflicts.
func Solve(w Wish) (*Result, error) { return solve(w, drawCount) }

func solve(w Wish, n int) (*Result, error) {
	if err := w.check(); err != nil {
		return nil, err
	}
	out := &Result{}
	if err := out.settle(w); err != nil {
		return nil, err
	}
	d := &deck{s: estimate.NewSampler(n, seed), n: n}
	c := out.Wish.deal(d)
	rows := make([]row, n)
	for i := range rows {
		var err error
		if rows[i], err = out.Wish.row(c, i); err != nil {
			return nil, err
		}
	}
	out.summarise(rows)
	out.YarnBlame = d.blame(column(rows, func(r row) float64 { return float64(r.yarn) }))
	out.FibreBlame = d.blame(column(rows, func(r row) float64 { return float64(r.fibre) }))
	out.conflict()
	return out, out.setWheel()
}

// settle takes sett and picks where they were left free.
func (out *Result) settle(w Wish) error {
	out.Wish = w
	if w.Woven == nil {
		return nil
	}
	woven := *w.Woven
	sett, err := cloth.SettByWeight(w.Yarn.Grist.Value, woven.Character, woven.Weave)
	if err != nil {
		return err
	}
	out.ClosestEnds, out.SettWasGiven = sett.Closest.Value, woven.Order.Ends != 0
	if !out.SettWasGiven {
		woven.Order.Ends = sett.Working.Value
	}
	if woven.Order.Picks.Value == 0 {
		room := cloth.ClosestPicks(sett.Diameters.Value, woven.Weave) * cloth.Density[cloth.OnLoom](cloth.WorkingShare)
		woven.Order.Picks = cloth.Exactly(cloth.Density[cloth.OffLoom](min(woven.Order.Ends, room)))
	}
	out.Wish.Woven = &woven
	return out.middle()
}

// middle finds ends and picks at the medians.
func (out *Result) middle() error {
	o := out.Wish.Woven.Order
	n, err := cloth.Piece{
		Width: o.Width, Length: o.Length, DrawIn: o.DrawIn.Value, TakeUp: o.TakeUp.Value, WashWidth: o.WashWidth.Value, WashLength: o.WashLength.Value,
		Waste: o.Waste.Value, Fringe: o.Fringe, Ends: o.Ends, Picks: o.Picks.Value, WeftCrimp: o.WeftCrimp, Spare: o.Spare,
	}.Needs()
	out.Cloth = &n
	return err
}

func column[T any](rows []row, part func(row) T) []T {
	out := make([]T, len(rows))
	for i, r := range rows {
		out[i] = part(r)
	}
	return out
}

func over[T ~float64](rows []row, part func(row) T) estimate.Estimate[T] {
	e := estimate.FromDraws(column(rows, part))
	e.Flags = estimate.Flags{estimate.Modelled}
	return e
}

func (out *Result) summarise(rows []row) {
	out.Reed = over(rows, func(r row) unit.Length { return r.needs.ReedWidth })
	out.End = over(rows, func(r row) unit.Length { return r.needs.WarpLength })
	out.Warp = over(rows, func(r row) unit.Length { return r.needs.Warp })
	out.Weft = over(rows, func(r row) unit.Length { return r.needs.Weft })
	out.Yarn = over(rows, func(r row) unit.Length { return r.yarn })
	out.Mass = over(rows, func(r row) unit.Mass { return r.mass })
	out.AtWheel = over(rows, func(r row) unit.Length { return r.atWheel })
	out.GristAtWheel = over(rows, func(r row) unit.LinearDensity { return r.gristAtWheel })
	out.PlyTwist = over(rows, func(r row) unit.Twist { return r.plyTwist })
	out.TakeUp = over(rows, func(r row) cloth.Loss { return r.takeUp })
	out.Singles = over(rows, func(r row) unit.Length { return r.singles })
	out.SinglesGrist = over(rows, func(r row) unit.LinearDensity { return r.singlesGrist })
	out.Diameter = over(rows, func(r row) unit.Length { return r.diameter })
	out.Angle = over(rows, func(r row) unit.Angle { return r.angle })
	out.Twist = over(rows, func(r row) unit.Twist { return r.twist })
	out.ThumbTwist = out.PlyTwist.Value / unit.Twist(Thumb(out.Wish.Yarn.Plies))
	out.Spun = over(rows, func(r row) unit.Mass { return r.spun })
	out.Prepared = over(rows, func(r row) unit.Mass { return r.prepared })
	out.Fibre = over(rows, func(r row) unit.Mass { return r.fibre })
	out.Bobbins = over(rows, func(r row) float64 { return r.bobbins })
	out.PlyBobbins = over(rows, func(r row) float64 { return r.plyBobbins })
	out.Hours = over(rows, func(r row) float64 { return r.hours })
	out.PlyHours = over(rows, func(r row) float64 { return r.plyHours })
	if out.Wish.Fibre.InHand > 0 {
		out.Made = out.made(rows)
	}
}

func (out *Result) made(rows []row) *Made {
	m := &Made{
		Yarn:  over(rows, func(r row) unit.Length { return r.madeYarn }),
		Cloth: over(rows, func(r row) unit.Length { return r.madeCloth }),
	}
	for _, r := range rows {
		// A hair's breadth, so that rounding does not decide when all is fixed.
		if float64(r.fibre) <= float64(out.Wish.Fibre.InHand)*(1+1e-9) {
			m.Enough += 1 / float64(len(rows))
		}
	}
	return m
}

const (
	unlikely     = 0.05
	steepSingles = 50 * unit.Degree
)

// conflict names wishes that contradict each other.
func (out *Result) conflict() {
	if woven := out.Wish.Woven; woven != nil && woven.Order.Ends > out.ClosestEnds {
		out.Conflicts = append(out.Conflicts, Conflict{
			fmt.Sprintf("The sett and the weave contradict each other: %.3g ends in an inch are wished, and yarn of this weight has room for %.3g.", woven.Order.Ends.PerInch(), out.ClosestEnds.PerInch()),
			"Drop the sett and set it wider; or keep it and take a finer yarn, or a weave with longer floats.",
		})
	}
	if out.Wish.Yarn.Plies > 1 && out.Angle.Value > steepSingles {
		out.Conflicts = append(out.Conflicts, Conflict{
			fmt.Sprintf("The ply angle asks for singles of %.0f degrees, and singles steeper than about %.0f lose their strength (common practice).", out.Angle.Value.Degrees(), unit.Angle(steepSingles).Degrees()),
			"Drop the ply angle and give a flatter one.",
		})
	}
	if out.Made != nil && out.Made.Enough < unlikely {
		out.Conflicts = append(out.Conflicts, Conflict{
			fmt.Sprintf("The fibre in hand and the size contradict each other: %s are there, and %s are needed, hardly less than %s.", out.Wish.Fibre.InHand, out.Fibre.Value, out.Fibre.Low.Metric()),
			"Drop the size and make what the fibre allows; or buy the rest, or spin a finer yarn.",
		})
	}
}

// setWheel finds the treadles for singles and ply at their middle twist.
func (out *Result) setWheel() error {
	w := out.Wish.Wheel
	if w == nil {
		return nil
	}
	singles, err := w.Treadled.Setting(out.Twist.Value, w.Draw, 0)
	if err != nil {
		return err
	}
	out.Treadles = &singles.Treadles
	if out.Wish.Yarn.Plies == 1 {
		return nil
	}
	ply, err := w.Treadled.Setting(out.PlyTwist.Value, w.Draw, 0)
	out.PlyTreadles = &ply.Treadles
	return err
}
