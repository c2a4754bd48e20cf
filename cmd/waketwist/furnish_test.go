package main

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

var (
	sampleForm  = regexp.MustCompile(`action="(/sample/\d+)/reading"`)
	readingLink = regexp.MustCompile(`href="(/reading/\d+)"`)
)

// readingsOf lists the readings that a page links to, each once.
func readingsOf(t testing.TB, page string) (out []string) {
	t.Helper()
	for _, m := range readingLink.FindAllStringSubmatch(page, -1) {
		if !slices.Contains(out, m[1]) {
			out = append(out, m[1])
		}
	}
	return out
}

// newProject records a project and returns its address.
func (w *workbench) newProject(fields ...string) string {
	w.t.Helper()
	to := w.must(w.post("/project/new", fields...))
	return number(w.t, `^(/project/\d+)/bobbin$`, to)
}

// newBobbin records a bobbin of a project and returns its address.
func (w *workbench) newBobbin(project string, fields ...string) string {
	w.t.Helper()
	to := w.must(w.post(project+"/bobbin", fields...))
	return "/bobbin/" + number(w.t, `bobbin=(\d+)`, to)
}

// wake is the address of the wake page of a bobbin.
func wake(project, bobbin string) string {
	return project + "/wake?bobbin=" + bobbin[len("/bobbin/"):]
}

// sample is the address of the sample that the wake page asks to read now.
func (w *workbench) sample(project, bobbin string) string {
	w.t.Helper()
	page := w.get(wake(project, bobbin)).body
	all := sampleForm.FindAllStringSubmatch(page, -1)
	if all == nil {
		w.t.Fatalf("the wake page of %s asks for no reading:\n%s", bobbin, page)
	}
	return all[len(all)-1][1]
}

// sampled takes a bobbin through dry and wet samples, read by eye.
func (w *workbench) sampled(project, bobbin, dry, wet string) {
	w.t.Helper()
	w.must(w.post(bobbin+"/cut", "depth", "0"))
	w.must(w.upload(w.sample(project, bobbin)+"/reading", "", nil, "angles", dry, "direction", "S"))
	w.must(w.post(bobbin+"/soak", "minutes", "25", "water", "18"))
	w.must(w.upload(w.sample(project, bobbin)+"/reading", "", nil, "angles", wet, "direction", "S"))
}

// plied takes a sampled project through a run of plying to a washed skein, and
// leaves a second run just begun.
func (w *workbench) plied(project, one, other string) {
	w.t.Helper()
	first, second := strings.TrimPrefix(one, "/bobbin/"), strings.TrimPrefix(other, "/bobbin/")
	run := w.must(w.post(project+"/run", "name", "Evening", "feed", first, "feed", second, "rewound"+first, "1", "over"+first, "Z", "direction", "S", "ratio", "9", "draw", "60 cm"))
	w.must(w.upload(run+"/check", "", nil, "state", "wheel", "angles", "28, 29, 30"))
	w.must(w.upload(run+"/check", "ply.jpg", photograph(w.t, wetPhoto), "state", "rewet"))
	skein := w.must(w.post(run + "/skein"))
	for _, state := range []string{"rested", "washed"} {
		w.must(w.post(skein+"/measure", "state", state, "loops", "60", "girth", "1.8 m", "mass", "98 g", "wraps", "14 wpi", "load", "100 g"))
		w.must(w.post(skein+"/hang", "state", state, "direction", "S", "turns", "2", "length", "80 cm"))
		w.must(w.upload(skein+"/check", "", nil, "state", state, "angles", "27, 28"))
	}
	w.must(w.post(skein+"/wash", "treatment", "soak and snap", "water", "40", "minutes", "20", "hung", "100 g"))
	w.must(w.post(run + "/end"))
	w.must(w.post(project+"/run", "name", "The wrong way", "feed", first, "direction", "Z", "rpm", "600", "beat", "3"))
}

// machined records a motor, a spindle and a wheel with parts that were struck, and
// begins a run of plying on the demonstration's bobbin-led wheel.
func (w *workbench) machined(project, bobbin string) {
	w.t.Helper()
	motor := w.must(w.post("/machine", "name", "The hum", "kind", "motor", "note", "borrowed"))
	w.must(w.post(motor+"/setting", "name", "knob at three", "how", "on film", "turns", "10", "frames", "171", "rate", "240"))
	w.must(w.post(motor+"/setting", "setting", "1", "how", "by untwisting", "turns", "70", "seconds", "5"))
	w.must(w.post(motor+"/setting", "name", "knob at nine", "stated", "1900"))
	spindle := w.must(w.post("/machine", "name", "Drop spindle", "kind", "spindle"))
	w.must(w.post(spindle+"/whorl", "name", "off the thigh", "turns", "61", "treadles", "3"))
	old := w.must(w.post("/machine", "name", "Sold", "kind", "double drive"))
	w.must(w.post(old+"/whorl", "name", "one", "stated", "11"))
	w.must(w.post(old+"/bobbin", "name", "the cracked one", "tare", "60 g"))
	w.must(w.post(old+"/strike", "part", "bobbin", "id", number(w.t, `name="part" value="bobbin"><input type="hidden" name="id" value="(\d+)"`, w.get(old).body), "reason", "it split"))
	w.must(w.post(old+"/strike", "part", "machine", "id", strings.TrimPrefix(old, "/machine/"), "reason", "sold in spring"))
	w.must(w.post("/machine/1/strike", "part", "count", "id", "1", "reason", "the flag slipped"))
	w.must(w.post(project+"/run", "name", "On the plying wheel", "feed", strings.TrimPrefix(bobbin, "/bobbin/"), "direction", "S", "machine", "whorl-4", "spool", "bobbin-2", "draw", "24 in"))
}

