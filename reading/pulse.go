package reading

// The outline swells where a strand passes, of whatever colour it is. Strands that
// are taken to differ, so many to a period of the colours, must swell it as often
// in that period, not seldomer: else other strands make the colours, as in a rope.
const leastPulse = 0.4 // of the swelling once a strand, over that of any longer repeat; plies that lie alone come to 0.7 and more, such ropes mostly to 0.2

// pulses reports whether the outline of a yarn that lies alone swells once for each
// strand of a period. Where all strands are alike the lay itself is one strand's,
// and where all differ it is a whole turn, once in which yarn swells that does not lie
// quite straight; strands pressed flat swell it little, beside other yarns it is not the
// yarn's own, and over few periods hairs and shadows do not average out.
func (m fitting) pulses() bool {
	f, n := m.trace.fold, m.guess.repeat
	if n < 2 || n == m.guess.ply.n || m.guess.ply.form == flat || f.crowded || m.few() {
		return true
	}
	longer := 0.0
	for h := range n - 1 {
		longer = max(longer, f.outlineSwelling(h))
	}
	return f.outlineSwelling(n-1) >= leastPulse*longer
}

// outlineSwelling is the energy of harmonic h+1 of the outline.
func (f *fold) outlineSwelling(h int) (e float64) {
	for j := range bodyRows {
		re, im := f.re[outlineLayer][h][j], f.im[outlineLayer][h][j]
		e += re*re + im*im
	}
	return e
}
