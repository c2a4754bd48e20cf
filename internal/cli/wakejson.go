package cli

import (
	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// wokenJSON is an answer as JSON. The keys down to flags are always there, null
// where nothing is known; the others are left out where they do not apply.
type wokenJSON struct {
	Target    *interval       `json:"target_angle_deg"` // a re-wet piece of the ply, on target_line
	Line      string          `json:"target_line"`
	Washed    *interval       `json:"washed_angle_deg"` // washed and dried, on target_line
	Turns     *interval       `json:"target_ply_tpm"`
	WheelLook *interval       `json:"wheel_look_deg"` // on target_line
	Dormant   *interval       `json:"dormant_share"`
	TurnShare *float64        `json:"turns_share_if_plied_to_dry_look"` // per length of ply
	Direction *string         `json:"direction"`                        // in which to ply
	Basis     string          `json:"basis"`
	Flags     []estimate.Flag `json:"flags"`

	Stiffness *interval     `json:"stiffness_k"`
	Next      *nextJSON     `json:"next_clip,omitempty"`
	Retwist   *retwistJSON  `json:"retwist,omitempty"`
	Photos    []sampledJSON `json:"photos,omitempty"`
}

type nextJSON struct {
	From  string  `json:"from"`
	Depth float64 `json:"depth"` // 0 outermost, 1 on the core
	Now   float64 `json:"interval_now_deg"`
	Then  float64 `json:"interval_then_deg"`
}

type retwistJSON struct {
	Wanted float64   `json:"wanted_angle_deg"` // re-wet, on target_line
	Share  *interval `json:"share"`            // of the singles' living turns, to add
	Turns  *interval `json:"singles_tpm,omitempty"`
}

type sampledJSON struct {
	State string `json:"state"`
	seen
}

func (w woken) asJSON() wokenJSON {
	out := wokenJSON{
		Target:    intervalOf(w.Target, unit.Degree, 2),
		Line:      w.Line.String(),
		Washed:    intervalOf(w.Washed, unit.Degree, 2),
		WheelLook: intervalOf(w.WheelLook, unit.Degree, 2),
		Basis:     basis(w.Target),
		Flags:     append([]estimate.Flag{}, w.Flags...),
		Stiffness: intervalOf(w.Stiffness, 1, 4),
		Retwist:   w.retwistJSON(),
	}
	if w.Turns != nil {
		out.Turns = intervalOf(*w.Turns, yarn.PlyTwist(unit.TurnPerMetre), 1)
	}
	if w.Dormant != nil {
		out.Dormant = intervalOf(*w.Dormant, 1, 4)
		out.TurnShare = ptr(round(float64(w.TurnShare.Value), 4))
	}
	if w.Direction != yarn.NoDirection {
		out.Direction = ptr(w.Direction.String())
	}
	if n := w.Next; n != nil {
		out.Next = &nextJSON{journal.DepthWords(n.Depth), round(n.Depth, 3), degrees(n.Now), degrees(n.Then)}
	}
	for _, s := range w.photos {
		out.Photos = append(out.Photos, sampledJSON{stateOf(s.state), seenIn(s.look)})
	}
	return out
}

func (w woken) retwistJSON() *retwistJSON {
	if w.wanted == nil {
		return nil
	}
	out := &retwistJSON{Wanted: degrees(*w.wanted), Share: intervalOf(w.retwist.Share, rest.Share(1), 4)}
	if w.retwist.Turns != nil {
		out.Turns = intervalOf(*w.retwist.Turns, yarn.StrandTwist(unit.TurnPerMetre), 1)
	}
	return out
}

// basis says whether a modelled step had a part in an estimate.
func basis[T ~float64](e estimate.Estimate[T]) string {
	if e.Measured() {
		return "measured"
	}
	return "modelled"
}
