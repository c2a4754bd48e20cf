package picture

import (
	"bytes"
	"encoding/binary"
	"errors"
	"iter"
)

// Markers of ITU-T T.81, table B.1.
const (
	sof0  = 0xc0 // baseline
	sof2  = 0xc2 // progressive
	dht   = 0xc4
	sof15 = 0xcf
	jpg   = 0xc8
	dac   = 0xcc
	rst0  = 0xd0
	rst7  = 0xd7
	soi   = 0xd8
	eoi   = 0xd9
	sos   = 0xda
	dqt   = 0xdb
	dri   = 0xdd
	app0  = 0xe0
	app1  = 0xe1
	app2  = 0xe2
	app14 = 0xee
)

// Scans beyond these are made by no camera; each costs a pass over all pixels
// however few bytes it has.
const (
	maxScans            = 4
	maxProgressiveScans = 32
)

const (
	exifPrefix = "Exif\x00\x00"
	iccPrefix  = "ICC_PROFILE\x00"
	jfifPrefix = "JFIF\x00"
)

// segment is a marker segment: what stands between its marker and length and
// the next marker. Only a start of scan has entropy-coded data after it.
type segment struct {
	marker  byte
	payload []byte
	entropy []byte
}

func (s segment) is(marker byte, prefix string) bool {
	return s.marker == marker && bytes.HasPrefix(s.payload, []byte(prefix))
}

func (s segment) isFrame() bool {
	return sof0 <= s.marker && s.marker <= sof15 &&
		s.marker != dht && s.marker != jpg && s.marker != dac
}

// segments walks the file from the start of image to the end of image, which
// it does not yield. Like Go's decoder it steps over stray bytes between
// segments. A file that ends early yields an error as its last.
func segments(data []byte) iter.Seq2[segment, error] {
	return func(yield func(segment, error) bool) {
		pos := 2
		for {
			s, next, err := nextSegment(data, pos)
			if err != nil {
				yield(segment{}, err)
				return
			}
			if s.marker == eoi || !yield(s, nil) {
				return
			}
			pos = next
		}
	}
}

func nextSegment(data []byte, pos int) (s segment, next int, err error) {
	pos = nextMarker(data, pos)
	if pos < 0 {
		return s, 0, truncated(nil)
	}
	s.marker = data[pos+1]
	pos += 2
	if s.marker == eoi {
		return s, pos, nil
	}
	if pos+2 > len(data) {
		return s, 0, truncated(nil)
	}
	size := int(binary.BigEndian.Uint16(data[pos:]))
	if size < 2 {
		return s, 0, damaged(errors.New("short JPEG segment"))
	}
	if pos+size > len(data) {
		return s, 0, truncated(nil)
	}
	s.payload = data[pos+2 : pos+size]
	pos += size
	if s.marker == sos {
		end := nextMarker(data, pos)
		if end < 0 {
			return s, 0, truncated(nil)
		}
		s.entropy = data[pos:end]
		pos = end
	}
	return s, pos, nil
}

// nextMarker returns the place of the next 0xff that begins a marker other
// than a restart, or -1. Stuffed zeros and fill bytes are stepped over.
func nextMarker(data []byte, pos int) int {
	for pos < len(data) {
		i := bytes.IndexByte(data[pos:], 0xff)
		if i < 0 || pos+i+1 >= len(data) {
			return -1
		}
		pos += i
		switch m := data[pos+1]; {
		case m == 0xff:
			pos++
		case m == 0 || rst0 <= m && m <= rst7:
			pos += 2
		default:
			return pos
		}
	}
	return -1
}

func readJPEGHeader(data []byte) (header, error) {
	h := header{coding: plain}
	var frame segment
	scans, entropy := 0, 0
	for s, err := range segments(data) {
		switch {
		case err != nil:
			return h, err
		case s.isFrame() && frame.marker != 0:
			return h, damaged(errors.New("two JPEG frames"))
		case s.isFrame():
			frame = s
		case s.is(app1, exifPrefix) && h.exif == nil && scans == 0:
			h.exif = s.payload[len(exifPrefix):]
		case s.marker == sos:
			scans++
			entropy += len(s.entropy)
		}
	}
	if err := h.readFrame(frame); err != nil {
		return h, err
	}
	if scans > maxScans && (frame.marker != sof2 || scans > maxProgressiveScans) {
		return h, unusual("a JPEG cut into a great many scans")
	}
	if h.coding == plain && isRGB(data) {
		h.coding = rgbJPEG
	}
	// Each block of 8 x 8 pixels needs one bit for its mean at the very least.
	h.capacity = entropy * 8 * 64
	return h, nil
}

