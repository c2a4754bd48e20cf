package reading_test

import (
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
	truthDir = flag.String("truth", "testdata", "folder with pictures and a truth.csv to judge the reading by")
	part     = flag.Int("part", -1, "judge only pictures whose number modulo 3 is (0 to 2) this; 3 means all but 2")
	misses   = flag.Bool("misses", false, "print one line a picture")
)

// judge reads the pictures of a folder that are named in its truth.csv.
func judge(t *testing.T, dir string) []accuracy.Outcome {
	t.Helper()
	f, err := os.Open(filepath.Join(dir, "truth.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	truths, err := accuracy.ReadTruth(f)
	if err != nil {
		t.Fatal(err)
	}
	var out []accuracy.Outcome
	for i, truth := range truths {
		if *part >= 0 && *part < 3 && i%3 != *part || *part == 3 && i%3 == 2 {
			continue
		}
		o, err := accuracy.Judge(truth, func() (image.Image, error) { return decodeFile(filepath.Join(dir, truth.File)) })
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, o)
	}
	return out
}

func decodeFile(path string) (image.Image, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return jpeg.Decode(f)
}

// TestAccuracy reads every picture of a folder with a truth.csv and prints how
// far the readings lie from the truth.
func TestAccuracy(t *testing.T) {
	out := judge(t, *truthDir)
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
	if *truthDir != "testdata" {
		return
	}
	// What the pictures kept with the code are read to at least.
	const bound, share = 2.5, 0.02
	if mae := table.MeanErrorDegrees(); mae > bound {
		t.Errorf("mean absolute error %.2f degrees, want at most %.1f", mae, bound)
	}
	width, pitch := table.MedianErrors()
	if width > share {
		t.Errorf("width is %.1f %% off at the median, want at most %.0f", 100*width, 100*share)
	}
	if pitch > share {
		t.Errorf("pitch is %.1f %% off at the median, want at most %.0f", 100*pitch, 100*share)
	}
}
