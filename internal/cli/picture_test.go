package cli

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"os"

	"github.com/rogpeppe/go-internal/testscript"
)

// writePicture writes a picture that cannot be read: picture kind file.
func writePicture(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: picture kind file")
	}
	bytesOf, ok := pictures[args[0]]
	if !ok {
		ts.Fatalf("no such kind of picture: %s", args[0])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), bytesOf(), 0o666))
}

var pictures = map[string]func() []byte{
	"empty":     func() []byte { return nil },
	"text":      func() []byte { return []byte("Two ounces of grey fleece, washed.\n") },
	"grain":     func() []byte { return asJPEG(grain()) },
	"truncated": func() []byte { b := asJPEG(grain()); return b[:len(b)/2] },
	"animated":  animated,
	"gif":       asGIF,
	"cmyk":      cmyk,
}

// grain is a surface without yarn.
func grain() image.Image {
	rng := rand.New(rand.NewPCG(1, 2))
	img := image.NewGray(image.Rect(0, 0, 640, 480))
	for i := range img.Pix {
		img.Pix[i] = uint8(120 + rng.IntN(16))
	}
	return img
}

func asJPEG(img image.Image) []byte {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		panic(err)
	}
	return b.Bytes()
}

func asGIF() []byte {
	var b bytes.Buffer
	frame := image.NewPaletted(image.Rect(0, 0, 64, 64), color.Palette{color.Black, color.White})
	if err := gif.EncodeAll(&b, &gif.GIF{Image: []*image.Paletted{frame, frame}, Delay: []int{5, 5}}); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// animated is a PNG with the animation control chunk (PNG third edition,
// section 11.3.6.1) behind its header.
func animated() []byte {
	var b bytes.Buffer
	if err := png.Encode(&b, grain()); err != nil {
		panic(err)
	}
	const header = 8 + 12 + 13
	chunk := append([]byte("acTL"), 0, 0, 0, 2, 0, 0, 0, 0)
	out := append([]byte{}, b.Bytes()[:header]...)
	out = binary.BigEndian.AppendUint32(out, 8)
	out = append(out, chunk...)
	out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(chunk))
	return append(out, b.Bytes()[header:]...)
}

// cmyk is a JPEG whose frame header (ITU-T T.81, B.2.2) announces four
// components.
func cmyk() []byte {
	frame := []byte{0xff, 0xc0, 0, 20, 8, 1, 0xe0, 2, 0x80, 4}
	for c := range byte(4) {
		frame = append(frame, c+1, 0x11, 0)
	}
	b := asJPEG(grain())
	at := bytes.Index(b, []byte{0xff, 0xc0})
	length := int(binary.BigEndian.Uint16(b[at+2:])) + 2
	return append(append(append([]byte{}, b[:at]...), frame...), b[at+length:]...)
}
