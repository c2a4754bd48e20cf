package reading

import "math"

// A fitting says how well a guess explains a fold, and where.
type fitting struct {
	guess  guess
	lay    lay
	trace  *trace
	period float64            // of the fold, columns of the body
	scale  float64            // true over assumed half width
	offset float64            // of the true middle, in assumed half widths
	shift  float64            // phase of the fold at which the guess has phase 0
	share  [numLayers]float64 // of the strand-scale variance explained, by layer
	score  float64            // log likelihood per independent point, up to a constant
}

// layerWeight says how much each layer counts. The outline is the surest sign
// of few strands, but hairs and shadows spoil it.
var layerWeight = [numLayers]float64{1, 0.4, 0.4, 0.5}

// crowdedOutline is what the outline's weight is multiplied by where other
// yarns lie beside.
const crowdedOutline = 0.3

const shifts = 48

// outlineSD is how far, as a share, the outline's width is trusted: the inside
// of the yarn alone fits a range of widths.
const outlineSD = 0.13

var shiftSin, shiftCos = func() (s, c [shifts][harmonics]float64) {
	for i := range shifts {
		for h := range harmonics {
			s[i][h], c[i][h] = math.Sincos(2 * math.Pi * float64(i*(h+1)) / shifts)
		}
	}
	return s, c
}()

// usual weighs the number of strands by how common it is: most handspun is
// two-ply, then three (common practice).
var usual = [mostStrands + 1]float64{2: 1, 3: 0.95, 4: 0.88, 5: 1, 6: 1, 7: 1}

// flatStrands weighs strands that fill the yarn: most keep some of their
// roundness (assumption).
const flatStrands = 0.8

// ownColours weighs strands that all differ, by how many there are: two alike
// are the more common, and more colours imitate more.
var ownColours = [mostStrands + 1]float64{1: 1, 2: 1, 3: 0.93, 4: 0.78, 5: 0.7, 6: 0.7, 7: 0.7}

// fit compares plies of one kind and lay with a fold, taking the yarn to be scale
// times as wide as its outline says and displaced by offset. It reports false
// where no such ply exists.
func (f *fold) fit(k kind, z bool, scale, offset float64) (fitting, bool) {
	q, ok := plyFor(k.n, k.form, f.period*float64(k.n)/float64(k.repeat), scale*colsPerBody)
	if !ok {
		return fitting{}, false
	}
	m := fitting{guess: guess{ply: q, repeat: k.repeat, z: z}, period: f.period,
		scale: scale, offset: offset, score: math.Inf(-1)}
	p := patternFor(q, k.repeat)
	v := f.seen(scale, offset, z)
	var cross [numLayers][maxBasis][harmonics][2]float64
	for l := range numLayers {
		for c := range p.size {
			for h := range harmonics {
				cross[l][c][h] = crossRows(p, v, l, c, h)
			}
		}
	}
	for s := range shifts {
		score, share := p.mix(&cross, s, f)
		if score > m.score {
			m.score, m.share, m.shift = score, share, 2*math.Pi*float64(s)/shifts
		}
	}
	d := (1 - scale) / outlineSD
	m.score *= math.Exp(-d*d/2) * usual[k.n]
	m.score *= ownColours[k.repeat]
	if k.form == flat {
		m.score *= flatStrands
	}
	return m, true
}

// beyondChance takes off a share of variance what laying a random picture over
// itself a few times would leave.
func (f *fold) beyondChance(share float64) float64 {
	if share < 0 {
		return share
	}
	chance := min(chancePerFold/f.periods, 0.9)
	return min(max((share-chance)/(1-chance), 0), 0.995)
}

// chancePerFold is the share of a random picture's variance that a ply's
// pictures take up after one period.
const chancePerFold = 0.35

// outlineSwing is how much of the model's swelling and shrinking of the outline
// is left in a photograph after hairs and blur.
const outlineSwing = 0.8

