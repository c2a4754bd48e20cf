package hand_test

import (
	"fmt"
	"testing"
	"time"

	"waketwist/finish"
	"waketwist/hand"
	"waketwist/internal/simulate"
	"waketwist/unit"
	"waketwist/yarn"
)

func BenchmarkFit(b *testing.B) {
	for _, n := range []int{30, 500} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			r := simulate.NewTrial(3, simulate.Habit{Wide: 1, Wrong: 0.02}, n).Record
			for b.Loop() {
				if _, err := hand.Fit(r); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkForecast(b *testing.B) {
	p, err := hand.Fit(simulate.NewTrial(3, simulate.Habit{Wide: 1}, 30).Record)
	if err != nil {
		b.Fatal(err)
	}
	wheel, d := 33*unit.Degree, 0.8*unit.Millimetre
	for _, n := range []int{2, 3, 4} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, err := p.Forecast(hand.Question{Bobbins: []string{simulate.AtHand}, Preparation: finish.Semi, Strands: n,
					Line: yarn.VisibleBorder, Rested: 72 * time.Hour, Wheel: &wheel, Diameter: &d}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
