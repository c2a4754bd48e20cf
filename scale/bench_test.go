package scale

import (
	"image"
	"testing"

	"waketwist/unit"
)

func BenchmarkFindDisc(b *testing.B) {
	for name, ground := range map[string]shade{"table": table, "weave": cloth} {
		p := paint(900, 680, coin(ground, Point{500.3, 300.8}, 230.6, 230.6, 0))
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := FindDisc(p, image.Rectangle{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkFindRuler(b *testing.B) {
	p := paint(900, 680, rule{Point{100, 300}, 0.35, 14.2, metric(26), 90, 1}.on(cloth))
	for b.Loop() {
		if _, err := FindRuler(p, image.Rectangle{}, unit.Millimetre); err != nil {
			b.Fatal(err)
		}
	}
}
