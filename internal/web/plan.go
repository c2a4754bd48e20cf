package web

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/internal/sheet"
	"waketwist/plan"
	"waketwist/wheel"
)

// planView is a plan: the wish as a form, and what follows from it.
type planView struct {
	Wish     *journal.Wish // nil for a new one
	Action   string        // where it is kept
	Fabric   string        // woven, knitted or yarn
	Form     *form
	Parts    []planPart
	Projects []journal.Project

	Trouble   *troubleView
	Hint      bool // Trouble only says that nothing follows yet
	Conflicts []plan.Conflict
	Outlook   string
	Heads     []measure
	Stocks    []string
	Stash     []string
	Made      []planAnswerNamed
	Widths    []string
	Assumed   []string
	Taught    []string
	Notes     []string
	Shopping  []string
	ToDo      []string
	Drawdown  *drawdown
}

// planAnswerNamed is a line of what the stock in hand makes.
type planAnswerNamed struct {
	Name string
	*planAnswer
}

// mostStash is how much of the stash is set against a plan.
const mostStash = 6

// showPlans lists the plans.
func (b *bench) showPlans(w http.ResponseWriter, r *http.Request) error {
	wishes, err := b.Store.Wishes(r.Context())
	if err != nil {
		return err
	}
	return b.show(w, r, http.StatusOK, "plans", "Plans", wishes)
}

// newPlan answers a plan that is not kept, from what stands in the address. Where
// that is a project and nothing more, it begins with the project's own bobbins.
func (b *bench) newPlan(w http.ResponseWriter, r *http.Request) error {
	values := r.URL.Query()
	seen, err := b.gather(r.Context())
	if err != nil {
		return err
	}
	if id := queryID(r, "project"); id != 0 && len(values) == 1 {
		p, err := b.Store.Project(r.Context(), id)
		if err != nil {
			return err
		}
		for key, text := range job.PlanOf(*p, seen.lots) {
			values.Set(key, text)
		}
	}
	return b.planOf(w, r, http.StatusOK, nil, newForm(values), seen)
}

// showPlan answers a plan that is kept. What stands in the address is tried in
// its place.
func (b *bench) showPlan(w http.ResponseWriter, r *http.Request) error {
	wish, err := b.wish(r)
	if err != nil {
		return err
	}
	values := r.URL.Query()
	if len(values) == 0 {
		values = wishValues(*wish)
	}
	return b.planPage(w, r, http.StatusOK, wish, newForm(values))
}

func (b *bench) wish(r *http.Request) (*journal.Wish, error) {
	id, err := pathID(r)
	if err != nil {
		return nil, err
	}
	return b.Store.Wish(r.Context(), id)
}

// wishValues fills the form of a kept plan.
func wishValues(wish journal.Wish) url.Values {
	v := url.Values{"name": {wish.Name}}
	if wish.Project != 0 {
		v.Set("project", fmt.Sprint(wish.Project))
	}
	for key, text := range wish.Text {
		v.Set(key, text)
	}
	return v
}

// createPlan keeps a new plan.
func (b *bench) createPlan(w http.ResponseWriter, r *http.Request) error {
	f, err := readForm(r)
	if err != nil {
		return err
	}
	return b.keepPlan(w, r, nil, f)
}

// changePlan keeps a new version of a plan.
func (b *bench) changePlan(w http.ResponseWriter, r *http.Request) error {
	wish, f, err := sent(r, b.wish)
	if err != nil {
		return err
	}
	return b.keepPlan(w, r, wish, f)
}

// keepPlan keeps a plan whose every value can be read; it may contradict itself.
func (b *bench) keepPlan(w http.ResponseWriter, r *http.Request, wish *journal.Wish, f *form) error {
	next := journal.Wish{}
	if wish != nil {
		next = *wish
	}
	text := planText(f)
	next.Name, next.Text, next.Project = f.text("name"), text, 0
	if id := quantity(f, "project", recordID); id != nil {
		next.Project = *id
	}
	_, problems := plan.Read(text)
	for key, err := range problems {
		f.refuse(key, err)
	}
	kept, err := f.keep(func() (err error) {
		if wish != nil {
			return b.Store.ChangeWish(r.Context(), next)
		}
		next.ID, err = b.Store.AddWish(r.Context(), next)
		return err
	})
	switch {
	case err != nil:
		return err
	case kept:
		return see(w, r, "/plan/%d", next.ID)
	}
	return b.planPage(w, r, http.StatusUnprocessableEntity, wish, f)
}

