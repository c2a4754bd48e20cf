package reading

import (
	"math"
	"slices"
	"sync"
)

// A guess is one explanation of a fold: n strands, of which `repeat` pass in
// one period of the pattern (n where every strand has its own colour, 1 where
// all look alike), with Z or S lay.
type guess struct {
	ply    ply
	repeat int
	z      bool
}

// maxBasis is the number of pictures mixed to imitate a fold.
const maxBasis = 18

// A pattern is what the model of a Z guess can look like: pictures of one
// period as Fourier coefficients like those of a fold.
type pattern struct {
	size   int
	re, im [][harmonics][bodyRows]float64 // for each picture: few need maxBasis
	chol   [maxBasis][maxBasis]float64
	tint   []int                       // the pictures that may show in the tint: light and shade leave it alone
	tints  [maxBasis][maxBasis]float64 // Cholesky factor of those
}

const patternStep = 3 // degrees between patterns kept

type patternKey struct {
	kind
	step int
}

// patterns holds every pattern on a grid of angles.
var patterns = sync.OnceValue(func() map[patternKey]*pattern {
	out := make(map[patternKey]*pattern)
	for _, k := range slices.Concat(kinds, ropes, colouredRopes) {
		for i := 0; i*patternStep <= maxPlyDegrees-minPlyDegrees; i++ {
			q := plyTables()[k.form][k.n][i*patternStep]
			out[patternKey{k, i}] = drawPattern(q, k.repeat)
		}
	}
	return out
})

// patternFor returns the pattern nearest in angle.
func patternFor(q ply, repeat int) *pattern {
	d := (q.b*180/math.Pi - minPlyDegrees) / patternStep
	last := (maxPlyDegrees - minPlyDegrees) / patternStep
	return patterns()[patternKey{kind{q.n, repeat, q.form}, min(max(int(d+0.5), 0), last)}]
}

// drawPattern draws the basis pictures: where yarn is, its normal in three
// directions, its depth and the square of it (clefts are dark), and two
// pictures for each strand but the first that repeats with its own colour,
// plain and shaded.
func drawPattern(q ply, repeat int) *pattern {
	p := &pattern{size: 6 + 2*(repeat-1)}
	p.re, p.im = make([][harmonics][bodyRows]float64, p.size), make([][harmonics][bodyRows]float64, p.size)
	var img [maxBasis][foldBins]float64
	for j := range bodyRows {
		y := rowAcross(j) * q.sil
		for c := range img {
			img[c] = [foldBins]float64{}
		}
		if math.Abs(y) < q.envelope()*1.05 {
			drawRow(&img, q, repeat, y)
		}
		for c := range p.size {
			for h := range harmonics {
				p.re[c][h][j], p.im[c][h][j] = coefficient(&img[c], h)
			}
		}
	}
	for c := range p.size {
		for h := range harmonics {
			softenRows(&p.re[c][h])
			softenRows(&p.im[c][h])
		}
	}
	var gram [maxBasis][maxBasis]float64
	for a := range p.size {
		for b := range p.size {
			gram[a][b] = p.inner(a, b)
		}
	}
	p.chol = cholesky(&gram, p.size)
	p.tint = append(p.tint, 0)
	for c := 6; c < p.size; c++ {
		p.tint = append(p.tint, c)
	}
	var part [maxBasis][maxBasis]float64
	for a, ca := range p.tint {
		for b, cb := range p.tint {
			part[a][b] = gram[ca][cb]
		}
	}
	p.tints = cholesky(&part, len(p.tint))
	return p
}

// drawRow fills one row of every basis picture, two rays to a bin. With Z lay
// the strand in front moves down the picture along the yarn, which is a
// falling phase.
func drawRow(img *[maxBasis][foldBins]float64, q ply, repeat int, y float64) {
	span := 2 * math.Pi * float64(repeat) / float64(q.n)
	const rays = 2
	for k := range foldBins * rays {
		phi := -(float64(k)/rays - 0.25) / foldBins * span
		s := q.look(phi, y)
		if !s.hit {
			continue
		}
		bin := k / rays
		for c, v := range [6]float64{1, s.ny, s.nx, s.nz, s.depth, s.depth * s.depth} {
			img[c][bin] += v / rays
		}
		if class := s.strand % repeat; class > 0 {
			img[4+2*class][bin] += 1.0 / rays
			img[5+2*class][bin] += s.nx / rays
		}
	}
}

// softenRows blurs across as the camera and loose fibres do.
func softenRows(v *[bodyRows]float64) {
	for range 2 {
		prev := v[0]
		for j := range v {
			next := v[min(j+1, bodyRows-1)]
			cur := v[j]
			v[j] = 0.25*prev + 0.5*cur + 0.25*next
			prev = cur
		}
	}
}

// inner is the real inner product of basis pictures a and b.
func (p *pattern) inner(a, b int) float64 {
	var s float64
	for h := range harmonics {
		for j := range bodyRows {
			s += p.re[a][h][j]*p.re[b][h][j] + p.im[a][h][j]*p.im[b][h][j]
		}
	}
	return s
}
