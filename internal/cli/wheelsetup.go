package cli

import (
	"strings"
	"time"

	"waketwist/unit"
	"waketwist/wheel"
)

// wheelSetup is the machine as the flags describe it, and what was done with it.
type wheelSetup struct {
	of       *ofMachine // nil where the flags describe it
	kind     wheel.Kind
	wheel    wheel.Treadled
	whorled  bool // a ratio was given or counted
	motor    *wheel.Motor
	filled   wheel.Filled
	rhythm   wheel.Rhythm   // 0 when not given
	beat     wheel.Seconds  // 0 when not given
	treadles wheel.Treadles // 0 when not given
}

func (c *wheelCmd) setup(a *app) (s wheelSetup, err error) {
	if err := c.checkMachine(); err != nil {
		return s, err
	}
	if c.Machine != "" {
		return c.setupOf(a)
	}
	for _, fill := range []func(*wheelSetup) error{c.fillKind, c.fillWhorl, c.fillSlip, c.fillBobbin, c.fillMotor, c.fillTimes} {
		if err := fill(&s); err != nil {
			return s, err
		}
	}
	s.wheel.Kind = s.kind
	return s, nil
}

// fillKind takes a machine for a motor where only a motor's figures are given.
func (c *wheelCmd) fillKind(s *wheelSetup) (err error) {
	ratio := c.Ratio != "" || len(c.Counted) > 0 || c.Whorls != ""
	speed := c.Rpm != "" || c.Beat != "" || len(c.Timed)+len(c.Filmed)+len(c.Untwisted) > 0
	switch {
	case c.Kind != "":
		if s.kind, err = wheel.ParseKind(string(c.Kind)); err != nil {
			return misused("--kind: %v", err)
		}
	case speed && !ratio:
		s.kind = wheel.MotorDriven
	default:
		s.kind = wheel.FlyerLed
	}
	return nil
}

func (c *wheelCmd) fillWhorl(s *wheelSetup) error {
	if c.Ratio != "" && len(c.Counted) > 0 {
		return misused("--ratio and --counted say the same thing; give what was counted")
	}
	s.whorled = c.Ratio != "" || len(c.Counted) > 0
	if c.Ratio != "" {
		v, err := parseNumber("--ratio", c.Ratio)
		s.wheel.Whorl.Stated = wheel.Ratio(v)
		return err
	}
	return eachTally("--counted", c.Counted, 2, func(n []float64) error {
		s.wheel.Whorl.Counts = append(s.wheel.Whorl.Counts, wheel.Count{Turns: wheel.Turns(n[0]), Treadles: wheel.Treadles(n[1])})
		return nil
	})
}

// whorls are those that the spinner owns, named as they were typed.
func (c *wheelCmd) whorls() (out []wheel.Whorl, err error) {
	for written := range strings.SplitSeq(string(c.Whorls), ",") {
		w := wheel.Whorl{Name: strings.TrimSpace(written)}
		if strings.Contains(w.Name, "/") {
			n, err := tallyOf("--whorls", w.Name, 2)
			if err != nil {
				return nil, err
			}
			w.Counts = []wheel.Count{{Turns: wheel.Turns(n[0]), Treadles: wheel.Treadles(n[1])}}
		} else {
			v, err := parseNumber("--whorls", text(w.Name))
			if err != nil {
				return nil, err
			}
			w.Stated, w.Name = wheel.Ratio(v), w.Name+":1"
		}
		out = append(out, w)
	}
	return out, nil
}

func (c *wheelCmd) fillSlip(s *wheelSetup) error {
	if c.Slip == "" {
		return nil
	}
	low, high, two := strings.Cut(string(c.Slip), "-")
	if !two {
		high = low
	}
	least, err := parseNumber("--slip", text(strings.TrimSpace(low)))
	if err != nil {
		return err
	}
	most, err := parseNumber("--slip", text(strings.TrimSpace(high)))
	if err != nil {
		return err
	}
	if !(least >= 0.1 && least <= most && most <= 1) {
		return misused("--slip: give the share of the turns that arrives, from 0.1 to 1, as in 0.9 or 0.61-1; 1 loses none")
	}
	s.wheel.Slip = wheel.Slip{Low: wheel.Grip(least), High: wheel.Grip(most)}
	return nil
}

func (c *wheelCmd) fillBobbin(s *wheelSetup) (err error) {
	if c.Core != "" {
		if s.wheel.Bobbin.Core, err = lengthFlag("--core", c.Core); err != nil {
			return err
		}
	}
	if c.Full != "" {
		if s.wheel.Bobbin.Full, err = lengthFlag("--full", c.Full); err != nil {
			return err
		}
	}
	percent, err := parseNumber("--filled", text(strings.TrimSuffix(string(c.Filled), "%")))
	if err != nil {
		return err
	}
	s.filled = wheel.Filled(percent / 100)
	return inRange("--filled", percent, 0, 100)
}

