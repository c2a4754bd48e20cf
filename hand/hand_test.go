package hand

import (
	"errors"
	"math"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

func inside(t *testing.T, what string, got, low, high float64) {
	t.Helper()
	if !(got >= low && got <= high) {
		t.Errorf("%s is %.4f, want %.4f to %.4f", what, got, low, high)
	}
}

// pairs are so many bobbins of a fibre, each with a dry and a re-wet photograph.
func pairs(prefix, fibre string, n int, dry, rewet float64) (out []Bobbin) {
	for i := range n {
		out = append(out, Bobbin{ID: prefix + string(rune('a'+i)), Fibre: fibre, Clips: []Clip{
			{State: estimate.Rested, Age: 3 * day, Room: rest.Steady(60), Place: "x", Readings: photo(dry, dry+0.5)},
			{State: estimate.Rewet, Place: "x", Soak: 25, Readings: photo(rewet, rewet-0.7)},
		}})
	}
	return out
}

func TestNothingReadIsThePrior(t *testing.T) {
	p := mustFit(t, Record{})
	if k := p.Knowledge("any", finish.Woollen); k != rest.Prior(finish.Woollen) {
		t.Errorf("knowledge without readings is %+v", k)
	}
	mine := func(of func(rest.Curve) float64, curves []rest.Curve) (m, sd float64) {
		var v []float64
		for _, c := range curves {
			v = append(v, of(c))
		}
		return estimate.Mean(v), estimate.SD(v)
	}
	theirs := rest.PriorCurves(estimate.NewSampler(2000, 3))
	own := p.Curves("any", 2000)
	for name, of := range map[string]func(rest.Curve) float64{
		"log10 T":     func(c rest.Curve) float64 { return c.Log10Hours },
		"log p":       func(c rest.Curve) float64 { return math.Log(c.Power) },
		"logit f_max": func(c rest.Curve) float64 { return math.Log(float64(c.Most / (1 - c.Most))) },
		"c":           func(c rest.Curve) float64 { return c.PerPercentRH },
	} {
		m, sd := mine(of, own)
		wantM, wantSD := mine(of, theirs)
		inside(t, name+", mean", m, wantM-0.1*wantSD, wantM+0.1*wantSD)
		inside(t, name+", standard deviation (widened by caution)", sd, 0.93*caution*wantSD, 1.03*caution*wantSD)
	}
}

func TestSlipIsFlaggedAndNotBelieved(t *testing.T) {
	r := Record{Bobbins: pairs("", "wool", 5, 22, 37)}
	clean := mustFit(t, r)
	if s := clean.Suspects(); len(s) != 0 {
		t.Fatalf("suspects without a slip: %+v", s)
	}
	r.Bobbins[4].Clips[1].Readings = append(r.Bobbins[4].Clips[1].Readings, Reading{"slip", 73 * unit.Degree, yarn.StrandCentre, rest.PhotographSD})
	slipped := mustFit(t, r)
	s := slipped.Suspects()
	if len(s) != 1 || s[0].Reading != "slip" || s[0].Of != "e" {
		t.Fatalf("suspects %+v", s)
	}
	inside(t, "expected angle", s[0].Expected.Degrees(), 33, 42)
	q := Question{Bobbins: []string{"e"}, Strands: 2, Line: yarn.StrandCentre, Rested: 3 * day}
	a, b := forecast(t, clean, q), forecast(t, slipped, q)
	inside(t, "target with the slip", b.Target.Value.Degrees(), a.Target.Value.Degrees()-1.5, a.Target.Value.Degrees()+1.5)
}

func forecast(t testing.TB, p *Posterior, q Question) *Forecast {
	t.Helper()
	f, err := p.Forecast(q)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Readings of one fibre teach about it most, and about another somewhat.
func TestFibresArePooled(t *testing.T) {
	p := mustFit(t, Record{Bobbins: append(pairs("m", "merino", 12, 22, 37), pairs("s", "silk", 1, 30, 38)...)})
	known, other, prior := p.Knowledge("merino", 0), p.Knowledge("alpaca", 0), rest.Prior(0)
	if !(known.Stiffness.Sigma < other.Stiffness.Sigma && other.Stiffness.Sigma < prior.Stiffness.Sigma) {
		t.Errorf("spread of log k: %v for the fibre read, %v for another, %v before", known.Stiffness.Sigma, other.Stiffness.Sigma, prior.Stiffness.Sigma)
	}
	asleep := func(fibre string) estimate.Estimate[rest.Share] {
		return forecast(t, p, Question{Fibre: fibre, Strands: 2, Line: yarn.StrandCentre, Rested: 3 * day}).Dormant
	}
	merino, alpaca, silk := asleep("merino"), asleep("alpaca"), asleep("silk")
	if merino.High-merino.Low >= alpaca.High-alpaca.Low {
		t.Error("a fibre never read is known as well as one read twelve times")
	}
	if silk.Value >= merino.Value {
		t.Errorf("silk that hardly slept is put at %.2f, merino at %.2f", silk.Value, merino.Value)
	}
}

func TestForecastFollowsTheQuestion(t *testing.T) {
	p := mustFit(t, Record{Bobbins: pairs("", "wool", 4, 17, 28)})
	d := 0.8 * unit.Millimetre
	ask := func(change func(*Question)) *Forecast {
		q := Question{Bobbins: []string{"a", "b"}, Strands: 2, Line: yarn.StrandCentre, Rested: 3 * day, Room: rest.Steady(60), Diameter: &d, DiameterCV: 0.1, Singles: yarn.Z, Preparation: finish.Worsted}
		change(&q)
		return forecast(t, p, q)
	}
	plain := ask(func(*Question) {})
	if plain.Verdict != finish.Balanced || plain.Hangs != yarn.NoDirection {
		t.Errorf("plied to its own look it is %s and hangs %q", plain.Verdict, plain.Hangs)
	}
	inside(t, "excess of the wanted ply", float64(plain.Excess.Value), -0.02, 0.02)
	if older := ask(func(q *Question) { q.Rested = 30 * day }); older.Dormant.Value <= plain.Dormant.Value || older.DryLook.Value >= plain.DryLook.Value {
		t.Error("a longer rest must put more to sleep and make the dry look softer")
	} else if math.Abs(float64(older.Target.Value-plain.Target.Value)) > 1e-6 {
		t.Error("rest must not move the target: water wakes it all")
	}
	if damp := ask(func(q *Question) { q.Room = rest.Steady(80) }); damp.Dormant.Value <= plain.Dormant.Value {
		t.Error("damp air must put more to sleep")
	}
	over := ask(func(q *Question) { a := 38 * unit.Degree; q.Wheel = &a })
	if over.Verdict != finish.OverPlied || over.Hangs != yarn.Z || over.HalfTurns.Value <= 0 {
		t.Errorf("38 degrees: %s, hangs %q, half-turns %v", over.Verdict, over.Hangs, over.HalfTurns.Value)
	}
	limp := ask(func(q *Question) { q.Wheel = &plain.DryLook.Value })
	if limp.Verdict != finish.UnderPlied || limp.Hangs != yarn.S || limp.HalfTurns.Value >= 0 || limp.Under < 0.8 {
		t.Errorf("plied to the dry look: %s with %.2f, hangs %q, half-turns %v", limp.Verdict, limp.Under, limp.Hangs, limp.HalfTurns.Value)
	}
	turns := yarn.Turns(2, yarn.CentreAngle(plain.WheelLook.Value), d)
	byTurns := ask(func(q *Question) { q.Turns = &turns })
	inside(t, "angle from turns", byTurns.Wheel.Value.Degrees(), plain.Wheel.Value.Degrees()-0.2, plain.Wheel.Value.Degrees()+0.2)
	if three := ask(func(q *Question) { q.Strands = 3 }); three.Target.Value <= plain.Target.Value {
		t.Error("three strands balance steeper than two")
	}
	for name, e := range map[string]estimate.Flags{"target": plain.Target.Flags, "dormant": plain.Dormant.Flags, "length": plain.Length.Flags, "half-turns": plain.HalfTurns.Flags} {
		if !e.Has(estimate.Modelled) {
			t.Errorf("%s does not say that it is modelled", name)
		}
	}
}

// balanced is yarn.Balanced away from the limit.
func TestBalancedIsTheBalance(t *testing.T) {
	for n := 2; n <= 4; n++ {
		for _, k := range []float64{0.1, 0.7, 3} {
			for _, a := range []float64{5, 20, 35, 50} {
				twist := math.Tan(a * math.Pi / 180)
				want := min(float64(yarn.Balanced(n, yarn.Stiffness(k), yarn.Living(twist))), float64(yarn.Limit(n))*44/45)
				if got := float64(balanced(n, k, twist)); math.Abs(got-want) > 1e-4 {
					t.Errorf("n %d, k %v, %v degrees: %v, want %v", n, k, a, got, want)
				}
			}
		}
	}
}

// Wash pairs teach the wash of their preparation.
func TestSkeinsTeachTheWash(t *testing.T) {
	var r Record
	for i := range 8 {
		r.Skeins = append(r.Skeins, Skein{ID: string(rune('a' + i)), Preparation: finish.Woollen, Strands: 2,
			WheelLength: 100, WashedLength: unit.Length(78 + i%3), WheelDiameter: 2, WashedDiameter: unit.Length(2.3 + 0.05*float64(i%2))})
	}
	p := mustFit(t, r)
	k, prior := p.Knowledge("", finish.Woollen), finish.WashOf(finish.Woollen)
	if k.Wash.Length.High-k.Wash.Length.Low > 0.6*(prior.Length.High-prior.Length.Low) {
		t.Errorf("eight skeins leave L at %+v", k.Wash.Length)
	}
	inside(t, "L", math.Sqrt(k.Wash.Length.Low*k.Wash.Length.High), 0.775, 0.81)
	was, _ := logNormal90(finish.WashOf(finish.Worsted).Length)
	is, _ := logNormal90(p.Knowledge("", finish.Worsted).Wash.Length)
	inside(t, "L of worsted skeins, never washed, over its prior", math.Exp(is-was), 0.999, 1.001)
}

func TestNextReadingKeepsItsPromise(t *testing.T) {
	r := Record{Bobbins: pairs("", "wool", 3, 22, 36)}
	p := mustFit(t, r)
	q := Question{Bobbins: []string{"a"}, Strands: 2, Line: yarn.StrandCentre, Rested: 3 * day, Preparation: finish.Woollen}
	candidates := []Candidate{
		{Kind: RewetClip, Bobbin: "a", Place: "deep", Depth: 0.6, Line: yarn.StrandCentre},
		{Kind: RewetClip, Bobbin: "a", Place: "x", Line: yarn.StrandCentre},
		{Kind: RewetClip, Bobbin: "a", Place: "deep", Depth: 0.6, Line: yarn.VisibleBorder},
		{Kind: RewetClip, Bobbin: "b", Place: "deep", Depth: 0.6, Line: yarn.StrandCentre},
		{Kind: SinglesAngle, Bobbin: "a", Place: "x"},
		{Kind: DryClip, Bobbin: "a", Place: "deep", Depth: 0.6, Age: 3 * day, Line: yarn.StrandCentre},
		{Kind: WashLength, Preparation: finish.Woollen},
		{Kind: RewetClip, Bobbin: "none such"},
	}
	gains, err := p.Next(q, WantedPly, candidates)
	if err != nil {
		t.Fatal(err)
	}
	if len(gains) != len(candidates)-1 || gains[0].Candidate.Place != "deep" || gains[0].Candidate.Bobbin != "a" || gains[0].Candidate.Line != yarn.StrandCentre || gains[0].Candidate.Kind != RewetClip {
		t.Fatalf("best next reading %+v of %d", gains[0], len(gains))
	}
	for _, g := range gains {
		if g.Then > g.Now+1e-9 || g.Candidate.Kind == WashLength && g.Then < g.Now-1e-9 {
			t.Errorf("gain %+v", g)
		}
	}
	r.Bobbins[0].Clips = append(r.Bobbins[0].Clips, Clip{State: estimate.Rewet, Place: "deep", Depth: 0.6, Readings: photo(35.5)})
	e := forecast(t, mustFit(t, r), q).Target
	inside(t, "width once it was read", (e.High - e.Low).Degrees(), 0.85*gains[0].Then, 1.15*gains[0].Then)

	look, err := p.Next(q, WantedLook, candidates)
	if err != nil {
		t.Fatal(err)
	}
	if i := slices.IndexFunc(look, func(g Gain) bool { return g.Candidate.Kind == WashLength }); look[i].Then >= look[i].Now {
		t.Error("a wash measurement does not narrow the look at the wheel")
	}
	asleep, err := p.Next(q, WantedAsleep, candidates)
	if err != nil {
		t.Fatal(err)
	}
	if i := slices.IndexFunc(asleep, func(g Gain) bool { return g.Candidate.Kind == DryClip }); asleep[i].Then >= asleep[i].Now {
		t.Error("a dry sample does not narrow the dormant share")
	}
}

func TestLearntRows(t *testing.T) {
	r := full()
	rows := mustFit(t, r).Learnt()
	seen := map[string]bool{}
	for _, l := range rows {
		key := l.Name + l.Fibre
		if seen[key] || l.Name == "" || l.Meaning == "" {
			t.Errorf("row %+v is doubled or says nothing", l)
		}
		seen[key] = true
		for _, e := range []estimate.Estimate[float64]{l.Before, l.Now} {
			if !(e.Low <= e.Value && e.Value <= e.High) || !e.Flags.Has(estimate.Modelled) {
				t.Errorf("%s: %+v", l.Name, e)
			}
		}
	}
	if len(rows) != 13 {
		t.Errorf("%d rows, want 8 of the hand, 3 of the fibre, 2 of the preparation", len(rows))
	}
	if eyes := rows[0]; eyes.Readings != 6 {
		t.Errorf("%d readings by eye behind its scatter, want 6", eyes.Readings)
	}
}

func TestRefusals(t *testing.T) {
	spoil := func(change func(*Record)) Record { r := full(); change(&r); return r }
	for name, r := range map[string]Record{
		"one name twice":   {Bobbins: append(pairs("", "", 1, 20, 30), pairs("", "", 1, 20, 30)...)},
		"no state":         spoil(func(r *Record) { r.Bobbins[0].Clips[0].State = estimate.Unstated }),
		"finished yarn":    spoil(func(r *Record) { r.Bobbins[0].Clips[0].State = estimate.Washed }),
		"no number":        spoil(func(r *Record) { r.Bobbins[0].Clips[0].Readings[0].Angle = unit.Angle(math.NaN()) }),
		"no scatter":       spoil(func(r *Record) { r.Bobbins[0].Clips[0].Readings[0].SD = 0 }),
		"surface of a ply": spoil(func(r *Record) { r.Bobbins[0].Clips[0].Readings[0].Line = yarn.SurfaceFibre }),
		"depth":            spoil(func(r *Record) { r.Bobbins[0].Clips[0].Depth = 1.5 }),
		"age":              spoil(func(r *Record) { r.Bobbins[0].Clips[0].Age = -time.Hour }),
		"room":             spoil(func(r *Record) { r.Bobbins[0].Clips[0].Room = rest.Steady(140) }),
		"strands":          spoil(func(r *Record) { r.Skeins[0].Strands = 9 }),
		"grown skein":      spoil(func(r *Record) { r.Skeins[0].WashedLength = 1e4 }),
		"length below 0":   spoil(func(r *Record) { r.Skeins[0].WheelLength = -1 }),
	} {
		if _, err := Fit(r); !advises(err) {
			t.Errorf("%s: %v", name, err)
		}
	}
	p := mustFit(t, Record{Bobbins: append(pairs("", "wool", 1, 20, 34), pairs("f", "flax", 1, 20, 34)...)})
	steep, turns := 89*unit.Degree, yarn.PlyTwist(300)
	for name, q := range map[string]Question{
		"flax":             {Bobbins: []string{"fa"}, Strands: 2, Line: yarn.StrandCentre},
		"no such bobbin":   {Bobbins: []string{"z"}, Strands: 2, Line: yarn.StrandCentre},
		"nine strands":     {Strands: 9, Line: yarn.StrandCentre},
		"no line":          {Strands: 2},
		"steep":            {Strands: 2, Line: yarn.StrandCentre, Wheel: &steep},
		"turns alone":      {Strands: 2, Line: yarn.StrandCentre, Turns: &turns},
		"rest before spun": {Strands: 2, Line: yarn.StrandCentre, Rested: -day},
		"air":              {Strands: 2, Line: yarn.StrandCentre, Room: rest.Steady(-3)},
	} {
		if _, err := p.Forecast(q); !advises(err) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func advises(err error) bool {
	e := &rest.Error{}
	return errors.As(err, &e) && e.Problem != "" && e.Advice != ""
}

// Where readings say little or contradict each other, the answer stays wide or
// carries a flag; it is never sharp and silent.
func TestHardCases(t *testing.T) {
	one := func(r []Reading) []Bobbin {
		return []Bobbin{{ID: "a", Fibre: "wool", Clips: []Clip{{State: estimate.Rewet, Readings: r}}}}
	}
	others := func(b []Bobbin) Record { return Record{Bobbins: append(b, pairs("x", "wool", 5, 22, 36)...)} }
	for _, c := range []struct {
		name  string
		r     Record
		width float64 // degrees at least
		flag  estimate.Flag
	}{
		{"one reading by eye", Record{Bobbins: one(eye(38))}, 12, estimate.FewReadings},
		{"one wild reading", Record{Bobbins: one(eye(73))}, 20, rest.OutlyingAngle},
		{"one wild reading of a known hand", others(one(eye(73))), 18, rest.OutlyingAngle},
		{"two photographs that contradict", Record{Bobbins: one(photo(20, 40))}, 16, rest.OutlyingAngle},
		{"dry steeper than re-wet", Record{Bobbins: pairs("", "wool", 1, 40, 20)}, 18, estimate.Modelled},
		{"dry steeper than re-wet, of a known hand", others(pairs("", "wool", 1, 40, 20)), 15, rest.OutlyingAngle},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := forecast(t, mustFit(t, c.r), Question{Bobbins: []string{"a"}, Strands: 2, Line: yarn.VisibleBorder, Rested: 3 * day})
			if w := (f.Target.High - f.Target.Low).Degrees(); w < c.width {
				t.Errorf("target known within %.1f degrees", w)
			}
			if !f.Flags.Has(c.flag) {
				t.Errorf("flags %v lack %q", f.Flags, c.flag)
			}
		})
	}
}

// Flax is left out of what is learnt.
func TestFlaxTeachesNothing(t *testing.T) {
	wool := pairs("", "wool", 2, 20, 34)
	with := mustFit(t, Record{Bobbins: append(pairs("", "wool", 2, 20, 34), pairs("f", "Belgian flax", 3, 40, 12)...)})
	without := mustFit(t, Record{Bobbins: wool})
	a, b := with.Knowledge("wool", 0).Stiffness, without.Knowledge("wool", 0).Stiffness
	inside(t, "k with flax about", a.Median, 0.97*b.Median, 1.03*b.Median)
}

func genReading(t *rapid.T) Reading {
	line := rapid.SampledFrom([]yarn.Line{yarn.VisibleBorder, yarn.StrandCentre}).Draw(t, "line")
	return Reading{"r", unit.Angle(rapid.Float64Range(1, 79.9).Draw(t, "angle")) * unit.Degree, line, unit.Angle(rapid.Float64Range(0.1, 45).Draw(t, "sd")) * unit.Degree}
}

func genRecord(t *rapid.T) (r Record) {
	for i := range rapid.IntRange(0, 4).Draw(t, "bobbins") {
		b := Bobbin{ID: string(rune('a' + i)), Fibre: rapid.SampledFrom([]string{"", "wool", "flax"}).Draw(t, "fibre")}
		for range rapid.IntRange(0, 4).Draw(t, "clips") {
			b.Clips = append(b.Clips, Clip{
				State:    estimate.State(rapid.IntRange(1, 4).Draw(t, "state")),
				Place:    rapid.SampledFrom([]string{"", "x", "y"}).Draw(t, "place"),
				Depth:    rapid.Float64Range(0, 1).Draw(t, "depth"),
				Age:      time.Duration(rapid.Int64Range(0, math.MaxInt64).Draw(t, "age")),
				Room:     rest.Steady(rest.Humidity(rapid.Float64Range(0, 100).Draw(t, "humidity"))),
				Soak:     rapid.Float64Range(0, 1e4).Draw(t, "soak"),
				Readings: rapid.SliceOfN(rapid.Custom(genReading), 0, 3).Draw(t, "readings"),
			})
		}
		r.Bobbins = append(r.Bobbins, b)
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "skeins") {
		r.Skeins = append(r.Skeins, Skein{ID: string(rune('p' + i)), Strands: rapid.IntRange(2, 4).Draw(t, "strands"),
			WheelLength: 100, WashedLength: unit.Length(rapid.Float64Range(21, 499).Draw(t, "washed")),
			Wheel: rapid.SliceOfN(rapid.Custom(genReading), 0, 2).Draw(t, "wheel"), Washed: rapid.SliceOfN(rapid.Custom(genReading), 0, 2).Draw(t, "after")})
	}
	return r
}

// No record of possible readings, however contradictory, makes nonsense.
func TestAnyRecordGivesFiniteAnswers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := genRecord(t)
		p, err := Fit(r)
		if err != nil {
			t.Fatal(err)
		}
		if err := p.Knowledge("wool", finish.Semi).Check(); err != nil {
			t.Fatalf("knowledge %+v: %v", p.Knowledge("wool", finish.Semi), err)
		}
		d := 1 * unit.Millimetre
		q := Question{Strands: rapid.IntRange(2, 4).Draw(t, "n"), Line: yarn.VisibleBorder, Rested: time.Duration(rapid.Int64Range(0, math.MaxInt64).Draw(t, "rested")), Diameter: &d}
		if len(r.Bobbins) > 0 {
			q.Bobbins = []string{"a"}
		}
		f, err := p.Forecast(q)
		if err != nil {
			return
		}
		for _, e := range []estimate.Estimate[unit.Angle]{f.Target, f.Washed, f.WheelLook, f.DryLook, f.Wheel, f.WashedBalance} {
			if !(e.Low <= e.Value && e.Value <= e.High && e.Low >= 0 && e.High < unit.Angle(math.Pi/2)) {
				t.Fatalf("angle %+v", e)
			}
		}
		if !(f.Dormant.Low >= 0 && f.Dormant.High <= 1) || math.IsNaN(float64(f.HalfTurns.SD)) || !(f.Length.Low > 0) {
			t.Fatalf("dormant %+v, half-turns %+v, length %+v", f.Dormant, f.HalfTurns, f.Length)
		}
		if _, err := p.Next(q, WantedLook, []Candidate{{Kind: RewetClip, Bobbin: "a", Line: yarn.StrandCentre}}); err != nil {
			t.Fatal(err)
		}
	})
}
