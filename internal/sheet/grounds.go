package sheet

import (
	"fmt"
	"math"
	"strings"

	"waketwist/plan"
)

// ground is a head with what is said below it.
type ground struct {
	head  string
	texts []string
}

// grounds draws what the plan rests on, in two columns: what is in hand, what
// makes it wide, what was assumed, and notes.
func (p *page) grounds(all []ground) {
	if len(all) == 0 {
		return
	}
	w := (p.inner() - gutter) / 2
	rest := pieces(all)
	if p.left() < leastGrounds {
		p.turn()
	}
	for len(rest) > 0 {
		high := make([]float64, len(rest))
		for i, one := range rest {
			high[i] = p.tall(func(y float64) float64 { return p.piece(one, side, y, w) })
		}
		fold, end := folded(rest, high, p.left())
		p.y = max(p.pieces(rest[:fold], side, w), p.pieces(rest[fold:end], side+w+gutter, w))
		if rest = rest[end:]; len(rest) > 0 {
			p.turn()
		}
	}
}

// leastGrounds is the room below which the grounds begin a page, in millimetres.
const leastGrounds = 40

// folded parts pieces into two columns of about one height, rather before a head,
// and returns where the second begins and ends. Where not all of them fit, the
// columns are filled.
func folded(all []piece, high []float64, room float64) (fold, end int) {
	const beforeHead = 6 // mm of difference that a head at the top is worth
	best := math.Inf(1)
	for k := 1; k <= len(all); k++ {
		first, second := sum(high[:k]), sum(high[k:])
		cost := max(first, second)
		if cost > room {
			continue
		}
		if k < len(all) && all[k].head == "" {
			cost += beforeHead
		}
		if cost < best {
			best, fold = cost, k
		}
	}
	if fold > 0 {
		return fold, len(all)
	}
	fold = filled(high, room)
	return fold, fold + filled(high[fold:], room)
}

// filled is how many pieces go into a column; one at least.
func filled(high []float64, room float64) int {
	n, used := 0, 0.0
	for n < len(high) && (n == 0 || used+high[n] <= room) {
		used += high[n]
		n++
	}
	return n
}

func sum(all []float64) (out float64) {
	for _, v := range all {
		out += v
	}
	return out
}

// pieces draws pieces below each other, and returns where they end.
func (p *page) pieces(all []piece, x, w float64) float64 {
	y := p.y
	for _, one := range all {
		y = p.piece(one, x, y, w)
	}
	return y
}

// piece is a text, with the head over it where it is the first.
type piece struct{ head, text string }

func pieces(all []ground) (out []piece) {
	for _, g := range all {
		for i, text := range g.texts {
			one := piece{text: text}
			if i == 0 {
				one.head = g.head
			}
			out = append(out, one)
		}
	}
	return out
}

func (p *page) piece(one piece, x, y, w float64) float64 {
	if one.head != "" {
		y = p.write(subhead, x, y+0.8, w, one.head)
	}
	return p.write(fineInk, x, y, w, one.text) + 1
}

func groundsOf(r *plan.Result, stash []string) (out []ground) {
	hand, wide := ground{head: "In hand"}, ground{head: "What makes it wide"}
	for _, s := range r.Stocks {
		hand.texts = append(hand.texts, s.Say(r.FromHand))
	}
	var makes []string
	for _, l := range r.MadeLines() {
		makes = append(makes, lower(stated(l))+" "+l.Text+spread(l))
	}
	if len(makes) > 0 {
		hand.texts = append(hand.texts, "It makes, modelled: "+strings.Join(makes, "; ")+".")
	}
	for _, b := range r.Width {
		wide.texts = append(wide.texts, blamed(b))
	}
	assumed := ground{head: "What it rests on"}
	if list := r.Given(); len(list) > 0 {
		assumed.texts = append(assumed.texts, "As you gave it: "+strings.Join(list, "; ")+".")
	}
	if list := r.Assumed(); len(list) > 0 {
		assumed.texts = append(assumed.texts, "By common practice, or assumed: "+strings.Join(list, "; ")+".")
	}
	if list := r.Taught(); len(list) > 0 {
		assumed.texts = append(assumed.texts, "From your own readings: "+strings.Join(list, "; ")+".")
	}
	for _, g := range []ground{hand, {"In the stash", stash}, wide, assumed, {"Notes", r.Notes}} {
		if len(g.texts) > 0 {
			out = append(out, g)
		}
	}
	return out
}

// blamed says what makes a total wide, and by what part.
func blamed(b plan.Blame) string {
	said := make([]string, len(b.Of))
	for i, a := range b.Of {
		said[i] = fmt.Sprintf("%s %.0f %%", a.Name, 100*a.Share)
	}
	return "Of the spread of “" + b.Total + "”: " + strings.Join(said, "; ") + "."
}

func lower(s string) string { return strings.ToLower(s[:1]) + s[1:] }
