package picture

import (
	"bytes"
	"context"
	"testing"

	"pgregory.net/rapid"
)

// scattered puts pieces, drawn at random, before each part of a file but the
// first.
func scattered(t *rapid.T, parts, pieces [][]byte) []byte {
	b := bytes.Clone(parts[0])
	for _, part := range parts[1:] {
		for range rapid.SampledFrom([]int{0, 0, 0, 0, 1, 2}).Draw(t, "how many") {
			b = append(b, rapid.SampledFrom(pieces).Draw(t, "piece")...)
		}
		b = append(b, part...)
	}
	return b
}

// checkStripped holds the laws of Strip for data, if it decodes at all.
func checkStripped(t *rapid.T, data []byte) {
	clean, info, err := Strip(data)
	if err != nil {
		return
	}
	if bytes.Contains(clean, []byte(secret)) {
		t.Fatalf("a note is left")
	}
	if again, err := Inspect(clean); err != nil || again != info {
		t.Fatalf("stripped is %+v, %v, was %+v", again, err, info)
	}
	before, err := decode(context.Background(), data, info)
	if err != nil {
		return
	}
	after, err := decode(context.Background(), clean, info)
	if err != nil || !samePixels(before, after) {
		t.Fatalf("stripped pixels differ, %v", err)
	}
}

func TestStripJPEGOfAnyOrder(t *testing.T) {
	for name, whole := range map[string][]byte{
		"baseline": jpegOf(t, textured(40, 24)), "progressive": progressiveJPEG(), "restarting": restartingJPEG(),
	} {
		parts := [][]byte{whole[:2]}
		for s, err := range segments(whole) {
			if err != nil {
				t.Fatal(err)
			}
			parts = append(parts, append(appendSegment(nil, s.marker, s.payload), s.entropy...))
		}
		parts = append(parts, []byte{0xff, eoi})
		pieces := [][]byte{
			notes(5), {0xff}, {0xff, 0xff}, {0xff, 0}, {0xff, rst0}, []byte("stray"),
			withJFIF(whole[:2])[2:], withAdobe(whole[:2])[2:],
			appendSegment(nil, app0, []byte("JFXX\x00\x10"+secret)),
			appendSegment(nil, app14, []byte("Adobe\x00\x64\x00\x00\x00\x00\x01"+secret)),
			appendSegment(nil, app0, nil), appendSegment(nil, dri, []byte{0, 0}),
		}
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) { checkStripped(t, scattered(t, parts, pieces)) }))
	}
}

func TestStripPNGOfAnyOrder(t *testing.T) {
	whole := pngOf(t, textured(40, 24))
	parts := [][]byte{whole[:8]}
	for c, err := range pngChunks(whole) {
		if err != nil {
			t.Fatal(err)
		}
		if c.name != "IDAT" {
			parts = append(parts, c.whole)
			continue
		}
		half := len(c.payload) / 2
		parts = append(parts,
			appendPNGChunk(nil, "IDAT", c.payload[:half]),
			appendPNGChunk(nil, "IDAT", c.payload[half:len(c.payload)-2]),
			appendPNGChunk(nil, "IDAT", c.payload[len(c.payload)-2:]))
	}
	var pieces [][]byte
	for _, name := range []string{"tEXt", "iTXt", "zTXt", "tIME", "prIv", "gAMA", "pHYs", "IDAT"} {
		payload := []byte(secret)
		if name == "IDAT" || name == "gAMA" || name == "pHYs" {
			payload = nil
		}
		pieces = append(pieces, appendPNGChunk(nil, name, payload))
	}
	pieces = append(pieces, appendPNGChunk(nil, "eXIf", cameraExif(5)))
	rapid.Check(t, func(t *rapid.T) { checkStripped(t, scattered(t, parts, pieces)) })
}

func TestStripWebPOfAnyOrder(t *testing.T) {
	canvas := appendWebPChunk(nil, "VP8X", []byte{0xff &^ webpAnimation &^ webpAlpha, 0, 0, 0, 40, 0, 0, 22, 0, 0})
	parts := [][]byte{nil, canvas, losslessChunk(41, 23), nil}
	pieces := [][]byte{
		canvas, losslessChunk(41, 23), lossyChunk(41, 23),
		appendWebPChunk(nil, "EXIF", cameraExif(5)),
		appendWebPChunk(nil, "XMP ", []byte(secret)),
		appendWebPChunk(nil, "ICCP", []byte("odd")),
		appendWebPChunk(nil, "note", []byte(secret)),
	}
	rapid.Check(t, func(t *rapid.T) { checkStripped(t, riff(scattered(t, parts, pieces))) })
}
