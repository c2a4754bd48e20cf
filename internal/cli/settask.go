package cli

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"regexp"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/yarn"
)

// settAsk is the question, its values read.
type settAsk struct {
	yarn        *unit.LinearDensity
	wraps       *unit.Wraps
	character   cloth.Character
	weave       cloth.Weave
	shafts      int
	ends        cloth.Density[cloth.OnLoom]  // 0 takes the working sett
	picks       cloth.Density[cloth.OffLoom] // 0 takes as many as ends
	reed        cloth.Reed
	order       *cloth.Order // without ends and picks; nil when no size was given
	takeUpGiven bool
	yarnShrink  *cloth.Loss
	strands     int
	plyTakeUp   cloth.Loss
	breaking    unit.Mass
	tension     unit.Mass
	warpEnds    int
	residual    *yarn.SurfaceAngle
	warpTwist   yarn.Direction
	weftTwist   yarn.Direction
}

func (c *settCmd) ask(a *app) (k settAsk, err error) {
	for _, read := range []func(*settAsk) error{
		c.askYarn, func(k *settAsk) error { return c.askWeave(a, k) }, c.askDensities, c.askPiece, c.askSpinning, c.askStrength, c.askTwist,
	} {
		if err := read(&k); err != nil {
			return k, err
		}
	}
	return k, nil
}

func (c *settCmd) askYarn(k *settAsk) error {
	if c.Soft {
		k.character = cloth.Soft
	}
	if c.Yarn == "" && c.Wraps == "" {
		return misused("no yarn was given; give its weight for its length, such as “3360 yd/lb”, or --wraps")
	}
	if c.Yarn != "" {
		t, err := unit.ParseLinearDensity(string(c.Yarn))
		if w, wraps := unit.ParseWraps(string(c.Yarn)); err != nil && wraps == nil && c.Wraps == "" {
			k.wraps = &w
			return nil
		}
		if err != nil {
			return misused("%v", err)
		}
		k.yarn = &t
	}
	if c.Wraps != "" {
		w, err := unit.ParseWraps(string(c.Wraps))
		if err != nil {
			return misused("--wraps: %v", err)
		}
		k.wraps = &w
	}
	return nil
}

// longestWeave is the most of a file that is read as a weave, in bytes.
const longestWeave = 1 << 20

func (c *settCmd) askWeave(a *app, k *settAsk) (err error) {
	k.weave, err = c.findWeave(a)
	if err != nil {
		return misused("--weave: %v", err)
	}
	k.shafts = int(c.Shafts)
	if c.Shafts < 0 || c.Shafts == 1 {
		return misused("--shafts: no cloth is woven on %d shafts; give 2 or more", c.Shafts)
	}
	return nil
}

// findWeave takes a name first, then a file.
func (c *settCmd) findWeave(a *app) (cloth.Weave, error) {
	if c.Weave == "-" {
		return readWeave(a.Stdin)
	}
	w, named := cloth.Named(string(c.Weave))
	if named == nil {
		return w, nil
	}
	f, err := os.Open(string(c.Weave))
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrInvalid) {
		return w, named
	}
	if err != nil {
		return w, words("“" + string(c.Weave) + "” cannot be opened; check that it is a file you may read.")
	}
	defer f.Close()
	return readWeave(f)
}

func readWeave(r io.Reader) (cloth.Weave, error) {
	content, err := io.ReadAll(io.LimitReader(r, longestWeave+1))
	if err != nil {
		return cloth.Weave{}, words("The weave cannot be read; check that it is a text file.")
	}
	if len(content) > longestWeave {
		return cloth.Weave{}, words("The file is too long for a weave; draw one repeat only.")
	}
	return cloth.ParseWeave(string(content))
}

func (c *settCmd) askDensities(k *settAsk) error {
	var ends, picks, reed float64
	for _, d := range []struct {
		flag string
		text text
		into *float64
	}{{"--sett", c.Sett, &ends}, {"--picks", c.Picks, &picks}, {"--reed", c.Reed, &reed}} {
		if d.text == "" {
			continue
		}
		v, err := threadsPerMetre(d.flag, d.text)
		if err != nil {
			return err
		}
		*d.into = v
	}
	k.ends, k.picks, k.reed = cloth.Density[cloth.OnLoom](ends), cloth.Density[cloth.OffLoom](picks), cloth.Reed(reed)
	return nil
}

