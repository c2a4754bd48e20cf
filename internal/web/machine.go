package web

import (
	"fmt"
	"net/http"
	"net/url"

	"waketwist/estimate"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/wheel"
)

// machinesView are the spinner's own wheels, spindles and motors.
type machinesView struct {
	*form
	InUse, PutAway []machineCard
	Kinds          []stateChoice
}

// machineCard is a machine in a few lines.
type machineCard struct {
	journal.Machine
	Lines []string
}

// kindChoices are the kinds of machine with what tells them apart.
var kindChoices = []stateChoice{
	{wheel.FlyerLed.String(), "flyer-led: the band drives the flyer, the bobbin is braked"},
	{wheel.BobbinLed.String(), "bobbin-led: the band drives the bobbin, the flyer is braked"},
	{wheel.DoubleDrive.String(), "double drive: bands drive both"},
	{wheel.Spindle.String(), "spindle"},
	{wheel.MotorDriven.String(), "motor"},
}

func (b *bench) showMachines(w http.ResponseWriter, r *http.Request) error {
	return b.machinesPage(w, r, http.StatusOK, newForm(url.Values{"kind": {wheel.FlyerLed.String()}}))
}

func (b *bench) machinesPage(w http.ResponseWriter, r *http.Request, status int, f *form) error {
	all, err := b.Store.Machines(r.Context())
	if err != nil {
		return err
	}
	view := machinesView{form: f, Kinds: kindChoices}
	for _, m := range all {
		card := machineCard{m, job.MachineLines(m)}
		if m.Struck == "" {
			view.InUse = append(view.InUse, card)
		} else {
			view.PutAway = append(view.PutAway, card)
		}
	}
	return b.show(w, r, status, "machines", "Machines", view)
}

func (b *bench) createMachine(w http.ResponseWriter, r *http.Request) error {
	f, err := readForm(r)
	if err != nil {
		return err
	}
	m := journal.Machine{Name: f.text("name"), Note: f.text("note")}
	if kind := quantity(f, "kind", wheel.ParseKind); kind != nil {
		m.Kind = *kind
	}
	var id journal.ID
	kept, err := f.keep(func() (err error) { id, err = b.Store.AddMachine(r.Context(), m); return err })
	switch {
	case err != nil:
		return err
	case kept:
		return see(w, r, "/machine/%d", id)
	}
	return b.machinesPage(w, r, http.StatusUnprocessableEntity, f)
}

// machineView is a machine with all that was counted on it, and what is asked of
// it.
type machineView struct {
	journal.Machine
	Driven   string // what the whorl drives
	Strokes  string
	Motor    bool
	Whorls   []gearView
	Settings []gearView
	Slip     *measure
	Seen     []sightingView
	Spools   []spoolView
	Hows     []journal.How
	Set      *setView
	Went     *wentView
	Form     *form
	part     string // of the form that was sent
}

// gearView is a whorl or a motor's setting with its counts.
type gearView struct {
	ID      journal.ID
	Name    string
	Struck  string
	Part    journal.Part
	Measure *measure
	Why     string // why there is no measure
	Tallies []tallyView
}

// tallyView is a count or a timing in words.
type tallyView struct {
	ID     journal.ID
	Part   journal.Part
	Words  string
	Struck string
}

type sightingView struct {
	tallyView
	Shows string
}

type spoolView struct {
	journal.Spool
	Lines []string
}

// gearForm asks for a whorl or a setting, a bobbin, or turns counted over a time.
type gearForm struct {
	machineView
	Form *form
	Any  string // what leaving the whorl open means; empty where it must be chosen
}

// talliedView is a whorl or a setting of a machine.
type talliedView struct {
	gearView
	Machine journal.ID
}

// strikeForm asks why a part no longer counts.
type strikeForm struct {
	Machine journal.ID
	Part    journal.Part
	ID      journal.ID
	Words   string
}

func strikeOf(machine journal.ID, part journal.Part, id journal.ID, words string) strikeForm {
	return strikeForm{machine, part, id, words}
}

// On returns the form as it was sent to a part of the page, and an empty one for
// the other parts, which have fields of the same names.
func (v machineView) On(part string) *form {
	if v.part == part {
		return v.Form
	}
	return newForm(url.Values{})
}

func (b *bench) machine(r *http.Request) (*journal.Machine, error) {
	id, err := pathID(r)
	if err != nil {
		return nil, err
	}
	return b.Store.Machine(r.Context(), id)
}

func (b *bench) showMachine(w http.ResponseWriter, r *http.Request) error {
	m, err := b.machine(r)
	if err != nil {
		return err
	}
	f := newForm(r.URL.Query())
	view := machineOf(*m, f, f.text("ask"))
	status := http.StatusOK
	if !view.answer() {
		status = http.StatusUnprocessableEntity
	}
	return b.show(w, r, status, "machine", m.Name, view)
}

// machinePage shows a machine again with a form that was not taken.
func (b *bench) machinePage(w http.ResponseWriter, r *http.Request, m journal.Machine, f *form, part string) error {
	return b.show(w, r, http.StatusUnprocessableEntity, "machine", m.Name, machineOf(m, f, part))
}

