package cli

import (
	"waketwist/internal/job"
	"waketwist/plan"
)

// planOut is a plan as JSON. Parts that were not asked are null or empty.
type planOut struct {
	Lines     []planLine     `json:"lines"`
	Width     []planWidth    `json:"width"`
	Assumed   []string       `json:"assumed"`
	Learnt    []string       `json:"learnt"`
	Conflicts []planConflict `json:"conflicts"`
	InHand    []planStock    `json:"in_hand"`
	Makes     []planLine     `json:"in_hand_makes"`
	Stash     []planStash    `json:"stash"`
	Midway    *planOutlook   `json:"midway"`
	Shopping  []string       `json:"shopping"`
	ToDo      []string       `json:"to_do"`
	Notes     []string       `json:"notes"`
}

type planLine struct {
	Part   string `json:"part"`
	Key    string `json:"key"` // with its unit
	Source string `json:"source"`
	State  string `json:"state"`
	interval
	Text string `json:"text"`
	Why  string `json:"why"`
}

type planWidth struct {
	Total string      `json:"total"`
	Of    []planShare `json:"assumptions"`
}

type planShare struct {
	Name   string  `json:"assumption"`
	Share  float64 `json:"share"`
	Narrow string  `json:"narrow"`
}

type planConflict struct {
	Problem string `json:"problem"`
	Drop    string `json:"drop"`
}

type planStock struct {
	Name   string  `json:"name"`
	Have   string  `json:"have"`
	Enough float64 `json:"enough_probability"`
	Binds  float64 `json:"runs_out_first_probability"`
}

type planStash struct {
	Name   string  `json:"name"`
	What   string  `json:"what"`
	Have   float64 `json:"have_g"`
	Enough float64 `json:"enough_probability"`
}

type planOutlook struct {
	Enough float64  `json:"enough_probability"`
	Needed interval `json:"needed_g"`
	Have   float64  `json:"left_g"`
	More   float64  `json:"more_g"`
}

func planJSON(r *plan.Result, o *plan.Outlook, stash []job.Against) planOut {
	out := planOut{
		Lines: linesJSON(r.Lines()), Width: []planWidth{}, Assumed: list(r.Assumed()), Learnt: list(r.Taught()),
		Conflicts: []planConflict{}, InHand: []planStock{}, Makes: []planLine{}, Stash: []planStash{},
		Shopping: list(r.Shopping()), ToDo: list(r.ToDo()), Notes: list(r.Notes),
	}
	for _, c := range r.Conflicts {
		out.Conflicts = append(out.Conflicts, planConflict(c))
	}
	for _, s := range r.Stocks {
		out.InHand = append(out.InHand, planStock{s.Name, s.Have, round(s.Enough, 3), round(s.Binds, 3)})
	}
	for _, b := range r.Width {
		out.Width = append(out.Width, planWidth{b.Total, shares(b.Of)})
	}
	for _, one := range stash {
		out.Stash = append(out.Stash, planStash{one.Name, one.What, round(one.Have.Grams(), 2), round(one.Enough, 3)})
	}
	if r.Made != nil {
		out.Makes = linesJSON(r.MadeLines())
	}
	if o != nil {
		n := o.Needed
		out.Midway = &planOutlook{round(o.Enough, 3), interval{round(n.Value.Grams(), 2), round(n.Low.Grams(), 2), round(n.High.Grams(), 2)}, round(o.Have.Grams(), 2), round(o.More.Grams(), 2)}
	}
	return out
}

// list is never null.
func list(items []string) []string { return append([]string{}, items...) }

func linesJSON(lines []plan.Line) []planLine {
	out := []planLine{}
	for _, l := range lines {
		figures := interval{round(l.Value, 4), round(l.Low, 4), round(l.High, 4)}
		out = append(out, planLine{string(l.Part), l.Key, l.Source.String(), l.State, figures, l.Text, l.Why})
	}
	return out
}

func shares(blame []plan.Assumption) []planShare {
	out := []planShare{}
	for _, a := range blame {
		out = append(out, planShare{a.Name, round(a.Share, 3), a.Narrow})
	}
	return out
}
