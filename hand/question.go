package hand

import (
	"time"

	"waketwist/finish"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// Question is a ply to be forecast: what is plied, how, and after how long a
// rest.
type Question struct {
	Bobbins     []string // by ID, plied together with equal numbers of strands; none asks of a new bobbin
	Fibre       string   // of a new bobbin
	Preparation finish.Preparation
	Strands     int       // 2 to 4
	Line        yarn.Line // on which angles are given and wanted: VisibleBorder or StrandCentre

	Rested time.Duration // since the singles were spun
	Room   rest.Room     // the air in which they rested

	// The ply at the wheel: an angle on Line, or turns, which need a Diameter.
	// With neither it is plied so as to come out of the wash in balance.
	Wheel *unit.Angle
	Turns *yarn.PlyTwist

	Diameter   *unit.Length // of the singles
	DiameterCV rest.Share   // its coefficient of variation
	Singles    yarn.Direction
	Hanging    unit.Length // of the loop in the hang test; 0 takes UsualHanging
}

// UsualHanging is the length of the open loop in which a skein hangs.
const UsualHanging = 0.6 * unit.Metre

func (q Question) check() error {
	if q.Strands < 2 || q.Strands > 4 {
		return refuse("Choose 2, 3 or 4 strands.", "A ply of %d strands is not covered.", q.Strands)
	}
	if q.Line != yarn.VisibleBorder && q.Line != yarn.StrandCentre {
		return refuse("Choose the visible border or the strand centre.", "A forecast on the %s is not covered.", q.Line)
	}
	if q.Rested < 0 {
		return refuse("Give the days since the singles were spun.", "A rest of %.1f hours is not possible.", q.Rested.Hours())
	}
	if err := q.Room.Check(); err != nil {
		return err
	}
	if q.Wheel != nil {
		if deg := q.Wheel.Degrees(); !(deg >= 1 && deg <= 70) {
			return refuse("Firm plies show 30 to 45 degrees.", "A ply of %.4g degrees at the wheel is outside 1 to 70.", deg)
		}
	}
	return q.checkThickness()
}

func (q Question) checkThickness() error {
	if d := q.Diameter; d != nil && !(d.Millimetres() > 0.05 && d.Millimetres() < 50) {
		return refuse("Give the singles' diameter, or their wraps per inch or centimetre.", "Singles %s thick are not yarn.", d.Metric())
	}
	if !(q.DiameterCV >= 0 && q.DiameterCV <= 1) {
		return refuse("Give it as a share between 0 and 1.", "A coefficient of variation of %.4g makes no sense.", float64(q.DiameterCV))
	}
	if q.Turns != nil && q.Diameter == nil {
		return refuse("Give the diameter too, or the angle of the ply.", "Turns alone do not say how steep a ply is.")
	}
	if q.Turns != nil && !(*q.Turns > 0 && *q.Turns < 5000) {
		return refuse("Hand-plied yarn has 20 to 1000 turns per metre.", "%.4g turns per metre are no ply.", float64(*q.Turns))
	}
	if !(q.Hanging >= 0 && q.Hanging <= 10*unit.Metre) {
		return refuse("Give the length of the hanging loop, usually 0.4 to 0.8 m.", "A skein does not hang %s long.", q.Hanging.Metric())
	}
	return nil
}

// strand is one bobbin of a question.
type strand struct {
	block int // -1 for a new one
	fibre string
	read  bool // a ply-back of it was read
}

func (p *Posterior) stock(q Question) (out []strand, err error) {
	if len(q.Bobbins) == 0 {
		out = []strand{{-1, q.Fibre, false}}
	}
	for _, id := range q.Bobbins {
		block, ok := p.fitter.bobbins[id]
		if !ok {
			return nil, refuse("Choose bobbins of which something was read, or none for a new one.", "There is no bobbin %q in the record.", id)
		}
		b := p.record.Bobbins[block]
		out = append(out, strand{block, b.Fibre, len(b.Clips) > 0})
	}
	for _, s := range out {
		if rest.OutsideModel(s.fibre) {
			return nil, refuse("Judge it by a piece plied, washed and dried.", "%s twists by itself on wetting, or is elastic, which is not covered.", s.fibre)
		}
	}
	return out, nil
}