func machineOf(m journal.Machine, f *form, part string) machineView {
	view := machineView{
		Machine: m, Driven: job.DrivenPart(m.Kind), Strokes: job.Strokes(m.Kind), Motor: m.Kind == wheel.MotorDriven, Hows: journal.Hows, Form: f, part: part,
	}
	for _, w := range m.Whorls {
		view.Whorls = append(view.Whorls, whorlView(w, m.Kind))
	}
	for _, s := range m.Settings {
		view.Settings = append(view.Settings, settingView(m, s))
	}
	for _, s := range m.Spools {
		view.Spools = append(view.Spools, spoolView{s, job.SpoolLines(s)})
	}
	view.fillSlip()
	return view
}

func whorlView(w journal.Whorl, k wheel.Kind) gearView {
	view := gearView{ID: w.ID, Name: w.Name, Struck: w.Struck, Part: journal.PartWhorl}
	for _, c := range w.Counts {
		view.Tallies = append(view.Tallies, tallyView{c.ID, journal.PartCount, job.CountWords(c, k), c.Struck})
	}
	ratio, err := job.RatioOf(w)
	if err != nil {
		view.Why = err.Error()
		return view
	}
	m := countedMeasure(w.Name, ratio, " turns a "+job.Stroke(k), wheel.NotCounted)
	view.Measure = &m
	return view
}

func settingView(of journal.Machine, s journal.MotorSetting) gearView {
	view := gearView{ID: s.ID, Name: s.Name, Struck: s.Struck, Part: journal.PartSetting}
	for _, t := range s.Timings {
		view.Tallies = append(view.Tallies, tallyView{t.ID, journal.PartTiming, job.SeenWords(t.Seen), t.Struck})
	}
	motor, err := job.MotorOf(of, s.ID)
	var speed estimate.Estimate[wheel.Speed]
	if err == nil {
		speed, err = motor.Speed()
	}
	if err != nil {
		view.Why = err.Error()
		return view
	}
	m := countedMeasure(s.Name, speed, " turns a minute", wheel.NotMeasured)
	if speed.Flags.Has(wheel.FastFlyer) {
		m.Note += ". " + job.FlagSentence(wheel.FastFlyer)
	}
	view.Measure = &m
	return view
}

// countedMeasure shows what was counted; what was only stated is a setting.
func countedMeasure[T ~float64](label string, e estimate.Estimate[T], unit string, stated estimate.Flag) measure {
	m := measure{Label: label, Value: job.Three(float64(e.Value)) + unit, Range: rangeText(e, unit)}
	if e.Flags.Has(stated) {
		m.Plain, m.Note = true, "as stated, not counted"
		return m
	}
	m.Note = "from " + plural(float64(e.N), "count")
	return m
}

// rangeText is the interval of a number.
func rangeText[T ~float64](e estimate.Estimate[T], unit string) string {
	return fmt.Sprintf("%s to %s%s", job.Three(float64(e.Low)), job.Three(float64(e.High)), unit)
}

// fillSlip shows what was seen of slip and what to expect of it.
func (v *machineView) fillSlip() {
	names := map[journal.ID]string{}
	for _, w := range v.Machine.Whorls {
		names[w.ID] = w.Name
	}
	shows, seen := map[journal.ID]string{}, 0
	for _, s := range job.Sightings(v.Machine) {
		if shows[s.ID] = s.Why; s.Grip != nil {
			shows[s.ID] = job.LossWords(*s.Grip)
			seen++
		}
	}
	for _, s := range v.Machine.Slips {
		words := fmt.Sprintf("on “%s” at %s treadles a minute, %s", names[s.Whorl], job.Three(float64(s.Rhythm)), job.SeenWords(s.Seen))
		v.Seen = append(v.Seen, sightingView{tallyView{s.ID, journal.PartSlip, words, s.Struck}, shows[s.ID]})
	}
	slip := job.SlipOf(v.Machine)
	if slip == (wheel.Slip{}) {
		return
	}
	width := float64(slip.High - slip.Low) // even between its ends, so nine tenths of it hold nine of ten
	low, high := 1-float64(slip.High)+width/20, 1-float64(slip.Low)-width/20
	v.Slip = &measure{
		Label: "Lost to slip, the next time", Value: percent((low + high) / 2), Range: fmt.Sprintf("%s to %s", percent(low), percent(high)),
		Model: true, Note: "from " + plural(float64(seen), "sighting"), Bar: barOf(low, (low+high)/2, high, 0, 0.4),
	}
	v.Slip.Bar.From, v.Slip.Bar.To, v.Slip.Bar.Model = "none", "40 %", true
}

func (b *bench) changeMachine(w http.ResponseWriter, r *http.Request) error {
	m, f, err := sent(r, b.machine)
	if err != nil {
		return err
	}
	next := *m
	next.Name, next.Note = f.text("name"), f.text("note")
	return b.keepOnMachine(w, r, *m, f, "change", func() error { return b.Store.ChangeMachine(r.Context(), next) })
}
