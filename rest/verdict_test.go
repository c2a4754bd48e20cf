package rest

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestVerdicts(t *testing.T) {
	bobbin := func(stretches ...Stretch) Strand {
		return Strand{Fibre: middling, Wound: mustLayers(t, stretches, nil, on(40))}
	}
	slow := []Blend{{{Curve{Log10Hours: 3.5, Power: 0.9, Most: 0.9, PerPercentRH: 0.03}, 1}}}
	other := bobbin(spun(0, 4))
	other.Fibre = slow
	tests := []struct {
		name    string
		strands []Strand
		want    func(Verdict) bool
	}{
		{"nearly of one age", []Strand{bobbin(spun(0, 4)), bobbin(spun(5, 9))}, func(v Verdict) bool { return v == Verdict{} }},
		{"turned round", []Strand{
			bobbin(long(spun(0, 1), 50), long(spun(39, 39.9), 50)), bobbin(long(spun(0, 1), 50), long(spun(39, 39.9), 50)), rewoundOnce(t, bobbin(long(spun(0, 1), 50), long(spun(39, 39.9), 50))),
		}, func(v Verdict) bool { return v == Verdict{Case: 4} }},
		{"one much younger", []Strand{bobbin(spun(0, 4)), bobbin(spun(39, 39.5))}, func(v Verdict) bool { return v.Case == 0 && v.Wait > day && v.Wait < WorthWaiting }},
		{"of another fibre", []Strand{bobbin(spun(0, 4)), other}, func(v Verdict) bool { return v.Shows }},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := mustMeet(t, Pairing{Strands: tt.strands})
			if !tt.want(m.Verdict) {
				t.Errorf("%+v: %s", m.Verdict, m.Words())
			}
		})
	}
}

func rewoundOnce(t *testing.T, s Strand) Strand {
	t.Helper()
	w, err := s.Wound.Rewound(Rewind{})
	if err != nil {
		t.Fatal(err)
	}
	s.Wound = w
	return s
}

// After the wait that is named, the gap is what a ply no longer shows, and just
// before it was.
func TestWaitIsLongEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fibre := []Blend{{{usualCurve(t), 1}}}
		at := func(stretches []Stretch, when time.Time) Strand {
			w, err := Layers(stretches, nil, when)
			if err != nil {
				t.Fatal(err)
			}
			return Strand{Wound: w, Fibre: fibre}
		}
		a, b := []Stretch{spun(0, rapid.Float64Range(0, 10).Draw(t, "A until"))}, []Stretch{spun(10, rapid.Float64Range(10, 20).Draw(t, "B until"))}
		when := func(wait time.Duration) *Meeting {
			m, err := Meet(Pairing{Strands: []Strand{at(a, on(20).Add(wait)), at(b, on(20).Add(wait))}})
			if err != nil {
				t.Fatal(err)
			}
			return m
		}
		now := when(0)
		wait := now.Cases[0].Wait
		if wait == nil {
			return
		}
		if later := when(*wait).Cases[0].Largest.Value; later > PlyShows+sameLook {
			t.Fatalf("after %v the gap is %v", *wait, later)
		}
		if *wait > 2*hour {
			if before := when(*wait * 9 / 10).Cases[0].Largest.Value; before < PlyShows-sameLook {
				t.Fatalf("nine tenths of %v would do: %v", *wait, before)
			}
		}
	})
}
