package picture

import (
	"bytes"
	"encoding/binary"
	"math"
	"time"

	"github.com/bep/imagemeta"

	"waketwist/unit"
)

// Camera is what the camera wrote beside the picture, as far as it matters for
// reading yarn. All else in Exif is neither read nor kept.
type Camera struct {
	Orientation Orientation // Normal where the file says nothing
	// Focal35 is the focal length that gives the same field of view on
	// 24 x 36 mm film, in whole millimetres; zero if unknown.
	Focal35 unit.Length
	// Taken is what the camera's clock showed, given as UTC since Exif's
	// DateTimeOriginal knows no zone; zero if unknown.
	Taken time.Time
}

// Tags of CIPA DC-008.
const (
	tagOrientation = 0x0112
	tagExifIFD     = 0x8769
	tagDateTaken   = 0x9003
	tagFocal35     = 0xa405

	exifDate = "2006:01:02 15:04:05"
)

// Bounds of the time that a block made in bad faith can take. A JPEG segment
// holds no longer block, a camera writes some hundred tags, and the longest
// value wanted is a date of 20 bytes.
const (
	maxExif  = 65_000
	maxTags  = 1000
	maxValue = 32
)

// readExif reads a TIFF structure. A broken block yields what was legible
// before the break, and never an error: a picture can be read without it.
func readExif(block []byte) Camera {
	camera := Camera{Orientation: Normal}
	block = bytes.TrimPrefix(block, []byte(exifPrefix))
	block = block[:min(len(block), maxExif)]
	// imagemeta differs in care between formats, so all blocks go to it in the
	// same wrapping: a JPEG with nothing but this segment.
	wrapped := appendSegment([]byte{0xff, soi}, app1, append([]byte(exifPrefix), block...))
	wrapped = append(wrapped, 0xff, eoi)
	// The error says no more than that something in the block is broken.
	_, _ = imagemeta.Decode(imagemeta.Options{
		R:               bytes.NewReader(wrapped),
		ImageFormat:     imagemeta.JPEG,
		Sources:         imagemeta.EXIF,
		LimitNumTags:    maxTags,
		LimitTagSize:    maxValue,
		ShouldHandleTag: wanted,
		HandleTag: func(tag imagemeta.TagInfo) error {
			camera.set(tag)
			return nil
		},
	})
	return camera
}

func wanted(tag imagemeta.TagInfo) bool {
	switch tag.Namespace + "/" + tag.Tag {
	case "IFD0/Orientation",
		"IFD0/ExifIFDP/DateTimeOriginal",
		"IFD0/ExifIFDP/FocalLengthIn35mmFormat":
		return true
	}
	return false
}

func (c *Camera) set(tag imagemeta.TagInfo) {
	switch v := tag.Value.(type) {
	case string:
		if taken, err := time.Parse(exifDate, v); err == nil && taken.Year() > 0 {
			c.Taken = taken.Truncate(time.Second)
		}
	case uint16:
		if tag.Tag == "Orientation" {
			c.Orientation = orientationOf(v)
		} else {
			c.Focal35 = unit.Length(v) * unit.Millimetre
		}
	}
}

// writeExif returns the smallest TIFF structure that says what c says, or nil
// when c says nothing: a first directory with Orientation and a pointer, then
// the Exif directory with date and focal length. The standard writes an unknown
// date as blanks and an unknown focal length as 0.
func writeExif(c Camera) []byte {
	if c == (Camera{Orientation: Normal}) {
		return nil
	}
	const (
		firstIFD = 8
		exifIFD  = firstIFD + 2 + 2*12 + 4
		date     = exifIFD + 2 + 2*12 + 4
		short    = 3 // two bytes, at the upper end of the four that a value has
		long     = 4
		ascii    = 2
	)
	taken := "    :  :     :  :  "
	if !c.Taken.IsZero() {
		taken = c.Taken.Format(exifDate)
	}
	b := append([]byte("MM\x00*"), 0, 0, 0, firstIFD)
	b = appendIFD(b,
		[4]uint32{tagOrientation, short, 1, uint32(c.Orientation) << 16},
		[4]uint32{tagExifIFD, long, 1, exifIFD})
	b = appendIFD(b,
		[4]uint32{tagDateTaken, ascii, uint32(len(taken) + 1), date},
		[4]uint32{tagFocal35, short, 1, uint32(math.Round(c.Focal35.Millimetres())) << 16})
	return append(append(b, taken...), 0)
}

// appendIFD appends a directory of entries: tag, type, count, and value or
// place of the value.
func appendIFD(b []byte, entries ...[4]uint32) []byte {
	be := binary.BigEndian
	b = be.AppendUint16(b, uint16(len(entries)))
	for _, e := range entries {
		b = be.AppendUint16(b, uint16(e[0]))
		b = be.AppendUint16(b, uint16(e[1]))
		b = be.AppendUint32(b, e[2])
		b = be.AppendUint32(b, e[3])
	}
	return be.AppendUint32(b, 0)
}
