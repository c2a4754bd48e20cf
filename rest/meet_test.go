package rest

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/yarn"
)

// middling is the middle of the prior curves.
var middling = []Blend{{{Curve{Log10Hours: 1.68, Power: 0.35, Most: 0.75, PerPercentRH: 0.03}, 1}}}

// w14 is bobbin A spun on days 0 to 4, B on days 5 to 9, plied on day 10.
func w14(t testing.TB) Pairing {
	return Pairing{Strands: []Strand{
		{Name: "A", Wound: mustLayers(t, []Stretch{spun(0, 4)}, nil, on(10))},
		{Name: "B", Wound: mustLayers(t, []Stretch{spun(5, 9)}, nil, on(10))},
	}}
}

func mustMeet(t testing.TB, p Pairing) *Meeting {
	t.Helper()
	m, err := Meet(p)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestAllFourRewindCases(t *testing.T) {
	m := mustMeet(t, w14(t))
	want := []struct {
		rewound    []bool
		start, end []time.Duration
	}{
		{[]bool{false, false}, days(6, 1), days(10, 5)},
		{[]bool{true, false}, days(10, 1), days(6, 5)},
		{[]bool{false, true}, days(6, 5), days(10, 1)},
		{[]bool{true, true}, days(10, 5), days(6, 1)},
	}
	if len(m.Cases) != len(want) {
		t.Fatalf("%d cases", len(m.Cases))
	}
	for i, w := range want {
		c := m.Cases[i]
		last := c.Legs[len(c.Legs)-1]
		if diff := cmp.Diff(w.rewound, c.Rewound) + cmp.Diff(w.start, c.Legs[0].FromAges) + cmp.Diff(w.end, last.ToAges); diff != "" {
			t.Error(diff)
		}
	}
	// None and both pair the same metres, so the cheaper is best; rewinding one
	// sets 10 days against 1, where the curve has run further.
	if m.Best != 0 || m.Cases[1].Largest.Value <= m.Cases[0].Largest.Value {
		t.Errorf("best case %d; largest gaps %v and %v", m.Best, m.Cases[0].Largest.Value, m.Cases[1].Largest.Value)
	}
	if got, want := m.Cases[3].Largest.Value, m.Cases[0].Largest.Value; math.Abs(float64(got-want)) > 1e-9 {
		t.Errorf("both rewound %v, none %v", got, want)
	}
	if m.Widest != 0 || m.Cases[0].Where != 0 || m.Cases[3].Where != 1 {
		t.Errorf("widest at station %d; places %v and %v", m.Widest, m.Cases[0].Where, m.Cases[3].Where)
	}
}

// With a known curve every figure follows by hand: f(6 d) = 0.5765 and f(1 d) =
// 0.4077 at 65 %, living turns of 300 per metre 127.0 and 177.7.
func TestGapsByHand(t *testing.T) {
	p := w14(t)
	turns, thick := yarn.StrandTwist(300), 0.6*unit.Millimetre
	for i := range p.Strands {
		p.Strands[i].Fibre, p.Strands[i].Turns, p.Strands[i].Diameter = middling, &turns, &thick
	}
	m := mustMeet(t, p)
	first := m.Stations[0]
	f := func(d float64) float64 {
		return 0.75 * (1 - math.Exp(-math.Pow(24*d/math.Pow(10, 1.68), 0.35)))
	}
	inside(t, "dormant A", float64(first.Dormant[0].Value), f(6)-1e-9, f(6)+1e-9)
	inside(t, "dormant B", float64(first.Dormant[1].Value), f(1)-1e-9, f(1)+1e-9)
	gap := f(6) - f(1)
	inside(t, "gap", float64(first.Gap.Dormant.Value), gap-1e-9, gap+1e-9)
	inside(t, "living turns", float64(first.Gap.Living.Value), 300*gap-1e-6, 300*gap+1e-6)
	look := func(f float64) float64 {
		return yarn.Balanced(2, 0.7, yarn.Living((1-f)*math.Pi*0.0006*300)).Degrees()
	}
	want := look(f(1)) - look(f(6))
	inside(t, "look", first.Gap.Look.Value.Degrees(), want-0.01, want+0.01)
	if m.Flags.Has(AlikeSingles) || !m.Flags.Has(estimate.Modelled) {
		t.Errorf("flags %v", m.Flags)
	}
}

// More draws than are needed are thinned without moving the answer, and a known
// curve may stand beside an unknown one.
func TestDraws(t *testing.T) {
	p := w14(t)
	few := mustMeet(t, p).Cases[0].Largest
	for i := range p.Strands {
		p.Strands[i].Fibre = Pure(PriorCurves(estimate.NewSampler(2000, 1)))
	}
	many := mustMeet(t, p).Cases[0].Largest
	inside(t, "median gap in degrees", many.Value.Degrees(), few.Value.Degrees()-0.4, few.Value.Degrees()+0.4)
	inside(t, "its high end", many.High.Degrees(), few.High.Degrees()-1, few.High.Degrees()+1)
	p.Strands[0].Fibre, p.Strands[1].Fibre = middling, nil
	first := mustMeet(t, p).Stations[0]
	if first.Dormant[0].SD > 1e-12 || first.Dormant[1].SD < 0.1 {
		t.Errorf("a known curve beside an unknown: sd %v and %v", first.Dormant[0].SD, first.Dormant[1].SD)
	}
}

func TestLegsAndLeftovers(t *testing.T) {
	a := mustLayers(t, []Stretch{long(spun(0, 1), 60), long(spun(2, 3), 40)}, nil, on(10))
	b := mustLayers(t, []Stretch{long(spun(4, 6), 80)}, nil, on(10))
	m := mustMeet(t, Pairing{Strands: []Strand{{Wound: a}, {Wound: b}}})
	want := []Leg{
		{0, 0.5, 0, 40 * unit.Metre, days(7, 4), days(8, 5)},
		{0.5, 1, 40 * unit.Metre, 80 * unit.Metre, days(9, 5), []time.Duration{m.Cases[0].Legs[1].ToAges[0], 6 * day}},
	}
	if diff := cmp.Diff(want, m.Cases[0].Legs); diff != "" {
		t.Error(diff)
	}
	// 80 m are fed: of A's older 60 m 40 m, two thirds of a day down.
	inside(t, "age of A at the end", m.Cases[0].Legs[1].ToAges[0].Hours(), 9*24+16-0.001, 9*24+16+0.001)
	left := m.Leftover[0]
	inside(t, "left on A in m", left.Length.Metres(), 20-1e-9, 20+1e-9)
	inside(t, "its share", float64(left.Share), 0.2-1e-9, 0.2+1e-9)
	if left.ToAge != 10*day || m.Leftover[1] != (Leftover{}) || m.Fed != 80*unit.Metre {
		t.Errorf("leftovers %+v, fed %v", m.Leftover, m.Fed)
	}
	if diff := cmp.Diff([]string{"bobbin A", "bobbin B"}, m.Names); diff != "" {
		t.Error(diff)
	}
	// Rewound, A comes from its other end, and other metres are left over.
	if c := m.Cases[1].Legs; c[0].FromAges[0] != 10*day || len(c) != 2 || math.Abs(float64(c[0].To-0.75)) > 1e-9 {
		t.Errorf("A rewound: %+v", c)
	}
}

func anyStrand(t *rapid.T, fibre []Blend) Strand {
	s := Strand{Wound: anyWound(t), Fibre: fibre, Direction: yarn.Z}
	if rapid.IntRange(0, 3).Draw(t, "turns known") > 0 {
		u := yarn.StrandTwist(rapid.Float64Range(lowest(t, 40), 1000).Draw(t, "turns/m"))
		s.Turns = &u
	}
	if rapid.Bool().Draw(t, "diameter known") {
		d := unit.Length(rapid.Float64Range(lowest(t, 0.3), 1).Draw(t, "mm")) * unit.Millimetre
		s.Diameter = &d
	}
	if s.Turns != nil && rapid.Bool().Draw(t, "over the end") {
		w, err := s.Wound.Rewound(Rewind{OverEnd: true, Adds: rapid.SampledFrom([]yarn.Direction{yarn.S, yarn.Z}).Draw(t, "adds"),
			Full: unit.Length(rapid.Float64Range(5, 200).Draw(t, "package")) * unit.Millimetre, Core: 5 * unit.Millimetre})
		if err != nil {
			t.Fatal(err)
		}
		s.Wound = w
	}
	return s
}

// lowest is the low end of a range: mostly one that is taken, sometimes one that
// must be refused.
func lowest(t *rapid.T, good float64) float64 {
	if rapid.IntRange(0, 15).Draw(t, "below") == 15 {
		return -1
	}
	return good
}

// Whatever goes in, the answer is finite and in order, or a refusal.
func TestMeetHoldsForAllInput(t *testing.T) {
	answers := 0
	rapid.Check(t, func(t *rapid.T) {
		var p Pairing
		var fibre []Blend
		for range rapid.IntRange(0, 3).Draw(t, "draws") {
			fibre = append(fibre, Blend{{anyCurve(t), 1}, {anyCurve(t), 0.5}})
		}
		for range rapid.SampledFrom([]int{1, 2, 2, 2, 3, 4}).Draw(t, "strands") {
			p.Strands = append(p.Strands, anyStrand(t, fibre))
		}
		for range rapid.IntRange(0, 3).Draw(t, "spells") {
			p.Room = append(p.Room, Spell{anyAge(t), Humidity(rapid.Float64Range(lowest(t, 0), 100).Draw(t, "% RH"))})
		}
		if rapid.Bool().Draw(t, "stiffness") {
			k := yarn.Stiffness(rapid.Float64Range(lowest(t, 0), 20).Draw(t, "k"))
			p.Stiffness = &k
		}
		m, err := Meet(p)
		if err != nil {
			if e, ok := err.(*Error); !ok || e.Problem == "" || e.Advice == "" {
				t.Fatalf("refusal without advice: %v", err)
			}
			return
		}
		answers++
		checkMeeting(t, m, len(p.Strands))
	})
	if answers < 10 {
		t.Errorf("only %d answers: the input is nearly all refused", answers)
	}
}

func checkMeeting(t *rapid.T, m *Meeting, strands int) {
	for _, s := range m.Stations {
		ordered(t, "dormant gap", s.Gap.Dormant, 1)
		ordered(t, "look gap", s.Gap.Look, unit.Angle(math.Pi/4))
		if s.Gap.Living != nil {
			ordered(t, "living gap", *s.Gap.Living, 1e4)
		}
		for _, f := range s.Dormant {
			ordered(t, "dormant", f, 1)
		}
		if s.Gap.Look.Value > m.Stations[m.Widest].Gap.Look.Value {
			t.Fatal("a station is wider than the widest")
		}
	}
	if len(m.Cases) != 1<<strands {
		t.Fatalf("%d cases of %d strands", len(m.Cases), strands)
	}
	for _, c := range m.Cases {
		ordered(t, "largest gap", c.Largest, unit.Angle(math.Pi/4))
		if c.Largest.Value < m.Cases[m.Best].Largest.Value-indifference(strands) || !(c.Unseen >= 0 && c.Unseen <= 1) {
			t.Fatalf("case %+v against the best, %+v", c, m.Cases[m.Best])
		}
		if c.SureWait != nil && (c.Wait == nil || *c.SureWait < *c.Wait) {
			t.Fatalf("sure after %v, likely after %v", *c.SureWait, c.Wait)
		}
		checkLegs(t, c.Legs)
	}
	if m.Words() == "" {
		t.Fatal("no words")
	}
}

// indifference is what a case may be better than the best for the sake of fewer
// rewinds: one such step for each rewind saved.
func indifference(strands int) unit.Angle { return unit.Angle(strands+1) * sameLook }

func checkLegs(t *rapid.T, legs []Leg) {
	var at Share
	for _, l := range legs {
		if l.From != at || l.To <= l.From || l.ToFed < l.FromFed {
			t.Fatalf("leg %+v begins where the one before ends, at %v", l, at)
		}
		at = l.To
		for i := range l.FromAges {
			if l.FromAges[i] < 0 || l.ToAges[i] < 0 {
				t.Fatalf("leg %+v before it was spun", l)
			}
		}
	}
	if at != 1 {
		t.Fatalf("the last leg ends at %v", at)
	}
}

func ordered[T ~float64](t *rapid.T, what string, e estimate.Estimate[T], most T) {
	if !(e.Low >= 0 && e.Low <= e.Value && e.Value <= e.High && e.High <= most) {
		t.Fatalf("%s: %+v", what, e)
	}
}

func TestMeetRefusals(t *testing.T) {
	nan := math.NaN()
	tests := []struct {
		name   string
		change func(*Pairing)
	}{
		{"one bobbin", func(p *Pairing) { p.Strands = p.Strands[:1] }},
		{"five bobbins", func(p *Pairing) { p.Strands = append(p.Strands, p.Strands[0], p.Strands[0], p.Strands[0]) }},
		{"age unknown", func(p *Pairing) { p.Strands[0].Wound = Wound{} }},
		{"length not a number", func(p *Pairing) { p.Strands[0].Wound.Length = unit.Length(nan) }},
		{"humidity", func(p *Pairing) { p.Room = Steady(-3) }},
		{"no turns", func(p *Pairing) { u := yarn.StrandTwist(0); p.Strands[0].Turns = &u }},
		{"no diameter", func(p *Pairing) { d := unit.Length(0); p.Strands[0].Diameter = &d }},
		{"twisted to wire", func(p *Pairing) {
			u, d := yarn.StrandTwist(3000), 5*unit.Millimetre
			p.Strands[0].Turns, p.Strands[0].Diameter = &u, &d
		}},
		{"S with Z", func(p *Pairing) { p.Strands[0].Direction, p.Strands[1].Direction = yarn.S, yarn.Z }},
		{"over the end of unknown turns", func(p *Pairing) {
			p.Strands[0].Wound = p.Strands[0].Wound.over(Rewind{OverEnd: true, Adds: yarn.S, Full: 80 * unit.Millimetre})
		}},
		{"no curve", func(p *Pairing) { p.Strands[0].Fibre = []Blend{} }},
		{"empty blend", func(p *Pairing) { p.Strands[0].Fibre = []Blend{{}} }},
		{"curves that do not go together", func(p *Pairing) {
			p.Strands[0].Fibre = append([]Blend{}, middling[0], middling[0])
			p.Strands[1].Fibre = append([]Blend{}, middling[0], middling[0], middling[0])
		}},
		{"stiffness", func(p *Pairing) { k := yarn.Stiffness(nan); p.Stiffness = &k }},
	}
	for _, tt := range tests {
		p := w14(t)
		tt.change(&p)
		_, err := Meet(p)
		refused(t, tt.name, err)
	}
}

// Turns that rewinding over the end took from one strand stay a gap for good.
func TestOverEndMakesAGapThatStays(t *testing.T) {
	p := w14(t)
	u, d := yarn.StrandTwist(300), 0.6*unit.Millimetre
	for i := range p.Strands {
		p.Strands[i].Wound = mustLayers(t, []Stretch{spun(0, 4)}, nil, on(10))
		p.Strands[i].Fibre, p.Strands[i].Turns, p.Strands[i].Diameter, p.Strands[i].Direction = middling, &u, &d, yarn.Z
	}
	if g := mustMeet(t, p).Cases[0].Largest.Value; g != 0 {
		t.Errorf("bobbins of one age differ by %v", g)
	}
	p.Strands[1].Wound = p.Strands[1].Wound.over(Rewind{}).over(Rewind{OverEnd: true, Adds: yarn.S, Full: 25 * unit.Millimetre})
	first := mustMeet(t, p).Stations[0]
	want := 12.732 * (1 - float64(first.Dormant[0].Value))
	inside(t, "living turns apart", float64(first.Gap.Living.Value), want-0.001, want+0.001)
}

func ExampleMeet() {
	a, err := Layers([]Stretch{{Start: on(0), End: on(4)}}, nil, on(10))
	if err != nil {
		fmt.Println(err)
		return
	}
	b, err := Layers([]Stretch{{Start: on(5), End: on(9)}}, nil, on(10))
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := Meet(Pairing{Strands: []Strand{{Name: "A", Wound: a}, {Name: "B", Wound: b}}, Room: Steady(55)})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range m.Cases {
		first, last := c.Legs[0], c.Legs[len(c.Legs)-1]
		fmt.Printf("%v: %.0f h with %.0f h, then %.0f h with %.0f h\n", c.Rewound,
			first.FromAges[0].Hours(), first.FromAges[1].Hours(), last.ToAges[0].Hours(), last.ToAges[1].Hours())
	}
	fmt.Println(m.Words())
	// Output:
	// [false false]: 144 h with 24 h, then 240 h with 120 h
	// [true false]: 240 h with 24 h, then 144 h with 120 h
	// [false true]: 144 h with 120 h, then 240 h with 24 h
	// [true true]: 240 h with 120 h, then 144 h with 24 h
	// Ply them as they are. The dry looks of the strands differ by up to 3° (90 %: 1° to 7°), most at the first metre; from 4° on a ply shows it.
}

func BenchmarkMeet(b *testing.B) {
	for _, n := range []int{2, 3, 4} {
		p := w14(b)
		p.Strands = append(p.Strands, p.Strands...)[:n]
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, err := Meet(p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
