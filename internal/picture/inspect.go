// Package picture takes pictures from outside: it decides from the headers
// whether a file may be decoded at all, decodes it within bounds of memory,
// removes what a photograph says about its owner, and keeps photographs in a
// folder under the hash of their bytes.
//
// JPEG, PNG and WebP are read. Formats: ITU-T T.81 (JPEG), JFIF 1.02,
// CIPA DC-008 (Exif), W3C PNG third edition, RFC 9649 (WebP).
package picture

import (
	"fmt"
	"io"
)

// Limits of what is taken. One picture is decoded in at most about 360 MB (a
// progressive JPEG of 24 megapixels without subsampling); an ordinary photograph
// of 12 megapixels takes 18 MB. Two are decoded at a time, a large one alone.
const (
	MaxBytes  = 25 << 20   // 25 MiB
	MaxPixels = 52_000_000 // 8192 x 6144 is 50.3 million
	MaxSide   = 20_000     // pixels
	MinSide   = 16         // pixels
)

// Format is a file format that can be decoded.
type Format string

// The formats that are read.
const (
	JPEG Format = "JPEG"
	PNG  Format = "PNG"
	WebP Format = "WebP"
)

// MediaType returns the name of f for an HTTP Content-Type header.
func (f Format) MediaType() string {
	return map[Format]string{JPEG: "image/jpeg", PNG: "image/png", WebP: "image/webp"}[f]
}

// Info is what the headers of a picture say.
type Info struct {
	Format        Format
	Width, Height int // pixels as stored, before Orientation is applied
	Camera
}

// coding is a way of storing pixels, with the most pixels of it that can be
// decoded in bounded memory.
type coding struct {
	name      string
	maxPixels int
	cost      int // bytes a pixel at worst, with the planes made for reading
}

// What each way of storing costs while Go's decoders work on it: of a
// progressive JPEG all coefficients are held as 32-bit numbers. Pictures that
// are not luma and chroma are made so for reading, in 3 bytes a pixel more.
var (
	plain       = coding{"picture", MaxPixels, 3}
	plainPNG    = coding{"PNG", 34_000_000, 7}
	progressive = coding{"progressive JPEG", 24_000_000, 15}
	rgbJPEG     = coding{"JPEG stored as RGB", 24_000_000, 10}
	interlaced  = coding{"interlaced PNG", 24_000_000, 12}
	lossless    = coding{"lossless or transparent WebP", 24_000_000, 12}
	deep        = coding{"PNG of 16 bits a channel", 12_000_000, 15}
)

// largest is how many bytes a picture may cost that is decoded beside another.
const largest = 100_000_000

func (h header) large() bool { return h.Width*h.Height*h.coding.cost > largest }

// header is all that a look at the file without decoding it yields.
type header struct {
	Info
	coding   coding
	capacity int // pixels that the compressed bytes can describe at the very best
	exif     []byte
}

// Read reads a picture file from r, such as an upload, and gives up with an
// *Error of code TooLarge once it has more than MaxBytes.
func Read(r io.Reader) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return nil, truncated(err)
	}
	return data, checkBytes(data)
}

// Inspect looks at the headers of a picture file and says what it is, or
// returns an *Error when it is nothing that Decode would take. It decodes no
// pixels and allocates nothing of a size that the file claims.
func Inspect(data []byte) (Info, error) {
	h, err := inspect(data)
	return h.Info, err
}

// Large reports whether Decode takes the picture alone.
func Large(data []byte) bool {
	h, err := inspect(data)
	return err == nil && h.large()
}

func inspect(data []byte) (header, error) {
	if err := checkBytes(data); err != nil {
		return header{}, err
	}
	h, err := readHeader(data)
	if err != nil {
		return header{}, err
	}
	if err := h.check(); err != nil {
		return header{}, err
	}
	h.Camera = readExif(h.exif)
	return h, nil
}

func checkBytes(data []byte) error {
	switch {
	case len(data) == 0:
		return &Error{Empty, "The file is empty.", sendAgain, nil}
	case len(data) > MaxBytes:
		return &Error{
			TooLarge, fmt.Sprintf("The file is larger than %d megabytes.", MaxBytes>>20),
			"Save the picture as JPEG of ordinary quality, or crop it to the yarn.", nil,
		}
	}
	return nil
}

func readHeader(data []byte) (header, error) {
	format, err := sniff(data)
	if err != nil {
		return header{}, err
	}
	var h header
	switch format {
	case JPEG:
		h, err = readJPEGHeader(data)
	case PNG:
		h, err = readPNGHeader(data)
	case WebP:
		h, err = readWebPHeader(data)
	}
	h.Format = format
	return h, err
}

// check compares the claimed size with the limits and with the bytes there are.
func (h header) check() error {
	short, long := min(h.Width, h.Height), max(h.Width, h.Height)
	pixels := h.Width * h.Height
	switch {
	case short < MinSide || long > MaxSide:
		return &Error{
			OddSize, fmt.Sprintf("The picture is %d x %d pixels.", h.Width, h.Height),
			fmt.Sprintf("Send a photograph with sides between %d and %d pixels.", MinSide, MaxSide), nil,
		}
	case pixels > h.coding.maxPixels:
		return h.tooMany()
	case pixels > h.capacity:
		return truncated(nil)
	}
	return nil
}

func (h header) tooMany() error {
	const million = 1_000_000
	advice := "Choose a smaller picture size in the camera, or crop the picture to the yarn."
	if h.coding.maxPixels < MaxPixels {
		advice = "Save it as an ordinary (baseline) JPEG and send that, or crop the picture to the yarn."
	}
	pixels := h.Width * h.Height
	size := fmt.Sprintf("%.1f", float64(pixels)/million)
	if pixels-h.coding.maxPixels < million/20 { // what is hardly too large must not read as what is taken
		size = fmt.Sprint(float64(pixels) / million)
	}
	return &Error{
		TooMany,
		fmt.Sprintf("This %s has %s megapixels; at most %d can be read.",
			h.coding.name, size, h.coding.maxPixels/million),
		advice, nil,
	}
}
