package cli

import (
	"waketwist/unit"
	"waketwist/yarn"
)

// laidJSON is a ply of given strands as JSON. Round a core, state and torque are
// not known and left out.
type laidJSON struct {
	State     string       `json:"state,omitempty"` // plied, unplied, locked or comes loose
	Direction *string      `json:"direction"`       // of the ply, null where it is not known
	Turns     float64      `json:"ply_turns_per_m"`
	TurnsInch float64      `json:"ply_turns_per_in"`
	Envelope  float64      `json:"envelope_mm"`
	Turning   string       `json:"turning,omitempty"`                    // none, with the ply or against the ply
	Torque    *float64     `json:"torque_of_liveliest_strand,omitempty"` // signed as turning says, above zero with the ply
	RestsAt   *float64     `json:"rests_at_turns_per_m,omitempty"`       // a ply of given turns, let go
	OnCore    *coreJSON    `json:"core,omitempty"`
	Strands   []strandJSON `json:"strands"`
	Cable     *cableJSON   `json:"cable,omitempty"`
}

type strandJSON struct {
	Diameter float64 `json:"diameter_mm"`
	Angle    float64 `json:"angle_deg"` // of its centre line
	Radius   float64 `json:"helix_radius_mm"`
	Share    float64 `json:"length_share"` // metres of it in a metre of ply
	TakeUp   float64 `json:"ply_per_length_fed"`
	Spun     float64 `json:"spun_turns_per_m"`
	Left     float64 `json:"left_turns_per_m"` // below zero past its own zero
	Loose    bool    `json:"loose"`
}

type coreJSON struct {
	Diameter float64 `json:"diameter_mm"`
	Bears    bool    `json:"bears"` // false where it lies in the hollow of the strands
}

type cableJSON struct {
	State     string  `json:"state"`
	Plies     int     `json:"plies"`
	Turns     float64 `json:"turns_per_m"`
	TurnsInch float64 `json:"turns_per_in"`
	Angle     float64 `json:"angle_deg"` // of the plies' centre lines
	Share     float64 `json:"length_share"`
	Envelope  float64 `json:"envelope_mm"`
	PliesKeep float64 `json:"ply_turns_left_per_m"`
}

func (l *laid) asJSON() laidJSON {
	out := laidJSON{
		Turns: round(float64(l.ply.Turns), 3), TurnsInch: round(unit.Twist(l.ply.Turns).PerInch(), 4),
		Envelope: round(l.ply.Envelope.Millimetres(), 4),
	}
	if l.direction != yarn.NoDirection {
		out.Direction = ptr(l.direction.String())
	}
	for i, s := range l.ply.Strands {
		out.Strands = append(out.Strands, strandJSON{
			round(s.Diameter.Millimetres(), 4), round(s.Angle.Degrees(), 4), round(s.HelixRadius.Millimetres(), 4),
			round(float64(s.Share), 6), round(l.fed[i].TakeUp, 6),
			round(float64(l.spun[i].angle.Twist(s.Diameter)), 3), round(l.left(i).PerMetre(), 3), s.Loose,
		})
	}
	if l.core > 0 {
		out.OnCore = &coreJSON{round(l.core.Millimetres(), 4), l.bears}
		return out
	}
	out.State = stateOfPly(l.ply)
	if share, ok := l.pull(); ok {
		out.Torque = ptr(round(share, 4))
		out.Turning = map[bool]string{true: "with the ply", false: "against the ply"}[share > 0]
		if share == 0 {
			out.Turning = "none"
		}
	}
	if l.rest != nil {
		out.RestsAt = ptr(round(float64(l.rest.Turns), 3))
	}
	if l.plies > 0 {
		out.Cable = l.cableJSON()
	}
	return out
}

func (l *laid) cableJSON() *cableJSON {
	one := l.cable.Strands[0]
	return &cableJSON{
		stateOfPly(l.cable), l.plies, round(float64(l.cable.Turns), 3), round(unit.Twist(l.cable.Turns).PerInch(), 4),
		round(one.Angle.Degrees(), 4), round(float64(one.Share), 6), round(l.cable.Envelope.Millimetres(), 4),
		round(l.pliesKeep().PerMetre(), 3),
	}
}
