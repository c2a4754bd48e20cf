package picture

import (
	"bytes"
	"errors"
	"image"
	"io"
	"strings"
	"testing"
	"time"

	"waketwist/unit"
)

// animatedPNG has the chunk that announces frames.
func animatedPNG(pic []byte) []byte {
	b := appendPNGChunk(bytes.Clone(pic[:8+25]), "acTL", make([]byte, 8))
	return append(b, pic[8+25:]...)
}

// claim is a PNG whose header claims more than its few bytes of pixels hold.
func claim(w, h uint32, depth, colour, interlace byte, compressed int) []byte {
	header := []byte{byte(w >> 24), byte(w >> 16), byte(w >> 8), byte(w), byte(h >> 24), byte(h >> 16), byte(h >> 8), byte(h), depth, colour, 0, 0, interlace}
	b := appendPNGChunk([]byte(pngSignature), "IHDR", header)
	b = appendPNGChunk(b, "IDAT", make([]byte, compressed))
	return appendPNGChunk(b, "IEND", nil)
}

func TestInspectAccepts(t *testing.T) {
	small := textured(40, 24)
	taken := Camera{QuarterTurn, 26 * unit.Millimetre, time.Date(2026, 3, 21, 14, 5, 9, 0, time.UTC)}
	none := Camera{Orientation: Normal}
	tests := []struct {
		name string
		data []byte
		want Info
	}{
		{"JPEG", jpegOf(t, small), Info{JPEG, 40, 24, none}},
		{"JPEG with notes", notedJPEG(jpegOf(t, small), 6), Info{JPEG, 40, 24, taken}},
		{"largest JPEG", frame{sof0, 8, 3, 8192, 6144, 100_000, 1}.bytes(), Info{JPEG, 8192, 6144, none}},
		{"progressive JPEG", frame{sof2, 8, 3, 6000, 4000, 5_000, 12}.bytes(), Info{JPEG, 6000, 4000, none}},
		{"PNG", pngOf(t, small), Info{PNG, 40, 24, none}},
		{"PNG with notes", notedPNG(pngOf(t, small), 6), Info{PNG, 40, 24, taken}},
		{"deep PNG", claim(4000, 3000, 16, 2, 0, 100_000), Info{PNG, 4000, 3000, none}},
		{"interlaced PNG", claim(6000, 4000, 8, 2, 1, 100_000), Info{PNG, 6000, 4000, none}},
		{"WebP", riff(losslessChunk(40, 24)), Info{WebP, 40, 24, none}},
		{"lossy WebP", riff(lossyChunk(40, 24)), Info{WebP, 40, 24, none}},
		{"large lossy WebP", riff(lossyChunk(8192, 6144)), Info{WebP, 8192, 6144, none}},
		{"WebP with cut notes", cutNotes(), Info{WebP, 40, 24, none}},
		{"WebP with notes", extendedWebP(losslessChunk(40, 24), 40, 24, 0x0c, 6), Info{WebP, 40, 24, taken}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got, err := Inspect(test.data)
			if err != nil || got != test.want {
				t.Errorf("got %+v, %v, want %+v", got, err, test.want)
			}
		})
	}
}

