package web

import (
	"context"
	"fmt"
	"math"
	"mime/multipart"
	"net/http"
	"slices"
	"strings"
	"time"

	"waketwist/estimate"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/internal/picture"
	"waketwist/unit"
	"waketwist/yarn"
)

// sampleCard is a sample with its readings.
type sampleCard struct {
	journal.Sample
	Words    string // the state
	Facts    string // where from, how old, how soaked
	Mean     *measure
	Readings []readingCard
}

func (b *bench) sampleCard(s journal.Sample) sampleCard {
	card := sampleCard{Sample: s, Words: stateWords(s.State, s.Load), Facts: facts(s), Mean: sampleMeasure(&s)}
	for _, r := range s.Readings {
		card.Readings = append(card.Readings, readingCardOf(r, s.State))
	}
	return card
}

// facts says where a sample comes from and what was done to it.
func facts(s journal.Sample) string {
	words := []string{"from " + journal.DepthWords(s.Depth)}
	if s.AgeHours != nil {
		words = append(words, "rested "+ago(time.Duration(*s.AgeHours*float64(time.Hour))))
	}
	if s.Humidity != nil {
		words = append(words, fmt.Sprintf("in air of %.0f %% humidity", *s.Humidity))
	}
	if s.Soak != nil {
		words = append(words, fmt.Sprintf("soaked %.0f min", *s.Soak))
	}
	if s.Water != nil {
		words = append(words, "in water of "+s.Water.String())
	}
	if s.LoadGrams != nil {
		words = append(words, "under "+unit.Mass(*s.LoadGrams).String())
	}
	return strings.Join(words, ", ")
}

// sampleMeasure is the mean of the readings of a sample that count, as they
// were read; nil without any.
func sampleMeasure(s *journal.Sample) *measure {
	if s == nil {
		return nil
	}
	valid := s.Valid()
	if len(valid) == 0 {
		return nil
	}
	var sum, precision float64
	lines := map[yarn.Line]bool{}
	for _, r := range valid {
		p := 1 / float64(r.SD*r.SD)
		sum += float64(r.Angle) * p
		precision += p
		lines[r.Line] = true
	}
	mean, sd := unit.Angle(sum/precision), unit.Angle(1/math.Sqrt(precision))
	e := estimate.Estimate[unit.Angle]{
		Value: mean, SD: sd, Low: max(0, mean-estimate.Reach*sd), High: mean + estimate.Reach*sd,
		N: len(valid), State: s.State, Load: s.Load,
	}
	note := plural(float64(len(valid)), "reading") + ", this piece only"
	if len(lines) > 1 {
		note += "; read on different lines, so the mean is only a hint"
	} else {
		note += ", at the " + valid[0].Line.String()
	}
	m := angleMeasure("", e, note)
	return &m
}

// cutSample records the dry length of a new pair, which opens a round of
// sampling.
func (b *bench) cutSample(w http.ResponseWriter, r *http.Request) error {
	one, f, err := sent(r, b.bobbin)
	if err != nil {
		return err
	}
	s := journal.Sample{Bobbin: one.ID, State: estimate.Rested, Place: nextPlace(*one)}
	if d := quantity(f, "depth", unit.ParseNumber); d != nil {
		s.Depth = *d
	}
	if age := quantity(f, "age", unit.ParseDuration); age != nil {
		hours := age.Hours()
		s.AgeHours, s.State = &hours, job.Aged(*age)
	} else if outside, inside, ok := one.Age(b.Clock()); ok {
		hours := (outside + time.Duration(s.Depth*float64(inside-outside))).Hours()
		s.AgeHours = &hours
	}
	s.Humidity = quantity(f, "humidity", unit.ParseNumber)
	loadFrom(f, &s)
	return b.keepSample(w, r, f, *one, s)
}

// keepSample stores a sample and goes on with its bobbin.
func (b *bench) keepSample(w http.ResponseWriter, r *http.Request, f *form, one journal.Bobbin, s journal.Sample) error {
	kept, err := f.keep(func() error { _, err := b.Store.AddSample(r.Context(), s); return err })
	switch {
	case err != nil:
		return err
	case kept:
		return see(w, r, "%s", b.homeOfBobbin(one).Address)
	}
	return b.wakePage(w, r, http.StatusUnprocessableEntity, one.Project, one.ID, f)
}

