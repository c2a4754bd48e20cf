package reading

// A Reason says why a picture cannot be read.
type Reason int

// Reasons for refusing.
const (
	NoReason Reason = iota
	NoYarn
	TooDark
	TooSmall
	TooBlurred
	SmoothSurface
	NoLay
	BothWays
	TooLittle
	UnsureReading
	PastLock
	TooMany
	OffLine
)

var reasonCodes = [...]string{"", "no-yarn", "too-dark", "too-small", "blurred", "smooth",
	"no-lay", "both-ways", "too-little", "unsure", "past-lock", "too-many", "off-line"}

// String returns a short code in lower case, empty for NoReason.
func (r Reason) String() string { return reasonCodes[r] }

var reasonSentences = [...]string{
	"",
	"No yarn stands out from its background; lay one length of yarn on a plain surface of another colour and let it fill a good part of the picture, or draw a line along it.",
	"The picture is too dark to show the strands; take it again in daylight or by a lamp.",
	"The yarn is too small in the picture; come closer until it is at least as wide as a twentieth of the picture.",
	"The picture is blurred; hold the camera still, tap the yarn to focus, and take it again.",
	"What stands out is smooth like wire or a rod and shows neither strands nor fibres; point to the yarn, or light it from the side.",
	"No lean of strands or fibres can be made out; come nearer and let the light rake over the yarn from one side, or draw a line along one strand and state its plies, where it is not felted or hairy.",
	"The lines lean both ways, as on a braid, a knitted cord or cloth; this is not read as twist.",
	"Too little of one yarn can be followed here; show a straight length of at least three times its width, clear of others, or draw a line along it.",
	"The signs disagree and no reading is sure enough; come closer, light the yarn from the side, draw a line along one strand, or state the number of plies.",
	"What winds around here lies steeper than strands can be plied, as on chenille, a covered core or a coil; point to plied yarn, or to a stretch without the covering.",
	"Five strands or more are twisted together here, as in a rope or a cord; yarns of up to four are read.",
	"No yarn can be followed along the line that was drawn; lay its points along the middle of one yarn, over at least three times its width, where ground shows beside it.",
}

// Sentence says in one plain sentence what is wrong with the picture and what
// to do. It is empty for NoReason.
func (r Reason) Sentence() string { return reasonSentences[r] }