func TestInspectRefuses(t *testing.T) {
	small := textured(40, 24)
	jpg, pic := jpegOf(t, small), pngOf(t, small)
	web := extendedWebP(losslessChunk(40, 24), 40, 24, 0x0c, 1)
	tests := []struct {
		name string
		data []byte
		want Code
		says string
	}{
		{"nothing", nil, Empty, "empty"},
		{"too many bytes", make([]byte, MaxBytes+1), TooLarge, "25 megabytes"},
		{"text", []byte("shopping list"), NotPicture, "not a picture"},
		{"one byte", []byte{0xff}, NotPicture, "not a picture"},
		{"GIF", []byte("GIF89a"), OtherFormat, "GIF"},
		{"HEIC", []byte("\x00\x00\x00\x18ftypheic"), OtherFormat, "phone"},
		{"HEIC of another brand", []byte("\x00\x00\x00\x18ftypmif1"), OtherFormat, "HEIC"},
		{"AVIF", []byte("\x00\x00\x00\x18ftypavif"), OtherFormat, "AVIF"},
		{"film", []byte("\x00\x00\x00\x18ftypqt  "), OtherFormat, "film"},
		{"TIFF", []byte("II*\x00\x08\x00\x00\x00"), OtherFormat, "TIFF"},
		{"raw", []byte("MM\x00*\x00\x00\x00\x08"), OtherFormat, "raw"},
		{"BMP", []byte("BM6\x00"), OtherFormat, "BMP"},
		{"PDF", []byte("%PDF-1.7"), OtherFormat, "document"},
		{"other RIFF", []byte("RIFF\x04\x00\x00\x00WAVE"), NotPicture, "not a picture"},

		{"bare start of JPEG", []byte{0xff, soi}, Truncated, "end"},
		{"JPEG cut in half", jpg[:len(jpg)/2], Truncated, "end"},
		{"JPEG without its last byte", jpg[:len(jpg)-1], Truncated, "end"},
		{"JPEG of no frame", []byte{0xff, soi, 0xff, eoi}, Damaged, "damaged"},
		{"CMYK JPEG", frame{sof0, 8, 4, 100, 100, 99, 1}.bytes(), Unusual, "CMYK"},
		{"JPEG of two channels", frame{sof0, 8, 2, 100, 100, 99, 1}.bytes(), Unusual, "channels"},
		{"JPEG of 12 bits", frame{0xc1, 12, 3, 100, 100, 99, 1}.bytes(), Unusual, "8 bits"},
		{"lossless JPEG", frame{0xc3, 8, 3, 100, 100, 99, 1}.bytes(), Unusual, "lossless"},
		{"arithmetic JPEG", frame{0xc9, 8, 3, 100, 100, 99, 1}.bytes(), Unusual, "arithmetic"},
		{"large progressive JPEG", frame{sof2, 8, 3, 6001, 4000, 99_000, 1}.bytes(), TooMany, "baseline"},
		{"large RGB JPEG", rgbNamed(frame{sof0, 8, 3, 6001, 4000, 99_000, 1}), TooMany, "RGB"},
		{"JPEG of very many scans", frame{sof2, 8, 3, 100, 100, 9, 99}.bytes(), Unusual, "scans"},
		{"baseline JPEG of many scans", frame{sof0, 8, 3, 100, 100, 9, 9}.bytes(), Unusual, "scans"},
		{"JPEG of 53 megapixels", frame{sof0, 8, 3, 8192, 6500, 200_000, 1}.bytes(), TooMany, "53.2 megapixels"},
		{"JPEG of no height", frame{sof0, 8, 3, 100, 0, 99, 1}.bytes(), OddSize, "100 x 0"},
		{"JPEG one pixel wide", frame{sof0, 8, 3, 1, 999, 99, 1}.bytes(), OddSize, "1 x 999"},
		{"JPEG far too wide", frame{sof0, 8, 3, 20_001, 100, 9_999, 1}.bytes(), OddSize, "20001 x 100"},
		{"lying JPEG", frame{sof0, 8, 3, 8000, 6000, 10, 1}.bytes(), Truncated, "end"},

		{"bare signature of PNG", []byte(pngSignature), Truncated, "end"},
		{"PNG cut in half", pic[:len(pic)/2], Truncated, "end"},
		{"animated PNG", animatedPNG(pic), Animated, "moving"},
		{"PNG of 60 megapixels", claim(10_000, 6_000, 8, 2, 0, 999_999), TooMany, "60.0 megapixels"},
		{"large deep PNG", claim(4001, 3000, 16, 2, 0, 999_999), TooMany, "16 bits"},
		{"large interlaced PNG", claim(6001, 4000, 8, 2, 1, 999_999), TooMany, "interlaced"},
		{"absurd PNG", claim(1<<31-1, 1<<31-1, 8, 2, 0, 99), OddSize, "2147483647"},
		{"PNG hardly too large", claim(5831, 5831, 8, 2, 0, 999_999), TooMany, "has 34.000561 megapixels; at most 34"},
		{"large PNG", claim(5700, 6000, 8, 2, 0, 999_999), TooMany, "34.2 megapixels"},
		{"lying PNG", claim(5000, 6000, 8, 2, 0, 10), Truncated, "end"},
		{"PNG of no colour type", claim(100, 100, 8, 5, 0, 99), Damaged, "damaged"},

		{"bare start of WebP", []byte("RIFF\x04\x00\x00\x00WEBP"), Damaged, "damaged"},
		{"WebP cut in half", web[:len(web)/2], Truncated, "end"},
		{"animated WebP", extendedWebP(losslessChunk(40, 24), 40, 24, webpAnimation, 1), Animated, "moving"},
		{"large transparent WebP", extendedWebP(lossyChunk(6001, 4000), 6001, 4000, webpAlpha, 1), TooMany, "transparent"},
		{"WebP of an unknown frame", riff(appendWebPChunk(nil, "VP8 ", make([]byte, 20))), Damaged, "damaged"},
		{"WebP of a short canvas", riff(appendWebPChunk(nil, "VP8X", make([]byte, 9))), Damaged, "damaged"},
		{"WebP of a chunk too long", riff([]byte("VP8 \xff\xff\xff\xff")), Truncated, "end"},
		{"large lossless WebP", riff(losslessHeader(6001, 4000)), TooMany, "lossless"},
		{"WebP larger than its canvas", extendedWebP(losslessHeader(4000, 4000), 40, 24, 0, 1), Damaged, "damaged"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := Inspect(test.data)
			var e *Error
			if !errors.As(err, &e) || e.Code != test.want {
				t.Fatalf("got %#v, want code %s", err, test.want)
			}
			if !strings.Contains(e.Error(), test.says) {
				t.Errorf("%q does not say %q", e, test.says)
			}
			if !strings.HasSuffix(e.Problem, ".") || !strings.HasSuffix(e.Advice, ".") {
				t.Errorf("%q and %q are not both sentences", e.Problem, e.Advice)
			}
		})
	}
}

