package plan

import (
	"math"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// columns are the dealt inputs.
type columns struct {
	drawIn, takeUp, washWidth, washLength, waste, picks []float64 // woven
	swatch                                              []float64 // knitted
	grist, yarnWash, plyTakeUp                          []float64
	angle, packing, stiffness                           []float64
	scouring, preparing, sampling, spinning             []float64
	bobbin, pace, plyPace                               []float64
}

const sample = "weave a sample and measure it on the loom, off it and washed"

func (w Wish) deal(d *deck) (c columns) {
	if w.Woven != nil {
		o := w.Woven.Order
		c.drawIn = d.loss(source{"draw-in on the loom", sample}, o.DrawIn)
		c.takeUp = d.loss(source{"take-up in weaving", sample}, o.TakeUp)
		c.washWidth = d.loss(source{"shrinkage of the cloth in width", sample}, o.WashWidth)
		c.washLength = d.loss(source{"shrinkage of the cloth in length", sample}, o.WashLength)
		c.waste = deal(d, source{"loom waste", "measure what your loom keeps of a warp"}, o.Waste)
		c.picks = deal(d, source{"picks", sample}, o.Picks)
	}
	if w.Knitted != nil {
		c.swatch = deal(d, source{"the swatch's weight", "wash a larger swatch and weigh it on a finer scale"}, w.Knitted.SwatchMass)
	}
	c.grist = deal(d, source{"weight of the yarn for its length", "weigh a measured length of a washed sample"}, w.Yarn.Grist)
	c.yarnWash = d.loss(source{"loss of the yarn's length in its wash", "measure a skein before and after its wash"}, w.Yarn.Wash)
	w.dealTwist(d, &c)
	c.scouring = d.loss(source{"loss in scouring", "weigh a sample of the fleece before and after washing"}, w.Fibre.Scouring)
	c.preparing = d.loss(source{"waste in preparing", "weigh a sample before and after carding or combing"}, w.Fibre.Preparing)
	c.sampling = d.loss(source{"fibre for samples", "set the fibre for samples aside and weigh it"}, w.Fibre.Sampling)
	c.spinning = d.loss(source{"waste in spinning", "weigh a sample of fibre, and what was spun of it"}, w.Fibre.Spinning)
	c.bobbin = deal(d, source{"what a bobbin holds", "weigh a full bobbin"}, w.Bobbin)
	c.pace = deal(d, source{"pace of spinning", "spin for half an hour and measure the length"}, w.Pace)
	c.plyPace = deal(d, source{"pace of plying", "ply for half an hour and measure the length"}, w.PlyPace)
	return c
}

func (w Wish) dealTwist(d *deck, c *columns) {
	c.angle = deal(d, source{"angle of the ply", "ply back a sample and read it re-wet"}, w.Yarn.Angle)
	for i, v := range c.angle {
		c.angle[i] = min(v, float64(steepest(w.Yarn.Plies)))
	}
	c.packing = deal(d, source{"how densely the fibres lie", "measure wraps of a weighed sample"}, packingOf(w.Yarn.Preparation))
	if k := rest.Prior(w.Yarn.Preparation).Stiffness; w.Yarn.Plies > 1 {
		c.stiffness = d.keep(source{"how stiffly the wool bends", "read singles and ply of one sample, re-wet"}, d.s.LogNormal(k.Median, k.Sigma))
	}
	if w.Yarn.TakeUp != nil && w.Yarn.Plies > 1 {
		c.plyTakeUp = d.loss(source{"take-up in plying", "measure a marked length of singles before and after plying"}, *w.Yarn.TakeUp)
	}
}

// packingOf is the part of singles that is fibre (Hearle, Grosberg and Backer,
// Structural Mechanics of Fibers, Yarns, and Fabrics, from memory).
func packingOf(p finish.Preparation) estimate.Estimate[cloth.Packing] {
	e := estimate.Estimate[cloth.Packing]{Low: 0.3, High: 0.6, Flags: estimate.Flags{cloth.FromMemory}}
	switch p {
	case finish.Worsted:
		e.Low = 0.5
	case finish.Semi:
		e.Low, e.High = 0.4, 0.5
	case finish.Woollen:
		e.High = 0.4
	}
	e.Value = (e.Low + e.High) / 2
	return e
}

// row is the whole chain for one draw.
type row struct {
	needs                 cloth.Needs // woven
	yarn                  unit.Length // washed, spare and all
	mass                  unit.Mass
	atWheel               unit.Length
	gristAtWheel          unit.LinearDensity
	takeUp                cloth.Loss
	singles               unit.Length // of all strands
	singlesGrist          unit.LinearDensity
	diameter              unit.Length
	angle                 unit.Angle
	twist, plyTwist       unit.Twist
	spun, prepared, fibre unit.Mass // into spinning; with samples, before carding; as bought
	bobbins, plyBobbins   float64
	hours, plyHours       float64
	madeYarn, madeCloth   unit.Length // of the fibre in hand; cloth at the wished width
}

func (w Wish) row(c columns, i int) (r row, err error) {
	t := unit.LinearDensity(c.grist[i])
	piece, err := w.want(c, i, t, &r)
	if err != nil {
		return r, err
	}
	r.mass = t.MassOf(r.yarn)
	if err := w.spin(c, i, t, &r); err != nil {
		return r, err
	}
	w.work(c, i, &r)
	kept := r.mass / r.fibre
	r.madeYarn = t.LengthOf(w.Fibre.InHand * kept)
	r.madeCloth, err = w.reach(piece, r)
	return r, err
}

// want finds the yarn that is wanted.
func (w Wish) want(c columns, i int, t unit.LinearDensity, r *row) (p cloth.Piece, err error) {
	switch {
	case w.Woven != nil:
		o := w.Woven.Order
		p = cloth.Piece{
			Width: o.Width, Length: o.Length, DrawIn: cloth.Loss(c.drawIn[i]), TakeUp: cloth.Loss(c.takeUp[i]),
			WashWidth: cloth.Loss(c.washWidth[i]), WashLength: cloth.Loss(c.washLength[i]), Waste: unit.Length(c.waste[i]), Fringe: o.Fringe,
			Ends: o.Ends, Picks: cloth.Density[cloth.OffLoom](c.picks[i]), WeftCrimp: o.WeftCrimp, Spare: o.Spare,
		}
		r.needs, err = p.Needs()
		r.yarn = r.needs.YarnWithSpare
	case w.Knitted != nil:
		k := w.Knitted
		swatch := cloth.Swatch{Width: k.SwatchWidth, Length: k.SwatchLength, Mass: unit.Mass(c.swatch[i])}
		_, r.yarn, err = swatch.Yarn(k.Width, k.Length, t)
		r.yarn = cloth.On(k.Spare, r.yarn)
	default:
		r.yarn = w.Length
	}
	return p, err
}

// fibreDensity is that of wool in grams per cubic centimetre.
const fibreDensity = 1.31

// spin goes from washed yarn to singles. The mass stays: what is shorter is
// heavier for its length.
func (w Wish) spin(c columns, i int, t unit.LinearDensity, r *row) (err error) {
	wash, n := cloth.Loss(c.yarnWash[i]), w.Yarn.Plies
	r.atWheel, r.gristAtWheel = cloth.Before(wash, r.yarn), cloth.GristAtWheel(t, wash)
	r.angle = unit.Angle(c.angle[i])
	if n > 1 {
		r.angle, r.takeUp, err = singlesOf(n, yarn.Stiffness(c.stiffness[i]), yarn.CentreAngle(c.angle[i]))
	}
	if c.plyTakeUp != nil {
		r.takeUp = cloth.Loss(c.plyTakeUp[i])
	}
	r.singles = unit.Length(n) * cloth.Before(r.takeUp, r.atWheel)
	r.singlesGrist = unit.LinearDensityOf(r.mass, r.singles)
	r.diameter = yarn.Diameter(r.singlesGrist, c.packing[i], fibreDensity)
	r.twist = unit.Twist(yarn.SurfaceAngle(r.angle).Twist(r.diameter))
	if n > 1 {
		r.plyTwist = unit.Twist(yarn.Turns(n, yarn.CentreAngle(c.angle[i]), r.diameter))
	}
	return err
}

// singlesOf returns the surface angle of the singles whose ply of n rests at b,
// all their turns living, and what plying takes of their length. Neither depends
// on the thickness.
func singlesOf(n int, k yarn.Stiffness, b yarn.CentreAngle) (unit.Angle, cloth.Loss, error) {
	const d = unit.Millimetre
	living, err := yarn.LivingFor(n, k, b)
	if err != nil {
		return 0, 0, err
	}
	a := yarn.SurfaceAngle(unit.Atan(float64(living)))
	left := yarn.SurfaceAngleOf(yarn.TwistLeft(a.Twist(d), yarn.Turns(n, b, d), b), d)
	return unit.Angle(a), cloth.Loss(1 - yarn.TakeUp(b, a, left)), nil
}

// work finds fibre, bobbins and hours.
func (w Wish) work(c columns, i int, r *row) {
	r.spun = cloth.Before(cloth.Loss(c.spinning[i]), r.mass)
	r.prepared = cloth.Before(cloth.Loss(c.sampling[i]), r.spun)
	r.fibre = cloth.Before(cloth.Loss(c.scouring[i]), cloth.Before(cloth.Loss(c.preparing[i]), r.prepared))
	n := float64(w.Yarn.Plies)
	if full := c.bobbin[i]; full > 0 {
		r.bobbins = n * math.Ceil(float64(r.mass)/n/full)
		r.plyBobbins = math.Ceil(float64(r.mass) / full)
	}
	if c.pace[i] > 0 {
		r.hours = r.singles.Metres() / c.pace[i]
	}
	if c.plyPace[i] > 0 && n > 1 {
		r.plyHours = r.atWheel.Metres() / c.plyPace[i]
	}
}

// reach returns the length of the fabric, at the wished width, that the yarn from
// the fibre in hand makes; none where that does not even cover the loom waste.
func (w Wish) reach(p cloth.Piece, r row) (unit.Length, error) {
	switch {
	case w.Fibre.InHand == 0:
		return 0, nil
	case w.Knitted != nil:
		return w.Knitted.Length * (r.madeYarn / r.yarn), nil
	case w.Woven == nil:
		return 0, nil
	}
	perLength := cloth.On(p.Spare, unit.Length(r.needs.Ends)*r.needs.WovenOnLoom+r.needs.Weft) / p.Length
	return max(0, p.Length+(r.madeYarn-r.yarn)/perLength), nil
}
