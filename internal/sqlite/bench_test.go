package sqlite

import (
	"testing"
	"time"

	"waketwist/internal/journal"
)

func BenchmarkAddReading(b *testing.B) {
	s := openIn(b, b.TempDir(), time.Now)
	_, _, sample := planted(b, s)
	r := photographed(sample)
	for b.Loop() {
		if _, err := s.AddReading(b.Context(), r); err != nil {
			b.Fatal(err)
		}
	}
}

// A project of 10 bobbins with 10 samples each and 500 readings in all.
func BenchmarkProject(b *testing.B) {
	s := openIn(b, b.TempDir(), time.Now)
	keep := must[journal.ID](b)
	project := keep(s.AddProject(b.Context(), aProject()))
	for range 10 {
		bobbin := keep(s.AddBobbin(b.Context(), fullBobbin(project)))
		for range 10 {
			sample := keep(s.AddSample(b.Context(), rewet(bobbin)))
			for range 5 {
				keep(s.AddReading(b.Context(), photographed(sample)))
			}
		}
	}
	for b.Loop() {
		if _, err := s.Project(b.Context(), project); err != nil {
			b.Fatal(err)
		}
	}
}
