package drawing_test

import (
	"flag"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"waketwist/internal/drawing"
	"waketwist/unit"
	"waketwist/yarn"
)

var update = flag.Bool("update", false, "write the golden pictures anew")

// gallery holds one small picture of each thing that can be drawn.
func gallery() map[string]drawing.Yarn {
	madder, indigo, cream := color.NRGBA{0x7a, 0x2e, 0x2a, 0xff}, color.NRGBA{0x3a, 0x55, 0x78, 0xff}, color.NRGBA{0xe8, 0xe2, 0xd4, 0xff}
	strand := func(plies int, direction yarn.Direction, degrees, millimetres float64) drawing.Yarn {
		return drawing.Yarn{
			Plies: plies, Direction: direction, Angle: unit.Angle(degrees) * unit.Degree,
			StrandDiameter: unit.Length(millimetres) * unit.Millimetre,
			Hairiness:      0.4, UnevennessCV: 0.05, Seed: 2,
		}
	}
	ys := map[string]drawing.Yarn{
		"singles-z":   strand(1, yarn.Z, 30, 2),
		"two-ply-s":   strand(2, yarn.S, 38, 1),
		"two-ply-low": strand(2, yarn.S, 12, 1),
		"three-ply-z": strand(3, yarn.Z, 30, 0.9),
		"four-ply-s":  strand(4, yarn.S, 26, 0.8),
	}
	wet := ys["two-ply-s"]
	wet.Finish, wet.Loop, wet.Dyes = drawing.Wet, true, []color.NRGBA{madder}
	ys["ply-back-wet"] = wet
	washed := ys["three-ply-z"]
	washed.Finish, washed.Dyes = drawing.Washed, []color.NRGBA{indigo, cream}
	ys["three-ply-washed"] = washed
	heather := ys["singles-z"]
	heather.Dyes, heather.Blend = []color.NRGBA{indigo}, []color.NRGBA{cream, madder}
	ys["singles-heather"] = heather
	changing := ys["two-ply-low"]
	changing.Changes = []color.NRGBA{madder, cream, indigo}
	ys["two-ply-changing"] = changing
	felted := strand(1, yarn.Z, 0, 2)
	felted.Finish, felted.Dyes = drawing.Felted, []color.NRGBA{madder}
	ys["felted"] = felted
	rod := strand(1, yarn.Z, 0, 2)
	rod.Finish, rod.UnevennessCV, rod.Dyes = drawing.Polished, 0, []color.NRGBA{indigo}
	ys["rod"] = rod
	ys["rope"] = strand(6, yarn.S, 30, 0.6)
	braid := strand(3, yarn.S, 35, 0.8)
	braid.Braid, braid.UnevennessCV = true, 0
	ys["braid"] = braid
	return ys
}

func TestGoldenDrawings(t *testing.T) {
	for name, y := range gallery() {
		m := draw(t, y, 24, 9)
		compare(t, name, m)
	}
}

func TestGoldenPhotograph(t *testing.T) {
	y := gallery()["ply-back-wet"]
	y.Finish, y.Dyes = drawing.Dry, nil
	scene := plainScene()
	scene.Size, scene.Ruler, scene.Ground = image.Pt(240, 180), true, drawing.Linen
	compare(t, "photograph", photograph(t, y, scene))
}

// Two yarns side by side on each of the grounds that no other test looks at.
func TestGoldenGrounds(t *testing.T) {
	for name, ground := range map[string]drawing.Ground{"skin": drawing.Skin, "cotton": drawing.Cotton, "twill": drawing.Twill} {
		scene := plainScene()
		scene.Size, scene.Ground, scene.Abreast, scene.GapShare = image.Pt(240, 180), ground, 2, 0.3
		scene.StrayHairs, scene.SharpenShare, scene.AsidePixels, scene.Bow = 4, 0.5, 20, 10*unit.Degree
		compare(t, name, photograph(t, gallery()["two-ply-s"], scene))
	}
}

// compare allows a mean difference of a tenth of one step of 255, as
// processors round differently.
func compare(t *testing.T, name string, got image.Image) {
	t.Helper()
	path := filepath.Join("testdata", name+".png")
	if *update {
		writePNG(t, path, got)
	}
	want := readPNG(t, path)
	if want.Bounds() != got.Bounds() {
		t.Errorf("%s measures %v, want %v", name, got.Bounds(), want.Bounds())
		return
	}
	if d := difference(got, want); d > 0.1 {
		t.Errorf("%s differs from its golden picture by %.3f of 255 on average; look at it, then run with -update", name, d)
	}
}

// difference is the mean difference of two pictures' channels, of 255.
func difference(a, b image.Image) float64 {
	var sum, n float64
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			r, g, bl, al := a.At(x, y).RGBA()
			R, G, B, A := b.At(x, y).RGBA()
			for _, d := range [4]int{int(r) - int(R), int(g) - int(G), int(bl) - int(B), int(al) - int(A)} {
				sum += float64(max(d, -d)) / 257
				n++
			}
		}
	}
	return sum / n
}

func writePNG(t *testing.T, path string, m image.Image) {
	t.Helper()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, m); err != nil {
		t.Fatal(err)
	}
}

func readPNG(t *testing.T, path string) image.Image {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	m, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return m
}
