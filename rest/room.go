package rest

import (
	"time"
)

// Spell is a time that yarn lay in air of one humidity.
type Spell struct {
	Lasting  time.Duration
	Humidity Humidity
}

// Room is the air in which yarn rested: spells in the order lived through, the
// last of them ending now. Before the first, its humidity is taken to have
// held; after the last, that of the last goes on. An empty Room has the
// StandardHumidity throughout.
type Room []Spell

// Steady returns a room that always had the same humidity.
func Steady(rh Humidity) Room { return Room{{Humidity: rh}} }

// Check refuses with an *Error spells of no possible humidity or length.
func (r Room) Check() error {
	for _, s := range r {
		if err := s.Humidity.Check(); err != nil {
			return err
		}
		if s.Lasting < 0 {
			return refuse("Give the spells of humidity in the order in which they came.", "A spell of %.0f %% humidity ends before it begins.", float64(s.Humidity))
		}
	}
	return nil
}

// now is the humidity that goes on.
func (r Room) now() Humidity {
	if len(r) == 0 {
		return StandardHumidity
	}
	return r[len(r)-1].Humidity
}

// reduced is the resting time in units of T of yarn of an age, each spell
// counted by its own T.
func (c Curve) reduced(room Room, age time.Duration) float64 {
	if len(room) == 0 {
		return age.Hours() / c.hours(StandardHumidity)
	}
	var sum float64
	for i := len(room) - 1; i >= 0 && age > 0; i-- {
		spell := min(age, room[i].Lasting)
		if i == 0 {
			spell = age
		}
		sum += spell.Hours() / c.hours(room[i].Humidity)
		age -= spell
	}
	return sum
}

// DormantIn returns the dormant share now of singles of an age that rested in a
// room of changing humidity.
func (c Curve) DormantIn(room Room, age time.Duration) Share { return c.at(c.reduced(room, age)) }

// EquivalentAge returns how long singles of an age would have had to rest at a
// steady humidity to be as dormant as the room has made them. Times beyond the
// 292 years that a Duration holds are given as that.
func (c Curve) EquivalentAge(room Room, age time.Duration, at Humidity) time.Duration {
	d, _ := fromHours(c.reduced(room, age) * c.hours(at))
	return d
}

// Component is one fibre of a blend.
type Component struct {
	Curve Curve
	Share Share // of the mass; only the ratios between components count
}

// Blend is singles spun of one or several fibres that rest each by its own
// curve: the dormant shares are averaged by mass.
type Blend []Component

// Pure returns blends of one fibre each, one for every curve.
func Pure(curves []Curve) []Blend {
	out := make([]Blend, len(curves))
	for i, c := range curves {
		out[i] = Blend{{c, 1}}
	}
	return out
}

// Fibre is one part of a blend as draws: equally likely curves, in the same
// order for every part.
type Fibre struct {
	Curves []Curve
	Share  Share // of the mass
}

// Mix returns a blend for every draw. It refuses with an *Error parts of
// unequal numbers of draws, and shares that are not positive.
func Mix(parts ...Fibre) ([]Blend, error) {
	if len(parts) == 0 {
		return nil, refuse("Name at least one fibre.", "There is nothing in this blend.")
	}
	out := make([]Blend, len(parts[0].Curves))
	for _, p := range parts {
		if len(p.Curves) != len(out) {
			return nil, refuse("Draw the curves of all fibres of a blend together.", "One fibre of the blend has %d curves and another %d.", len(out), len(p.Curves))
		}
		for i, c := range p.Curves {
			out[i] = append(out[i], Component{c, p.Share})
		}
	}
	return out, checkFibre(out)
}

// checkFibre refuses draws that are empty or hold what cannot be computed with.
func checkFibre(draws []Blend) error {
	if len(draws) == 0 {
		return refuse("Take the curves from PriorCurves, or fit them to readings.", "There is no set curve to go by.")
	}
	for _, b := range draws {
		if err := b.check(); err != nil {
			return err
		}
	}
	return nil
}

func (b Blend) check() error {
	if len(b) == 0 {
		return refuse("Name at least one fibre.", "There is nothing in this blend.")
	}
	for _, part := range b {
		if !(part.Share > 1e-6 && part.Share <= 1e6) {
			return refuse("Give each fibre's share of the mass, and leave out what is not in the blend.", "A share of %.4g of a blend makes no sense.", float64(part.Share))
		}
		if err := part.Curve.Check(); err != nil {
			return err
		}
	}
	return nil
}

// DormantIn returns the dormant share now of singles of an age.
func (b Blend) DormantIn(room Room, age time.Duration) Share { return b.after(room, age, 0) }

// Dormant returns the dormant share at a steady humidity.
func (b Blend) Dormant(age time.Duration, rh Humidity) Share {
	return b.after(Room{{Humidity: rh}}, age, 0)
}

// after is the dormant share of singles that are of an age now, when they will
// have waited on in the air that the room has now.
func (b Blend) after(room Room, age, wait time.Duration) Share {
	var sum, mass Share
	for _, part := range b {
		x := part.Curve.reduced(room, age) + wait.Hours()/part.Curve.hours(room.now())
		sum += part.Share * part.Curve.at(x)
		mass += part.Share
	}
	return sum / mass
}
