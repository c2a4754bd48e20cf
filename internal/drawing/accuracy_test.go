package drawing

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"waketwist/internal/accuracy"
)

var (
	drawCount = flag.Int("draw", 12, "how many photographs to draw at random and read")
	drawSeed  = flag.Uint64("seed", 12, "which photographs: each seed gives others")
	drawBad   = flag.Bool("unreadable", false, "draw only photographs that cannot be read")
	keepDir   = flag.String("keep", "", "folder that takes the photographs and their truth.csv")
	misses    = flag.Bool("misses", false, "print one line a photograph")
)

// save makes the JPEG of a picture.
func (p picture) save() ([]byte, error) {
	m, err := p.photograph()
	if err != nil {
		return nil, err
	}
	var file bytes.Buffer
	err = jpeg.Encode(&file, m, &jpeg.Options{Quality: p.quality})
	return file.Bytes(), err
}

// drawAndRead draws the pictures of a seed, keeps them where that is asked for,
// and reads them.
func drawAndRead(t *testing.T, seed uint64, n int) (out []accuracy.Outcome) {
	t.Helper()
	var pictures []picture
	var files []string
	for i := range n {
		p := random(seed, i)
		if *drawBad {
			p = spoilt(seed, i, uint64(i))
		}
		name := fmt.Sprintf("drawn_%d_%03d.jpg", seed, i)
		pictures, files = append(pictures, p), append(files, name)
		file, err := p.save()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if *keepDir != "" {
			if err := os.WriteFile(filepath.Join(*keepDir, name), file, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		o, err := accuracy.Judge(p.truth(name), func() (image.Image, error) { return jpeg.Decode(bytes.NewReader(file)) })
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, o)
	}
	if *keepDir != "" {
		keepTruths(t, pictures, files)
	}
	return out
}

func keepTruths(t *testing.T, pictures []picture, files []string) {
	t.Helper()
	var table bytes.Buffer
	if err := writeTruths(&table, pictures, files); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(*keepDir, "truth.csv"), table.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestAccuracy draws photographs that nobody has seen, reads them, and prints how
// far the readings lie from the truth. With another seed it draws others.
func TestAccuracy(t *testing.T) {
	out := drawAndRead(t, *drawSeed, *drawCount)
	for _, o := range out {
		if *misses {
			fmt.Println(o)
		}
		if wrong := o.Wrong(); wrong != "" {
			t.Error(wrong)
		}
	}
	table := accuracy.Tally(out)
	fmt.Print(table)
	if 4*table.Answered < 3*table.Readable {
		t.Errorf("%d of %d readable photographs were answered, want three in four", table.Answered, table.Readable)
	}
	const bound = 2.5 // degrees
	if mae := table.MeanErrorDegrees(); mae > bound {
		t.Errorf("mean absolute error %.2f degrees, want at most %.1f", mae, bound)
	}
}
