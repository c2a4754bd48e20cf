package journal

import (
	"regexp"
	"time"

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
	if err := checkNote("note", r.Note); err != nil {
		return err
	}
	if r.Refused != "" {
		return nil
	}
	return r.checkAngle()
}

func (r Reading) checkAngle() error {
	switch {
	case !(r.Angle > 0 && r.Angle < 75*unit.Degree):
		return invalid("angle", "An angle of %.4g degrees cannot be meant: measure between the yarn's axis and the line of the strands, over 0 and under 75.", r.Angle.Degrees())
	case !(r.SD > 0 && r.SD < 45*unit.Degree):
		return invalid("angle", "A reading needs a standard deviation between 0 and 45 degrees.")
	case r.Line < yarn.StrandCentre || r.Line > yarn.SurfaceFibre:
		return invalid("line", "Say on which line the angle was read.")
	case r.Structure != Singles && r.Structure != Ply:
		return invalid("structure", "Say whether the sample is singles or a ply.")
	}
	return nil
}
