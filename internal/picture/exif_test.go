package picture

import (
	"bytes"
	"encoding/binary"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"waketwist/unit"
)

func TestReadExif(t *testing.T) {
	whole := cameraExif(6)
	turned := Camera{QuarterTurn, 26 * unit.Millimetre, time.Date(2026, 3, 21, 14, 5, 9, 0, time.UTC)}
	normal := turned
	normal.Orientation = Normal
	undated := turned
	undated.Taken = time.Time{}
	tests := []struct {
		name  string
		block []byte
		want  Camera
	}{
		{"whole", whole, turned},
		{"with the prefix of JPEG", append([]byte(exifPrefix), whole...), turned},
		{"orientation 0", cameraExif(0), normal},
		{"orientation 9", cameraExif(9), normal},
		{"nothing", nil, Camera{Orientation: Normal}},
		{"not Exif", []byte("hello, wheel"), Camera{Orientation: Normal}},
		{"impossible date", bytes.Replace(whole, []byte("2026:03:21"), []byte("2026:13:41"), 1), undated},
		{"blank date", bytes.Replace(whole, []byte("2026:03:21 14:05:09"), []byte("    :  :     :  :  "), 1), undated},
		{"longer than is looked at", append(bytes.Clone(whole), make([]byte, 100_000)...), turned},
	}
	for _, test := range tests {
		if diff := cmp.Diff(test.want, readExif(test.block)); diff != "" {
			t.Errorf("%s: -want +got\n%s", test.name, diff)
		}
	}
}

func TestBrokenExifNeverFailsThePicture(t *testing.T) {
	pic := jpegOf(t, textured(40, 24))
	whole := cameraExif(6)
	for n := range whole {
		for _, block := range [][]byte{whole[:n], flipped(whole, n)} {
			b := appendSegment(bytes.Clone(pic[:2]), app1, append([]byte(exifPrefix), block...))
			info, err := Inspect(append(b, pic[2:]...))
			if err != nil {
				t.Fatalf("broken at byte %d: %v", n, err)
			}
			if info.Orientation < Normal || info.Orientation > ThreeQuarters {
				t.Errorf("broken at byte %d: orientation %d", n, info.Orientation)
			}
		}
	}
}

func flipped(b []byte, n int) []byte {
	b = bytes.Clone(b)
	b[n] ^= 0xff
	return b
}

func TestWriteExif(t *testing.T) {
	taken := time.Date(1998, 12, 31, 23, 59, 58, 0, time.UTC)
	for _, want := range []Camera{
		{Orientation: Normal},
		{Orientation: Transversed},
		{Orientation: Normal, Focal35: 50 * unit.Millimetre},
		{Orientation: HalfTurn, Taken: taken},
		{ThreeQuarters, 1200 * unit.Millimetre, taken},
	} {
		if diff := cmp.Diff(want, readExif(writeExif(want))); diff != "" {
			t.Errorf("-want +got\n%s", diff)
		}
	}
	if got := writeExif(Camera{Orientation: Normal}); got != nil {
		t.Errorf("nothing known: got %d bytes, want none", len(got))
	}
}

// A block may name the same directory over and over; reading it must end.
func TestReadExifOfCircles(t *testing.T) {
	le := binary.LittleEndian
	b := le.AppendUint32([]byte("II*\x00"), 8)
	b = le.AppendUint16(b, 5000)
	for range 5000 {
		b = le.AppendUint16(b, 0x014a) // SubIFDs
		b = le.AppendUint16(b, 4)
		b = le.AppendUint32(b, 2000)
		b = le.AppendUint32(b, 8)
	}
	if got := readExif(b); got != (Camera{Orientation: Normal}) {
		t.Errorf("got %+v, want nothing", got)
	}
}
