package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"waketwist/finish"
	"waketwist/internal/journal"
	"waketwist/plan"
	"waketwist/unit"
	"waketwist/yarn"
)

// PlanOf begins a plan in the middle, from a project's own bobbins: their ply, its
// target, how thick the singles are, what the bobbins hold, and where the fibre
// has been weighed during the spinning, what is left of it.
func PlanOf(p journal.Project, lots []journal.Lot) plan.Text {
	out := plan.Text{"yarn.plies": strconv.Itoa(p.Plan.Strands)}
	lot := lotOf(p, lots)
	if lot != nil && lot.Preparation != finish.Unknown {
		out["yarn.preparation"] = lot.Preparation.String()
	}
	if turns := singlesDirection(p); turns != yarn.NoDirection {
		out["yarn.direction"] = turns.Opposite().String()
	}
	if t := p.Target(); t != nil {
		low, high := CentreOf(t.Angle.Low, t.Line, t.Plan.Strands), CentreOf(t.Angle.High, t.Line, t.Plan.Strands)
		out["yarn.angle"] = fmt.Sprintf("%.1f to %.1f deg", low.Degrees(), high.Degrees())
	}
	if low, high, ok := thicknessOf(p); ok {
		out["singles.diameter"] = fmt.Sprintf("%.3f to %.3f mm", low.Millimetres(), high.Millimetres())
	}
	addScale(out, p, lot)
	return out
}

// lotOf is the one lot of which the project is spun, nil for none or several.
func lotOf(p journal.Project, lots []journal.Lot) *journal.Lot {
	var ids []journal.ID
	for _, b := range p.Bobbins {
		if b.Lot != nil && !slices.Contains(ids, b.Lot.ID) {
			ids = append(ids, b.Lot.ID)
		}
	}
	if len(ids) != 1 {
		return nil
	}
	for i := range lots {
		if lots[i].ID == ids[0] {
			return &lots[i]
		}
	}
	return nil
}

// wrapReach is how far a count of wraps may be off either way, 90 % of the time:
// 8 % as a standard deviation, an assumption.
const wrapReach = 1.14

// thicknessOf is the range of the singles' diameter over the bobbins.
func thicknessOf(p journal.Project) (low, high unit.Length, ok bool) {
	for _, b := range p.Bobbins {
		d, _, known := b.Thickness()
		if !known {
			continue
		}
		if !ok || d < low {
			low = d
		}
		high, ok = max(high, d), true
	}
	return low / wrapReach, high * wrapReach, ok
}

// addScale adds what the scale says: a weighing in the middle of the spinning
// where fibre is left, else what is on the bobbins.
func addScale(out plan.Text, p journal.Project, lot *journal.Lot) {
	spun := spunMasses([]journal.Project{p})
	var each []string
	var sum unit.Mass
	for _, b := range p.Bobbins {
		m, ok := spun[b.ID]
		if !ok || len(p.Runs) > 0 {
			return
		}
		each, sum = append(each, gramText(m)), sum+m
	}
	if len(each) == 0 {
		return
	}
	if m := midway(p, lot); m != nil {
		out["weighed.prepared"], out["weighed.left"], out["weighed.spun"] = gramText(m.Prepared), gramText(*m.Left), gramText(m.Spun)
		if m.Length > 0 {
			out["weighed.spun-length"] = fmt.Sprintf("%.4g m", m.Length.Metres())
		}
		return
	}
	out["singles.bobbins"] = strings.Join(each, ", ")
}

// midway is what the scale said when what was left of a lot was weighed last; nil
// where it was not, or where a bobbin was not weighed.
func midway(p journal.Project, lot *journal.Lot) *plan.Weighed {
	if lot == nil {
		return nil
	}
	by := weighed(lot.Weighings)
	left := latest(by[journal.Left])
	if left == nil || len(by[journal.Prepared]) == 0 {
		return nil
	}
	spun, all := spunUntil(*left, p.Bobbins)
	if !all || spun.mass <= 0 {
		return nil
	}
	net := left.Net()
	return &plan.Weighed{
		Prepared: total(by[journal.Prepared]).mass - total(by[journal.Sampled]).mass, Left: &net, Spun: spun.mass, Length: lengthUntil(*left, p.Bobbins),
	}
}

// lengthUntil is the length of the singles that were spun when what is left was
// weighed, zero where one of them was not measured.
func lengthUntil(left journal.Weighing, bobbins []journal.Bobbin) (sum unit.Length) {
	for _, b := range bobbins {
		if spunAfter(b, left) {
			continue
		}
		l, known := spunLength(b)
		if !known {
			return 0
		}
		sum += l
	}
	return sum
}

// MidwayOf is what the weighings of a project say to its plan, nil where they say
// nothing: where its fibre is not of one lot, where other projects spin of that,
// where what is left was not weighed, or where the plying has begun.
func MidwayOf(id journal.ID, projects []journal.Project, lots []journal.Lot) *plan.Weighed {
	for _, p := range projects {
		if p.ID != id || len(p.Runs) > 0 {
			continue
		}
		lot := lotOf(p, lots)
		if lot == nil || len(bobbinsOfLots(projects)[lot.ID]) != len(p.Bobbins) {
			return nil
		}
		m := midway(p, lot)
		if m != nil {
			m.Told = true
		}
		return m
	}
	return nil
}

func gramText(m unit.Mass) string { return fmt.Sprintf("%.4g g", m.Grams()) }
