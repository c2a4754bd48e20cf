package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestPlyAndWash goes on where a target is set: plying to it, and the skein
// through its wash to the verdict.
func TestPlyAndWash(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	p := w.newProject("name", "Muff", "strands", "2")
	one := w.newBobbin(p, "name", "Ibis", "direction", "Z", "thickness", "0.8 mm", "lotname", "Dun", "fibre", "wool", "preparation", "semi")
	w.sampled(p, one, "20, 21, 19", "38, 39, 37")
	b := newTab(t)
	b.open(w.address + wake(p, one))
	b.press(button("Hold to this target"))
	b.expect(`Turns to put in [^.]*\.[0-9] tpi\) .* 9 times in 10 re-wet modelled per length of ply`)
	b.press(link("Start plying"))
	b.unfold("The wheel or the motor")
	b.retype(field("/run", "ratio"), "9")
	b.retype(field("/run", "draw"), "60 cm")
	b.press(button("Start plying"))
	aim := b.measure("Aim for, at the wheel", "°")
	b.expect("Ibis, plied S", `[0-9.]+ treadles`)
	b.compare(fmt.Sprint(aim.value), "wheel")
	b.expect("On target")
	b.compare(fmt.Sprint(aim.low-9), "wheel")
	b.expect(`Add ply twist: about [0-9]+ % of the turns .* treadles a draw`)
	b.press(button("Take a skein off"))
	b.skeinState("rested", "62", "97 g", "6")
	b.expect("What is still to do")
	b.skeinState("washed", "60", "95 g", "0")
	verdict := b.words()
	b.expect("The verdict Balanced: it hangs open", "off the wheel, 6 half turns S; washed, open", `Length ?112 m.*108 m.*−3.2 %`)
	w = w.again()
	b.open(w.address + "/skein/1")
	if now := b.words(); now != verdict {
		t.Errorf("after a restart the skein reads\n%s\nbefore it read\n%s", now, verdict)
	}
	if found := b.troubles(); len(found) > 0 {
		t.Errorf("the browser complained: %q", found)
	}
}

// compare reads a piece of the ply by eye.
func (b *tab) compare(angle, state string) {
	b.t.Helper()
	b.do(chromedp.Click(choice("/check", "state", state)))
	b.write("/check", "angles", strings.Join([]string{angle, angle, angle}, ", "))
	b.press(button("Compare it"))
}

// skeinState measures a skein and hangs it.
func (b *tab) skeinState(state, loops, mass, halfTurns string) {
	b.t.Helper()
	b.do(chromedp.Click(choice("/measure", "state", state)))
	b.retype(field("/measure", "loops"), loops)
	b.retype(field("/measure", "girth"), "1.8 m")
	b.retype(field("/measure", "mass"), mass)
	b.press(button("Keep the measures"))
	b.do(chromedp.Click(choice("/hang", "state", state)))
	if halfTurns != "0" {
		b.do(chromedp.Click(choice("/hang", "direction", "S")))
		b.retype(field("/hang", "turns"), halfTurns)
	}
	b.press(button("Keep the hang test"))
}
