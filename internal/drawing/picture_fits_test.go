package drawing

import (
	"bytes"
	"encoding/csv"
	"math"
	"testing"

	"waketwist/internal/accuracy"
	"waketwist/unit"
)

// What is in view of an even, straight yarn is what the yarn is, and a place on
// the yarn is found in the picture where the picture finds it on the yarn.
func TestInView(t *testing.T) {
	p := random(3, 1)
	p.yarn.Plies, p.yarn.Braid, p.yarn.Loop, p.yarn.UnevennessCV = 2, false, false, 0
	p.scene.Axis, p.scene.Bow, p.scene.AsidePixels, p.scene.Abreast = 0, 0, 0, 1
	p.resize(50, 1.5)
	v := p.inView()
	width, pitch := float64(p.scene.Size.X), p.yarn.Pitch().Millimetres()*p.scene.PixelsPerMillimetre
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"degrees", v.degrees, p.yarn.Angle.Degrees()}, {"pixels", v.pixels, width}, {"turns", v.turns, width / pitch}, {"envelope", v.envelope, 50},
	} {
		if math.Abs(c.got/c.want-1) > 0.002 {
			t.Errorf("%s %.3f, want %.3f", c.name, c.got, c.want)
		}
	}
	for _, bow := range []unit.Angle{-20 * unit.Degree, 0, 15 * unit.Degree} {
		p.scene.Bow, p.scene.Axis, p.scene.AsidePixels = bow, 70*unit.Degree, 30
		l := lieOf(p.yarn, p.scene.usual())
		along, across := l.onYarn(l.inPicture(210, -14))
		if math.Hypot(along-210, across+14) > 1e-6 {
			t.Errorf("bow %v: %.3f along and %.3f across, want 210 and -14", bow, along, across)
		}
	}
}

// The same seed draws the same pictures; one in seven cannot be read, in all the
// ways there are; the table says of each what it is judged by.
func TestRandomPictures(t *testing.T) {
	var pictures []picture
	var files []string
	spoilt := map[string]int{}
	for n := range 126 {
		p := random(11, n)
		if again := random(11, n); again.width != p.width || again.yarn.Seed != p.yarn.Seed {
			t.Fatalf("picture %d differs when drawn again", n)
		}
		pictures, files = append(pictures, p), append(files, "x.jpg")
		spoilt[p.why]++
	}
	if spoilt[""] != 108 || len(spoilt) != 1+len(unreadable) {
		t.Errorf("of 126 pictures: %v", spoilt)
	}
	var table bytes.Buffer
	if err := writeTruths(&table, pictures, files); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(table.Bytes())).ReadAll()
	if err != nil || len(rows) != 127 {
		t.Fatalf("%d rows (%v)", len(rows), err)
	}
	truths, err := accuracy.ReadTruth(&table)
	if err != nil {
		t.Fatal(err)
	}
	for i, got := range truths {
		want := pictures[i].truth("x.jpg")
		if got.Readable != want.Readable || got.Direction != want.Direction || math.Abs(float64(got.Angle-want.Angle)) > 1e-3 {
			t.Errorf("row %d says %+v, want %+v", i, got, want)
		}
	}
}
