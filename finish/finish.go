// Package finish says what washing does to yarn: how much shorter and thicker
// it becomes, and so what it must look like at the wheel to come out right.
//
// The turns in a marked piece survive the wash. The ply shortens to the share L
// of its wheel length and its diameter grows by the factor D, so an angle at the
// wheel and the same yarn's angle washed are tied by tan b_wheel = tan b_washed
// L/D.
package finish

import "fmt"

// Preparation is how the fibre was prepared and drafted; it decides how much a
// yarn blooms.
type Preparation int

// The preparations.
const (
	Unknown Preparation = iota
	Worsted             // combed, short draw: smooth and dense
	Semi                // between the two
	Woollen             // carded, long draw: airy
)

var preparationNames = [...]string{"unknown", "worsted", "semi", "woollen"}

// String returns the word under which the preparation is stored.
func (p Preparation) String() string {
	if p < 0 || int(p) >= len(preparationNames) {
		return fmt.Sprintf("Preparation(%d)", int(p))
	}
	return preparationNames[p]
}

// ParsePreparation is the inverse of String; nothing is Unknown.
func ParsePreparation(word string) (Preparation, error) {
	if word == "" {
		return Unknown, nil
	}
	for p, name := range preparationNames {
		if name == word {
			return Preparation(p), nil
		}
	}
	return Unknown, fmt.Errorf("there is no preparation %q; choose one of worsted, semi, woollen, unknown", word)
}

// Range is a factor of which 90 % is taken to lie between Low and High.
type Range struct{ Low, High float64 }

// Wash is what a wash is expected to do before the spinner's own skeins have
// taught better.
type Wash struct {
	Length   Range // washed length / wheel length of the ply
	Diameter Range // washed diameter / wheel diameter
	Damp     Range // tan of the angle washed and dry / tan of the angle re-wet
}

// WashOf returns the starting ranges for a preparation. They are common
// practice, not measurements; Damp follows from the swelling of wool fibres in
// water, 15-17 % in diameter (Morton and Hearle, Physical Properties of Textile
// Fibres, table 11.1), of which a yarn shows only a part.
func WashOf(p Preparation) Wash {
	damp := Range{0.87, 1.00}
	switch p {
	case Worsted:
		return Wash{Range{0.92, 0.99}, Range{1.00, 1.10}, damp}
	case Woollen:
		return Wash{Range{0.72, 0.92}, Range{1.05, 1.30}, damp}
	case Semi:
		return Wash{Range{0.86, 0.97}, Range{1.00, 1.18}, damp}
	default:
		return Wash{Range{0.76, 0.98}, Range{1.00, 1.22}, damp}
	}
}
