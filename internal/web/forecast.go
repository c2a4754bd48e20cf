package web

import (
	"fmt"
	"math"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/hand"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/yarn"
)

// forecastView is the what-if of a project.
type forecastView struct {
	Project  *journal.Project
	Form     *form
	Preps    []string
	Verdict  string
	Chances  string
	Angles   []measure
	Changes  []measure
	Drawings []drawn
	Notes    []string
	Learnt   string
	Why      *troubleView
}

// showForecast answers a what-if: how long the singles rest and in what air, at
// which angle they are plied, how they are washed.
func (b *bench) showForecast(w http.ResponseWriter, r *http.Request) error {
	p, err := b.project(r)
	if err != nil {
		return err
	}
	record, err := b.record(r.Context(), *p)
	if err != nil {
		return err
	}
	f := newForm(r.URL.Query())
	ask := askFrom(f)
	b.fillAsk(f, *p)
	view := forecastView{Project: p, Form: f, Preps: prepWords(), Learnt: countWords(record.Readings())}
	status := http.StatusOK
	if f.Bad() {
		status = http.StatusUnprocessableEntity
	} else {
		b.forecast(&view, record, ask)
	}
	return b.show(w, r, status, "forecast", "What if: "+p.Name, view)
}

func prepWords() (out []string) {
	for prep := finish.Unknown; prep <= finish.Woollen; prep++ {
		out = append(out, prep.String())
	}
	return out
}

// askFrom reads the what-if of a form.
func askFrom(f *form) (a job.Ask) {
	if days := quantity(f, "days", unit.ParseNumber); days != nil {
		rested := time.Duration(*days * 24 * float64(time.Hour))
		a.Rested = &rested
	}
	if rh := quantity(f, "humidity", unit.ParseNumber); rh != nil {
		humidity := rest.Humidity(*rh)
		a.Humidity = &humidity
	}
	a.Angle = quantity(f, "angle", unit.ParseAngle)
	if n := quantity(f, "strands", count); n != nil {
		a.Strands = *n
	}
	a.Prepared = quantity(f, "preparation", finish.ParsePreparation)
	return a
}

// fillAsk shows in the form what the project has where nothing was asked.
func (b *bench) fillAsk(f *form, p journal.Project) {
	f.values = cloneValues(f.values)
	for name, value := range map[string]string{
		"days":     fmt.Sprintf("%.0f", job.RestedOf(p, b.Clock()).Hours()/24),
		"humidity": fmt.Sprintf("%.0f", float64(job.RoomHumidity)),
		"strands":  strconv.Itoa(p.Plan.Strands),
	} {
		if f.text(name) == "" {
			f.values.Set(name, value)
		}
	}
}

func cloneValues(v url.Values) url.Values {
	out := url.Values{}
	for name, values := range v {
		out[name] = values
	}
	return out
}

// forecast fills in the washed skein that follows.
func (b *bench) forecast(view *forecastView, record hand.Record, ask job.Ask) {
	known, err := hand.Fit(record)
	if err == nil {
		var answer *hand.Forecast
		if answer, err = job.Forecast(known, *view.Project, ask, b.Clock()); err == nil {
			view.fill(answer, ask.Angle != nil)
			return
		}
	}
	_, problem, advice := explain(err)
	view.Why = &troubleView{problem, advice}
}

func (v *forecastView) fill(a *hand.Forecast, asked bool) {
	at := "at the " + a.Line.String()
	v.Verdict = verdictWords(a)
	v.Chances = fmt.Sprintf("Over-plied %s, under-plied %s, in balance %s of the time.", percent(float64(a.Over)), percent(float64(a.Under)), percent(float64(1-a.Over-a.Under)))
	v.Angles = []measure{
		wheelMeasure(a, at, asked),
		angleMeasure("That washes into balance", a.WheelLook, "the look to aim for instead, dry, "+at),
		angleMeasure("Washed and dried", a.Washed, at),
		angleMeasure("Where it would rest, washed", a.WashedBalance, at),
		angleMeasure("The dry look would suggest", a.DryLook, at),
	}
	v.Changes = []measure{
		shareMeasure("Twist asleep in the singles", a.Dormant, ""),
		factorMeasure("Length in the wash", a.Length), factorMeasure("Thickness in the wash", a.Diameter), factorMeasure("Grist in the wash, g per km", a.Grist),
	}
	if a.HalfTurns != nil {
		v.Changes = append(v.Changes, hangMeasure(a))
	}
	v.Drawings = forecastDrawings(a, v.Project)
	for _, f := range a.Flags {
		if f != estimate.Modelled {
			v.Notes = append(v.Notes, job.FlagSentence(f))
		}
	}
}

