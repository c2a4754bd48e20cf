package picture

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"strings"
	"testing"

	"github.com/bep/imagemeta"
)

func samePixels(a, b image.Image) bool {
	if a.Bounds() != b.Bounds() {
		return false
	}
	return bytes.Equal(flat(a).Pix, flat(b).Pix)
}

func flat(img image.Image) *image.NRGBA64 {
	dst := image.NewNRGBA64(img.Bounds())
	draw.Draw(dst, dst.Rect, img, dst.Rect.Min, draw.Src)
	return dst
}

// noted returns a picture of each format with all its places for notes filled.
func noted(tb testing.TB, orientation uint16) map[string][]byte {
	small := textured(40, 24)
	clear := image.NewNRGBA(small.Rect)
	draw.Draw(clear, clear.Rect, image.NewUniform(color.NRGBA{9, 99, 199, 77}), image.Point{}, draw.Src)
	palette := image.NewPaletted(small.Rect, color.Palette{color.White, color.NRGBA{9, 99, 199, 77}})
	palette.SetColorIndex(7, 7, 1)
	return map[string][]byte{
		"JPEG":             notedJPEG(jpegOf(tb, small), orientation),
		"grey JPEG":        notedJPEG(jpegOf(tb, image.NewGray(small.Rect)), orientation),
		"JFIF":             notedJPEG(withJFIF(jpegOf(tb, small)), orientation),
		"RGB JPEG":         notedJPEG(withAdobe(jpegOf(tb, small)), orientation),
		"RGB and JFIF":     notedJPEG(withAdobe(withJFIF(jpegOf(tb, small))), orientation),
		"JFIF after notes": withJFIF(notedJPEG(withAdobe(jpegOf(tb, small)), orientation)),
		"progressive JPEG": notedJPEG(progressiveJPEG(), orientation),
		"restarting JPEG":  notedJPEG(restartingJPEG(), orientation),
		"PNG":              notedPNG(pngOf(tb, small), orientation),
		"transparent PNG":  notedPNG(pngOf(tb, clear), orientation),
		"palette PNG":      notedPNG(pngOf(tb, palette), orientation),
		"deep PNG":         notedPNG(pngOf(tb, flat(small)), orientation),
		"lossy WebP":       extendedWebP(lossyChunk(40, 24), 40, 24, 0x0c, orientation),
		// Of even length, since imagemeta, which looks for what is left, knows
		// no padding.
		"WebP": extendedWebP(losslessChunk(40, 23), 40, 23, 0x0c, orientation),
	}
}

func withJFIF(jpg []byte) []byte {
	b := appendSegment(bytes.Clone(jpg[:2]), app0, append([]byte("JFIF\x00\x01\x02\x01\x01\x2c\x01\x2c\x05\x01"), secret...))
	return append(b, jpg[2:]...)
}

// withAdobe says that the components are what they are: red, green and blue.
func withAdobe(jpg []byte) []byte {
	b := appendSegment(bytes.Clone(jpg[:2]), app14, []byte("Adobe\x00\x64\x00\x00\x00\x00\x00"+secret))
	return append(b, jpg[2:]...)
}

func TestStrip(t *testing.T) {
	for orientation := uint16(1); orientation <= 8; orientation++ {
		for name, data := range noted(t, orientation) {
			clean, info, err := Strip(data)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if !bytes.Contains(data, []byte(secret)) || bytes.Contains(clean, []byte(secret)) {
				t.Errorf("%s: a note was not there or is left", name)
			}
			if info.Orientation != Orientation(orientation) {
				t.Errorf("%s: got orientation %d, want %d", name, info.Orientation, orientation)
			}
			if again, err := Inspect(clean); err != nil || again != info {
				t.Errorf("%s: stripped is %+v, %v, was %+v", name, again, err, info)
			}
			if !samePixels(decoded(t, clean), decoded(t, data)) {
				t.Errorf("%s: pixels differ", name)
			}
			if twice, _, err := Strip(clean); err != nil || !bytes.Equal(twice, clean) {
				t.Errorf("%s: stripping twice changes the bytes", name)
			}
		}
	}
}

