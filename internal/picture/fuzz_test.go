package picture

import (
	"bytes"
	"context"
	"image"
	"runtime"
	"testing"
)

func addSeeds(f *testing.F) {
	for _, data := range noted(f, 6) {
		f.Add(data)
	}
	small := textured(40, 24)
	f.Add(jpegOf(f, small))
	f.Add(pngOf(f, small))
	f.Add(riff(losslessChunk(40, 24)))
	f.Add(frame{sof0, 8, 3, 8192, 6144, 1000, 1}.bytes())
	f.Add(frame{sof2, 8, 4, 9000, 9000, 10, 3}.bytes())
	f.Add(claim(1<<31-1, 1<<31-1, 16, 6, 1, 50))
	f.Add(animatedPNG(pngOf(f, small)))
	f.Add([]byte("\x00\x00\x00\x18ftypheic"))
}

// FuzzInspect holds that no bytes make Inspect panic, allocate by what a header
// claims, or accept a picture beyond the limits.
func FuzzInspect(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		info, err := Inspect(data)
		runtime.ReadMemStats(&after)
		// Exif tags are limited in number and size; chunk names cost 4 bytes each.
		if grown := after.TotalAlloc - before.TotalAlloc; grown > uint64(8*len(data)+16<<20) {
			t.Errorf("%d bytes made Inspect allocate %d", len(data), grown)
		}
		switch {
		case err != nil && codeOf(err) == "":
			t.Errorf("%v is no *Error", err)
		case err == nil && (info.Width < MinSide || info.Height < MinSide || info.Width*info.Height > MaxPixels):
			t.Errorf("accepted %+v", info)
		case err == nil && (info.Orientation < Normal || info.Orientation > ThreeQuarters):
			t.Errorf("accepted orientation %d", info.Orientation)
		}
	})
}

// FuzzStrip holds that a stripped picture says the same of itself as before,
// stays as it is when stripped again, and decodes to the same pixels whenever
// the original decodes.
func FuzzStrip(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		clean, info, err := Strip(data)
		if err != nil {
			return
		}
		twice, again, err := Strip(clean)
		if err != nil || again != info || !bytes.Equal(twice, clean) {
			t.Fatalf("stripped twice: %+v, %v, was %+v", again, err, info)
		}
		if info.Width*info.Height > 1_000_000 {
			return // correct, but slow to compare
		}
		before, err := decode(context.Background(), data, info)
		if err != nil {
			return
		}
		after, err := decode(context.Background(), clean, info)
		if err != nil || !samePixels(before, after) {
			t.Errorf("stripped pixels differ, %v", err)
		}
	})
}

// FuzzDecode holds that any bytes decode to a picture that can be reduced, or
// to an *Error.
func FuzzDecode(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		if info, err := Inspect(data); err == nil && info.Width*info.Height > 1_000_000 {
			return // correct, but slow
		}
		err := Decode(context.Background(), data, func(img image.Image, info Info) error {
			w, h := info.UprightSize()
			small := Reduce(img, info.Orientation, Thumbnail).Bounds()
			if max(w, h) <= int(Thumbnail) && small.Size() != image.Pt(w, h) {
				t.Errorf("got %v, want %d x %d", small, w, h)
			}
			return nil
		})
		if err != nil && codeOf(err) == "" {
			t.Errorf("%v is no *Error", err)
		}
	})
}
