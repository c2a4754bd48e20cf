package reading

import (
	"image"
	"path/filepath"
	"testing"

	"waketwist/raster"
)

// benchFiles are a loop of two-ply, a steep three-ply and singles.
var benchFiles = []string{"dev_009.jpg", "dev_036.jpg", "dev_017.jpg"}

func BenchmarkRead(b *testing.B) {
	for _, file := range benchFiles {
		p := loadPhoto(b, filepath.Join("testdata", file))
		b.Run(file, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Read(p, Options{})
			}
		})
	}
}

func BenchmarkDecode(b *testing.B) {
	for _, file := range benchFiles {
		b.Run(file, func(b *testing.B) {
			for b.Loop() {
				decode(b, filepath.Join("testdata", file))
			}
		})
	}
}

func BenchmarkStages(b *testing.B) {
	p := loadPhoto(b, filepath.Join("testdata", benchFiles[0]))
	m := makeCueMap(p, image.Rectangle{})
	bands := m.findBands(bandsTried)
	src := newSource(p)
	best := candidates(src, bands, m)[0]
	best.finish(src)
	body := newBody(best.cut)
	stages := []struct {
		name string
		run  func()
	}{
		{"map", func() { makeCueMap(p, image.Rectangle{}) }},
		{"bands", func() { m.findBands(bandsTried) }},
		{"follow and cut", func() { candidates(newSource(p), bands, m) }},
		{"straighten", func() { newBody(best.cut) }},
		{"lays", func() { body.lays(laysTried) }},
		{"explain", func() { body.explain(0) }},
		{"fibres", func() { best.cut.readFibres(src) }},
	}
	for _, s := range stages {
		b.Run(s.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s.run()
			}
		})
	}
}

// BenchmarkReadLarge reads a picture of 12 million pixels.
func BenchmarkReadLarge(b *testing.B) {
	m := drawing(3000, 4000, drawn{2, 30, true, 300, 1400})
	p := raster.NewPhoto(m, 6)
	b.ReportAllocs()
	for b.Loop() {
		Read(p, Options{})
	}
}