// cutNotes is a WebP that ends within what follows its pixels.
func cutNotes() []byte {
	return riff(append(losslessChunk(40, 24), "EXIF\xff\x00\x00\x00II"...))
}

// rgbNamed names the components R, G and B, without JFIF to say otherwise.
func rgbNamed(f frame) []byte {
	return bytes.Replace(f.bytes(),
		[]byte{3, 1, 0x11, 0, 2, 0x11, 0, 3, 0x11, 0},
		[]byte{3, 'R', 0x11, 0, 'G', 0x11, 0, 'B', 0x11, 0}, 1)
}

// losslessHeader is a VP8L chunk without pixels.
func losslessHeader(w, h int) []byte {
	var b bits
	b.put(0x2f, 8)
	b.put(w-1, 14)
	b.put(h-1, 14)
	b.put(0, 4)
	return appendWebPChunk(nil, "VP8L", b.bytes)
}

func TestRead(t *testing.T) {
	data := jpegOf(t, textured(20, 20))
	got, err := Read(bytes.NewReader(data))
	if err != nil || !bytes.Equal(got, data) {
		t.Errorf("got %d bytes, %v, want %d", len(got), err, len(data))
	}
	tests := []struct {
		name string
		r    io.Reader
		want Code
	}{
		{"nothing", strings.NewReader(""), Empty},
		{"endless", endless{}, TooLarge},
		{"broken off", io.MultiReader(bytes.NewReader(data), brokenOff{}), Truncated},
	}
	for _, test := range tests {
		var e *Error
		if _, err := Read(test.r); !errors.As(err, &e) || e.Code != test.want {
			t.Errorf("%s: got %v, want code %s", test.name, err, test.want)
		}
	}
}

type endless struct{}

func (endless) Read(p []byte) (int, error) { return len(p), nil }

type brokenOff struct{}

func (brokenOff) Read([]byte) (int, error) { return 0, io.ErrUnexpectedEOF }

func TestMediaType(t *testing.T) {
	for format, data := range map[Format][]byte{
		JPEG: jpegOf(t, image.NewGray(image.Rect(0, 0, 20, 20))),
		PNG:  pngOf(t, image.NewGray(image.Rect(0, 0, 20, 20))),
		WebP: riff(losslessChunk(20, 20)),
	} {
		info, err := Inspect(data)
		if want := "image/" + strings.ToLower(string(format)); err != nil || info.Format.MediaType() != want {
			t.Errorf("got %q, %v, want %q", info.Format.MediaType(), err, want)
		}
	}
}
