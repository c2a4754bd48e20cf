package overlay

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"testing"

	"waketwist/internal/job"
)

// level is a yarn lying level through the middle of a picture of 640 x 480
// pixels, and the trace of a reading on it.
func level(c color.Color) (image.Image, job.Trace) {
	t := job.Trace{Strand: [2]job.Spot{{300, 270}, {340, 210}}, Pitch: []job.Spot{{100, 240}, {200, 240}}}
	for x := 20.0; x <= 620; x += 10 {
		t.Axis = append(t.Axis, job.Spot{x, 240})
		t.Edges[0] = append(t.Edges[0], job.Spot{x, 210})
		t.Edges[1] = append(t.Edges[1], job.Spot{x, 270})
	}
	return wool(c, 1), t
}

// wool is a picture of one colour, share times 640 by 480 pixels.
func wool(c color.Color, share float64) image.Image {
	photo := image.NewRGBA(image.Rect(0, 0, int(640*share), int(480*share)))
	draw.Draw(photo, photo.Rect, image.NewUniform(c), image.Point{}, draw.Src)
	return photo
}

func rgb(img image.Image, x, y int) [3]uint8 {
	c := color.RGBAModel.Convert(img.At(x, y)).(color.RGBA)
	return [3]uint8{c.R, c.G, c.B}
}

var yellow, plainWhite = [3]uint8{0xff, 0xd2, 0x3f}, [3]uint8{0xff, 0xff, 0xff}

func TestDrawLaysWhatWasRead(t *testing.T) {
	photo, trace := level(color.Gray{90})
	out, err := Draw(photo, 1, trace, nil, Caption{Head: "Two strands"})
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		what string
		x, y int
		want [3]uint8
	}{
		{"upper edge", 450, 210, yellow}, {"lower edge", 450, 270, yellow}, {"strand line", 320, 240, plainWhite},
		{"ground", 450, 100, [3]uint8{90, 90, 90}}, {"yarn", 450, 225, [3]uint8{90, 90, 90}},
	} {
		if got := rgb(out, tt.x, tt.y); got != tt.want {
			t.Errorf("%s at %d,%d is %v, want %v", tt.what, tt.x, tt.y, got, tt.want)
		}
	}
	dashed, gaps := 0, 0
	for x := 400; x < 600; x++ {
		if rgb(out, x, 240) == yellow {
			dashed++
		} else {
			gaps++
		}
	}
	if dashed < 60 || gaps < 40 {
		t.Errorf("of 200 pixels of the axis %d are drawn and %d are not; it is to be dashed", dashed, gaps)
	}
	for _, p := range trace.Pitch {
		if got := rgb(out, int(p[0]), int(p[1]-ringRadius)); got == [3]uint8{90, 90, 90} {
			t.Errorf("no ring at %v", p)
		}
	}
}

// A line that a person had drawn is dotted in white, also where nothing was read.
func TestDrawDotsTheLineThatWasDrawn(t *testing.T) {
	out, err := Draw(wool(color.Gray{90}, 1), 1, job.Trace{Drawn: []job.Spot{{50, 100}, {600, 100}}}, nil, Caption{Head: "Not read", Trouble: true})
	if err != nil {
		t.Fatal(err)
	}
	dots, gaps := 0, 0
	for x := 100; x < 500; x++ {
		switch rgb(out, x, 100) {
		case plainWhite:
			dots++
		case [3]uint8{90, 90, 90}:
			gaps++
		}
	}
	if dots < 40 || gaps < 40 {
		t.Errorf("of 400 pixels of the line %d are white and %d ground; it is to be dotted", dots, gaps)
	}
}

// luminance and contrast are those of WCAG 2.2.
func luminance(c [3]uint8) float64 {
	var lin [3]float64
	for i, v := range c {
		s := float64(v) / 255
		if lin[i] = s / 12.92; s > 0.04045 {
			lin[i] = math.Pow((s+0.055)/1.055, 2.4)
		}
	}
	return 0.2126*lin[0] + 0.7152*lin[1] + 0.0722*lin[2]
}

