package drawing

import (
	"math"
	"math/rand/v2"
)

// station is the yarn at one place along its axis. Lengths are in samples.
type station struct {
	radius float64 // of a strand
	centre float64 // R, of the centre line
	phase  float64 // of strand 0 about the axis, radians; 0 faces the viewer
	arc    float64 // length of centre line so far
	slip   float64 // radians by which fibres have turned about the strand so far
	sinB   float64
	cosB   float64
	rate   float64 // radians of phase per sample along the axis
	curl   float64 // radians of slip per sample of centre line
}

// survey walks along the yarn, one station per column of samples, for strands
// of the given mean radius in samples.
func survey(y Yarn, radius float64, columns int) []station {
	scale := thickness(y, radius, columns)
	gain := angleGain(y, scale)
	ss := make([]station, columns)
	var phase, arc, slip float64
	for i := range ss {
		s := stationAt(y, radius*scale[i], gain*y.Angle.Tan()/scale[i])
		s.phase, s.arc, s.slip = phase, arc, slip
		phase += s.rate
		arc += 1 / s.cosB
		slip += s.curl / s.cosB
		ss[i] = s
	}
	return ss
}

// stationAt works out the local geometry of strands of radius r at an angle
// of the given tangent.
func stationAt(y Yarn, r, tangent float64) station {
	if y.Plies == 1 {
		// The strand is its own axis; a fibre turns about it, against the
		// sense of the angle round the strand (see outline).
		return station{radius: r, cosB: 1, curl: -tangent / r}
	}
	s := station{radius: r, centre: r * y.centreRatio()}
	s.cosB = 1 / math.Sqrt(1+tangent*tangent)
	s.sinB = tangent * s.cosB
	s.rate = tangent / s.centre
	// On the crest, R + r from the axis, a step along the centre line goes
	// sin b (R+r)/R round and cos b along; a step about the strand goes back by
	// cos b and along by sin b. The share of the second that gives the lean:
	lean := y.FibreLean.Tan()
	outer := s.sinB * (s.centre + r) / s.centre
	s.curl = (outer - lean*s.cosB) / (s.cosB + lean*s.sinB) / r
	return s
}

// thickness returns the local thickness over the mean one: mean 1, and the
// yarn's coefficient of variation over what is drawn.
func thickness(y Yarn, radius float64, columns int) []float64 {
	scale := make([]float64, columns)
	for i := range scale {
		scale[i] = 1
	}
	if y.UnevennessCV == 0 || columns < 2 {
		return scale
	}
	wave := roving(y, radius, columns)
	mean, sd := meanSD(wave)
	var sum float64
	for i, w := range wave {
		scale[i] = math.Exp(y.UnevennessCV * (w - mean) / max(sd, 1e-9))
		sum += scale[i]
	}
	for i := range scale {
		scale[i] *= float64(columns) / sum
	}
	return scale
}

// roving is a smooth irregular wave, of two lengths about five and twelve yarn
// diameters, without a period that could pass for twist.
func roving(y Yarn, radius float64, columns int) []float64 {
	rng := rand.New(rand.NewPCG(y.Seed, 1))
	outer := 2 * radius * (1 + y.centreRatio())
	wave := make([]float64, columns)
	for _, length := range []float64{2.5, 6} {
		knots := make([]float64, int(float64(columns)/(length*outer))+6)
		for k := range knots {
			knots[k] = rng.NormFloat64()
		}
		start := rng.Float64()
		for i := range wave {
			at := start + float64(i)/(length*outer)
			k := int(at)
			wave[i] += spline(knots[k:k+4], at-float64(k)) * math.Sqrt(length)
		}
	}
	return wave
}

// spline is the uniform cubic B-spline over four knots, t from 0 to 1.
func spline(k []float64, t float64) float64 {
	u := 1 - t
	return (u*u*u*k[0] + (3*t*t*t-6*t*t+4)*k[1] + (3*u*u*u-6*u*u+4)*k[2] + t*t*t*k[3]) / 6
}

// angleGain is the factor on the tangent that makes the mean of the local
// angles equal to the angle asked for.
func angleGain(y Yarn, scale []float64) float64 {
	gain := 1.0
	if y.UnevennessCV == 0 || y.Angle == 0 {
		return gain
	}
	for range 4 {
		var sum float64
		for _, s := range scale {
			sum += math.Atan(gain * y.Angle.Tan() / s)
		}
		gain *= y.Angle.Tan() / math.Tan(sum/float64(len(scale)))
	}
	return gain
}

func meanSD(v []float64) (mean, sd float64) {
	for _, x := range v {
		mean += x / float64(len(v))
	}
	for _, x := range v {
		sd += (x - mean) * (x - mean) / float64(len(v))
	}
	return mean, math.Sqrt(sd)
}
