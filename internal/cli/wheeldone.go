package cli

import (
	"fmt"
	"strings"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/internal/job"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/wheel"
	"waketwist/yarn"
)

// done is what twist went into a length.
type done struct {
	length unit.Length
	setup  wheelSetup
	put    wheel.Put
}

func (d done) flags() estimate.Flags { return d.put.Twist.Flags }

func (d done) said() []string {
	p := d.put
	var words string
	if d.flags().Has(wheel.SlipUnknown) {
		words = fmt.Sprintf("%s went into %s if nothing slipped. %s %s.",
			job.TwistWords(p.Gripped.Value), d.length, slipWords(), twistSpread(p.Twist))
	} else {
		words = fmt.Sprintf("%s turns went into %s: %s.", job.Three(float64(p.Turns.Value)), d.length, twistSpread(p.Twist))
	}
	out := []string{words}
	if p.Wraps.Value > 0 {
		out = append(out, fmt.Sprintf("The bobbin wound on %s times, and each wrap took a turn away. The flyer of a flyer-led wheel of this ratio would have put in %s.",
			job.Three(float64(p.Wraps.Value)), job.TwistWords(p.Gripped.Value+unit.Twist(float64(p.Wraps.Value)/d.length.Metres()))))
	}
	out = append(out, kindNotes(d.setup.kind)...)
	return append(out, wheelNotes(d.flags())...)
}

// gripSeen is what the band passes on.
type gripSeen struct {
	grip  estimate.Estimate[wheel.Grip]
	speed estimate.Estimate[wheel.Speed]
}

func slipSeen(s wheelSetup) (wheelAnswer, error) {
	if s.kind == wheel.Spindle || s.kind == wheel.MotorDriven {
		return nil, misused("a %s has no band to slip against a ratio", s.kind)
	}
	speed, err := s.motor.Speed()
	if err != nil {
		return nil, err
	}
	grip, err := wheel.SlipFrom(s.wheel.Whorl, s.rhythm, *s.motor)
	return gripSeen{grip, speed}, err
}

func (g gripSeen) flags() estimate.Flags {
	fs := g.grip.Flags
	if g.speed.Flags.Has(wheel.FastFlyer) {
		fs = fs.With(wheel.FastFlyer)
	}
	return fs
}

func (g gripSeen) said() []string {
	low, high := min(g.grip.Low, 1), min(g.grip.High, 1)
	words := fmt.Sprintf("%.1f %% of the turns are lost to slip, %.1f to %.1f %% nine times in ten. Give it as --slip %.2f-%.2f.",
		100*(1-min(float64(g.grip.Value), 1)), 100*float64(1-high), 100*float64(1-low), float64(low), float64(high))
	return append([]string{words}, wheelNotes(g.flags())...)
}

// counted is a ratio or a speed by itself.
type counted struct {
	words string
	ratio *estimate.Estimate[wheel.Ratio]
	speed *estimate.Estimate[wheel.Speed]
}

func ratioSeen(s wheelSetup) (wheelAnswer, error) {
	e, err := s.wheel.Whorl.Ratio()
	stroke := "treadle"
	if s.kind == wheel.Spindle {
		stroke = "flick"
	}
	return counted{words: job.SpreadWords(e, "turns a "+stroke) + ".", ratio: &e}, err
}

func speedSeen(s wheelSetup) (wheelAnswer, error) {
	e, err := s.motor.Speed()
	return counted{words: fmt.Sprintf("The flyer makes %s.", job.SpreadWords(e, turnsAMinute)), speed: &e}, err
}

func speedDriven(s wheelSetup) (wheelAnswer, error) {
	e, err := s.wheel.Speed(s.rhythm)
	return counted{words: fmt.Sprintf("%s makes %s.", drivenWords(s.kind, false), job.SpreadWords(e, turnsAMinute)), speed: &e}, err
}

func (c counted) flags() estimate.Flags {
	if c.ratio != nil {
		return c.ratio.Flags
	}
	return c.speed.Flags
}

func (c counted) said() []string { return append([]string{c.words}, wheelNotes(c.flags())...) }

// overEnd is what drawing off over the end does.
type overEnd struct {
	diameter unit.Length
	twist    estimate.Estimate[yarn.StrandTwist]
}

func (c *wheelCmd) overEnd() (wheelAnswer, error) {
	d, err := lengthFlag("--over-end", c.OverEnd)
	if err != nil {
		return nil, err
	}
	e, err := wheel.OverEnd(d)
	return overEnd{d, e}, err
}

