package picture

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"
)

// secret stands in every fixture where something about the owner may stand.
const secret = "BACK GARDEN GATE"

// textured is a picture without two alike rows or columns, like yarn on a card.
func textured(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetRGBA(x, y, color.RGBA{byte(x * 5), byte(y * 3), byte(x*y + x), 255})
		}
	}
	return img
}

func jpegOf(tb testing.TB, img image.Image) []byte {
	tb.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 90}); err != nil {
		tb.Fatal(err)
	}
	return b.Bytes()
}

func pngOf(tb testing.TB, img image.Image) []byte {
	tb.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		tb.Fatal(err)
	}
	return b.Bytes()
}

// frame describes a JPEG of which only the headers make sense.
type frame struct {
	marker, precision, components byte
	width, height, entropy        int
	scans                         int
}

func (f frame) bytes() []byte {
	sof := []byte{f.precision}
	sof = binary.BigEndian.AppendUint16(sof, uint16(f.height))
	sof = binary.BigEndian.AppendUint16(sof, uint16(f.width))
	sof = append(sof, f.components)
	for c := range f.components {
		sof = append(sof, c+1, 0x11, 0)
	}
	b := appendSegment([]byte{0xff, soi}, f.marker, sof)
	for range max(1, f.scans) {
		b = appendSegment(b, sos, []byte{1, 1, 0, 0, 63, 0})
		b = append(b, make([]byte, f.entropy)...)
	}
	return append(b, 0xff, eoi)
}

// progressiveJPEG is a whole progressive JPEG: a mid-grey square of 16 x 16
// pixels, in one scan of four blocks whose mean does not differ, one bit each.
func progressiveJPEG() []byte {
	b := []byte{0xff, soi}
	b = appendSegment(b, dqt, append([]byte{0}, bytes.Repeat([]byte{1}, 64)...))
	b = appendSegment(b, sof2, []byte{8, 0, 16, 0, 16, 1, 1, 0x11, 0})
	b = appendSegment(b, dht, append(append([]byte{0, 1}, make([]byte, 15)...), 0))
	b = appendSegment(b, sos, []byte{1, 1, 0, 0, 0, 0})
	return append(b, 0x0f, 0xff, eoi)
}

// restartingJPEG is the same picture with a restart marker between blocks.
func restartingJPEG() []byte {
	b := appendSegment([]byte{0xff, soi}, dri, []byte{0, 1})
	b = append(b, progressiveJPEG()[2:]...)
	b = b[:len(b)-3]
	return append(b, 0x7f, 0xff, rst0, 0x7f, 0xff, rst0+1, 0x7f, 0xff, rst0+2, 0x7f, 0xff, eoi)
}

// notes are the segments in which a JPEG tells on its owner.
func notes(orientation uint16) []byte {
	b := appendSegment(nil, app1, append([]byte(exifPrefix), cameraExif(orientation)...))
	b = appendSegment(b, app0, []byte("JFXX\x00\x10"+secret))
	b = appendSegment(b, app1, []byte("http://ns.adobe.com/xap/1.0/\x00<exif:GPSLatitude>"+secret))
	b = appendSegment(b, app2, []byte("MPF\x00"+secret))
	b = appendSegment(b, 0xed, []byte("Photoshop 3.0\x00"+secret))
	return appendSegment(b, 0xfe, []byte(secret))
}

// notedJPEG is jpg with notes before its pixels and a film behind its end.
func notedJPEG(jpg []byte, orientation uint16) []byte {
	b := append(bytes.Clone(jpg[:2]), notes(orientation)...)
	return append(append(b, jpg[2:]...), "....ftypqt  "+secret...)
}

// notedPNG is a PNG with all its places for notes filled.
func notedPNG(pic []byte, orientation uint16) []byte {
	const header = 8 + 25
	b := bytes.Clone(pic[:header])
	b = appendPNGChunk(b, "pHYs", []byte{0, 0, 0x2e, 0x23, 0, 0, 0x2e, 0x23, 1})
	b = appendPNGChunk(b, "tEXt", []byte("Comment\x00"+secret))
	b = appendPNGChunk(b, "iTXt", []byte("XML:com.adobe.xmp\x00\x00\x00\x00\x00"+secret))
	b = appendPNGChunk(b, "tIME", []byte{7, 230, 1, 2, 3, 4, 5})
	b = appendPNGChunk(b, "prIv", []byte(secret))
	b = appendPNGChunk(b, "eXIf", cameraExif(orientation))
	return append(append(b, pic[header:]...), secret...)
}