func TestStripLeavesNoPlace(t *testing.T) {
	formats := map[Format]imagemeta.ImageFormat{JPEG: imagemeta.JPEG, PNG: imagemeta.PNG, WebP: imagemeta.WebP}
	for name, data := range noted(t, 6) {
		clean, info, err := Strip(data)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		before, after := tags(t, data, formats[info.Format]), tags(t, clean, formats[info.Format])
		if !strings.Contains(before, "GPS") {
			t.Errorf("%s: the fixture has no place: %s", name, before)
		}
		if want := "IFD0/Orientation IFD0/ExifIFDP/DateTimeOriginal IFD0/ExifIFDP/FocalLengthIn35mmFormat "; after != want {
			t.Errorf("%s: got tags %s, want %s", name, after, want)
		}
	}
}

// tags lists all tags that imagemeta finds, from all its sources.
func tags(t *testing.T, data []byte, format imagemeta.ImageFormat) string {
	t.Helper()
	var found strings.Builder
	_, err := imagemeta.Decode(imagemeta.Options{
		R: bytes.NewReader(data), ImageFormat: format, Sources: imagemeta.EXIF | imagemeta.IPTC,
		ShouldHandleTag: func(imagemeta.TagInfo) bool { return true },
		HandleTag: func(tag imagemeta.TagInfo) error {
			found.WriteString(tag.Namespace + "/" + tag.Tag + " ")
			return nil
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	return found.String()
}

func TestStripKeepsColourAndSize(t *testing.T) {
	jpg := jpegOf(t, textured(40, 24))
	withProfile := append(appendSegment(bytes.Clone(jpg[:2]), app2, []byte(iccPrefix+"\x01\x01profile")), jpg[2:]...)
	web := extendedWebP(append(appendWebPChunk(nil, "ICCP", []byte("profile")), losslessChunk(40, 24)...), 40, 24, webpICC|webpExif, 1)
	tests := []struct {
		name string
		data []byte
		want string
	}{
		{"JPEG profile", withProfile, iccPrefix + "\x01\x01profile"},
		{"JFIF density", withJFIF(jpg), "JFIF\x00\x01\x02\x01\x01\x2c\x01\x2c\x00\x00"},
		{"PNG density", notedPNG(pngOf(t, textured(40, 24)), 1), "pHYs\x00\x00\x2e\x23"},
		{"WebP profile", web, "ICCP\x07\x00\x00\x00profile\x00"},
	}
	for _, test := range tests {
		clean, _, err := Strip(test.data)
		if err != nil || !bytes.Contains(clean, []byte(test.want)) {
			t.Errorf("%s: %q is gone, %v", test.name, test.want, err)
		}
	}
}

func TestStripCorrectsWebPFlags(t *testing.T) {
	for _, test := range []struct{ flags, want byte }{
		{webpICC | webpExif | 0x04, webpICC | webpExif},
		{0, webpExif},
	} {
		clean, _, err := Strip(extendedWebP(losslessChunk(40, 24), 40, 24, test.flags, 6))
		if err != nil || clean[20] != test.want {
			t.Errorf("got flags %#x, %v, want %#x", clean[20], err, test.want)
		}
	}
}

func TestStripWritesNoExifWhereNothingIsKnown(t *testing.T) {
	jpg := jpegOf(t, textured(40, 24))
	clean, _, err := Strip(jpg)
	if err != nil || !bytes.Equal(clean, jpg) {
		t.Errorf("a JPEG without notes changed by %d bytes, %v", len(clean)-len(jpg), err)
	}
}

func TestStripRefusesWhatInspectRefuses(t *testing.T) {
	if _, _, err := Strip([]byte("GIF89a")); codeOf(err) != OtherFormat {
		t.Errorf("got %v, want code %s", err, OtherFormat)
	}
}
