package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// widthRead is the width in millimetres that a page shows.
func widthRead(t *testing.T, page string) float64 {
	t.Helper()
	mm, err := strconv.ParseFloat(number(t, `(?s)Width</div>.*?<strong>([\d.]+) mm`, page), 64)
	if err != nil {
		t.Fatal(err)
	}
	return mm
}

func TestScaleGivesSizes(t *testing.T) {
	t.Parallel()
	w, _, recorded := readPage(t, dryPhoto)
	single := w.must(w.upload("/read", dryPhoto, photograph(t, dryPhoto)))
	for _, page := range []string{recorded, single[:strings.IndexByte(single+"?", '?')]} {
		a := w.get(page + "?x1=10&y1=20&x2=310&y2=20&length=30+mm")
		if a.status != 200 || !strings.Contains(a.body, "wpi (") || !strings.Contains(a.body, "turns/m (") {
			t.Fatalf("%s with a scale answers %d without wraps or turns:\n%s", page, a.status, a.body)
		}
		inches := w.get(page + "?x1=10&y1=20&x2=10&y2=320&length=1+in")
		at10, atInch := widthRead(t, a.body), widthRead(t, inches.body)
		if want := at10 * 25.4 / 30; math.Abs(atInch-want) > 0.01*want {
			t.Errorf("%s: %.3f mm at 30 mm and %.3f mm at 1 in for the same 300 pixels", page, at10, atInch)
		}
		for _, tt := range []struct{ query, says string }{
			{"x1=10&y1=20&x2=310&y2=20", "Give the distance"},
			{"length=30+mm", "Give both points"},
			{"x1=10&y1=20&x2=310&y2=20&length=long", "long"},
			{"x1=10&y1=20&x2=12&y2=20&length=20+mm", "too near"},
			{"x1=10&y1=20&x2=310&y2=20&length=9+m", "no distance"},
			{"x1=10&y1=20&x2=9000&y2=20&length=20+cm", "outside the picture"},
			{"x1=ten&y1=20&x2=310&y2=20&length=20+mm", "ten"},
		} {
			a := w.get(page + "?" + tt.query)
			if a.status != 422 || !strings.Contains(a.body, tt.says) || strings.Contains(a.body, "Width</div>") {
				t.Errorf("%s?%s answers %d without %q or with a size", page, tt.query, a.status, tt.says)
			}
		}
	}
}

// TestScaleByTwoPresses presses two points in the picture and types the
// distance.
func TestScaleByTwoPresses(t *testing.T) {
	t.Parallel()
	w, _, page := readPage(t, dryPhoto)
	b := newTab(t)
	b.look(800, "light")
	b.open(w.address + page)
	b.unfold("How large is it?")
	middle := b.middle(`.overlay`)
	for _, x := range []float64{middle.X - 100, middle.X + 100} {
		b.drag(spot{x, middle.Y}, spot{x, middle.Y})
	}
	var at [4]float64
	for i, name := range []string{"x1", "y1", "x2", "y2"} {
		at[i] = js[float64](b, fmt.Sprintf(`parseFloat(document.querySelector('#scale [name=%s]').value)`, name))
	}
	scale := js[float64](b, `document.querySelector('.overlay').getScreenCTM().a`)
	if apart := at[2] - at[0]; math.Abs(apart-200/scale) > 3/scale || math.Abs(at[3]-at[1]) > 1/scale {
		t.Fatalf("presses 200 screen pixels apart gave %v, at %.3g screen pixels a photo pixel", at, scale)
	}
	b.do(chromedp.SendKeys(chromedp.CSS(`#scale [name=length]`), "40 mm"))
	b.press(button("Work out its size"))
	b.expect("Width", `wpi \(`, `turns/m \(`)
	if trouble := b.troubles(); len(trouble) > 0 {
		t.Errorf("the page complains: %v", trouble)
	}
}