// wheelMeasure shows the ply at the wheel; one that was asked for, or taken to
// forecast from, is a setting and has no spread.
func wheelMeasure(a *hand.Forecast, at string, asked bool) measure {
	m := angleMeasure("Plied, at the wheel", a.Wheel, "dry, "+at)
	if a.Wheel.High == a.Wheel.Low {
		m.Range, m.Bar, m.Plain = "", nil, true
		m.Note += ", taken from the next number"
		if asked {
			m.Note = "dry, " + at + ", as asked"
		}
	}
	return m
}

// verdictWords names a verdict only where it holds two times in three.
func verdictWords(a *hand.Forecast) string {
	chance := map[finish.Balance]rest.Share{finish.Balanced: 1 - a.Over - a.Under, finish.OverPlied: a.Over, finish.UnderPlied: a.Under}[a.Verdict]
	if chance < 2.0/3 {
		return "Too open to call: read more before you trust it."
	}
	words := map[finish.Balance]string{
		finish.Balanced:   "The washed skein hangs open: in balance.",
		finish.OverPlied:  "The washed skein is over-plied",
		finish.UnderPlied: "The washed skein is under-plied",
	}[a.Verdict]
	if a.Verdict != finish.Balanced {
		words += fmt.Sprintf(", by about %s of the turns.", percent(abs(float64(a.Excess.Value))))
		if a.Hangs != yarn.NoDirection {
			words += " It hangs turned " + a.Hangs.String() + "."
		}
	}
	return words
}

func abs(v float64) float64 { return max(v, -v) }

// factorMeasure shows a factor as a change in per cent.
func factorMeasure(label string, e estimate.Estimate[hand.Factor]) measure {
	change := func(f hand.Factor) string { return signed(100*(float64(f)-1)) + " %" }
	return measure{
		Label: label, Value: change(e.Value), Range: fmt.Sprintf("%s to %s", change(e.Low), change(e.High)),
		State: estimate.Washed.String(), Words: stateWords(estimate.Washed, estimate.Free), Model: true,
	}
}

// signed prints a whole number with its sign; nothing has none.
func signed(v float64) string {
	if v = math.Round(v); v == 0 {
		return "0"
	}
	return strings.Replace(fmt.Sprintf("%+.0f", v), "-", "−", 1)
}

// hangMeasure shows how the skein is likely to hang.
func hangMeasure(a *hand.Forecast) measure {
	e := *a.HalfTurns
	return measure{
		Label: "Half turns of the hanging loop", Value: signed(float64(e.Value)),
		Range: fmt.Sprintf("%s to %s", signed(float64(e.Low)), signed(float64(e.High))),
		State: estimate.Washed.String(), Words: stateWords(estimate.Washed, estimate.Free), Model: true,
		Note: "over zero the way of the singles, under zero the way of the ply",
	}
}

// forecastDrawings show the ply at the wheel, washed, and as it would rest.
func forecastDrawings(a *hand.Forecast, p *journal.Project) []drawn {
	n, ply := p.Plan.Strands, hangOf(*p)[1]
	one := func(caption string, e estimate.Estimate[unit.Angle], state estimate.State, width float64) drawn {
		return drawnYarn(fmt.Sprintf("%s, %.0f°", caption, e.Value.Degrees()), n, job.CentreOf(e.Value, a.Line, n), ply, state, width)
	}
	return []drawn{
		one("at the wheel", a.Wheel, estimate.Rested, dryWidth),
		one("washed", a.Washed, estimate.Washed, washedWidth),
		one("in balance, washed", a.WashedBalance, estimate.Washed, washedWidth),
	}
}
