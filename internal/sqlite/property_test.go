package sqlite

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"waketwist/internal/journal"
)

// model is what a project must read back as, kept beside the store.
type model struct {
	*rapid.T
	store *Store
	now   time.Time
	want  journal.Project
	// touched is how much later than now the step ended.
	touched time.Duration
}

func TestRandomRecordsComeBack(t *testing.T) {
	var now time.Time
	s := openIn(t, t.TempDir(), func() time.Time { return now })
	rapid.Check(t, func(rt *rapid.T) {
		m := &model{T: rt, store: s, want: drawProject(rt)}
		steps := rapid.IntRange(0, 12).Draw(rt, "steps")
		for step := range steps + 1 {
			now = dawn.Add(time.Duration(step) * 1234567891)
			m.now = now
			m.touched = 0
			m.addSomething()
			m.want.Touched = now.Add(m.touched)
		}
		got, err := s.Project(t.Context(), m.want.ID)
		if err != nil {
			rt.Fatal(err)
		}
		if diff := cmp.Diff(&m.want, got, kept); diff != "" {
			rt.Errorf("(-want +got):\n%s", diff)
		}
	})
}

// addSomething adds a record for which there is a place.
func (m *model) addSomething() {
	if m.want.ID == 0 {
		m.addProject()
		return
	}
	kinds := []func(){m.addBobbin, m.addTarget}
	if len(m.want.Bobbins) > 0 {
		kinds = append(kinds, m.addStretch, m.addSample, m.addRun, m.addSkein, m.addWeighing, m.addWeighing)
	}
	if len(m.want.Runs) > 0 {
		kinds = append(kinds, m.changeRun, m.addSample)
	}
	if len(m.skeins()) > 0 {
		kinds = append(kinds, m.addMeasure, m.addWash, m.addHang, m.addUse)
	}
	if len(m.samples()) > 0 {
		kinds = append(kinds, m.addReading, m.addReading, m.addReading)
	}
	rapid.SampledFrom(kinds).Draw(m.T, "kind")()
}

// keep passes the number of a new record on.
func (m *model) keep(id journal.ID, err error) journal.ID {
	if err != nil {
		m.Fatal(err)
	}
	return id
}

func (m *model) addProject() {
	m.want.ID = m.keep(m.store.AddProject(m.Context(), m.want))
	m.want.Created = m.now
}

func (m *model) addBobbin() {
	b := drawBobbin(m.T)
	b.Project = m.want.ID
	if b.Lot != nil {
		b.Lot.ID = m.keep(m.store.AddLot(m.Context(), *b.Lot))
		b.Lot.Recorded = m.now
	}
	b.ID = m.keep(m.store.AddBobbin(m.Context(), b))
	b.Recorded = m.now
	m.want.Bobbins = append(m.want.Bobbins, b)
}

func (m *model) addStretch() {
	b := &m.want.Bobbins[rapid.IntRange(0, len(m.want.Bobbins)-1).Draw(m.T, "bobbin")]
	one := drawStretch(m.T)
	one.Bobbin = b.ID
	one.ID = m.keep(m.store.AddStretch(m.Context(), one))
	one.Recorded = m.now
	b.Stretches = append(b.Stretches, one)
	slices.SortStableFunc(b.Stretches, func(x, y journal.Stretch) int { return x.Started.Compare(y.Started) })
}

// addSample adds a piece of a bobbin, a run or a skein.
func (m *model) addSample() {
	owner := rapid.SampledFrom(m.sampled()).Draw(m.T, "owner")
	sample := drawSample(m.T, owner.sample)
	sample.ID = m.keep(m.store.AddSample(m.Context(), sample))
	sample.Recorded = m.now
	*owner.into = append(*owner.into, sample)
}

// sampleOwner is where a sample goes: the list, and a sample that names its
// owner.
type sampleOwner struct {
	sample journal.Sample
	into   *[]journal.Sample
}

func (m *model) sampled() (all []sampleOwner) {
	for i := range m.want.Bobbins {
		b := &m.want.Bobbins[i]
		all = append(all, sampleOwner{journal.Sample{Bobbin: b.ID}, &b.Samples})
	}
	for i := range m.want.Runs {
		r := &m.want.Runs[i]
		all = append(all, sampleOwner{journal.Sample{Run: r.ID}, &r.Checks})
	}
	for _, s := range m.skeins() {
		all = append(all, sampleOwner{journal.Sample{Skein: s.ID}, &s.Samples})
	}
	return all
}

func (m *model) samples() (all []*journal.Sample) {
	for _, owner := range m.sampled() {
		for i := range *owner.into {
			all = append(all, &(*owner.into)[i])
		}
	}
	return all
}

// addReading adds a reading that may replace one in force.
func (m *model) addReading() {
	sample := rapid.SampledFrom(m.samples()).Draw(m.T, "sample")
	r := drawReading(m.T)
	r.Sample = sample.ID
	var old *journal.Reading
	for i := range sample.Readings {
		if sample.Readings[i].SupersededBy == 0 && rapid.Bool().Draw(m.T, "replace") {
			old = &sample.Readings[i]
			r.Supersedes = old.ID
		}
	}
	r.ID = m.keep(m.store.AddReading(m.Context(), r))
	r.Recorded = m.now
	if old != nil {
		old.SupersededBy = r.ID
	}
	sample.Readings = append(sample.Readings, r)
}

func (m *model) addTarget() {
	target := drawTarget(m.T)
	target.Project = m.want.ID
	target.ID = m.keep(m.store.AddTarget(m.Context(), target))
	target.Recorded = m.now
	m.want.Targets = append(m.want.Targets, target)
}

// drawText draws any letters at all; a name is never blank.
func drawText(t *rapid.T, longest int) string {
	return rapid.StringN(0, longest, -1).Draw(t, "text")
}

func drawName(t *rapid.T) string {
	return rapid.StringN(1, 120, -1).Filter(func(s string) bool { return strings.TrimSpace(s) != "" }).Draw(t, "name")
}