func (c *wheelCmd) fillMotor(s *wheelSetup) error {
	var m wheel.Motor
	if c.Rpm != "" {
		v, err := parseNumber("--rpm", c.Rpm)
		if err != nil {
			return err
		}
		m.Stated = wheel.Speed(v)
	}
	if err := c.timings(&m); err != nil {
		return err
	}
	if c.Rpm != "" && len(m.Timings) > 0 {
		return misused("--rpm and a measured speed say the same thing; give what was measured")
	}
	if c.Rpm != "" || len(m.Timings) > 0 {
		s.motor = &m
	}
	return nil
}

func (c *wheelCmd) timings(m *wheel.Motor) error {
	add := func(t wheel.Timing) { m.Timings = append(m.Timings, t) }
	err := eachTally("--timed", c.Timed, 2, func(n []float64) error {
		add(wheel.Counted(wheel.Turns(n[0]), seconds(n[1])))
		return nil
	})
	if err != nil {
		return err
	}
	err = eachTally("--untwisted", c.Untwisted, 2, func(n []float64) error {
		add(wheel.Untwisted(wheel.Turns(n[0]), seconds(n[1])))
		return nil
	})
	if err != nil {
		return err
	}
	return eachTally("--filmed", c.Filmed, 3, func(n []float64) error {
		t, err := wheel.Filmed(wheel.Turns(n[0]), int(n[1]), n[2])
		add(t)
		return err
	})
}

func (c *wheelCmd) fillTimes(s *wheelSetup) error {
	if c.Treadling != "" {
		v, err := parseNumber("--treadling", c.Treadling)
		if err != nil {
			return err
		}
		s.rhythm = wheel.Rhythm(v)
		if err := inRange("--treadling", v, 1, 400); err != nil {
			return err
		}
	}
	if c.Treadles != "" {
		v, err := parseNumber("--treadles", c.Treadles)
		if err != nil {
			return err
		}
		s.treadles = wheel.Treadles(v)
		if err := inRange("--treadles", v, 0.1, 1e6); err != nil {
			return err
		}
	}
	return c.fillBeat(s)
}

// fillBeat takes a bare number as seconds; beats may be shorter than the shortest
// rest that unit reads.
func (c *wheelCmd) fillBeat(s *wheelSetup) error {
	if c.Beat == "" {
		return nil
	}
	if v, err := parseNumber("--beat", text(strings.TrimSpace(strings.TrimSuffix(string(c.Beat), "s")))); err == nil {
		s.beat = wheel.Seconds(v)
		return inRange("--beat", v, 0.1, 1e6)
	}
	d, err := unit.ParseDuration(string(c.Beat))
	if err != nil {
		return misused("--beat: %v", err)
	}
	s.beat = wheel.Seconds(d.Seconds())
	return inRange("--beat", d.Seconds(), 0.1, 1e6)
}

// eachTally reads numbers parted by strokes, of which one flag may hold several
// parted by commas.
func eachTally(flag string, flags texts, parts int, use func([]float64) error) error {
	for _, written := range flags {
		for one := range strings.SplitSeq(written, ",") {
			n, err := tallyOf(flag, one, parts)
			if err != nil {
				return err
			}
			if err := use(n); err != nil {
				return err
			}
		}
	}
	return nil
}

func tallyOf(flag, written string, parts int) ([]float64, error) {
	fields := strings.Split(written, "/")
	if len(fields) != parts {
		example := "83/10"
		if parts == 3 {
			example = "10/171/240"
		}
		return nil, misused("%s: “%s” should be %d numbers with a stroke between, as in %s", flag, strings.TrimSpace(written), parts, example)
	}
	out := make([]float64, parts)
	for i, f := range fields {
		v, err := parseNumber(flag, text(strings.TrimSpace(f)))
		if err != nil {
			return nil, err
		}
		if err := inRange(flag, v, 0, 1e7); err != nil {
			return nil, err
		}
		out[i] = v
	}
	return out, nil
}

func seconds(v float64) time.Duration { return time.Duration(v * float64(time.Second)) }

func lengthFlag(flag string, t text) (unit.Length, error) {
	l, err := unit.ParseLength(string(t))
	if err != nil {
		return 0, misused("%s: %v", flag, err)
	}
	return l, nil
}

func twistFlag(flag string, t text) (unit.Twist, error) {
	u, err := unit.ParseTwist(string(t))
	if err != nil {
		return 0, misused("%s: %v", flag, err)
	}
	return u, nil
}
