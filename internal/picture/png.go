package picture

import (
	"encoding/binary"
	"errors"
	"hash/crc32"
	"iter"
)

const pngSignature = "\x89PNG\r\n\x1a\n"

// maxInflation is the most that deflate (RFC 1951) can grow its input.
const maxInflation = 1032

// chunk is a named stretch of a PNG or WebP file.
type chunk struct {
	name    string // four characters
	payload []byte
	whole   []byte // with length, name, and check sum or padding
}

// pngChunks walks the chunks from IHDR to IEND inclusive. A file that ends
// early yields an error as its last.
func pngChunks(data []byte) iter.Seq2[chunk, error] {
	return func(yield func(chunk, error) bool) {
		rest := data[len(pngSignature):]
		for {
			if len(rest) < 12 {
				yield(chunk{}, truncated(nil))
				return
			}
			size := int64(binary.BigEndian.Uint32(rest)) + 12
			if size > int64(len(rest)) {
				yield(chunk{}, truncated(nil))
				return
			}
			c := chunk{string(rest[4:8]), rest[8 : size-4], rest[:size]}
			if !yield(c, nil) || c.name == "IEND" {
				return
			}
			rest = rest[size:]
		}
	}
}

func readPNGHeader(data []byte) (header, error) {
	h := header{coding: plainPNG}
	bitsPerPixel, compressed := 0, 0
	for c, err := range pngChunks(data) {
		if err != nil {
			return h, err
		}
		if (c.name == "IHDR") != (bitsPerPixel == 0) {
			return h, damaged(errors.New("PNG header not first"))
		}
		switch c.name {
		case "IHDR":
			if bitsPerPixel, err = h.readIHDR(c.payload); err != nil {
				return h, err
			}
		case "acTL":
			return h, animated(PNG)
		case "IDAT":
			compressed += len(c.payload)
		case "eXIf":
			if h.exif == nil {
				h.exif = c.payload
			}
		}
	}
	h.capacity = compressed * maxInflation * 8 / bitsPerPixel
	return h, nil
}

// readIHDR returns the bits of a pixel. Channels by colour type: grey 1, true
// colour 3, palette 1, grey with alpha 2, true colour with alpha 4.
func (h *header) readIHDR(p []byte) (bitsPerPixel int, err error) {
	if len(p) != 13 {
		return 0, damaged(errors.New("PNG header of wrong length"))
	}
	h.Width, h.Height = int(binary.BigEndian.Uint32(p)), int(binary.BigEndian.Uint32(p[4:]))
	depth, channels := int(p[8]), map[byte]int{0: 1, 2: 3, 3: 1, 4: 2, 6: 4}[p[9]]
	switch {
	case channels == 0 || depth == 0 || depth > 16:
		return 0, damaged(errors.New("PNG colour type unknown"))
	case depth == 16:
		h.coding = deep
	case p[12] != 0:
		h.coding = interlaced
	}
	return depth * channels, nil
}

// stripPNG copies what makes the pixels, their colours and their size. Text,
// times, Exif and chunks of unknown meaning go.
func stripPNG(data []byte, camera Camera) []byte {
	out := make([]byte, 0, len(data)+256)
	out = append(out, pngSignature...)
	for c := range pngChunks(data) {
		switch c.name {
		case "IHDR":
			out = append(out, c.whole...)
			if exif := writeExif(camera); exif != nil {
				out = appendPNGChunk(out, "eXIf", exif)
			}
		case "PLTE", "IDAT", "IEND", "tRNS", "cHRM", "gAMA", "iCCP", "sBIT", "sRGB", "cICP", "mDCV", "cLLI", "bKGD", "pHYs":
			out = append(out, c.whole...)
		}
	}
	return out
}

func appendPNGChunk(out []byte, name string, payload []byte) []byte {
	out = binary.BigEndian.AppendUint32(out, uint32(len(payload)))
	start := len(out)
	out = append(out, name...)
	out = append(out, payload...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[start:]))
}
