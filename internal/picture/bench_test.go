package picture

import (
	"context"
	"image"
	"os"
	"testing"
)

// photograph is a noisy 12 megapixel JPEG as a phone makes it.
func photograph(b *testing.B) []byte {
	b.Helper()
	return notedJPEG(jpegOf(b, textured(4000, 3000)), 6)
}

func BenchmarkInspect(b *testing.B) {
	data := photograph(b)
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := Inspect(data); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkStrip(b *testing.B) {
	data := photograph(b)
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, _, err := Strip(data); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDecode(b *testing.B) {
	data := photograph(b)
	b.ReportAllocs()
	for b.Loop() {
		if err := Decode(context.Background(), data, ignore); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReduced(b *testing.B) {
	img := decoded(b, photograph(b))
	for name, side := range map[string]Side{"thumbnail": Thumbnail, "preview": Preview} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Reduce(img, QuarterTurn, side)
			}
		})
	}
}

func BenchmarkPut(b *testing.B) {
	data := photograph(b)
	s := openStore(b)
	for b.Loop() {
		h := put(b, s, data)
		b.StopTimer()
		if err := os.Remove(s.path(h, ".jpg")); err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
	}
}

func BenchmarkReducedFromDisc(b *testing.B) {
	s := openStore(b)
	h := put(b, s, jpegOf(b, image.NewGray(image.Rect(0, 0, 2000, 1500))))
	for b.Loop() {
		if _, err := s.Reduced(context.Background(), h, Preview); err != nil {
			b.Fatal(err)
		}
	}
}
