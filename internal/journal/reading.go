package journal

import (
	"encoding/json"
	"regexp"
	"time"
	"unicode/utf8"

	"waketwist/unit"
	"waketwist/yarn"
)

// Method is how a reading came about.
type Method string

// The methods.
const (
	Photograph Method = "photograph" // read from a picture by the program
	Typed      Method = "typed"      // read off by a person and typed in
	Dragged    Method = "dragged"    // a person's line laid over a picture
)

// Structures that a photograph may show.
const (
	Singles = "singles"
	Ply     = "ply"
)

// Reading is one look at a sample: an angle, or the reason why a photograph
// gave none.
type Reading struct {
	ID        ID
	Sample    ID
	Method    Method
	Reader    string         // who or what read it
	Structure string         // Singles or Ply; empty for a refused photograph
	Plies     int            // strands in the ply; 1 for singles, 0 when refused
	Direction yarn.Direction // of the twist read
	Line      yarn.Line
	Angle     unit.Angle // zero when refused
	SD        unit.Angle
	Low, High unit.Angle // 90 % interval
	Refused   string     // why the photograph carries no reading; empty when it does
	Photo     *Photo     // nil for typed readings
	Trace     string     // what was read, in the photograph's pixels, as JSON; may be empty
	Note      string
	Recorded  time.Time

	Supersedes   ID     // the reading that this one replaces; zero for none
	SupersededBy ID     // set by the store
	Struck       string // why it was struck; empty when it was not
}

// Photo is a photograph kept by the hash of its content.
type Photo struct {
	Hash          string // SHA-256 in hexadecimal
	Width, Height int    // upright, in pixels
}

// Counts reports whether the reading is an angle in force.
func (r Reading) Counts() bool {
	return r.Refused == "" && r.Struck == "" && r.SupersededBy == 0
}

// longestTrace bounds what is kept of a trace, in bytes.
const longestTrace = 1 << 20

var hashForm = regexp.MustCompile(`^[0-9a-f]{64}$`)

// Check refuses a reading that cannot be meant.
func (r Reading) Check() error {
	if r.Photo != nil && (!hashForm.MatchString(r.Photo.Hash) || r.Photo.Width <= 0 || r.Photo.Height <= 0) {
		return invalid("photo", "The photograph of this reading is not one that the program keeps.")
	}
	switch r.Method {
	case Photograph, Dragged:
		if r.Photo == nil {
			return invalid("photo", "A reading from a photograph needs the photograph.")
		}
	case Typed:
	default:
		return invalid("method", "There is no way of reading called %q.", r.Method)
	}
	if err := r.checkForm(); err != nil {
		return err
	}
	if r.Refused == "" {
		return r.checkAngle()
	}
	if r.Angle != 0 || r.SD != 0 {
		return invalid("angle", "A photograph that was refused carries no angle.")
	}
	return nil
}

// checkForm refuses what neither a reading nor a refusal can carry.
func (r Reading) checkForm() error {
	switch {
	case r.Structure != "" && r.Structure != Singles && r.Structure != Ply:
		return invalid("structure", "Say whether the sample is singles or a ply, not %q.", r.Structure)
	case r.Plies < 0 || r.Plies > yarn.MaxStrands:
		return invalid("plies", "A ply of %d strands cannot be read; up to %d can.", r.Plies, yarn.MaxStrands)
	case r.Line < 0 || r.Line > yarn.SurfaceFibre:
		return invalid("line", "Say on which line the angle was read.")
	case !(r.High-r.Low >= 0 && r.High-r.Low < 180*unit.Degree):
		return invalid("angle", "The interval of a reading runs from its lower end to its upper.")
	case utf8.RuneCountInString(r.Reader) > longestName:
		return invalid("reader", "The name of the reader is longer than %d letters; shorten it.", longestName)
	case len(r.Trace) > longestTrace || r.Trace != "" && !json.Valid([]byte(r.Trace)):
		return invalid("trace", "What was drawn on the photograph cannot be kept; draw it again.")
	}
	if err := checkDirection(r.Direction); err != nil {
		return err
	}
	if err := checkNote("refused", r.Refused); err != nil {
		return err
	}
	return checkNote("note", r.Note)
}

func (r Reading) checkAngle() error {
	switch {
	case !(r.Angle > 0 && r.Angle < 75*unit.Degree):
		return invalid("angle", "An angle of %.4g degrees cannot be meant: measure between the yarn's axis and the line of the strands, over 0 and under 75.", r.Angle.Degrees())
	case !(r.SD > 0 && r.SD < 45*unit.Degree):
		return invalid("angle", "A reading needs a standard deviation between 0 and 45 degrees.")
	case r.Line == 0:
		return invalid("line", "Say on which line the angle was read.")
	case r.Structure == "":
		return invalid("structure", "Say whether the sample is singles or a ply.")
	}
	return nil
}
