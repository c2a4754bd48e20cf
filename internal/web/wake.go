package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"time"

	"waketwist/estimate"
	"waketwist/hand"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/unit"
)

// wakeView leads a bobbin through sampling to the ply of its project.
type wakeView struct {
	Project  journal.Project
	Bobbin   journal.Bobbin
	Tabs     []bobbinTab
	Progress job.Progress
	Age      string
	Depths   any // where a clip may come from
	Form     *form
	Dry, Wet *sampleCard
	Dried    *sampleCard
	SoakEnds string // for the timer's script, RFC 3339 to the millisecond; empty without one
	SoakLeft string
	Result   *resultView
	Why      *troubleView // why there is no result
	Plan     *form
}

// bobbinTab is one bobbin in the row at the top.
type bobbinTab struct {
	journal.Bobbin
	Stage string
	Now   bool
}

// At reports whether a stage is the one in hand, for templates.
func (v wakeView) At(stage string) bool {
	return map[string]job.Stage{
		"cut": job.Cut, "dry": job.ReadDry, "soak": job.Soak, "soaking": job.Soaking, "wet": job.ReadWet, "done": job.Sampled,
	}[stage] == v.Progress.Stage
}

func (b *bench) showWake(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r)
	if err != nil {
		return err
	}
	return b.wakePage(w, r, http.StatusOK, id, queryID(r, "bobbin"), newForm(url.Values{}))
}

// wakePage shows the wake page of a project at one of its bobbins: the one
// given, else the one that comes next.
func (b *bench) wakePage(w http.ResponseWriter, r *http.Request, status int, project, bobbin journal.ID, f *form) error {
	p, err := b.Store.Project(r.Context(), project)
	if err != nil {
		return err
	}
	if len(p.Bobbins) == 0 {
		return see(w, r, "/project/%d/bobbin", p.ID)
	}
	if bobbin == 0 {
		bobbin = job.NextStep(*p, b.Clock()).Bobbin
	}
	if bobbin == 0 {
		bobbin = slices.Concat(p.AtWork().Bobbins, p.Bobbins)[0].ID
	}
	one := p.Bobbin(bobbin)
	if one == nil {
		return journal.Missing("bobbin", bobbin)
	}
	view := b.wakeView(*p, *one, f)
	record, err := b.record(r.Context(), *p)
	if err != nil {
		return err
	}
	b.wakeResult(&view, record, chosen(r.URL.Query()))
	return b.show(w, r, status, "wake", "Wake "+one.Name, view)
}

func (b *bench) wakeView(p journal.Project, one journal.Bobbin, f *form) wakeView {
	view := wakeView{
		Project: p, Bobbin: one, Progress: job.ProgressOf(one, b.Clock()), Age: b.ageOf(one),
		Depths: journal.Depths, Form: f, Plan: newForm(planValues(p)),
	}
	for _, other := range p.Bobbins {
		if other.Away && other.ID != one.ID {
			continue
		}
		view.Tabs = append(view.Tabs, bobbinTab{other, stageWords(job.ProgressOf(other, b.Clock()).Stage), other.ID == one.ID})
	}
	view.Dry, view.Wet = b.cardOf(view.Progress.Dry), b.cardOf(view.Progress.Wet)
	b.soak(&view)
	if f.values.Has("strands") { // it is the plan's form that was not taken
		view.Plan = f
	}
	return view
}

func (b *bench) cardOf(s *journal.Sample) *sampleCard {
	if s == nil {
		return nil
	}
	card := b.sampleCard(*s)
	return &card
}

// soak fills in the timer.
func (b *bench) soak(view *wakeView) {
	wet := view.Progress.Wet
	if wet == nil {
		return
	}
	if left := job.Remaining(*wet, b.Clock()); left > 0 {
		// The next millisecond: a page that then loads itself anew finds the soak
		// over.
		view.SoakEnds = wet.SoakStart.Add(job.LongestSoak + time.Millisecond).UTC().Format("2006-01-02T15:04:05.000Z")
		view.SoakLeft = fmt.Sprintf("%d:%02d", int(left.Minutes()), int(left.Seconds())%60)
	}
}

