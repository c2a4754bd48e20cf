package main

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"waketwist/internal/drawing"
	"waketwist/unit"
	"waketwist/yarn"
)

// besideDisc draws a two-ply 1.8 mm thick, at 16 pixels a millimetre, with a disc
// of 9 mm and a rule marked in millimetres beside it.
func besideDisc(t *testing.T) []byte {
	t.Helper()
	img, err := drawing.Photograph(drawing.Yarn{
		Plies: 2, Direction: yarn.S, Angle: 26 * unit.Degree, StrandDiameter: 0.95 * unit.Millimetre,
		Dyes: []color.NRGBA{{R: 0x46, G: 0x52, B: 0x7a, A: 0xff}}, Hairiness: 0.2, UnevennessCV: 0.03, Seed: 4,
	}, drawing.Scene{
		Size: image.Pt(1000, 760), PixelsPerMillimetre: 16, Ground: drawing.Paper, Axis: 8 * unit.Degree,
		Light: 110 * unit.Degree, ShadowShare: 0.2, BlurPixels: 0.8, GrainShare: 0.01,
		Ruler: true, Disc: drawing.Disc{Diameter: 9 * unit.Millimetre, X: 240, Y: 150},
	})
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestCoinAndRulerGiveSizes(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	page := w.must(w.upload("/read", "beside.jpg", besideDisc(t)))
	page = page[:strings.IndexByte(page+"?", '?')]
	points := widthRead(t, w.get(page+"?x1=100&y1=20&x2=580&y2=20&length=30+mm").body)
	for _, query := range []string{
		"by=coin&length=9+mm", "by=coin&length=9+mm&x1=240&y1=150", "by=coin&length=9+mm&x1=120&y1=30&x2=360&y2=270",
		"by=ruler&length=1+mm", "by=ruler&length=1+mm&x1=990&y1=655&x2=10&y2=685",
	} {
		a := w.get(page + "?" + query)
		if a.status != 200 || !strings.Contains(a.body, "The scale is") || !strings.Contains(a.body, "px/mm") || !strings.Contains(a.body, `class="found"`) {
			t.Fatalf("%s answers %d without the scale or its lines:\n%s", query, a.status, a.body)
		}
		if got := widthRead(t, a.body); math.Abs(got-points) > 0.015*points {
			t.Errorf("%s: %.3f mm wide, by two points %.3f", query, got, points)
		}
	}
	for _, tt := range []struct{ query, says string }{
		{"by=coin", "Give the diameter"},
		{"by=ruler", "Give how far apart"},
		{"by=coin&length=3+m", "no diameter"},
		{"by=coin&length=9+mm&x1=500&y1=300&x2=900&y2=500", "no coin or disc"},
		{"by=ruler&length=1/16+in", "which marks"},
		{"by=ruler&length=1+mm&x1=5000&y1=300", "outside the picture"},
		{"by=points&length=9+mm", "Give both points"},
	} {
		a := w.get(page + "?" + tt.query)
		if a.status != 422 || !strings.Contains(a.body, tt.says) || strings.Contains(a.body, "Width</div>") {
			t.Errorf("%s answers %d without %q or with a size", tt.query, a.status, tt.says)
		}
	}
}

// TestCoinByBox drags a box around the coin.
func TestCoinByBox(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	page := w.must(w.upload("/read", "beside.jpg", besideDisc(t)))
	b := newTab(t)
	for _, width := range []int64{390, 1280} {
		b.look(width, "light")
		b.open(w.address + page)
		b.unfold("How large is it?")
		b.do(chromedp.Click(chromedp.CSS(`#scale [value=coin]`)))
		js[bool](b, `(document.querySelector('.overlay').scrollIntoView(), true)`)
		var ends [2]spot
		for i, p := range [][2]float64{{130, 40}, {350, 260}} {
			ends[i] = js[spot](b, fmt.Sprintf(`(() => { const p = new DOMPoint(%g, %g).matrixTransform(document.querySelector('.overlay').getScreenCTM()); return {x: p.x, y: p.y}; })()`, p[0], p[1]))
		}
		b.drag(ends[0], ends[1])
		for name, want := range map[string]float64{"x1": 130, "y1": 40, "x2": 350, "y2": 260} {
			if got := js[float64](b, `parseFloat(document.querySelector('#scale [name=`+name+`]').value)`); math.Abs(got-want) > 8 {
				t.Errorf("dragging a box gave %s = %g, want %g", name, got, want)
			}
		}
		b.do(chromedp.SendKeys(chromedp.CSS(`#scale [name=length]`), "9 mm"))
		b.press(button("Work out its size"))
		b.expect("The scale is a disc", `wpi \(`)
		b.shoot("coin", width, "light")
	}
	if trouble := b.troubles(); len(trouble) > 0 {
		t.Errorf("the page complains: %v", trouble)
	}
}
