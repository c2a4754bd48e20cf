package cli

import (
	"image"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	_ "image/jpeg"

	"github.com/rogpeppe/go-internal/testscript"
)

// checkSheet wants a picture of the given width with a caption at its foot:
// sheet file width.
func checkSheet(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: sheet file width")
	}
	f, err := os.Open(ts.MkAbs(args[0]))
	ts.Check(err)
	defer f.Close()
	img, _, err := image.Decode(f)
	ts.Check(err)
	if got := strconv.Itoa(img.Bounds().Dx()); got != args[1] {
		ts.Fatalf("%s is %s pixels wide", args[0], got)
	}
	// The caption is dark, with light letters in it.
	b := img.Bounds()
	light, dark := 0, 0
	for y := b.Max.Y - 30; y < b.Max.Y; y++ {
		for x := range b.Dx() {
			if r, _, _, _ := img.At(x, y).RGBA(); r > 0x9000 {
				light++
			} else if r < 0x2000 {
				dark++
			}
		}
	}
	if light < 20 || dark < 10*b.Dx() {
		ts.Fatalf("%s has no caption: %d light pixels, %d dark ones", args[0], light, dark)
	}
}

func TestSheetNames(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "folder")
	got, err := sheetsIn(dir, []string{"a/Dry.jpg", "b/dry.png", "wet.jpg", filepath.Join(dir, "wet-read.jpg"), "bare"}, "read", ".jpg")
	if err != nil {
		t.Fatal(err)
	}
	for i := range got {
		got[i] = filepath.Base(got[i])
	}
	want := []string{"Dry-read.jpg", "dry-read-2.jpg", "wet-read-2.jpg", "wet-read-read.jpg", "bare-read.jpg"}
	if !slices.Equal(got, want) {
		t.Errorf("names are %q, want %q", got, want)
	}
}
