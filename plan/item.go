package plan

import "strings"

// item is what there is to say of a quantity.
type item struct {
	field  string // its name in a plan's text, "part.name"
	part   Part
	name   string
	kind   kind
	narrow string // how to know it better; empty for what is chosen
	choice bool   // something that may be dropped where wishes contradict
}

// Part is a part of the chain.
type Part string

// The parts, from the top.
const (
	ClothPart   Part = "Cloth"
	KnitPart    Part = "Knitted fabric"
	YarnPart    Part = "Yarn"
	SinglesPart Part = "Singles"
	FibrePart   Part = "Fibre"
	WorkPart    Part = "Work"
)

const (
	sampleOfCloth = "weave a sample and measure it on the loom, off it and washed"
	sampleOfPly   = "ply back a sample and read it re-wet"
)

var items = [quantities]item{
	qWidth:       {"cloth.width", ClothPart, "finished width", lengths, "", true},
	qLength:      {"cloth.length", ClothPart, "finished length", lengths, "", true},
	qEnds:        {"cloth.sett", ClothPart, "sett, ends on the loom", densities, "", true},
	qPicks:       {"cloth.picks", ClothPart, "picks, off the loom", densities, sampleOfCloth, true},
	qReed:        {"cloth.reed-width", ClothPart, "width in the reed", lengths, "", true},
	qWidthOff:    {"cloth.width-off", ClothPart, "width off the loom", lengths, "", true},
	qLengthOff:   {"cloth.length-off", ClothPart, "length off the loom", lengths, "", true},
	qLengthOn:    {"cloth.length-on", ClothPart, "length on the loom, woven", lengths, "", true},
	qEndCount:    {"cloth.ends", ClothPart, "ends in all", counts, "", true},
	qPickCount:   {"cloth.pick-count", ClothPart, "picks in all", counts, "", false},
	qWarpLength:  {"cloth.warp-length", ClothPart, "each end of the warp", lengths, "", true},
	qWarp:        {"cloth.warp", ClothPart, "warp yarn", lengths, "", false},
	qWeft:        {"cloth.weft", ClothPart, "weft yarn", lengths, "", false},
	qEndsWashed:  {"cloth.ends-washed", ClothPart, "ends, washed", densities, "", false},
	qPicksWashed: {"cloth.picks-washed", ClothPart, "picks, washed", densities, "", false},
	qDrawIn:      {"cloth.draw-in", ClothPart, "draw-in on the loom", losses, sampleOfCloth, false},
	qTakeUp:      {"cloth.take-up", ClothPart, "take-up in weaving", losses, sampleOfCloth, false},
	qWashWidth:   {"cloth.shrink-width", ClothPart, "shrinkage of the cloth in width", losses, sampleOfCloth, false},
	qWashLength:  {"cloth.shrink-length", ClothPart, "shrinkage of the cloth in length", losses, sampleOfCloth, false},
	qWaste:       {"cloth.waste", ClothPart, "loom waste", lengths, "measure what your loom keeps of a warp", false},
	qFringe:      {"cloth.fringe", ClothPart, "fringe, both ends", lengths, "", false},
	qSpare:       {"cloth.spare", ClothPart, "yarn to spare", spares, "", false},
	qLoomWidth:   {"cloth.loom-width", ClothPart, "width of the loom", lengths, "", true},
	qTension:     {"cloth.tension", ClothPart, "pull on the whole warp", masses, "hang the warp's weights on a scale", false},
	qBreaking:    {"yarn.breaks-at", YarnPart, "load that breaks one end", masses, "hang weights on ten lengths until they break", false},

	qKnitWidth:  {"knit.width", KnitPart, "width of a piece", lengths, "", true},
	qKnitLength: {"knit.length", KnitPart, "length of a piece", lengths, "", true},
	qPieces:     {"knit.pieces", KnitPart, "pieces", counts, "", false},
	qSwatchMass: {"knit.swatch-mass", KnitPart, "mass of the swatch", masses, "wash a larger swatch and weigh it on a finer scale", false},

	qYarn:         {"yarn.length", YarnPart, "length of the yarn, washed", lengths, "", true},
	qMass:         {"yarn.mass", YarnPart, "mass of the yarn", masses, "", true},
	qGrist:        {"yarn.grist", YarnPart, "weight of the yarn for its length, washed", grists, "weigh a measured length of a washed sample", true},
	qWraps:        {"yarn.wraps", YarnPart, "wraps of the yarn, washed", wraps, "count the wraps of a washed sample at three places", true},
	qFactor:       {"yarn.wrap-factor", YarnPart, "contact diameters in a wrap", factors, "count wraps of a yarn that you have weighed", true},
	qAngle:        {"yarn.angle", YarnPart, "angle of the ply", angles, sampleOfPly, true},
	qPlyTwist:     {"yarn.twist", YarnPart, "turns of the ply", twists, sampleOfPly, true},
	qWash:         {"yarn.wash-loss", YarnPart, "loss of the yarn's length in its wash", losses, "measure a skein before and after its wash", false},
	qAtWheel:      {"yarn.length-at-wheel", YarnPart, "length of the yarn before its wash", lengths, "", true},
	qGristAtWheel: {"yarn.grist-at-wheel", YarnPart, "weight of the yarn for its length, before its wash", grists, "weigh a measured length off the wheel", true},
	qPlyTakeUp:    {"yarn.ply-take-up", YarnPart, "take-up in plying", losses, "measure a marked length of singles before and after plying", false},

	qSingles:      {"singles.length", SinglesPart, "length of the singles, all strands", lengths, "", true},
	qSinglesGrist: {"singles.grist", SinglesPart, "weight of the singles for their length", grists, "weigh a measured length of singles", true},
	qDiameter:     {"singles.diameter", SinglesPart, "diameter of the singles", thicknesses, "measure wraps of a weighed sample", true},
	qSinglesAngle: {"singles.angle", SinglesPart, "angle of the singles' fibres", angles, "read a re-wet sample of the singles", true},
	qSinglesTwist: {"singles.twist", SinglesPart, "turns of the singles", twists, "count the turns out of a measured length", true},
	qPacking:      {"singles.packing", SinglesPart, "density of the fibres in the singles", packings, "measure wraps of a weighed sample", true},
	qStiffness:    {"singles.stiffness", SinglesPart, "stiffness of the wool, bending to twisting", factors, "read singles and ply of one sample, re-wet", true},

	qSpun:     {"fibre.spun", FibrePart, "into the spinning", masses, "", false},
	qPrepared: {"fibre.prepared", FibrePart, "prepared fibre", masses, "", false},
	qFibre:    {"fibre.bought", FibrePart, "fibre to have", masses, "", true},
	qSpinning: {"fibre.spinning", FibrePart, "waste in spinning", losses, "weigh a sample of fibre, and what was spun of it", false},
	qSampling: {"fibre.sampling", FibrePart, "fibre for samples", losses, "set the fibre for samples aside and weigh it", false},
	qPreparing: {"fibre.preparing", FibrePart, "waste in preparing", losses,
		"weigh a sample before and after carding or combing", false},
	qScouring: {"fibre.scouring", FibrePart, "loss in scouring", losses, "weigh a sample of the fleece before and after washing", false},
	qFineness: {"fibre.fineness", FibrePart, "diameter of the fibres", finenesses, "have a sample of the fleece measured", true},

	qYarnInHand:    {"yarn.in-hand", YarnPart, "yarn in hand", masses, "", true},
	qSinglesInHand: {"singles.in-hand", SinglesPart, "singles in hand", masses, "", true},
	qFibreInHand:   {"fibre.in-hand", FibrePart, "fibre in hand", masses, "", true},

	qBobbin:     {"work.bobbin", WorkPart, "what a bobbin holds", masses, "weigh a full bobbin", false},
	qBobbins:    {"work.bobbins", WorkPart, "bobbins of singles", counts, "", false},
	qPlyBobbins: {"work.ply-bobbins", WorkPart, "bobbins of ply", counts, "", false},
	qPace:       {"work.pace", WorkPart, "pace of spinning", paces, "spin for half an hour and measure the length", false},
	qPlyPace:    {"work.ply-pace", WorkPart, "pace of plying", paces, "ply for half an hour and measure the length", false},
	qHours:      {"work.hours", WorkPart, "hours of spinning", times, "", true},
	qPlyHours:   {"work.ply-hours", WorkPart, "hours of plying", times, "", true},
	qTimeInHand: {"work.time", WorkPart, "time for the work", times, "", true},
}

// example is a value as one would write it.
func (it item) example() string {
	if it.field == "cloth.ends" {
		return "260"
	}
	return it.kind.wants
}

// short is the name in a sentence: what stands before its comma.
func (it item) short() string {
	name, _, _ := strings.Cut(it.name, ",")
	return name
}

// outcome reports whether a quantity only ever follows from others.
func (q quantity) outcome() bool {
	switch q {
	case qPickCount, qWarp, qWeft, qEndsWashed, qPicksWashed, qSpun, qPrepared, qBobbins, qPlyBobbins:
		return true
	}
	return false
}
