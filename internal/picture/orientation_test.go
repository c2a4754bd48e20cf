package picture

import (
	"image"
	"image/color"
	"strings"
	"testing"
)

// stored holds the upright picture AB/CD/EF as each orientation stores it,
// worked out by hand from where Exif says row 0 and column 0 lie.
var stored = map[Orientation]string{
	Normal:         "AB/CD/EF", // row 0 at the top, column 0 at the left
	MirroredAcross: "BA/DC/FE", // top, right
	HalfTurn:       "FE/DC/BA", // bottom, right
	MirroredDown:   "EF/CD/AB", // bottom, left
	Transposed:     "ACE/BDF",  // left, top
	QuarterTurn:    "BDF/ACE",  // right, top
	Transversed:    "FDB/ECA",  // right, bottom
	ThreeQuarters:  "ECA/FDB",  // left, bottom
}

// painted is a picture whose grey values are letters. It does not begin at the
// origin, as a part of a larger picture does not.
func painted(rows string) image.Image {
	lines := strings.Split(rows, "/")
	img := image.NewGray(image.Rect(3, 5, 3+len(lines[0]), 5+len(lines)))
	for y, line := range lines {
		for x, letter := range line {
			img.SetGray(3+x, 5+y, color.Gray{byte(letter)})
		}
	}
	return img
}

func letters(img image.Image) string {
	var rows []string
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		row := ""
		for x := b.Min.X; x < b.Max.X; x++ {
			row += string(rune(color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y))
		}
		rows = append(rows, row)
	}
	return strings.Join(rows, "/")
}

func TestUpright(t *testing.T) {
	for o, rows := range stored {
		if got := letters(Upright(painted(rows), o)); got != "AB/CD/EF" {
			t.Errorf("orientation %d: got %s, want AB/CD/EF", o, got)
		}
	}
}

func TestUprightSize(t *testing.T) {
	for o, rows := range stored {
		size := painted(rows).Bounds().Size()
		info := Info{Width: size.X, Height: size.Y, Camera: Camera{Orientation: o}}
		if w, h := info.UprightSize(); w != 2 || h != 3 {
			t.Errorf("orientation %d: got %d x %d, want 2 x 3", o, w, h)
		}
	}
}
