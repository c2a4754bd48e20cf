package plan

import (
	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/unit"
	"waketwist/wheel"
	"waketwist/yarn"
)

// Wish is what is wanted and what is known on the way there. Exactly one of
// Woven, Knitted and Length says what is wanted. cloth.Exactly fixes a value;
// a zero estimate of a loss is no loss.
type Wish struct {
	Woven   *Woven
	Knitted *Knitted
	Length  unit.Length // of yarn, washed; 0 where a fabric is wanted

	Yarn  Yarn
	Fibre Fibre

	Bobbin  estimate.Estimate[unit.Mass] // of yarn that a bobbin holds; zero where not known
	Pace    estimate.Estimate[Pace]      // of spinning singles; zero where not known
	PlyPace estimate.Estimate[Pace]      // of plying, in ply; zero where not known
	Wheel   *Wheel                       // nil where not known
}

// Pace is metres made in an hour.
type Pace float64

// Woven is a cloth from the loom. In Order, Ends of 0 takes the working sett and
// Picks of 0 as many as ends, where the weave has room.
type Woven struct {
	Order     cloth.Order
	Weave     cloth.Weave
	Shafts    int // of the loom; 0 where not known
	Character cloth.Character
}

// Knitted is a fabric known by a washed swatch.
type Knitted struct {
	Width, Length             unit.Length // finished, all pieces side by side
	SwatchWidth, SwatchLength unit.Length
	SwatchMass                estimate.Estimate[unit.Mass]
	Spare                     cloth.Allowance
}

// Yarn is the yarn that the fabric is made of.
type Yarn struct {
	Grist  estimate.Estimate[unit.LinearDensity] // washed
	Plies  int                                   // 1 to 7
	Wash   estimate.Estimate[cloth.Loss]         // of its length in its own wash
	TakeUp *estimate.Estimate[cloth.Loss]        // of the singles' length in plying; nil computes it from the angle
	// Angle is that of a re-wet piece of the ply in balance, on the centre line
	// of a strand, and of singles that of the surface fibres.
	Angle       estimate.Estimate[unit.Angle]
	Direction   yarn.Direction // of the ply, or of singles that stay so
	Preparation finish.Preparation
}

// Fibre is what is lost on the way from the fibre as it is bought to the yarn,
// each a share of what goes into the step, and what is in hand.
type Fibre struct {
	Scouring, Preparing, Sampling, Spinning estimate.Estimate[cloth.Loss]
	InHand                                  unit.Mass // as it is bought; 0 where not known
}

// Wheel is a wheel with the length that is drawn at a time.
type Wheel struct {
	Treadled wheel.Treadled
	Draw     unit.Length
}

// UsualAngle is the ply angle where none is given: 20 to 30 degrees, an
// assumption.
func UsualAngle() estimate.Estimate[unit.Angle] {
	return estimate.Estimate[unit.Angle]{Value: 25 * unit.Degree, Low: 20 * unit.Degree, High: 30 * unit.Degree, Flags: estimate.Flags{cloth.Assumed}}
}

// SpinningLoss is what spinning and plying prepared fibre wastes where nothing is
// known: 2 to 5 %, and SamplingLoss what samples take: 10 to 15 % (common
// practice).
func SpinningLoss() estimate.Estimate[cloth.Loss] { return practice(0.02, 0.05) }

// SamplingLoss is described at SpinningLoss.
func SamplingLoss() estimate.Estimate[cloth.Loss] { return practice(0.10, 0.15) }

func practice(low, high cloth.Loss) estimate.Estimate[cloth.Loss] {
	e := cloth.LossBetween(low, high)
	e.Flags = estimate.Flags{cloth.CommonPractice}
	return e
}