// extendedWebP wraps chunks of pixels in the extended format with notes.
func extendedWebP(pixels []byte, w, h int, flags byte, orientation uint16) []byte {
	canvas := []byte{flags, 0, 0, 0, byte(w - 1), byte((w - 1) >> 8), 0, byte(h - 1), byte((h - 1) >> 8), 0}
	b := appendWebPChunk(nil, "VP8X", canvas)
	b = append(b, pixels...)
	b = appendWebPChunk(b, "EXIF", cameraExif(orientation))
	b = appendWebPChunk(b, "XMP ", []byte(secret))
	return append(riff(b), secret...)
}

func riff(chunks []byte) []byte {
	b := binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(chunks)+4))
	return append(append(b, "WEBP"...), chunks...)
}

// losslessChunk is a VP8L chunk (RFC 9649 section 3) of two colours: each
// channel has a simple prefix code, and only green has two symbols, so a pixel
// is one bit.
func losslessChunk(w, h int) []byte {
	var b bits
	b.put(0x2f, 8)
	b.put(w-1, 14)
	b.put(h-1, 14)
	b.put(0, 1+3)   // no alpha, version 0
	b.put(0, 1+1+1) // no transform, no colour cache, one set of prefix codes
	b.put(0b111, 3)
	b.put(40, 8)
	b.put(200, 8) // green: two symbols of 8 bits
	for _, channel := range []int{90, 30, 255} {
		b.put(0b101, 3) // red, blue, alpha: one symbol of 8 bits
		b.put(channel, 8)
	}
	b.put(0b0001, 4) // distance: one symbol of 1 bit, 0
	for i := range w * h {
		b.put(i/3%2, 1)
	}
	return appendWebPChunk(nil, "VP8L", b.bytes)
}

// lossyChunk is a VP8 chunk (RFC 6386) of a key frame: a header of zeros, which
// is no filter and one partition, and zeros for modes and coefficients, which
// are a flat picture.
func lossyChunk(w, h int) []byte {
	const first, second = 200, 200 // bytes of the two partitions, more than enough
	tag := 1<<4 | first<<5         // a key frame that is shown
	b := []byte{byte(tag), byte(tag >> 8), byte(tag >> 16), 0x9d, 0x01, 0x2a}
	b = binary.LittleEndian.AppendUint16(b, uint16(w))
	b = binary.LittleEndian.AppendUint16(b, uint16(h))
	return appendWebPChunk(nil, "VP8 ", append(b, make([]byte, first+second)...))
}

// bits is a row of bits, the first in the lowest place of the first byte.
type bits struct {
	bytes []byte
	n     int
}

func (b *bits) put(value, count int) {
	for i := range count {
		if b.n%8 == 0 {
			b.bytes = append(b.bytes, 0)
		}
		b.bytes[b.n/8] |= byte(value>>i&1) << (b.n % 8)
		b.n++
	}
}

// cameraExif is an Exif block as a phone writes it, little-endian, with place,
// maker note and thumbnail. The focal length is 26 mm, the time is
// 2026-03-21 14:05:09.
func cameraExif(orientation uint16) []byte {
	le := binary.LittleEndian
	ifd := func(b []byte, next uint32, entries ...[4]uint32) []byte {
		b = le.AppendUint16(b, uint16(len(entries)))
		for _, e := range entries {
			b = le.AppendUint16(b, uint16(e[0]))
			b = le.AppendUint16(b, uint16(e[1]))
			b = le.AppendUint32(b, e[2])
			b = le.AppendUint32(b, e[3])
		}
		return le.AppendUint32(b, next)
	}
	size := func(entries int) uint32 { return uint32(2 + entries*12 + 4) }
	place := uint32(len(secret) + 1)
	ifd0 := uint32(8)
	exif := ifd0 + size(4)
	gps := exif + size(3)
	thumb := gps + size(2)
	text := thumb + size(2)
	b := le.AppendUint32([]byte("II*\x00"), ifd0)
	b = ifd(b, thumb,
		[4]uint32{0x010f, 2, place, text}, // Make
		[4]uint32{tagOrientation, 3, 1, uint32(orientation)},
		[4]uint32{tagExifIFD, 4, 1, exif},
		[4]uint32{0x8825, 4, 1, gps})
	b = ifd(b, 0,
		[4]uint32{tagDateTaken, 2, 20, text + place},
		[4]uint32{0x927c, 7, place, text}, // MakerNote
		[4]uint32{tagFocal35, 3, 1, 26})
	b = ifd(b, 0,
		[4]uint32{1, 2, 2, 'N'},
		[4]uint32{29, 2, place, text})
	b = ifd(b, 0,
		[4]uint32{tagOrientation, 3, 1, 3}, // the thumbnail's own
		[4]uint32{0x0201, 4, 1, text})
	return append(b, secret+"\x002026:03:21 14:05:09\x00"...)
}