// chosen are the bobbins that a form ticks to be plied together; none means all.
func chosen(values url.Values) (ids []journal.ID) {
	for _, text := range values["ply"] {
		if n, err := strconv.ParseInt(text, 10, 64); err == nil {
			ids = append(ids, journal.ID(n))
		}
	}
	return ids
}

// wakeResult fills in the answer for the chosen bobbins, or why there is none
// yet.
func (b *bench) wakeResult(view *wakeView, record hand.Record, ids []journal.ID) {
	waking, err := job.Wake(view.Project, record, ids...)
	if err != nil {
		if !slices.ContainsFunc(view.Project.Bobbins, hasRewet) {
			return
		}
		_, problem, advice := explain(err)
		view.Why = &troubleView{problem, advice}
		return
	}
	// With the set curve of the fibre the share asleep is known better than by the
	// pair of samples alone.
	if asleep := job.Asleep(view.Project, record, waking.Used, b.Clock()); waking.Dormant != nil && asleep != nil {
		waking.Dormant = asleep
	}
	result := resultOf(view.Project, waking)
	if view.Project.Want != nil {
		result.retwist(waking, *view.Project.Want)
	}
	view.Result = &result
}

// resultPage is the answer together with the page that it stands on.
type resultPage struct {
	Result *resultView
	View   wakeView
}

// readForms asks for readings of a sample.
type readForms struct {
	ID    journal.ID
	Form  *form
	Turns string // the direction to expect of a ply-back of these singles
}

// readsOf asks for readings of a sample; a form that was sent for another sample
// leaves this one's empty.
func readsOf(s *sampleCard, f *form, one journal.Bobbin) readForms {
	if f.sample != s.ID {
		f = newForm(url.Values{})
	}
	return readForms{s.ID, f, one.Direction.Opposite().String()}
}

// resultView is the answer of the wake page.
type resultView struct {
	Direction string
	Opposite  string
	Strands   string
	Line      string
	Target    measure
	Others    []measure // washed, at the wheel, turns, dormant, share
	Bobbins   []measure
	Choice    []plyChoice // the bobbins that could be plied together, when there are several
	Mismatch  string
	Waiting   []string
	Next      string
	Measured  string
	Learnt    string // how many readings of other bobbins are behind what is modelled; empty for none
	Notes     []string
	Drawings  []drawn
	Target0   *measure // the target in force, when there is one
	Want      string
	Retwist   []measure
	WantWrong string
}

// plyChoice is a sampled bobbin, taken into the answer or left out.
type plyChoice struct {
	ID   journal.ID
	Name string
	Used bool
}

func choices(p journal.Project, w *job.Waking) (out []plyChoice) {
	for _, one := range p.Bobbins {
		used := slices.ContainsFunc(w.Used, func(u journal.Bobbin) bool { return u.ID == one.ID })
		if used || hasRewet(one) && !one.Away {
			out = append(out, plyChoice{one.ID, one.Name, used})
		}
	}
	return out
}

func hasRewet(one journal.Bobbin) bool {
	return slices.ContainsFunc(one.Samples, func(s journal.Sample) bool { return !s.State.Dry() && len(s.Valid()) > 0 })
}

func resultOf(p journal.Project, w *job.Waking) resultView {
	v := resultView{
		Direction: w.Direction.String(), Opposite: w.Direction.Opposite().String(),
		Strands: strandWords(p.Plan), Line: w.Line.String(),
		Target:  angleMeasure("Hold the ply to", w.Target, "a re-wet piece of the ply, read at the "+w.Line.String()),
		Target0: targetMeasure(p), Next: nextWords(w), Measured: basisWords(p.Plan, w), Choice: choices(p, w), Learnt: countWords(w.Learnt),
	}
	v.Others = append(v.Others,
		angleMeasure("Washed and dried", w.Washed, "the finished ply, hung free"),
		angleMeasure("Look at the wheel", w.WheelLook, "dry, before washing: what to aim for while you ply"))
	if w.Turns != nil {
		v.Others = append(v.Others, turnsMeasure("Turns to put in", *w.Turns, "per length of ply"))
	}
	if w.DryLook != nil {
		v.Others = append(v.Others,
			shareMeasure("Turns if plied to the dry look", *w.TurnShare, "of those needed, per length of ply"),
			shareMeasure("Twist asleep in the singles", *w.Dormant, "wide while little is known of how stiffly your wool bends and how it falls asleep"))
		if m, ok := holderMeasure(*w.Dormant); ok {
			v.Others = append(v.Others, m)
		}
	}
	for _, f := range w.Flags {
		if f == estimate.Modelled || f == rest.BobbinsDiffer {
			continue // Measured and Mismatch say it
		}
		if s := job.FlagSentence(f); s != "" {
			v.Notes = append(v.Notes, s)
		}
	}
	for _, one := range w.Waiting {
		v.Waiting = append(v.Waiting, one.Name)
	}
	v.bobbins(w)
	v.Drawings = wakeDrawings(p, w)
	return v
}

