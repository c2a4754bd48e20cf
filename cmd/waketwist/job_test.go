package main

import (
	"math"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// pictured are a dry and a re-wet sample with the angle that truth.csv of
// package reading gives for the wet one, in degrees. Both lean Z.
const (
	dryPhoto, wetPhoto = "dev_055.jpg", "dev_009.jpg"
	wetTruth           = 34.57
)

// begin goes from the bench to the wake page of a first bobbin.
func (b *tab) begin(w *workbench, name, direction string) {
	b.t.Helper()
	b.open(w.address)
	b.press(link("I have rested bobbins"))
	b.write("/project/new", "name", name)
	b.press(button("Go on to the bobbins"))
	b.retype(field("/bobbin", "name"), "Rook")
	b.do(chromedp.Click(choice("/bobbin", "direction", direction)))
	b.write("/bobbin", "thickness", "0.9 mm")
	b.press(button("Keep it and sample it"))
}

func TestJobByPhotograph(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	b := newTab(t)
	b.open(w.address)
	b.expect("Nothing is in work")
	b.begin(w, "Blanket", "S")
	b.press(button("They are cut"))
	b.readPhoto(dryPhoto)
	b.write("/soak", "water", "19")
	b.write("/soak", "minutes", "25")
	b.press(button("It is in the water"))
	b.readPhoto(wetPhoto)

	target, washed := b.measure("Hold the ply to", "°"), b.measure("Washed and dried", "°")
	if math.Abs(target.value-wetTruth) > 3 {
		t.Errorf("the ply to hold is %v degrees, want %.1f within 3", target, wetTruth)
	}
	if washed.value >= target.value {
		t.Errorf("washed and dried %v is not flatter than re-wet %v", washed, target)
	}
	if asleep := b.measure("Twist asleep in the singles", " %"); asleep.low < 0 || asleep.high > 100 {
		t.Errorf("a share of %v asleep", asleep)
	} else if holder := b.measure("Tension on the bobbin holder", " %"); !asleep.holds(holder) {
		t.Errorf("with %v %% asleep the holder needs %v %%, not its square awake", asleep, holder)
	}
	b.expect("Ply Z, two-ply", "The angle to hold is measured", "re-wet.{0,40}measured")

	b.write("/target", "note", "as the clip says")
	b.press(button("Hold to this target"))
	projectPage := b.words()
	b.press(link("Bench"))
	b.expect("Ply to the target: 3[0-9]° re-wet")
	if kept := b.measure("Ply target", "°"); kept != target {
		t.Errorf("the bench shows the target %v, want %v", kept, target)
	}
	b.restarted(w, projectPage)
}

// holds says whether the tension against snarling is the square of the share
// awake, both in whole percent.
func (asleep span) holds(tension span) bool {
	agree := func(f, t float64) bool { return math.Abs((100-f)*(100-f)/100-t) <= 1.5 }
	return agree(asleep.value, tension.value) && agree(asleep.high, tension.low) && agree(asleep.low, tension.high)
}

// readPhoto reads a photograph of the sample in hand, finds it laid over with
// what was read, and goes on.
func (b *tab) readPhoto(name string) {
	b.t.Helper()
	b.choosePhoto(nowField("photo"), name)
	b.press(now(button("Read the photographs")))
	b.expect("One reading", "two strands, twist Z, read from the photograph")
	lines := js[int](b, `document.querySelectorAll("main svg[role=img] polyline[points*=',']").length`)
	photo := js[int](b, `document.querySelectorAll("main svg[role=img] image[href^='/photo/']").length`)
	if lines < 3 || photo != 1 {
		b.t.Errorf("%d lines along the yarn over %d photographs, want axis and edges over 1", lines, photo)
	}
	b.press(link("It is right: go on"))
}

// restarted opens the same folder again and finds what was there.
func (b *tab) restarted(w *workbench, projectPage string) {
	b.t.Helper()
	w = w.again()
	b.open(w.address)
	b.press(link("Blanket"))
	if now := b.words(); now != projectPage {
		b.t.Errorf("after a restart the project reads\n%s\nbefore it read\n%s", now, projectPage)
	}
	b.press(link("Wake the twist"))
	b.expect("Hold the ply to", "1 on record")
	for _, reading := range readingsOf(b.t, w.get(js[string](b, `location.pathname + location.search`)).body) {
		photo := number(b.t, `href="(/photo/[0-9a-f]{64})`, w.get(reading).body)
		if a := w.get(photo); a.status != 200 || a.header.Get("Content-Type") != "image/jpeg" {
			b.t.Errorf("after a restart %s answers %d with %s", photo, a.status, a.header.Get("Content-Type"))
		}
	}
	if found := b.troubles(); len(found) > 0 {
		b.t.Errorf("the browser complained: %q", found)
	}
}

func TestJobByTypedAngles(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	b := newTab(t)
	b.begin(w, "Cardigan", "Z")
	b.press(button("They are cut"))
	b.typeAngles("20, 21, 19")
	b.expect("3 readings, this piece only")
	b.write("/soak", "minutes", "25")
	b.press(button("It is in the water"))
	b.typeAngles("38, 39")
	b.expect("Ply S, two-ply", "The angle to hold is measured")
	if place := js[string](b, `location.hash`); place != "#result" {
		t.Errorf("the last reading leads to %q, not to the answer", place)
	}
	two := b.measure("Hold the ply to", "°")
	if math.Abs(two.value-38.5) > 1.5 {
		t.Errorf("the ply to hold is %v degrees after 38 and 39", two)
	}
	asleep := b.measure("Twist asleep in the singles", " %")
	if asleep.value < 20 || asleep.value > 80 {
		t.Errorf("%v %% asleep after 20 dry and 38.5 re-wet", asleep)
	}
	b.otherPlies(two)
	b.wantedAngles(two)
}

// typeAngles keeps angles of the sample in hand that were read by eye.
func (b *tab) typeAngles(angles string) {
	b.t.Helper()
	b.do(chromedp.SendKeys(nowField("angles"), angles))
	b.press(now(button("Keep the angles")))
}

// otherPlies asks for the answer for three strands, and past balance.
func (b *tab) otherPlies(two span) {
	b.t.Helper()
	b.unfold("Another ply")
	b.do(chromedp.Click(choice("/project/1", "strands", "3")))
	b.press(button("Answer for this ply"))
	b.expect("Ply S, three-ply", "The angle to hold is modelled")
	three := b.measure("Hold the ply to", "°")
	if three == two {
		b.t.Errorf("three-ply and two-ply are both %v", two)
	}
	b.unfold("Another ply")
	b.retype(field("/project/1", "offset"), "10")
	b.press(button("Answer for this ply"))
	b.expect("three-ply, 10 % over balance")
	if over := b.measure("Hold the ply to", "°"); over.value <= three.value {
		b.t.Errorf("10 %% over balance %v is not steeper than balanced %v", over, three)
	}
	b.unfold("Another ply")
	b.do(chromedp.Click(choice("/project/1", "strands", "2")))
	b.retype(field("/project/1", "offset"), "")
	b.press(button("Answer for this ply"))
	if back := b.measure("Hold the ply to", "°"); back != two {
		b.t.Errorf("back at two-ply %v, before %v", back, two)
	}
}

// wantedAngles asks backwards: what twist a wanted ply needs.
func (b *tab) wantedAngles(two span) {
	b.t.Helper()
	for _, tt := range []struct {
		want string
		says string
	}{
		{"46", `For the ply you want, 46.* Twist to add to the singles [0-9]+ %`},
		{"30", `For the ply you want, 30.* Twist to take out of the singles [0-9]+ %`},
	} {
		b.unfold("Another ply")
		b.retype(field("/project/1", "want"), tt.want)
		b.press(button("Answer for this ply"))
		b.expect(tt.says)
	}
	if still := b.measure("Hold the ply to", "°"); still != two {
		b.t.Errorf("after asking backwards %v, before %v", still, two)
	}
}

func TestChooseBobbinsPliedTogether(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	p := w.newProject("name", "Socks", "strands", "2")
	calm := w.newBobbin(p, "name", "Calm", "direction", "Z")
	lively := w.newBobbin(p, "name", "Lively", "direction", "Z")
	w.sampled(p, calm, "18, 19", "25, 26, 24")
	w.sampled(p, lively, "24", "41, 42, 40")
	b := newTab(t)
	b.open(w.address + wake(p, lively))
	both := b.measure("Hold the ply to", "°")
	b.expect(`Lively is livelier than Calm by 1[0-9]° \(`)
	b.unfold("Another ply")
	b.do(chromedp.Click(choice("/wake#result", "ply", "1")))
	b.press(button("Answer for these bobbins"))
	alone := b.measure("Hold the ply to", "°")
	if alone.value <= both.value || math.Abs(alone.value-41) > 2 {
		t.Errorf("both bobbins give %v, the lively one alone %v", both, alone)
	}
	b.press(button("Hold to this target"))
	if kept := b.measure("Ply target", "°"); kept != alone {
		t.Errorf("the target kept is %v, want %v", kept, alone)
	}
}

func TestStrikeReading(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	p := w.newProject("name", "Hat", "strands", "2")
	bobbin := w.newBobbin(p, "name", "Teal", "direction", "Z")
	w.sampled(p, bobbin, "20", "38, 61")
	b := newTab(t)
	b.open(w.address + wake(p, bobbin))
	before := b.measure("Hold the ply to", "°")
	wrong := readingsOf(t, w.get(bobbin).body)[2]
	b.open(w.address + wrong)
	b.unfold("Strike it")
	b.write("/strike", "reason", "measured on a tangle")
	b.press(button("Strike it"))
	if after := b.measure("Hold the ply to", "°"); after.value >= before.value || math.Abs(after.value-38) > 2 {
		t.Errorf("with 38 and 61 %v, without the 61 %v", before, after)
	}
	b.expect("Does not count: struck: measured on a tangle")
	b.open(w.address + wrong)
	b.expect("Does not count: struck: measured on a tangle")
	if strings.Contains(b.words(), "Strike it") {
		t.Error("a struck reading can be struck again")
	}
	if a := w.post(wrong+"/strike", "reason", "again"); a.status != 409 {
		t.Errorf("striking it once more is answered with %d, want 409", a.status)
	}
}
