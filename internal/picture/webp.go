package picture

import (
	"encoding/binary"
	"errors"
	"iter"
)

// Flags in the first byte of VP8X, RFC 9649 section 2.7.1.
const (
	webpAnimation = 1 << 1
	webpExif      = 1 << 3
	webpAlpha     = 1 << 4
	webpICC       = 1 << 5
)

// webpChunks walks the chunks that the RIFF header counts in. A file that ends
// early yields an error as its last.
func webpChunks(data []byte) iter.Seq2[chunk, error] {
	return func(yield func(chunk, error) bool) {
		end := int64(binary.LittleEndian.Uint32(data[4:])) + 8
		if end > int64(len(data)) || end < 12 {
			yield(chunk{}, truncated(nil))
			return
		}
		rest := data[12:end]
		for len(rest) > 0 {
			if len(rest) < 8 {
				yield(chunk{}, truncated(nil))
				return
			}
			size := int64(binary.LittleEndian.Uint32(rest[4:]))
			if size > int64(len(rest)-8) {
				yield(chunk{}, truncated(nil))
				return
			}
			padded := min(8+size+size&1, int64(len(rest)))
			if !yield(chunk{string(rest[:4]), rest[8 : 8+size], rest[:padded]}, nil) {
				return
			}
			rest = rest[padded:]
		}
	}
}

// readWebPHeader takes the size from the first chunk with pixels, as the
// decoder does, and from the canvas where there is one. Exif counts only in the
// extended format, which begins with VP8X.
func readWebPHeader(data []byte) (header, error) {
	h := header{coding: plain, capacity: MaxPixels} // arithmetic coding knows no useful bound
	extended, pixels := false, false
	for c, err := range webpChunks(data) {
		switch {
		case err != nil && pixels:
			return h, nil // only the notes after the pixels are cut
		case err != nil:
			return h, err
		case c.name == "VP8X" && !pixels:
			extended = true
			err = h.readCanvas(c.payload)
		case c.name == "ANIM" || c.name == "ANMF":
			err = animated(WebP)
		case (c.name == "VP8 " || c.name == "VP8L") && !pixels:
			pixels = true
			err = h.readBitstream(c, extended)
		case c.name == "EXIF" && extended && h.exif == nil:
			h.exif = c.payload
		}
		if err != nil {
			return h, err
		}
	}
	if !pixels {
		return h, damaged(errors.New("WebP without a picture"))
	}
	return h, nil
}

func (h *header) readCanvas(p []byte) error {
	if len(p) != 10 {
		return damaged(errors.New("VP8X of wrong length"))
	}
	if p[0]&webpAnimation != 0 {
		return animated(WebP)
	}
	if p[0]&webpAlpha != 0 {
		h.coding = lossless
	}
	h.Width = 1 + int(p[4]) + int(p[5])<<8 + int(p[6])<<16
	h.Height = 1 + int(p[7]) + int(p[8])<<8 + int(p[9])<<16
	return nil
}

// readBitstream reads the frame header of VP8 (RFC 6386 section 9.1) or VP8L
// (RFC 9649 section 3.4): 14 bits a side.
func (h *header) readBitstream(c chunk, extended bool) error {
	p := c.payload
	width, height := 0, 0
	switch {
	case c.name == "VP8L" && len(p) >= 5 && p[0] == 0x2f:
		h.coding = lossless
		bits := binary.LittleEndian.Uint32(p[1:])
		width, height = 1+int(bits&0x3fff), 1+int(bits>>14&0x3fff)
	case c.name == "VP8 " && len(p) >= 10 && string(p[3:6]) == "\x9d\x01\x2a":
		width = int(binary.LittleEndian.Uint16(p[6:])) & 0x3fff
		height = int(binary.LittleEndian.Uint16(p[8:])) & 0x3fff
	default:
		return damaged(errors.New("WebP frame header unknown"))
	}
	if extended && (width != h.Width || height != h.Height) {
		return damaged(errors.New("WebP picture and canvas differ in size"))
	}
	h.Width, h.Height = width, height
	return nil
}

// stripWebP copies what makes the pixels and their colours. Exif is written
// anew at the end, where the extended format wants it.
func stripWebP(data []byte, camera Camera) []byte {
	out := make([]byte, 0, len(data)+256)
	out = append(out, "RIFF\x00\x00\x00\x00WEBP"...)
	exif := writeExif(camera)
	pixels := false
	for c := range webpChunks(data) {
		switch {
		case pixels:
		case c.name == "VP8X":
			out = appendWebPChunk(out, c.name, canvasFlags(c.payload, exif != nil))
		case c.name == "ICCP", c.name == "ALPH":
			out = appendWebPChunk(out, c.name, c.payload)
		case c.name == "VP8 ", c.name == "VP8L":
			out = appendWebPChunk(out, c.name, c.payload)
			pixels = true
		}
	}
	if exif != nil { // so there is a VP8X: without it no Exif was read
		out = appendWebPChunk(out, "EXIF", exif)
	}
	binary.LittleEndian.PutUint32(out[4:], uint32(len(out)-8))
	return out
}

// canvasFlags returns the VP8X payload with only those flags set that are still
// true.
func canvasFlags(payload []byte, exif bool) []byte {
	kept := append([]byte(nil), payload...)
	kept[0] &= webpAlpha | webpICC
	if exif {
		kept[0] |= webpExif
	}
	return kept
}

func appendWebPChunk(out []byte, name string, payload []byte) []byte {
	out = append(out, name...)
	out = binary.LittleEndian.AppendUint32(out, uint32(len(payload)))
	out = append(out, payload...)
	if len(payload)%2 == 1 {
		out = append(out, 0)
	}
	return out
}