// bobbins shows each bobbin's own word when there are several.
func (v *resultView) bobbins(w *job.Waking) {
	if len(w.Bobbins) < 2 {
		return
	}
	for _, one := range w.Bobbins {
		v.Bobbins = append(v.Bobbins, angleMeasure(one.Name, one.Rewet, "two-strand ply-back"))
	}
	if w.Flags.Has(rest.BobbinsDiffer) {
		most, least, gap := w.Apart()
		v.Mismatch = fmt.Sprintf("%s is livelier than %s by %.0f° (%.0f° to %.0f°, 9 times in 10), re-wet. Plied together they share one target, but stretches where they meet will lean to the livelier strand; keep them in one skein, or ply each with its like.",
			most.Name, least.Name, gap.Value.Degrees(), gap.Low.Degrees(), gap.High.Degrees())
	}
}

// retwist fills in what it takes to reach the ply that is wanted.
func (v *resultView) retwist(w *job.Waking, want unit.Angle) {
	v.Want = want.String()
	back, err := w.Retwist(want)
	if err != nil {
		_, problem, advice := explain(err)
		v.WantWrong = problem + " " + advice
		return
	}
	v.Retwist = []measure{retwistShare(back.Share)}
	if back.Turns != nil {
		v.Retwist = append(v.Retwist, retwistTurns(*back.Turns))
	}
}

func strandWords(p journal.Plan) string {
	words := map[int]string{2: "two-ply", 3: "three-ply", 4: "four-ply"}[p.Strands]
	if p.Chain {
		words = "chain-ply"
	}
	switch {
	case p.Offset > 0:
		words += fmt.Sprintf(", %.0f %% over balance", 100*p.Offset)
	case p.Offset < 0:
		words += fmt.Sprintf(", %.0f %% under balance", -100*p.Offset)
	}
	return words
}

// nextWords says which further clip would narrow the answer most.
func nextWords(w *job.Waking) string {
	n := w.Next
	if n == nil || n.Now-n.Then < unit.Degree/2 {
		return "Another clip would hardly narrow the answer: it is as good as these bobbins allow."
	}
	of := ""
	if len(w.Used) > 1 {
		of = " of " + n.Bobbin
	}
	return fmt.Sprintf("One more re-wet clip from %s%s would narrow that bobbin's interval from %.0f to about %.0f degrees across.",
		journal.DepthWords(n.Depth), of, n.Now.Degrees(), n.Then.Degrees())
}

func basisWords(plan journal.Plan, w *job.Waking) string {
	switch {
	case w.Target.Measured():
		return "The angle to hold is measured: it is what your re-wet samples showed, compared like with like. The washed angle, the look at the wheel and the share asleep are modelled from it."
	case plan.Strands == 2 && w.Flags.Has(rest.ShortSoak):
		return "The angle to hold is modelled: a sample lay in water for too short a time, and what it would have shown after a full soak is reckoned from what it did show."
	case plan.Strands == 2:
		return "The angle to hold is modelled: your samples were read dried, and what they showed re-wet is reckoned from that. Read one re-wet and compare."
	}
	return "The angle to hold is modelled: it is worked out from your two-strand re-wet samples for another ply, through the balance of bending and twisting. Make a sample of the ply you want, wet it, and compare."
}