// furnish brings a workbench with the demonstration to a state in which every
// kind of page can be reached, and returns addresses that no link leads to.
func furnish(t testing.TB, w *workbench) (unlinked []string) {
	t.Helper()
	w.must(w.post("/project/1/target", "note", "for the first strips"))
	w.newProject("name", "Nothing but a name", "strands", "2")

	soaking := w.newProject("name", "Mittens that must not felt", "strands", "3", "offset", "10")
	one := w.newBobbin(soaking, "name", "Bobbin in the bowl", "direction", "Z", "thickness", "18 wpi")
	w.must(w.post(one+"/cut", "depth", "0.5", "load", "5 g"))
	w.must(w.upload(w.sample(soaking, one)+"/reading", "", nil, "angles", "20, 21, 19", "direction", "S"))
	w.must(w.post(one+"/soak", "water", "64 F"))

	mixed := w.newProject("name", "Socks", "strands", "3", "want", "45", "aim", "Hard-wearing, and long enough to hold a heel.")
	calm := w.newBobbin(mixed, "name", "Calm", "direction", "Z", "thickness", "0.8 mm", "lotname", "Dun fleece", "fibre", "wool", "preparation", "woollen")
	lively := w.newBobbin(mixed, "name", "Lively", "direction", "Z", "thickness", "0.8 mm", "started", "2026-01-03", "ended", "2026-01-09")
	w.sampled(mixed, calm, "18, 19", "25, 26, 24")
	w.sampled(mixed, lively, "24", "41, 42, 40")
	w.must(w.post(mixed+"/target", "note", ""))

	w.plied(mixed, calm, lively)

	corrected := w.newProject("name", "Corrected and struck", "strands", "2")
	seen := w.newBobbin(corrected, "name", "Seen twice", "direction", "S", "singles", "24")
	w.must(w.post(seen+"/cut", "depth", "1", "age", "3 days"))
	dry := w.sample(corrected, seen)
	w.must(w.upload(dry+"/reading", "wall.jpg", photograph(t, "neg_brick.jpg")))
	first := w.must(w.upload(dry+"/reading", "dry.jpg", photograph(t, "dev_055.jpg")))
	w.must(w.post(first+"/again", "plies", "2"))
	w.must(w.upload(dry+"/reading", "", nil, "angles", "29"))
	w.must(w.post(readingsOf(t, w.get(seen).body)[3]+"/strike", "reason", "it was held taut"))

	w.stashed(calm)
	w.machined(mixed, calm)

	done := w.newProject("name", "Woven and worn", "strands", "4")
	w.must(w.post(w.newBobbin(done, "name", "By mistake", "direction", "Z") + "/away"))
	w.must(w.post(done + "/end"))

	read := w.must(w.upload("/read", "four.jpg", photograph(t, "pc_s4_four_ply.jpg")))
	refused := w.must(w.upload("/read", "wall.jpg", photograph(t, "neg_brick.jpg")))
	return []string{read, refused,
		"/machine/1?ask=set&twist=6+tpi&draw=24+in&rhythm=70",
		"/machine/2?ask=set&twist=6+tpi&draw=24+in&spool=2&filled=50",
		"/machine/2?ask=went&treadles=10&length=36+in&whorl=4&spool=2",
		"/machine/3?ask=set&twist=9+tpi&draw=6+in&setting=2&beat=4",
	}
}

// stashed adds a fleece that was weighed through its states, singles weighed
// with a slip that is struck, a swatch with its later version, and a skein that
// was given away.
func (w *workbench) stashed(bobbin string) {
	w.t.Helper()
	lot := w.must(w.post("/stash/lot", "name", "Moorland shearling", "fibre", "wool", "preparation", "woollen", "mass", "3 lb", "step", "1 g"))
	w.must(w.post(lot+"/weigh", "what", "scoured", "mass", "500 g", "before", "900 g", "humidity", "55", "weighnote", "half of it"))
	w.must(w.post(lot+"/weigh", "what", "prepared", "mass", "460 g", "tare", "30 g"))
	w.must(w.post(lot+"/weigh", "what", "waste", "mass", "0"))
	w.must(w.post(lot+"/strike", "weighing", number(w.t, `(?s).*name="weighing" value="(\d+)"`, w.get(lot).body), "reason", "the bag was forgotten"))
	w.must(w.post(bobbin+"/weigh", "mass", "140 g", "tare", "92 g", "before", "50 g"))
	w.must(w.post(bobbin+"/stretch", "started", "2026-01-03", "ended", "2026-01-05", "length", "120 m", "worked", "1 h 30 min"))
	swatch := w.must(w.post("/swatch/new", "name", "Sock rib", "kind", "knitted", "offwidth", "10 cm", "offlength", "4 in"))
	w.must(w.post(swatch, "name", "Sock rib", "kind", "knitted", "offwidth", "10 cm", "offlength", "4 in", "washedwidth", "9.5 cm", "washedlength", "9.6 cm", "mass", "4 g"))
	skein := w.must(w.post(bobbin+"/skein", "name", "For a friend"))
	w.must(w.post(skein+"/use", "how", "given away", "usenote", "to a neighbour"))
}
