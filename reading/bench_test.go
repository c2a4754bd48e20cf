package reading

import (
	"bytes"
	"image"
	"image/jpeg"
	"path/filepath"
	"sync"
	"testing"
	"time"

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

// BenchmarkReadAlong reads a loop along a line, by the lean of its borders.
func BenchmarkReadAlong(b *testing.B) {
	p := loadPhoto(b, filepath.Join("testdata", "brown_loop.jpg"))
	opt := Options{Plies: 2, Along: points(250, 620, 330, 540, 440, 480, 560, 447, 650, 440, 760, 460, 860, 505)}
	b.ReportAllocs()
	for b.Loop() {
		Read(p, opt)
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
	src := newSource(p)
	m := makeCueMap(src, image.Rectangle{})
	bands := m.findBands(bandsTried)
	best := candidates(src, bands, m)[0]
	best.finish(src)
	body := newBody(best.cut)
	stages := []struct {
		name string
		run  func()
	}{
		{"map", func() { makeCueMap(newSource(p), image.Rectangle{}) }},
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

// largeFile is a JPEG of 12 million pixels, as a telephone held upright stores
// it.
var largeFile = sync.OnceValue(func() []byte {
	full := drawing(4000, 3000, drawn{2, 30, true, 300, 1400})
	m := image.NewYCbCr(full.Rect, image.YCbCrSubsampleRatio420)
	copy(m.Y, full.Y)
	for i := range m.Cb {
		m.Cb[i], m.Cr[i] = 124, 130
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 92}); err != nil {
		panic(err)
	}
	return b.Bytes()
})

func decodeLarge(b *testing.B) image.Image {
	m, err := jpeg.Decode(bytes.NewReader(largeFile()))
	if err != nil {
		b.Fatal(err)
	}
	return m
}

func BenchmarkReadLarge(b *testing.B) {
	p := raster.NewPhoto(decodeLarge(b), 6)
	b.ReportAllocs()
	for b.Loop() {
		Read(p, Options{})
	}
}

func BenchmarkDecodeLarge(b *testing.B) {
	largeFile()
	for b.Loop() {
		decodeLarge(b)
	}
}

// BenchmarkWholeLarge reads and decodes by turns, so that whatever else the
// machine does meets both alike, and tells the whole as a multiple of decoding:
// of the sums, and of the quickest of each.
func BenchmarkWholeLarge(b *testing.B) {
	largeFile()
	var decoding, whole, least, leastRead time.Duration
	for b.Loop() {
		start := time.Now()
		p := raster.NewPhoto(decodeLarge(b), 6)
		decoded := time.Since(start)
		Read(p, Options{})
		all := time.Since(start)
		decoding, whole = decoding+decoded, whole+all
		if least == 0 || decoded < least {
			least = decoded
		}
		if read := all - decoded; leastRead == 0 || read < leastRead {
			leastRead = read
		}
	}
	b.ReportMetric(float64(whole)/float64(decoding), "decodings")
	b.ReportMetric(1+float64(leastRead)/float64(least), "decodings-at-best")
}