func (o overEnd) flags() estimate.Flags { return o.twist.Flags }

func (o overEnd) said() []string {
	return []string{fmt.Sprintf("Drawn off over the end of a package %s across that stands still, yarn gains or loses a turn each wrap: %s. Seen from the end over which it runs off, clockwise adds Z and anticlockwise S. Drawn off sideways, the package turning, it keeps its twist.",
		o.diameter, twistSpread(asTwist(o.twist)))}
}

// plies is what a ply-back and its singles ask of each other, by the rule of thumb
// and by the balance.
type plies struct {
	asked   string
	fromPly bool
	thumb   estimate.Estimate[unit.Twist]
	balance estimate.Estimate[unit.Twist]
	open    string // what leaves the balance wide
}

func (c *wheelCmd) plies() (wheelAnswer, error) {
	d, err := c.thickness()
	if err != nil {
		return nil, err
	}
	known, err := c.known()
	if err != nil {
		return nil, err
	}
	p := plies{fromPly: c.PlyBack != "", open: c.open()}
	if p.fromPly {
		u, err := twistFlag("--ply-back", c.PlyBack)
		if err != nil {
			return nil, err
		}
		p.asked, p.thumb = job.TwistWords(u), asTwist(wheel.SinglesByThumb(yarn.PlyTwist(u)))
		e, err := wheel.SinglesByBalance(yarn.PlyTwist(u), d, known)
		p.balance = asTwist(e)
		return p, err
	}
	u, err := twistFlag("--singles", c.Singles)
	if err != nil {
		return nil, err
	}
	p.asked, p.thumb = job.TwistWords(u), asTwist(wheel.PlyByThumb(yarn.StrandTwist(u)))
	e, err := wheel.PlyByBalance(yarn.StrandTwist(u), d, known)
	p.balance = asTwist(e)
	return p, err
}

// known is what is taken of the wool: a prior, and k where it is given.
func (c *wheelCmd) known() (rest.Knowledge, error) {
	known := rest.Prior(finish.Unknown)
	if c.K == "" {
		return known, nil
	}
	k, err := parseNumber("--k", c.K)
	if err != nil {
		return known, err
	}
	known.Stiffness = rest.Spread{Median: k}
	return known, inRange("--k", k, 0.01, 20)
}

func (c *wheelCmd) open() string {
	var out []string
	if c.K == "" {
		out = append(out, "k, how stiffly the wool bends (--k)")
	}
	if c.Wpi == "" {
		out = append(out, "how thick the singles are (--wpi)")
	}
	if len(out) == 0 {
		return ""
	}
	return " Not known, and so taken wide: " + strings.Join(out, " and ") + "."
}

func (c *wheelCmd) thickness() (*wheel.Thickness, error) {
	if c.Wpi == "" {
		return nil, nil
	}
	written := string(c.Wpi)
	if bareNumber.MatchString(written) {
		written += " wpi"
	}
	wraps, err := unit.ParseWraps(written)
	if err != nil {
		return nil, misused("--wpi: %v", err)
	}
	return &wheel.Thickness{Diameter: wraps.Pitch(), CV: job.WrapsCV}, nil
}

func (p plies) flags() estimate.Flags { return p.balance.Flags }

func (p plies) said() []string {
	from, to, factor := "Singles of", "a balanced two-ply", "two thirds of the singles' turns"
	if p.fromPly {
		from, to, factor = "A two-strand ply-back of", "its singles", "half as many again as the ply-back's"
	}
	return []string{
		fmt.Sprintf("%s %s. By the balance of bending and twisting, %s: %s. Modelled.%s", from, p.asked, to, twistSpread(p.balance), p.open),
		fmt.Sprintf("By the rule of thumb, %s (common practice): %s. It is a rule of thumb and no law: soft wool takes more ply for its singles, hard wool less.", factor, job.TwistWords(p.thumb.Value)),
	}
}

func asTwist[T ~float64](e estimate.Estimate[T]) estimate.Estimate[unit.Twist] {
	return estimate.Estimate[unit.Twist]{
		Value: unit.Twist(e.Value), SD: unit.Twist(e.SD), Low: unit.Twist(e.Low), High: unit.Twist(e.High),
		N: e.N, State: e.State, Load: e.Load, Flags: e.Flags,
	}
}