// loadFrom reads the grams a sample hangs under; empty is free.
func loadFrom(f *form, s *journal.Sample) {
	if m := quantity(f, "load", unit.ParseMass); m != nil {
		grams := m.Grams()
		s.Load, s.LoadGrams = estimate.Light, &grams
	}
}

// nextPlace names a new place on the bobbin: samples cut side by side share it.
func nextPlace(one journal.Bobbin) string {
	places := map[string]bool{}
	for _, s := range one.Samples {
		places[s.Place] = true
	}
	return fmt.Sprintf("place %d", len(places)+1)
}

// startSoak records the wet length: put into water now, or soaked already for
// the minutes typed.
func (b *bench) startSoak(w http.ResponseWriter, r *http.Request) error {
	one, f, err := sent(r, b.bobbin)
	if err != nil {
		return err
	}
	s := journal.Sample{Bobbin: one.ID, State: estimate.Rewet, Place: nextPlace(*one)}
	if p := job.ProgressOf(*one, b.Clock()); p.Dry != nil {
		s.Place, s.Depth, s.AgeHours, s.Load, s.LoadGrams = p.Dry.Place, p.Dry.Depth, p.Dry.AgeHours, p.Dry.Load, p.Dry.LoadGrams
	}
	if d := quantity(f, "depth", unit.ParseNumber); d != nil {
		s.Depth = *d
	}
	s.Water = quantity(f, "water", waterTemperature)
	if s.Soak = quantity(f, "minutes", unit.ParseNumber); s.Soak == nil {
		now := b.Clock()
		s.SoakStart = &now
	}
	return b.keepSample(w, r, f, *one, s)
}

// waterTemperature takes a plain number as degrees Celsius.
func waterTemperature(text string) (unit.Temperature, error) {
	if v, err := unit.ParseNumber(text); err == nil {
		return unit.Temperature(v), nil
	}
	return unit.ParseTemperature(text)
}

// driedSample records the wet length left to dry free: it shows the step from
// damp to dry without a model.
func (b *bench) driedSample(w http.ResponseWriter, r *http.Request) error {
	one, err := b.bobbin(r)
	if err != nil {
		return err
	}
	p := job.ProgressOf(*one, b.Clock())
	if p.Wet == nil {
		return &journal.Error{Code: journal.Invalid, Text: "There is no wet sample of this bobbin to dry yet; soak one first."}
	}
	dried := journal.Sample{Bobbin: one.ID, State: estimate.RewetDried, Place: p.Wet.Place, Depth: p.Wet.Depth, Soak: p.Wet.Soak, Load: p.Wet.Load, LoadGrams: p.Wet.LoadGrams}
	return b.keepSample(w, r, newForm(r.PostForm), *one, dried)
}

// endSoak takes the sample out of the water.
func (b *bench) endSoak(w http.ResponseWriter, r *http.Request) error {
	s, at, err := b.sample(r)
	if err != nil {
		return err
	}
	if s.Soak == nil {
		if err := b.Store.EndSoak(r.Context(), s.ID, job.Soaked(*s, b.Clock())); err != nil {
			return err
		}
	}
	return see(w, r, "%s", at.Address)
}

// sample finds the sample of the path and where it belongs.
func (b *bench) sample(r *http.Request) (*journal.Sample, home, error) {
	id, err := pathID(r)
	if err != nil {
		return nil, home{}, err
	}
	s, err := b.Store.Sample(r.Context(), id)
	if err != nil {
		return nil, home{}, err
	}
	at, err := b.homeOf(r.Context(), *s)
	return s, at, err
}

// addReading takes angles that were typed, photographs, or both.
func (b *bench) addReading(w http.ResponseWriter, r *http.Request) error {
	s, at, err := b.sample(r)
	if err != nil {
		return err
	}
	f, photos, err := uploadForm(r)
	if err != nil {
		return err
	}
	defer r.MultipartForm.RemoveAll() // temporary files; the photographs are kept elsewhere
	if err := b.readInto(r, f, photos, s, at); err != nil {
		return err
	}
	if f.Bad() {
		return b.again(w, r, *s, at, f)
	}
	return b.seeReading(w, r, *s, len(photos))
}