func contrast(a, b [3]uint8) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// TestLinesShowOnAnyWool wants each line to stand out from what lies right
// beside it.
func TestLinesShowOnAnyWool(t *testing.T) {
	const share = 2.5
	for _, c := range []color.Color{color.White, color.Black, color.RGBA{0xff, 0xd2, 0x3f, 255}, color.Gray{128}} {
		_, trace := level(c)
		out, err := Draw(wool(c, share), share, trace, nil, Caption{Head: "Two strands"})
		if err != nil {
			t.Fatal(err)
		}
		at := func(x, y float64) [3]uint8 { return rgb(out, int(x*share+0.75), int(y*share+0.75)) }
		most := func(x, y float64, line [3]uint8) (best float64) {
			for d := 0.4; d < 4; d += 0.4 {
				best = max(best, contrast(line, at(x, y+d)), contrast(line, at(x, y-d)))
			}
			return best
		}
		if got := at(450, 210); most(450, 210, got) < 3 {
			t.Errorf("on %v an edge is %v with contrast %.1f", c, got, most(450, 210, got))
		}
		if got := at(320, 240); got != plainWhite || most(320, 240, got) < 3 {
			t.Errorf("on %v the strand line is %v with contrast %.1f", c, got, most(320, 240, got))
		}
	}
}

func TestDrawWithoutTrace(t *testing.T) {
	photo, _ := level(color.Gray{90})
	out, err := Draw(photo, 1, job.Trace{}, nil, Caption{Head: "Not read", Lines: []string{"Too dark."}, Trouble: true})
	if err != nil {
		t.Fatal(err)
	}
	for y := range 480 {
		for x := range 640 {
			if rgb(out, x, y) != [3]uint8{90, 90, 90} {
				t.Fatalf("%d,%d is painted over although nothing was read", x, y)
			}
		}
	}
	letters := 0
	for y := 480; y < out.Rect.Dy(); y++ {
		for x := range 640 {
			if contrast(rgb(out, x, y), [3]uint8{0x10, 0x16, 0x14}) > 4.5 {
				letters++
			}
		}
	}
	if letters < 100 {
		t.Errorf("only %d pixels of the caption can be read", letters)
	}
}

// TestDrawOddTraces draws lines that leave the picture or are no numbers.
func TestDrawOddTraces(t *testing.T) {
	photo, _ := level(color.White)
	for _, v := range []float64{math.NaN(), math.Inf(1), -1e300, 1e9} {
		trace := job.Trace{Axis: []job.Spot{{10, 10}, {v, 10}, {30, v}}, Strand: [2]job.Spot{{v, v}, {5, 5}}, Pitch: []job.Spot{{v, 3}}}
		trace.Edges = [2][]job.Spot{trace.Axis, {{v, v}}}
		if _, err := Draw(photo, 1, trace, nil, Caption{Head: "Odd"}); err != nil {
			t.Errorf("%v: %v", v, err)
		}
	}
}

func TestCaptionIsBroken(t *testing.T) {
	long := Caption{Head: "A ply", Lines: []string{"one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen"}}
	narrow, err := long.set(200)
	if err != nil {
		t.Fatal(err)
	}
	wide, err := long.set(1600)
	if err != nil {
		t.Fatal(err)
	}
	if narrow.Rect.Dx() != 200 || narrow.Rect.Dy() < 5*12 || wide.Rect.Dy() > 120 {
		t.Errorf("200 wide it is %d high, 1600 wide %d", narrow.Rect.Dy(), wide.Rect.Dy())
	}
	if card, err := Card(long); err != nil || card.Rect.Dx() != 800 {
		t.Errorf("the card: %v, %v", card.Rect, err)
	}
}
