package hand

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"waketwist/estimate"
	"waketwist/unit"
)

// Posterior is what a record taught about the spinner.
type Posterior struct {
	record Record
	fitter *fitter
	system *system
	known  [scaleCount]float64 // numbers that informed each scatter
}

// Fit learns from a record; an empty one gives the prior. It refuses with a
// *rest.Error what cannot be meant. Readings that are only unlikely lose their
// pull and are named by Suspects.
func Fit(r Record) (*Posterior, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	f := newFitter(r)
	s, err := f.fit()
	if err != nil {
		return nil, refuse("Strike the readings that cannot be right, and try again.", "These readings cannot be brought together.")
	}
	p := &Posterior{record: r, fitter: f, system: s}
	p.known = p.informed()
	return p, nil
}

// informed counts, for each scatter, the numbers that say something of it: a
// reading less what it gave to the parameters, a place as far as it was seen.
func (p *Posterior) informed() (n [scaleCount]float64) {
	f := p.fitter
	for _, t := range f.terms {
		_, slope := f.look(t, f.global, f.locals[t.block])
		d := p.system.along(t.block, slope)
		sd := t.sd * f.scales[t.scale]
		n[t.scale] += max(0, 1-p.system.covariance(d, d)/(sd*sd))
	}
	for i := range f.locals {
		for j, k := range f.layout.scales[i] {
			n[k] += max(0, 1-p.system.own(i, j))
		}
	}
	return n
}

// Suspect is a reading that the rest of the record speaks against: more likely a
// slip (73 typed for 37) or another yarn than what it says.
type Suspect struct {
	Reading        string     // its ID
	Of             string     // the bobbin or skein
	Read, Expected unit.Angle // as it stands, and what the rest leads to expect on its line
	OffSD          float64    // how far off, in standard deviations of such a reading
}

// apart is how many standard deviations off a reading is named a suspect.
const apart = 3.5

// Suspects lists the readings that stand apart, the worst first. They hardly
// pull at what is learnt.
func (p *Posterior) Suspects() (out []Suspect) {
	f := p.fitter
	for _, t := range f.terms {
		r, _ := f.look(t, f.global, f.locals[t.block])
		if math.Abs(r) < apart || t.scale != byEye && t.scale != byPhoto {
			continue
		}
		expected := t.observed - r*t.sd*f.scales[t.scale]
		out = append(out, Suspect{t.id, p.blockName(t.block), unit.Angle(t.observed), unit.Angle(expected), math.Abs(r)})
	}
	slices.SortStableFunc(out, func(a, b Suspect) int {
		return int(math.Copysign(1, b.OffSD-a.OffSD))
	})
	return out
}

func (p *Posterior) blockName(block int) string {
	if n := len(p.record.Bobbins); block >= n {
		return p.record.Skeins[block-n].ID
	}
	return p.record.Bobbins[block].ID
}

// quantity is a number that the posterior speaks of: it hangs on the shared
// parameters and on one block (-1 for none), and its distribution is near to
// normal. extra is a variance of its own.
type quantity struct {
	block int
	value func(c *context, at, slope point) float64
	extra float64
	wary  float64 // factor on its spread beside caution; 0 stands for 1
}

// widened is the factor on what the posterior says of its spread.
func (q quantity) widened() float64 {
	if q.wary == 0 {
		return caution
	}
	return caution * q.wary
}

// where returns the mean of a quantity and its direction.
func (p *Posterior) where(q quantity) (float64, direction) {
	f := p.fitter
	at, slope := point{global: f.global}, point{global: make([]float64, f.globals)}
	if q.block >= 0 {
		at.local = f.locals[q.block]
		slope.local = make([]float64, len(at.local))
	}
	v := q.value(&f.context, at, slope)
	return v, p.system.along(q.block, slope)
}

// draw returns a column of equally likely values for each quantity, all of them
// together as the posterior has them.
func (p *Posterior) draw(s *estimate.Sampler, qs ...quantity) [][]float64 {
	means, directions := make([]float64, len(qs)), make([]direction, len(qs))
	for i, q := range qs {
		means[i], directions[i] = p.where(q)
	}
	spread := mat.NewSymDense(len(qs), nil)
	for i := range qs {
		for j := range i + 1 {
			spread.SetSym(i, j, p.system.covariance(directions[i], directions[j])*qs[i].widened()*qs[j].widened())
		}
		spread.SetSym(i, i, spread.At(i, i)*(1+1e-9)+qs[i].extra*square(qs[i].widened())+1e-14)
	}
	lower := lowerOf(spread)
	out := make([][]float64, len(qs))
	columns := make([][]float64, len(qs))
	for i := range qs {
		columns[i] = s.Normal(0, 1)
		out[i] = make([]float64, len(columns[i]))
		for r := range out[i] {
			out[i][r] = means[i]
			for j := range i + 1 {
				out[i][r] += lower.At(i, j) * columns[j][r]
			}
		}
	}
	return out
}

// lowerOf is the lower triangle of a covariance; where quantities tell the same
// it is nudged until they part.
func lowerOf(spread *mat.SymDense) *mat.TriDense {
	var chol mat.Cholesky
	for nudge := 1e-10; !chol.Factorize(spread); nudge *= 10 {
		if nudge > 1 { // cannot be: by then the diagonal outweighs the rest
			panic("hand: a covariance that is none")
		}
		for i := range spread.SymmetricDim() {
			spread.SetSym(i, i, spread.At(i, i)*(1+nudge)+nudge*1e-4)
		}
	}
	var lower mat.TriDense
	chol.LTo(&lower)
	return &lower
}