// planText is the text of a form: the fields of the fabric that it is of, and
// none that is empty.
func planText(f *form) plan.Text {
	text, fabric := plan.Text{}, fabricOf(f)
	for _, field := range plan.Fields() {
		head, _, _ := strings.Cut(field.Key, ".")
		if head == "cloth" && fabric != "woven" || head == "knit" && fabric != "knitted" {
			continue
		}
		if value := strings.ReplaceAll(f.text(field.Key), "\r\n", "\n"); value != "" {
			text[field.Key] = value
		}
	}
	return text
}

// fabricOf tells which fabric a form is of: as it says, else by what is filled in.
func fabricOf(f *form) string {
	switch fabric := f.text("fabric"); fabric {
	case "woven", "knitted", "yarn":
		return fabric
	}
	text := plan.Text{}
	for key := range f.values {
		text[key] = f.text(key)
	}
	return map[plan.Fabric]string{plan.Woven: "woven", plan.Knitted: "knitted", plan.NoFabric: "yarn"}[text.Fabric()]
}

// planPage shows a plan with its answer.
func (b *bench) planPage(w http.ResponseWriter, r *http.Request, status int, wish *journal.Wish, f *form) error {
	seen, err := b.gather(r.Context())
	if err != nil {
		return err
	}
	return b.planOf(w, r, status, wish, f, seen)
}

func (b *bench) planOf(w http.ResponseWriter, r *http.Request, status int, wish *journal.Wish, f *form, seen gathered) error {
	view := planView{Wish: wish, Action: "/plan/new", Fabric: fabricOf(f), Form: f, Projects: seen.projects}
	title := "A new plan"
	if wish != nil {
		view.Action, title = fmt.Sprintf("/plan/%d", wish.ID), wish.Name
	}
	k := b.known(seen, f)
	solved, err := solvePlan(f, k)
	if f.Bad() {
		status = http.StatusUnprocessableEntity
	}
	if err != nil {
		if view.Trouble, status = planTrouble(err, status); view.Trouble == nil {
			return err
		}
		view.Hint = status == http.StatusOK
	}
	if solved.result != nil {
		if len(solved.result.Conflicts) > 0 {
			status = http.StatusUnprocessableEntity
		}
		view.fill(solved.result, solved.outlook)
		view.Stash = solved.stash[:min(len(solved.stash), mostStash)]
	}
	view.Parts = planParts(f, view.Fabric, solved.result, k.Machines)
	return b.show(w, r, status, "plan", title, view)
}

// planned is a plan with its outlook, nil where nothing was weighed, and what in
// the stash would do for it.
type planned struct {
	result  *plan.Result
	outlook *plan.Outlook
	stash   []string
}

// solvePlan reckons the plan of a form with what the journal knows. Its result is
// nil where the form is empty, or where a value cannot be read, which the form
// then says.
func solvePlan(f *form, k job.Known) (out planned, err error) {
	text := planText(f)
	wish, problems := plan.Read(text)
	for key, err := range problems {
		f.refuse(key, err)
	}
	if len(text) == 0 || f.Bad() {
		return out, nil
	}
	if err := k.Tell(&wish); err != nil {
		return out, err
	}
	result, err := plan.Solve(wish)
	if err != nil {
		return out, err
	}
	out.outlook, err = result.Outlook()
	out.result, out.stash = result, job.SayStash(job.AgainstStash(result, k.Stash))
	return out, err
}

// gathered is what a plan looks at in the journal.
type gathered struct {
	projects []journal.Project
	lots     []journal.Lot
	swatches []journal.Swatch
	machines []journal.Machine
}

func (b *bench) gather(ctx context.Context) (g gathered, err error) {
	if g.projects, err = b.Store.Projects(ctx); err != nil {
		return g, err
	}
	if g.lots, err = b.Store.Lots(ctx); err != nil {
		return g, err
	}
	if g.swatches, err = b.Store.Swatches(ctx); err != nil {
		return g, err
	}
	g.machines, err = b.Store.Machines(ctx)
	return g, err
}

