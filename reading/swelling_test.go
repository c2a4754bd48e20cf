package reading

import "testing"

// TestSwellingTellsRopes draws yarns and ropes of one thickness, sharp and without
// hairs: yarns swell their outline as their own strands do, ropes by much less than
// the fewer strands that they are taken for.
func TestSwellingTellsRopes(t *testing.T) {
	for _, c := range []struct{ drawn, as int }{{3, 3}, {4, 4}, {5, 3}, {7, 3}, {6, 4}, {7, 4}} {
		for _, degrees := range []float64{18, 34} {
			got := swellingAs(drawn{n: c.drawn, degrees: degrees, z: true, diameter: 150, x: 200}, c.as)
			if yarn := c.drawn == c.as; yarn && got < 0.9 || !yarn && got > 0.75 {
				t.Errorf("%d strands at %.0f degrees taken for %d swell by %.2f of what these would", c.drawn, degrees, c.as, got)
			}
		}
	}
}

// swellingAs is the swelling of a yarn or rope when it is taken for n strands on
// its own lay.
func swellingAs(d drawn, n int) float64 {
	var w witness
	read(photoOf(drawing(400, 900, d)), Options{}, &w)
	b := w.tried[0].yarns[0].body()
	var f *fold
	best := 0.0
	for _, l := range b.lays(laysTried) {
		phase, _ := b.follow(l)
		g := b.newFold(phase, 0, b.cols())
		if m, ok := g.bestPlaced(kind{d.n, 1, round}, d.z); ok && m.score > best {
			f, best = g, m.score
		}
	}
	m, _ := f.bestPlaced(kind{n, 1, round}, d.z)
	return f.swelling(m)
}
