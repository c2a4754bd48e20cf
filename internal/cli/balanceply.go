package cli

import (
	"fmt"
	"regexp"
	"strings"

	"waketwist/unit"
	"waketwist/yarn"
)

// laid is a ply of given strands: what was asked, and what came of it.
type laid struct {
	spun      []spun
	k         float64
	direction yarn.Direction // of the ply
	feed      yarn.Feed
	turns     *yarn.PlyTwist // put in; nil where the ply comes to rest
	core      unit.Length    // 0 for none
	bears     bool           // the strands lie on the core and not round it

	ply   yarn.Ply
	fed   []yarn.FedStrand
	rest  *yarn.Ply // where a ply of given turns would come to rest, if it would
	plies int       // in a cable; 0 for none
	cable yarn.Ply
}

// runStrands prints the ply of given strands.
func (c *balanceCmd) runStrands(a *app) error {
	l, err := c.asked()
	if err != nil {
		return err
	}
	if err := l.solve(); err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(a.Stdout, l.asJSON())
	}
	_, err = fmt.Fprint(a.Stdout, l.prose())
	return err
}

// asked reads what is asked.
func (c *balanceCmd) asked() (*laid, error) {
	l := &laid{feed: yarn.Feed{Slips: c.Slip}, plies: int(c.Cable)}
	var err error
	if l.k, err = c.stiffness(); err != nil {
		return nil, err
	}
	if l.spun, err = c.spun(); err != nil {
		return nil, err
	}
	l.direction = plyDirection(l.spun)
	if err := c.readTurns(l); err != nil {
		return nil, err
	}
	if l.feed.Lengths, err = c.lengths(); err != nil {
		return nil, err
	}
	if c.Cable != 0 {
		if err := inRange("--cable", float64(c.Cable), 2, yarn.MaxStrands); err != nil {
			return nil, err
		}
	}
	return l, c.readCore(l)
}

// spun reads the strands: one stands for --plies of them.
func (c *balanceCmd) spun() (out []spun, err error) {
	for _, typed := range c.Strand {
		s, err := parseSpun(typed)
		if err != nil {
			return nil, misused("--strand: %v", err)
		}
		out = append(out, s)
	}
	if len(out) > 1 {
		if c.Plies != 2 && int(c.Plies) != len(out) {
			return nil, misused("--plies: %d strands are given and %d plies; leave --plies out", len(out), c.Plies)
		}
		return out, inRange("--strand", float64(len(out)), 2, yarn.MaxStrands)
	}
	for len(out) < int(c.Plies) {
		out = append(out, out[0])
	}
	return out, inRange("--plies", float64(c.Plies), 2, yarn.MaxStrands)
}

var turnsForm = regexp.MustCompile(`^(.*?)(?:\s+([SsZz]))?$`)

// readTurns reads the turns put in, and the direction of the ply where it is
// named.
func (c *balanceCmd) readTurns(l *laid) error {
	if c.Turns == "" {
		return nil
	}
	parts := turnsForm.FindStringSubmatch(string(c.Turns))
	u, err := unit.ParseTwist(parts[1])
	if err != nil {
		return misused("--turns: %v", err)
	}
	turns := yarn.PlyTwist(u)
	l.turns = &turns
	if parts[2] != "" {
		l.direction, err = yarn.ParseDirection(parts[2])
	}
	return err
}

func (c *balanceCmd) lengths() (out []unit.Length, err error) {
	if c.Fed == "" {
		return nil, nil
	}
	fed, err := parseNumbers("--fed", c.Fed)
	for _, v := range fed {
		out = append(out, unit.Length(v))
	}
	return out, err
}

// readCore reads the core, and refuses what is not known of plies round one.
func (c *balanceCmd) readCore(l *laid) (err error) {
	switch {
	case c.Core == "":
		return nil
	case l.turns == nil:
		return misused("--core: where strands come to rest round a core is not covered; say how many turns to put in, as in --turns “200 tpm”")
	case c.Slip || c.Fed != "" || c.Cable != 0:
		return misused("--core: round a core only strands of equal length are covered, and no cable; leave --slip, --fed and --cable out")
	}
	if l.core, err = parseThickness(string(c.Core)); err != nil {
		return misused("--core: %v", err)
	}
	return nil
}

// solve finds the ply and what becomes of its strands.
func (l *laid) solve() (err error) {
	strands := strandsOf(l.spun, yarn.Stiffness(l.k), l.direction)
	switch {
	case l.core > 0:
		l.ply, l.bears, err = yarn.OnCore(strands, l.core, *l.turns)
	case l.turns != nil:
		l.ply, err = yarn.Forced(strands, l.feed, *l.turns)
		if rest, err := yarn.BalanceOf(strands, l.feed); err == nil {
			l.rest = &rest
		}
	default:
		l.ply, err = yarn.BalanceOf(strands, l.feed)
	}
	if err != nil {
		return err
	}
	turns := make([]yarn.StrandTwist, len(l.spun))
	for i, s := range l.spun {
		turns[i] = s.twist(l.direction)
	}
	if l.fed, err = l.ply.Fed(turns); err != nil || l.plies == 0 {
		return err
	}
	plies := make([]yarn.Ply, l.plies)
	for i := range plies {
		plies[i] = l.ply
	}
	l.cable, err = yarn.Cabled(plies, yarn.Feed{})
	return err
}

// left is the twist left in strand i, in the direction in which it was spun.
func (l *laid) left(i int) unit.Twist {
	return unit.Twist(float64(l.fed[i].Left) * l.spun[i].sign(l.direction))
}

// pull is the torque left in the ply as a share of that with which its
// liveliest strand untwists by itself: above zero further with the ply. ok is
// false where none of them would.
func (l *laid) pull() (share float64, ok bool) {
	most := liveliest(l.ply)
	if most == 0 || l.core > 0 {
		return 0, false
	}
	share = float64(l.ply.Torque / most)
	if share > -atRest && share < atRest {
		share = 0
	}
	return share, true
}

// atRest is a share of a strand's torque that only rounding leaves.
const atRest = 1e-6

// comesLoose is the state of a ply with a strand in loops.
const comesLoose = "comes loose"

// stateOfPly says in a word or two how a ply holds together.
func stateOfPly(p yarn.Ply) string {
	for _, s := range p.Strands {
		if s.Loose {
			return comesLoose
		}
	}
	return p.State.String()
}

// parseNumbers reads numbers between commas, or, where their decimal mark is a
// comma, between semicolons.
func parseNumbers(flag string, typed text) (out []float64, err error) {
	between := ","
	if strings.Contains(string(typed), ";") {
		between = ";"
	}
	for part := range strings.SplitSeq(string(typed), between) {
		v, err := parseNumber(flag, text(strings.TrimSpace(part)))
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, nil
}