// mix finds the best mixture of basis pictures at one shift.
func (p *pattern) mix(cross *[numLayers][maxBasis][harmonics][2]float64, s int, f *fold) (score float64, share [numLayers]float64) {
	for l := range numLayers {
		var rhs [maxBasis]float64
		for c := range p.size {
			for h := range harmonics {
				rhs[c] += cross[l][c][h][0]*shiftCos[s][h] + cross[l][c][h][1]*shiftSin[s][h]
			}
			if l == outlineLayer {
				break // it has one picture only: where yarn is
			}
		}
		if l == outlineLayer {
			// Here the model foretells the size of the picture too.
			gain := rhs[0]*2*outlineSwing - p.chol[0][0]*p.chol[0][0]*outlineSwing*outlineSwing
			share[l] = max(gain/f.total[l], -1)
		} else if l == 0 {
			share[l] = explained(&p.chol, &rhs, p.size) / f.total[l]
		} else {
			var part [maxBasis]float64
			for a, c := range p.tint {
				part[a] = rhs[c]
			}
			share[l] = explained(&p.tints, &part, len(p.tint)) / f.total[l]
		}
		share[l] = f.beyondChance(share[l])
		weight := layerWeight[l]
		if l == outlineLayer && f.crowded {
			weight *= crowdedOutline
		}
		score -= weight * math.Log(1-share[l])
	}
	return score, share
}

// A view is a fold resampled across.
type view struct {
	re, im [numLayers][harmonics][bodyRows]float64
}

// seen resamples the rows of a fold so that a yarn of the given scale and
// offset fills the model's rows. A mirrored lay is the same picture run
// backwards, so S is turned into Z by taking the complex conjugate.
func (f *fold) seen(scale, offset float64, z bool) *view {
	v := &view{}
	sign := 1.0
	if !z {
		sign = -1
	}
	for j := range bodyRows {
		pos := (rowAcross(j)*scale + offset + bodyReach) / (2 * bodyReach) * (bodyRows - 1)
		k := int(math.Floor(pos))
		if k < 0 || k >= bodyRows-1 {
			continue
		}
		u := pos - float64(k)
		for l := range numLayers {
			for h := range harmonics {
				r, i := &f.re[l][h], &f.im[l][h]
				v.re[l][h][j] = r[k] + u*(r[k+1]-r[k])
				v.im[l][h][j] = sign * (i[k] + u*(i[k+1]-i[k]))
			}
		}
	}
	return v
}

// crossRows is the sum over rows of conj(pattern) * view, as the factors of
// cosine and sine of the shift.
func crossRows(p *pattern, v *view, l, c, h int) [2]float64 {
	var re, im float64
	pr, pi := &p.re[c][h], &p.im[c][h]
	vr, vi := &v.re[l][h], &v.im[l][h]
	for j := range bodyRows {
		re += pr[j]*vr[j] + pi[j]*vi[j]
		im += pr[j]*vi[j] - pi[j]*vr[j]
	}
	return [2]float64{re, -im}
}

// cholesky factors a Gram matrix with a little ridge.
func cholesky(g *[maxBasis][maxBasis]float64, n int) (l [maxBasis][maxBasis]float64) {
	for i := range n {
		for j := 0; j <= i; j++ {
			s := g[i][j]
			if i == j {
				s = s*1.003 + 1e-9
			}
			for k := range j {
				s -= l[i][k] * l[j][k]
			}
			if i == j {
				l[i][i] = math.Sqrt(math.Max(s, 1e-12))
			} else {
				l[i][j] = s / l[j][j]
			}
		}
	}
	return l
}

// explained is rhs' G^-1 rhs: the energy that the mixture takes up.
func explained(l *[maxBasis][maxBasis]float64, rhs *[maxBasis]float64, n int) float64 {
	var y [maxBasis]float64
	var sum float64
	for i := range n {
		s := rhs[i]
		for k := range i {
			s -= l[i][k] * y[k]
		}
		y[i] = s / l[i][i]
		sum += y[i] * y[i]
	}
	return sum
}
