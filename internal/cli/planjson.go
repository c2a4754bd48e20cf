package cli

import "waketwist/plan"

// planOut is a plan as JSON. Parts that were not asked are null.
type planOut struct {
	Lines     []planLine     `json:"lines"`
	FibreWide []planShare    `json:"fibre_width"`
	YarnWide  []planShare    `json:"yarn_width"`
	Assumed   []string       `json:"assumed"`
	Conflicts []planConflict `json:"conflicts"`
	Enough    *float64       `json:"enough_probability"`
	Shopping  []string       `json:"shopping"`
	ToDo      []string       `json:"to_do"`
	Leftovers *planLeft      `json:"leftovers"`
}

type planLine struct {
	Part string `json:"part"`
	Key  string `json:"key"` // with its unit
	interval
	Text string `json:"text"`
	Why  string `json:"why"`
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

type planLeft struct {
	Used float64   `json:"used_g"`
	Left []float64 `json:"left_g"`
	Even float64   `json:"even_g"`
}

func planJSON(r *plan.Result, left *plan.Leftover) (out planOut) {
	if left != nil {
		out.Leftovers = &planLeft{Used: round(left.Used.Grams(), 2), Even: round(left.Even.Grams(), 2)}
		for _, m := range left.Left {
			out.Leftovers.Left = append(out.Leftovers.Left, round(m.Grams(), 2))
		}
	}
	if r == nil {
		return out
	}
	for _, l := range r.Lines() {
		figures := interval{round(l.Value, 4), round(l.Low, 4), round(l.High, 4)}
		out.Lines = append(out.Lines, planLine{string(l.Part), l.Key, figures, l.Text, l.Why})
	}
	out.Assumed, out.Conflicts = append([]string{}, r.Assumed()...), []planConflict{}
	for _, c := range r.Conflicts {
		out.Conflicts = append(out.Conflicts, planConflict(c))
	}
	if r.Made != nil {
		enough := round(r.Made.Enough, 3)
		out.Enough = &enough
	}
	out.FibreWide, out.YarnWide = shares(r.FibreBlame), shares(r.YarnBlame)
	out.Shopping, out.ToDo = r.Shopping(), r.ToDo()
	return out
}

func shares(blame []plan.Assumption) []planShare {
	out := []planShare{}
	for _, a := range blame {
		out = append(out, planShare{a.Name, round(a.Share, 3), a.Narrow})
	}
	return out
}