// threadsPerMetre reads a number of threads or dents.
func threadsPerMetre(flag string, t text) (float64, error) {
	v, err := cloth.ParseDensity[cloth.OnLoom](string(t))
	if err != nil {
		return 0, misused("%s: %v", flag, err)
	}
	return float64(v), nil
}

func (c *settCmd) askStrength(k *settAsk) error {
	if (c.Tension == "") != (c.Break == "") {
		return misused("--tension and --break go together: what the warp bears, and what breaks one end")
	}
	if c.Ends < 0 {
		return misused("--ends: a warp of %d ends is none; give 1 or more", c.Ends)
	}
	k.warpEnds = int(c.Ends)
	if c.Tension == "" {
		return nil
	}
	var err error
	if k.tension, err = unit.ParseMass(string(c.Tension)); err != nil {
		return misused("--tension: %v", err)
	}
	if k.breaking, err = unit.ParseMass(string(c.Break)); err != nil {
		return misused("--break: %v", err)
	}
	return nil
}

func (c *settCmd) askTwist(k *settAsk) error {
	if c.Residual != "" {
		angle, err := unit.ParseAngle(string(c.Residual))
		if err != nil {
			return misused("--residual: %v", err)
		}
		surface := yarn.SurfaceAngle(angle)
		k.residual = &surface
	}
	var err error
	if k.warpTwist, err = yarn.ParseDirection(string(c.WarpTwist)); err != nil {
		return misused("--warp-twist: %v", err)
	}
	if k.weftTwist, err = yarn.ParseDirection(string(c.WeftTwist)); err != nil {
		return misused("--weft-twist: %v", err)
	}
	return nil
}

func (c *settCmd) askSpinning(k *settAsk) error {
	if c.Plies < 0 || c.Plies > yarn.MaxStrands {
		return misused("--plies: a yarn of %d strands is not taken; give 1 to %d", c.Plies, yarn.MaxStrands)
	}
	if (c.Plies != 0 || c.YarnShrink != "") && k.order == nil {
		return misused("--plies and --yarn-shrink ask what to spin for a piece; give --width and --length with them")
	}
	k.strands = int(c.Plies)
	if c.YarnShrink != "" {
		e, err := parseLoss("--yarn-shrink", c.YarnShrink)
		if err != nil {
			return err
		}
		k.yarnShrink = &e.Value
	}
	e, err := parseLoss("--ply-take-up", c.PlyTakeUp)
	if k.strands > 1 {
		k.plyTakeUp = e.Value
	}
	return err
}

var percent = regexp.MustCompile(`^([0-9]+(?:[.,][0-9]+)?)(?: ?%? ?(?:-|–|to) ?([0-9]+(?:[.,][0-9]+)?))? ?%$`)

// parseLoss reads a loss, as one number or as a range.
func parseLoss(flag string, t text) (e estimate.Estimate[cloth.Loss], err error) {
	m := percent.FindStringSubmatch(string(t))
	if m == nil {
		return e, misused("%s: “%s” is no share; write it as in 12%% or 10-15%%", flag, t)
	}
	low, err := parseNumber(flag, text(m[1]))
	if err != nil {
		return e, err
	}
	high := low
	if m[2] != "" {
		if high, err = parseNumber(flag, text(m[2])); err != nil {
			return e, err
		}
	}
	switch {
	case max(low, high) > 100*float64(cloth.MostLoss):
		return e, misused("%s: a loss of %s leaves no cloth; measure a sample before and after, and give at most 90%%", flag, t)
	case high < low:
		return e, misused("%s: the range %s runs backwards; give the smaller one first", flag, t)
	case m[2] != "":
		return cloth.LossBetween(cloth.Loss(low/100), cloth.Loss(high/100)), nil
	}
	return cloth.GuessedLoss(cloth.Loss(low / 100)), nil
}
