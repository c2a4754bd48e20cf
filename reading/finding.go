package reading

// A finding is a reading, or why there is none, with what was seen besides.
type finding struct {
	Reading
	proof
}

// A proof is what speaks for a ply besides its reading, or for what it was refused as.
type proof struct {
	evidence  float64 // for a ply, be it of few strands or a rope's: the score times the root of the periods seen
	hint      float64 // the same of a ply that was not believed
	contested bool    // the ply was refused only because fibres lie in clear parallel
	outlined  bool    // it was refused as a rope's by its outline alone
	amid      bool    // what passed for singles was seen to be a strand amid others
}

// refuse is a finding of nothing that can be read.
func refuse(r Reason) finding { return finding{Reading: Reading{Reason: r}} }
