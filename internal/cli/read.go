package cli

import (
	"errors"
	"fmt"
	"image"
	"strconv"
	"strings"

	"waketwist/internal/job"
	"waketwist/raster"
	"waketwist/reading"
	"waketwist/yarn"
)

type readCmd struct {
	Photo   []string `arg:"" help:"Photographs, or folders of them."`
	Plies   whole    `default:"0" placeholder:"N" help:"Number of strands, where you know it: 1 (singles) to 4."`
	At      text     `placeholder:"X,Y,W,H" help:"Where the yarn is, in pixels from the top left: a box around it, or a place on it, as in 600,350."`
	Along   text     `placeholder:"X1,Y1,X2,Y2,..." help:"A line along the middle of the yarn, from where it may be read to where it may not, by two points or more in pixels from the top left."`
	Scale   text     `placeholder:"WHAT=LENGTH" help:"What gives the scale: “coin=23.25 mm”, “ruler=1 mm” or two points and their distance, “120,80,920,80=20 mm”."`
	Overlay text     `placeholder:"DIR" help:"Write a picture of each photograph to this folder, with what was read laid over it."`
	Explain text     `placeholder:"DIR" help:"Write a page on each photograph to this folder that shows what its reading rests on."`
	JSON    bool     `help:"Print one JSON object a photograph, one a line."`
}

// Help is the long help.
func (readCmd) Help() string {
	return `Each photograph is read for itself: singles or ply, number of strands, S or Z, the angle to the yarn's axis with its 90 % interval, width and pitch. A ply is read at the strands' centre line, singles by the fibres at the surface. What cannot be read is refused with the reason, and the exit code is then 1. State the number of strands where you know it: it is the greatest source of error.

Where a photograph is refused, help it: --at names a box around the yarn or a place on it. --along is the stronger help, for yarn that is curved, out of focus, or lies between others or on a warp: give points along the middle of the strand, from where it may be read to where it may not. A smooth line is laid through them, nothing else is looked at, and the yarn is followed at most half its width to either side. State --plies as well where you know it: then the lean of the borders between the strands is believed sooner along the line where no whole turn can be followed. A line that crosses the yarn, or on which nothing can be followed, is refused.

A scale gives width, wraps and turns in inches and metric. Lay a coin or a ruler beside the yarn, as near to the camera as the yarn, and hold the camera straight above. Then say the diameter of the coin, or of any flat disc (coin=23.25 mm), or how far apart the finest marks of the ruler stand (ruler=1 mm, ruler=1/16 in): the program finds it, and refuses where it finds none, several that differ, a disc seen from aside, or marks between which finer ones may be hidden. A box helps it: “coin 600,200,300,300=23.25 mm” looks there, from left, top, width and height in pixels. Or give two points, counted in pixels from the top left of the upright picture, and the distance between them. The scale holds for every photograph of the call: a coin or ruler is looked for in each, but two points want all taken from one height.

The pictures of --overlay show the axis dashed, the edges thin, rings one full turn apart, the line that was read in white, and so the coin, the row of marks or the two points of a scale. Look through them before you trust a number. The pages of --explain show the yarn straightened with the fitted model below it, the directions of its texture, how it repeats along its length, and the angle of the visible border between strands, which is what an eye with a protractor reads.

    waketwist read --plies 2 dry.jpg wet.jpg
    waketwist read --scale "coin=23.25 mm" sample.jpg
    waketwist read --scale "ruler=1 mm" --overlay checked photographs/
    waketwist read --scale "120,80,920,80=20 mm" sample.jpg
    waketwist read --plies 2 --along 250,620,440,480,650,440,860,505 loop.jpg
    waketwist read --json photographs/`
}

// Run reads the photographs in the order in which they were named.
func (c *readCmd) Run(a *app) error {
	how, err := c.how()
	if err != nil {
		return err
	}
	photos, err := expand(c.Photo)
	if err != nil {
		return err
	}
	if how.then, err = c.sheets(photos); err != nil {
		return err
	}
	bar := newProgress(a, len(photos), c.JSON)
	refused := false
	err = lookAtAll(a, photos, how, func(_ int, l look) error {
		defer bar.step()
		refused = refused || l.refused != ""
		if c.JSON {
			return writeJSON(bar.out, seenIn(l))
		}
		_, err := fmt.Fprintf(bar.out, "%s\n%s\n\n", l.photo, indented(l.prose()))
		return err
	})
	if err := errors.Join(bar.end(), err); err != nil {
		return err
	}
	if refused {
		return errReported
	}
	return nil
}

// how takes the flags that say how a photograph is to be read.
func (c *readCmd) how() (howto, error) {
	if err := inRange("--plies", float64(c.Plies), 0, 4); err != nil {
		return howto{}, err
	}
	part, err := parsePart(c.At)
	if err != nil {
		return howto{}, err
	}
	line, err := job.ParseLine(string(c.Along))
	if err != nil {
		return howto{}, misused("--along: %v", err)
	}
	if len(line) > 0 && !part.Empty() {
		return howto{}, misused("--at and --along both say where the yarn is; give one of them")
	}
	opt := reading.Options{Plies: int(c.Plies), At: part, Along: line}
	out := howto{read: within(opt, c.Explain != "")}
	if c.Scale == "" {
		return out, nil
	}
	scale, err := job.ParseScale(string(c.Scale))
	if err != nil {
		return howto{}, misused("--scale: “%s”: %v", c.Scale, err)
	}
	out.scale = &scale
	return out, nil
}