// uploadForm parses a form with photographs.
func uploadForm(r *http.Request) (*form, []*multipart.FileHeader, error) {
	if err := r.ParseMultipartForm(8 << 20); err != nil {
		return nil, nil, err
	}
	return newForm(r.PostForm), r.MultipartForm.File["photo"], nil
}

// readInto records what a form holds as readings of a sample, and the sample
// itself when it is new, all at once. What is wrong is noted in the form, and
// nothing is recorded then.
func (b *bench) readInto(r *http.Request, f *form, photos []*multipart.FileHeader, s *journal.Sample, at home) error {
	readings := b.typed(f, at)
	if len(readings) == 0 && len(photos) == 0 && !f.Bad() {
		f.refuse("angles", &journal.Error{Code: journal.Invalid, Text: "Choose a photograph, or type the angles you read."})
	}
	if f.Bad() {
		return nil
	}
	seen, err := b.photographs(r.Context(), photos, *s)
	if err != nil {
		return f.accept(err)
	}
	readings = append(readings, seen...)
	if s.ID == 0 {
		whole := *s
		whole.Readings = readings
		s.ID, err = b.Store.AddSample(r.Context(), whole)
		return f.accept(err)
	}
	for i := range readings {
		readings[i].Sample = s.ID
	}
	return b.Store.AddReadings(r.Context(), readings)
}

// seeReading goes to the photograph that was just read, or on with its home.
func (b *bench) seeReading(w http.ResponseWriter, r *http.Request, s journal.Sample, photos int) error {
	if s.SoakStart != nil && s.Soak == nil {
		if err := b.Store.EndSoak(r.Context(), s.ID, job.Soaked(s, b.Clock())); err != nil {
			return err
		}
	}
	if photos == 1 {
		again, err := b.Store.Sample(r.Context(), s.ID)
		if err != nil {
			return err
		}
		return see(w, r, "/reading/%d", again.Readings[len(again.Readings)-1].ID)
	}
	at, err := b.homeOf(r.Context(), s) // the reading may have been the last that it waited for
	if err != nil {
		return err
	}
	return see(w, r, "%s", at.Address)
}

// typed reads the angles that a person typed, as readings by eye.
func (b *bench) typed(f *form, at home) (out []journal.Reading) {
	direction := quantity(f, "direction", yarn.ParseDirection)
	angles := quantity(f, "angles", job.ParseAngles)
	if angles == nil {
		return nil
	}
	structure, line := at.structure()
	for _, a := range *angles {
		reading := job.ByEye(journal.Typed, a)
		reading.Structure, reading.Plies, reading.Line, reading.Note = structure, at.Strands, line, f.text("note")
		if direction != nil {
			reading.Direction = *direction
		}
		if err := reading.Check(); err != nil {
			f.refuse("angles", err)
		}
		out = append(out, reading)
	}
	return out
}

// photographs keeps and reads photographs for a sample, each on disk before its
// reading is made. It fails unless all can be opened, so that sending a form
// once more counts nothing twice; of several it names the one at fault.
func (b *bench) photographs(ctx context.Context, photos []*multipart.FileHeader, s journal.Sample) (out []journal.Reading, err error) {
	for _, header := range photos {
		reading, err := b.photograph(ctx, header)
		if err != nil && len(photos) > 1 {
			return nil, fmt.Errorf("“%s”: %w", header.Filename, err)
		}
		if err != nil {
			return nil, err
		}
		if counted(slices.Concat(s.Readings, out), *reading.Photo) {
			return nil, &journal.Error{Code: journal.Invalid, Field: "photo", Text: "That photograph is counted in this sample already; the same picture twice says no more than once. Take one of another stretch."}
		}
		out = append(out, reading)
	}
	return out, nil
}

// counted reports whether a photograph is among the readings that count.
func counted(readings []journal.Reading, photo journal.Photo) bool {
	return slices.ContainsFunc(readings, func(r journal.Reading) bool {
		return r.Counts() && r.Photo != nil && r.Photo.Hash == photo.Hash
	})
}

// upload reads a file of a form, within the limit of pictures.
func upload(header *multipart.FileHeader) ([]byte, error) {
	file, err := header.Open()
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return picture.Read(file)
}

// takesPhotos reports whether a path is sent photographs.
func takesPhotos(path string) bool {
	return path == "/read" || strings.HasSuffix(path, "/reading") || strings.HasSuffix(path, "/check")
}
