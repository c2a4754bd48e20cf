package hand

import (
	"math"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// drawCount is the number of rows in every calculation by draws.
const drawCount = 2000

// Knowledge returns what the record teaches about further bobbins of a fibre,
// for rest.Wake. The bobbins whose samples Wake is then given must not be in the
// record (Record.Without), for they would be heard twice.
func (p *Posterior) Knowledge(fibre string, prep finish.Preparation) rest.Knowledge {
	k := rest.Prior(prep)
	if p.record.Readings() == 0 {
		return k
	}
	k.Readings = p.record.Readings()
	mean, sd := p.spread(p.logStiffness(fibre))
	k.Stiffness = rest.Spread{Median: math.Exp(mean), Sigma: sd}
	mean, sd = p.spread(p.eye())
	logBorder, sigma := border(2, mean)
	k.Border = rest.Spread{Median: math.Exp(logBorder), Sigma: sigma * sd}
	k.Wash = finish.Wash{
		Length:   range90(p.spread(p.logWash(prep, prepLength))),
		Diameter: range90(p.spread(p.logWash(prep, prepDiameter))),
		Damp:     range90(p.spread(p.logDamp())),
	}
	k.PlaceCV *= rest.Share(p.fitter.scales[ofPlaces])
	k.EyeSD *= unit.Angle(p.fitter.scales[byEye])
	k.PhotographSD *= unit.Angle(p.fitter.scales[byPhoto])
	k.Singles = p.newSingles()
	return k
}

// spread is the mean and standard deviation of a quantity.
func (p *Posterior) spread(q quantity) (mean, sd float64) {
	mean, d := p.where(q)
	return mean, math.Sqrt(max(p.system.covariance(d, d), 0) + q.extra)
}

// newSingles is the surface angle to expect of a bobbin not yet measured.
func (p *Posterior) newSingles() rest.SinglesReading {
	angles := p.singlesAngles(p.draw(estimate.NewSampler(drawCount, seed), p.singles(-1))[0])
	e := estimate.FromDraws(angles)
	return rest.SinglesReading{Angle: e.Value, SD: unit.Angle(e.SD)}
}

func (p *Posterior) singlesAngles(places []float64) []yarn.SurfaceAngle {
	out := make([]yarn.SurfaceAngle, len(places))
	for i, v := range places {
		eta, _ := logTurns(v)
		out[i] = yarn.SurfaceAngle(math.Atan(math.Exp(eta)))
	}
	return out
}
