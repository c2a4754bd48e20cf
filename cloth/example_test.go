package cloth_test

import (
	"fmt"

	"waketwist/cloth"
	"waketwist/unit"
)

// A sett by Ashenhurst's diameters, and by the wraps of another yarn.
func Example() {
	twill, err := cloth.Named("2/2-twill")
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := cloth.SettByWeight(unit.FromYardsPerPound(3360), cloth.Firm, twill)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("closest %.1f, working %.1f ends/in\n", s.Closest.Value.PerInch(), s.Working.Value.PerInch())
	s, err = cloth.SettByWraps(22*unit.WrapPerInch, cloth.PriorWrapFactor(), twill)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("by wraps %.1f (%.0f to %.0f) ends/in\n", s.Working.Value.PerInch(), s.Working.Low.PerInch(), s.Working.High.PerInch())
	// Output:
	// closest 34.8, working 26.1 ends/in
	// by wraps 14.7 (11 to 27) ends/in
}

func ExampleParseWeave() {
	w, err := cloth.ParseWeave(`
threading: 1 2 3 4
tie-up:    1+2 2+3 3+4 4+1
treadling: 1 2 3 4`)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(w)
	fmt.Println(w.Family(), w.Diagonal())
	fmt.Println(w.FitsOn(2))
	// Output:
	// X..X
	// ..XX
	// .XX.
	// XX..
	// twill Z
	// This weave needs 4 shafts and the loom has 2. Choose plain weave, another weave, or a loom with enough shafts.
}

// Shrinkage is added by dividing.
func ExampleBefore() {
	fmt.Printf("%.1f in\n", cloth.Before(0.20, 10*unit.Inch).Inches())
	// Output: 12.5 in
}

func ExamplePiece_Needs() {
	n, err := cloth.Piece{
		Width: 20 * unit.Inch, Length: 72 * unit.Inch, DrawIn: 0.06, TakeUp: 0.10, WashWidth: 0.12, WashLength: 0.12,
		Waste: 24 * unit.Inch, Ends: cloth.PerInch[cloth.OnLoom](12), Picks: cloth.PerInch[cloth.OffLoom](12),
		WeftCrimp: cloth.WeftCrimp, Spare: cloth.Spare,
	}.Needs()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d ends of %.2f yd; with spare %.0f yd\n", n.Ends, n.WarpLength.Yards(), n.YarnWithSpare.Yards())
	// Output: 290 ends of 3.19 yd; with spare 1780 yd
}

func ExampleSleyFor() {
	s, err := cloth.SleyFor(cloth.PerInch[cloth.OnLoom](15), cloth.DentsPerInch(10))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v, %.1f ends/in\n", s.Order, s.Sett.PerInch())
	// Output: [1 2], 15.0 ends/in
}

// A shawl from a washed swatch of 10 by 10 cm.
func ExampleSwatch() {
	swatch := cloth.Swatch{Width: 10 * unit.Centimetre, Length: 10 * unit.Centimetre, Mass: 2.5 * unit.Gram}
	m, l, err := swatch.Yarn(1.5*unit.Metre, 0.8*unit.Metre, 125*unit.Tex)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f g, %.0f m\n", m.Grams(), l.Metres())
	// Output: 300 g, 2400 m
}
