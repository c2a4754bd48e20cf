package yarn

import "fmt"

// Plying says how a ply runs against the singles in it.
type Plying int

// The ways of plying.
const (
	// PlyingUnknown: a direction is missing.
	PlyingUnknown Plying = iota
	// AgainstSingles takes twist out of the strands, and can balance.
	AgainstSingles
	// WithSingles puts twist into the strands: a frequent accident. Such a ply
	// never balances, and hardens and kinks the more it is plied.
	WithSingles
	// MixedSingles: strands of both directions. Each turn of ply takes out of
	// some what it puts into others.
	MixedSingles
)

var plyingNames = [...]string{
	"direction not known",
	"plied against the singles",
	"plied in the same direction as the singles: twist adds up and the ply cannot balance; unply it and ply the other way",
	"the singles run in both directions: some lose twist in the ply and some gain it",
}

// String says it in words.
func (p Plying) String() string {
	if p < 0 || int(p) >= len(plyingNames) {
		return fmt.Sprintf("Plying(%d)", int(p))
	}
	return plyingNames[p]
}

// JudgePlying compares the direction of a ply with those of its singles. Two
// singles known to run opposite ways are named even where other directions are
// missing; otherwise all must be known.
func JudgePlying(ply Direction, singles ...Direction) Plying {
	var s, z, none bool
	for _, d := range singles {
		s, z, none = s || d == S, z || d == Z, none || d != S && d != Z
	}
	switch {
	case s && z:
		return MixedSingles
	case none, !s && !z, ply != S && ply != Z:
		return PlyingUnknown
	case s == (ply == S):
		return WithSingles
	}
	return AgainstSingles
}
