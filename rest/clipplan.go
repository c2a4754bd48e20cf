package rest

import (
	"math"
	"slices"
	"time"

	"waketwist/estimate"
	"waketwist/unit"
)

// ClipAt is a place at which to clip a dry sample, and the part of the bobbin
// for which it speaks.
type ClipAt struct {
	Depth    float64     // share of the bobbin to draw off before: 0 outermost, 1 on the core
	DrawOff  unit.Length // the same as a length; 0 when the bobbin's length is not known
	From, To Share       // the part that it stands for, as depths
	Age      time.Duration
	Dormant  estimate.Estimate[Share] // to expect of it

	// Again is the time after which the share here has grown by the change asked
	// about, so that a new sample is due; nil when it never does.
	Again *time.Duration
}

// planSteps is the number of places looked at along a bobbin.
const planSteps = 400

// ClipPlan returns the fewest places for dry samples such that within the part
// for which one speaks the dormant share changes by no more than change (0.01 to
// 1). Neighbours then differ by no more than that either, save where the age
// itself jumps between two stretches of spinning. The share is the median of the
// draws; nil fibre takes PriorCurves. Never rewound, a bobbin has its youngest
// layer outside. It refuses with an *Error.
func ClipPlan(w Wound, fibre []Blend, room Room, change Share) ([]ClipAt, error) {
	if fibre == nil {
		fibre = Pure(PriorCurves(estimate.NewSampler(meetDraws, 1)))
	}
	w.rewinds = nil // they change turns, not ages
	if err := checkClipPlan(w, fibre, room, change); err != nil {
		return nil, err
	}
	c := clipper{thin(fibre), room}
	spots := newRun([]Wound{w}).spots([]Strand{{Wound: w}}, planSteps, 1)
	median := make([]Share, len(spots))
	for i, s := range spots {
		median[i] = c.dormant(s.ages[0], 0).Value
	}
	var out []ClipAt
	for from := 0; from < len(spots); {
		to, least, most := reachFrom(median, from, change)
		at := middleOf(median, from, to, (least+most)/2)
		clip := c.clip(spots[at].ages[0], change)
		clip.Depth, clip.From, clip.To = float64(spots[at].along), spots[from].along, spots[to-1].along
		clip.DrawOff = w.Length * unit.Length(spots[at].along)
		out = append(out, clip)
		from = to
	}
	return join(out), nil
}

func checkClipPlan(w Wound, fibre []Blend, room Room, change Share) error {
	if !(change >= 0.01 && change <= 1) {
		return refuse("Choose 0.05 to 0.2: a dry reading by eye cannot tell less apart.", "A change of %.4g in the dormant share is outside 0.01 to 1.", float64(change))
	}
	if err := room.Check(); err != nil {
		return err
	}
	return Strand{Wound: w, Fibre: fibre}.check("this bobbin")
}

// reachFrom goes on from a place as long as the share stays within change.
func reachFrom(share []Share, from int, change Share) (to int, least, most Share) {
	least, most = share[from], share[from]
	for to = from + 1; to < len(share); to++ {
		l, m := min(least, share[to]), max(most, share[to])
		if m-l > change {
			break
		}
		least, most = l, m
	}
	return to, least, most
}

// middleOf finds the place whose share is nearest to the middle.
func middleOf(share []Share, from, to int, middle Share) int {
	best := from
	for i := from; i < to; i++ {
		if math.Abs(float64(share[i]-middle)) < math.Abs(float64(share[best]-middle)) {
			best = i
		}
	}
	return best
}

// join closes the steps between the parts that neighbours speak for.
func join(clips []ClipAt) []ClipAt {
	for i := 1; i < len(clips); i++ {
		between := (clips[i-1].To + clips[i].From) / 2
		clips[i-1].To, clips[i].From = between, between
	}
	return clips
}

type clipper struct {
	fibre []Blend
	room  Room
}

func (c clipper) dormant(age, wait time.Duration) estimate.Estimate[Share] {
	out := make([]Share, len(c.fibre))
	for i, b := range c.fibre {
		out[i] = b.after(c.room, age, wait)
	}
	return modelled(out, estimate.Flags{estimate.Modelled})
}

// clip says what to expect of a sample of an age, and when it is out of date.
func (c clipper) clip(age time.Duration, change Share) ClipAt {
	out := ClipAt{Age: age, Dormant: c.dormant(age, 0)}
	grown := func(wait time.Duration) bool { return c.dormant(age, wait).Value-out.Dormant.Value >= change }
	i := slices.IndexFunc(waitSteps, grown)
	if i < 1 {
		return out
	}
	low, high := waitSteps[i-1], waitSteps[i]
	for high-low > time.Minute && high-low > low/50 {
		if mid := low + (high-low)/2; grown(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	out.Again = &high
	return out
}