// known is what the journal has to say to the plan of a form.
func (b *bench) known(g gathered, f *form) job.Known {
	losses := job.LossesOf(g.projects, g.lots, g.swatches)
	id, _ := recordID(f.text("project")) // what is no record is refused when the plan is kept
	return job.Known{
		Losses: losses, Stash: job.StashOf(g.projects, g.lots, losses), Machines: g.machines, Hand: b.handOf(g.projects),
		Midway: job.MidwayOf(id, g.projects, g.lots),
	}
}

// sendPlan sends the plan of a form as the text that the command reads.
func (b *bench) sendPlan(w http.ResponseWriter, r *http.Request) error {
	text, err := job.WritePlan(planText(newForm(r.URL.Query())))
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.Header().Set("Content-Disposition", `attachment; filename="plan.toml"`)
	w.Write(text) // a reader that left needs no answer
	return nil
}

// printPlan sends the plan of a form as a sheet to print.
func (b *bench) printPlan(w http.ResponseWriter, r *http.Request) error {
	f := newForm(r.URL.Query())
	seen, err := b.gather(r.Context())
	if err != nil {
		return err
	}
	solved, err := solvePlan(f, b.known(seen, f))
	if solved.result == nil && err == nil {
		err = &plan.Error{Problem: "There is nothing to print yet.", Advice: "Go back, fill in the plan, and put right what is marked there."}
	}
	if err != nil {
		if v, _ := planTrouble(err, 0); v != nil {
			return b.show(w, r, http.StatusUnprocessableEntity, "trouble", "Trouble", *v)
		}
		return err
	}
	paper, err := sheet.ParsePaper(cmp.Or(f.text("paper"), "a4"))
	if err != nil {
		return b.show(w, r, http.StatusUnprocessableEntity, "trouble", "Trouble", troubleView{err.Error(), "Go back and choose the paper."})
	}
	var out bytes.Buffer
	head := sheet.Head{Title: f.text("name"), At: b.Clock(), Paper: paper, Stash: solved.stash}
	if err := sheet.Plan(&out, head, solved.result, solved.outlook); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/pdf")
	w.Header().Set("Content-Disposition", `inline; filename="plan.pdf"`)
	w.Write(out.Bytes()) // a reader that left needs no answer
	return nil
}

// planTrouble puts a refusal of the plan into words, with the status of its page:
// unchanged where nothing is wrong but that nothing follows yet. It is nil for
// other errors.
func planTrouble(err error, status int) (*troubleView, int) {
	var refused *plan.Error
	var known *journal.Error
	var turned *wheel.Error
	switch {
	case errors.As(err, &turned):
		return &troubleView{turned.Problem, turned.Advice}, http.StatusUnprocessableEntity
	case errors.As(err, &refused) && refused.Incomplete:
		return &troubleView{refused.Problem, refused.Advice}, status
	case errors.As(err, &refused):
		return &troubleView{refused.Problem, refused.Advice}, http.StatusUnprocessableEntity
	case errors.As(err, &known):
		return &troubleView{known.Text, ""}, http.StatusUnprocessableEntity
	}
	return nil, status
}

func (v *planView) fill(r *plan.Result, o *plan.Outlook) {
	v.Conflicts, v.Notes, v.Shopping, v.ToDo = r.Conflicts, r.Notes, r.Shopping(), r.ToDo()
	v.Assumed, v.Taught = r.Assumed(), r.Taught()
	if o != nil {
		v.Outlook = o.Say()
	}
	for _, key := range []string{"cloth.length", "knit.length", "fibre.bought", "yarn.length", "work.hours"} {
		if l, ok := r.LineOf(key); ok && l.Source == plan.Follows {
			v.Heads = append(v.Heads, measure{Label: l.Name, Value: l.Text, Range: l.Range, Model: true})
		}
	}
	for _, s := range r.Stocks {
		v.Stocks = append(v.Stocks, s.Say(r.FromHand))
	}
	for _, l := range r.MadeLines() {
		v.Made = append(v.Made, planAnswerNamed{l.Name, answerOf(l)})
	}
	for _, b := range r.Width {
		v.Widths = append(v.Widths, widthWords(b))
	}
	if r.Wish.Fabric == plan.Woven {
		v.Drawdown = drawdownOf(r.Wish.Weave)
	}
}

func widthWords(b plan.Blame) string {
	said := make([]string, len(b.Of))
	for i, a := range b.Of {
		said[i] = fmt.Sprintf("%s (%.0f %%)", a.Name, 100*a.Share)
	}
	return fmt.Sprintf("Of the interval of %s: %s.", b.Total, strings.Join(said, ", "))
}
