package sqlite

import (
	"pgregory.net/rapid"

	"waketwist/internal/journal"
)

func (m *model) addRun() {
	r := drawRun(m.T, m.want.Bobbins)
	r.Project = m.want.ID
	r.ID = m.keep(m.store.AddRun(m.Context(), r))
	r.Recorded = m.now
	m.want.Runs = append(m.want.Runs, r)
}

func (m *model) changeRun() {
	r := &m.want.Runs[rapid.IntRange(0, len(m.want.Runs)-1).Draw(m.T, "run")]
	r.Name, r.Drive, r.Note, r.Ended = drawName(m.T), drawDrive(m.T), drawText(m.T, 200), drawEnd(m.T, r.Started)
	if err := m.store.ChangeRun(m.Context(), *r); err != nil {
		m.Fatal(err)
	}
}

// addSkein adds a skein of a run or, of singles, of a bobbin.
func (m *model) addSkein() {
	s := journal.Skein{Name: drawName(m.T), Note: drawText(m.T, 200)}
	var into *[]journal.Skein
	if at := rapid.IntRange(0, len(m.want.Bobbins)+len(m.want.Runs)-1).Draw(m.T, "owner"); at < len(m.want.Bobbins) {
		s.Bobbin, into = m.want.Bobbins[at].ID, &m.want.Bobbins[at].Skeins
	} else {
		at -= len(m.want.Bobbins)
		s.Run, into = m.want.Runs[at].ID, &m.want.Runs[at].Skeins
	}
	s.ID = m.keep(m.store.AddSkein(m.Context(), s))
	s.Recorded = m.now
	*into = append(*into, s)
}

func (m *model) skeins() (all []*journal.Skein) {
	for i := range m.want.Bobbins {
		for j := range m.want.Bobbins[i].Skeins {
			all = append(all, &m.want.Bobbins[i].Skeins[j])
		}
	}
	for i := range m.want.Runs {
		for j := range m.want.Runs[i].Skeins {
			all = append(all, &m.want.Runs[i].Skeins[j])
		}
	}
	return all
}

func (m *model) skein() *journal.Skein {
	return rapid.SampledFrom(m.skeins()).Draw(m.T, "skein")
}

func (m *model) addMeasure() {
	s, measure := m.skein(), drawMeasure(m.T)
	measure.Skein = s.ID
	measure.ID = m.keep(m.store.AddMeasure(m.Context(), measure))
	measure.Recorded = m.now
	s.Measures = append(s.Measures, measure)
}

func (m *model) addWash() {
	s, wash := m.skein(), drawWash(m.T)
	wash.Skein = s.ID
	wash.ID = m.keep(m.store.AddWash(m.Context(), wash))
	wash.Recorded = m.now
	s.Washes = append(s.Washes, wash)
}

func (m *model) addHang() {
	s, hang := m.skein(), drawHang(m.T)
	hang.Skein = s.ID
	hang.ID = m.keep(m.store.AddHang(m.Context(), hang))
	hang.Recorded = m.now
	s.Hangs = append(s.Hangs, hang)
}