// readFrame reads the frame header, T.81 B.2.2: precision, lines, samples per
// line, number of components.
func (h *header) readFrame(s segment) error {
	switch {
	case s.marker == 0 || len(s.payload) < 6:
		return damaged(errors.New("no JPEG frame"))
	case s.marker > sof2:
		return unusual("a lossless, arithmetic or hierarchical JPEG")
	case s.payload[0] != 8:
		return unusual("a JPEG of more than 8 bits a channel")
	case s.payload[5] == 4:
		return unusual("a JPEG in printing colours (CMYK)")
	case s.payload[5] != 1 && s.payload[5] != 3:
		return unusual("a JPEG with an odd number of colour channels")
	}
	h.Height = int(binary.BigEndian.Uint16(s.payload[1:]))
	h.Width = int(binary.BigEndian.Uint16(s.payload[3:]))
	if s.marker == sof2 {
		h.coding = progressive
	}
	return nil
}

// isRGB reports whether the three components are red, green and blue rather
// than luma and chroma. It follows Go's decoder, where the last APP0 decides.
func isRGB(data []byte) bool {
	var frame []byte
	jfif, adobe := false, byte(1)
	for s := range segments(data) {
		switch {
		case s.isFrame():
			frame = s.payload
		case s.marker == app0 && len(s.payload) >= len(jfifPrefix):
			jfif = s.is(app0, jfifPrefix)
		case isAdobe(s):
			adobe = s.payload[11]
		}
	}
	if jfif || len(frame) < 15 || frame[5] != 3 {
		return false
	}
	return adobe == 0 || frame[6] == 'R' && frame[9] == 'G' && frame[12] == 'B'
}

func isAdobe(s segment) bool { return s.is(app14, "Adobe") && len(s.payload) >= 12 }

// stripJPEG copies what makes the pixels and their colours. Comments, XMP,
// IPTC, maker notes, thumbnails, further pictures and all that follows the end
// of image go.
func stripJPEG(data []byte, camera Camera) []byte {
	out := make([]byte, 0, len(data)+256)
	out = append(out, 0xff, soi)
	if exif := writeExif(camera); exif != nil {
		out = appendSegment(out, app1, append([]byte(exifPrefix), exif...))
	}
	rgb := isRGB(data)
	for s := range segments(data) {
		if kept := keptPayload(s, rgb); kept != nil {
			out = appendSegment(out, s.marker, kept)
			out = append(out, s.entropy...)
		}
	}
	return append(out, 0xff, eoi)
}

// keptPayload returns what of a segment is kept, or nil. JFIF says that the
// components are luma and chroma, so it goes where the decoder was told
// otherwise.
func keptPayload(s segment, rgb bool) []byte {
	switch {
	case s.is(app0, jfifPrefix) && !rgb:
		return jfifWithoutThumbnail(s.payload)
	case s.is(app2, iccPrefix):
		return s.payload
	case isAdobe(s):
		return s.payload[:12]
	case s.isFrame(), s.marker == dht, s.marker == dqt, s.marker == dri, s.marker == sos:
		return s.payload
	}
	return nil
}

// jfifWithoutThumbnail keeps version and pixel density; the last two of the 14
// bytes are the sides of the thumbnail.
func jfifWithoutThumbnail(payload []byte) []byte {
	kept := make([]byte, 14)
	copy(kept[:12], payload)
	return kept
}

func appendSegment(out []byte, marker byte, payload []byte) []byte {
	out = append(out, 0xff, marker)
	out = binary.BigEndian.AppendUint16(out, uint16(len(payload)+2))
	return append(out, payload...)
}
