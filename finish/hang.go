package finish

import "waketwist/yarn"

// Balance is the verdict on a plied yarn.
type Balance int

// The verdicts.
const (
	Balanced Balance = iota
	OverPlied
	UnderPlied
)

// String returns the verdict in words.
func (b Balance) String() string {
	return [...]string{"balanced", "over-plied", "under-plied"}[b]
}

// Hang reads the hang test: a washed and dried skein, hung as an open loop,
// turns about itself in the direction of the singles when the ply has too many
// turns, in the direction of the ply when it has too few, and hangs open in
// balance (hangs is NoDirection). Common practice; it agrees with the fold of
// any lively strand, which turns against its own excess. An unwashed skein
// misleads both ways.
func Hang(ply, hangs yarn.Direction) Balance {
	switch hangs {
	case yarn.NoDirection:
		return Balanced
	case ply:
		return UnderPlied
	default:
		return OverPlied
	}
}