// sheets makes the folders of what is to be written of each photograph and
// returns what writes it, nil where nothing was asked for.
func (c *readCmd) sheets(photos []string) (func(int, look, image.Image) error, error) {
	var overlays, accounts []string
	var err error
	if c.Overlay != "" {
		if overlays, err = sheetsIn(string(c.Overlay), photos, "read", ".jpg"); err != nil {
			return nil, err
		}
	}
	if c.Explain != "" {
		if accounts, err = sheetsIn(string(c.Explain), photos, "why", ".html"); err != nil {
			return nil, err
		}
	}
	if overlays == nil && accounts == nil {
		return nil, nil
	}
	return func(i int, l look, small image.Image) (err error) {
		if overlays != nil {
			err = l.overlayTo(overlays[i], small)
		}
		if accounts != nil {
			err = errors.Join(err, l.accountTo(accounts[i]))
		}
		return err
	}, nil
}

// within reads the part of the picture or along the line that the options name, all
// of it where they name none, and explains the reading where that is asked for.
func within(opt reading.Options, explain bool) func(*raster.Photo, *look) error {
	return func(p *raster.Photo, l *look) error {
		w, h := p.Size()
		opt := opt
		if !opt.At.Empty() {
			if opt.At = opt.At.Intersect(image.Rect(0, 0, w, h)); opt.At.Empty() {
				return words(fmt.Sprintf("The part to look at lies outside the picture, which is %d pixels wide and %d high.", w, h))
			}
		}
		if len(opt.Along) > 0 {
			if err := reading.CheckLine(opt.Along, w, h); err != nil {
				return words("The line along the yarn does not suit this picture: " + err.Error() + ".")
			}
		}
		if explain {
			l.reading, l.why = reading.Explain(p, opt)
		} else {
			l.reading = reading.Read(p, opt)
		}
		return nil
	}
}

// parsePart reads x,y,w,h, or x,y for the one pixel there; nothing is the empty
// rectangle.
func parsePart(t text) (image.Rectangle, error) {
	if t == "" {
		return image.Rectangle{}, nil
	}
	v := [4]int{2: 1, 3: 1}
	parts := strings.Split(string(t), ",")
	err := errors.New("two or four numbers are needed")
	if len(parts) == 2 || len(parts) == len(v) {
		for i, p := range parts {
			n, wrong := strconv.ParseUint(strings.TrimSpace(p), 10, 16)
			if err = wrong; err != nil {
				break
			}
			v[i] = int(n)
		}
	}
	r := image.Rect(v[0], v[1], v[0]+v[2], v[1]+v[3])
	if err != nil || r.Empty() {
		return image.Rectangle{}, misused("--at: “%s” is not a part of a picture; give a place on the yarn, as in 600,350, or a box around it by left, top, width and height, as in 200,150,800,400, in whole pixels", t)
	}
	return r, nil
}

// prose says what was read, in whole sentences.
func (l look) prose() string {
	if l.refused != "" {
		return "Not read. " + l.refused
	}
	r := l.reading
	lines := []string{
		fmt.Sprintf("%s, %.1f° as photographed (90 %%: %.1f° to %.1f°), %s.",
			kind(r), r.Angle.Value.Degrees(), r.Angle.Low.Degrees(), r.Angle.High.Degrees(), lineRead(r)),
		l.spans(),
	}
	for _, f := range r.Flags {
		lines = append(lines, job.PhotoFlagSentence(f))
	}
	return strings.Join(lines, " ")
}

// spans says how wide the yarn is and how long its turns are.
func (l look) spans() string {
	r := l.reading
	line := fmt.Sprintf("%.0f px wide, varying by %.0f %%", r.Width.Value, 100*r.WidthCV)
	if r.Structure == reading.Ply {
		line += fmt.Sprintf("; one full turn every %.0f px", r.Pitch.Value)
	}
	line += "."
	if l.sizes != nil {
		line += " " + l.sizes.String()
	}
	return line
}

func kind(r reading.Reading) string {
	what := "Singles"
	if r.Structure == reading.Ply {
		what = fmt.Sprintf("A ply of %d strands", r.Plies)
	}
	if r.Direction == yarn.NoDirection {
		return what
	}
	return what + ", " + r.Direction.String() + "-twisted"
}

func lineRead(r reading.Reading) string {
	if r.Structure == reading.Ply {
		return "at the strands' centre line"
	}
	return "by the fibres at the surface"
}

// indented folds a text and sets it two blanks in.
func indented(s string) string {
	return "  " + strings.ReplaceAll(folded(s, 70), "\n", "\n  ")
}
