package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"waketwist/internal/cli"
)

// command runs the program on a journal.
func command(t *testing.T, data string, args ...string) (out, errs string, code int) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	world := cli.IO{Stdin: strings.NewReader(""), Stdout: &stdout, Stderr: &stderr, Getenv: os.Getenv}
	code = cli.Main(t.Context(), append(args, "--data", data), world, cli.Doors{Journal: openJournal})
	return stdout.String(), stderr.String(), code
}

// done runs a command that must be answered.
func done(t *testing.T, data string, args ...string) string {
	t.Helper()
	out, errs, code := command(t, data, args...)
	if code != 0 {
		t.Fatalf("%q ends with %d: %s", args, code, errs)
	}
	return out
}

// Ten treadles at 8:1 with 36 in wound on by the bobbin: on a core of 1.5 in 2.01
// turns an inch went in, at 2.5 in 2.09, on a full bobbin of 4 in 2.14; the page
// and the command say the same (arithmetic).
func TestBobbinLedByPageAndCommand(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	m := w.must(w.post("/machine", "name", "Heron wheel", "kind", "bobbin-led"))
	w.must(w.post(m+"/whorl", "name", "slow", "turns", "80"))
	for range 2 {
		w.must(w.post(m+"/whorl", "whorl", "1", "turns", "80", "treadles", "10"))
	}
	w.must(w.post(m+"/bobbin", "name", "oak", "core", "1.5 in", "full", "4 in", "tare", "62 g"))
	half := 100 * (2.5*2.5 - 1.5*1.5) / (4*4 - 1.5*1.5) // as full as makes it 2.5 in across
	tests := []struct {
		filled string
		want   float64
	}{{"0", 2.01}, {fmt.Sprintf("%.4f", half), 2.095}, {"100", 2.14}}
	said := regexp.MustCompile(`if nothing slipped, ([0-9.]+) tpi`)
	for _, tt := range tests {
		page := w.get(m + "?ask=went&whorl=1&treadles=10&length=36+in&filled=" + tt.filled).body
		var got float64
		if _, err := fmt.Sscan(number(t, said.String(), page), &got); err != nil || math.Abs(got-tt.want) > 0.0051 {
			t.Errorf("%s %% full, on the page: %v tpi, want %v", tt.filled, got, tt.want)
		}
	}
	w.end()
	for _, tt := range tests {
		out := done(t, w.folder, "wheel", "--machine", "heron", "--treadles", "10", "--length", "36 in", "--filled", tt.filled, "--json")
		var got struct {
			Machine, Whorl, Bobbin string
			NoSlip                 float64 `json:"no_slip_twist_tpm"`
			Flags                  []string
		}
		if err := json.Unmarshal([]byte(out), &got); err != nil {
			t.Fatal(err)
		}
		if tpi := got.NoSlip * 0.0254; math.Abs(tpi-tt.want) > 0.0051 || got.Machine != "Heron wheel" || got.Whorl != "slow" || got.Bobbin != "oak" {
			t.Errorf("%s %% full, by the command: %.4f tpi of %+v", tt.filled, tpi, got)
		}
	}
	out := done(t, w.folder, "wheel", "--machine", "heron", "--treadles", "10", "--length", "36 in")
	for _, want := range []string{"On Heron wheel, whorl “slow”, bobbin “oak”; slip not watched yet.", "2.01 tpi (79.1 turns/m) went into", "2.22 tpi"} {
		if !strings.Contains(strings.Join(strings.Fields(out), " "), want) {
			t.Errorf("no %q in:\n%s", want, out)
		}
	}
}

// What was typed stays in a form that was not taken, and nothing was changed.
func TestMachineFormsKeepWhatWasTyped(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	m := w.must(w.post("/machine", "name", "Reed", "kind", "flyer-led"))
	for _, tt := range []struct {
		action string
		fields []string
		shows  []string
	}{
		{"", []string{"name", "", "note", "the brake squeaks"}, []string{"Give the machine a name", "the brake squeaks</textarea>"}},
		{"/whorl", []string{"name", "slow", "turns", "eighty"}, []string{"is not a number", `value="eighty"`, `value="slow"`}},
		{"/whorl", []string{"name", "slow", "turns", "1,200"}, []string{"may mark thousands or decimals", `value="1,200"`}},
		{"/whorl", []string{"name", "slow", "turns", "8300"}, []string{"8300 turns over 10 treadles cannot be meant", `value="8300"`}},
		{"/bobbin", []string{"name", "oak", "core", "4 in", "full", "2 in"}, []string{"does not fit", `value="4 in"`}},
		{"/strike", []string{"part", "machine", "id", "1", "reason", " "}, []string{"Say why this machine no longer counts"}},
		{"/strike", []string{"part", "pedal", "id", "1", "reason", "x"}, []string{"Say what is to be struck"}},
	} {
		a := w.post(m+tt.action, tt.fields...)
		for _, want := range tt.shows {
			if a.status != 422 || !strings.Contains(html.UnescapeString(a.body), want) {
				t.Errorf("%s%s %q answers %d without %q", m, tt.action, tt.fields, a.status, want)
			}
		}
	}
	if again := w.get(m).body; strings.Contains(again, "squeaks") || !strings.Contains(again, "None is counted yet") || strings.Contains(again, "Put away.") {
		t.Errorf("something was kept:\n%s", again)
	}
	for _, path := range []string{"/machine/9", "/machine/x"} {
		if a := w.get(path); a.status != 404 {
			t.Errorf("%s answers %d", path, a.status)
		}
	}
}

// 9 turns an inch over 6 in at 810 turns a minute take 4 seconds (arithmetic).
func TestMotorByCommand(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	motor := w.must(w.post("/machine", "name", "The hum", "kind", "motor"))
	w.must(w.post(motor+"/setting", "name", "knob at three", "stated", "810"))
	w.must(w.post(motor+"/setting", "name", "knob at nine", "how", "on film", "turns", "10", "frames", "72", "rate", "240"))
	w.end()
	for _, tt := range []struct{ args, says string }{
		{"--twist 9tpi --draw 6in --setting three", "hold each draw 4.00 seconds"},
		{"--length 6in --beat 4s --setting three", "9.00 tpi (354 turns/m)"},
		{"--setting nine", "The flyer makes 2000 turns a minute"},
		{"--setting nine", "ask for the maker's limit first"},
	} {
		out := done(t, w.folder, append([]string{"wheel", "--machine", "hum"}, strings.Fields(tt.args)...)...)
		if flat := strings.Join(strings.Fields(out), " "); !strings.Contains(flat, tt.says) || !strings.HasPrefix(flat, "On The hum, setting “knob at ") {
			t.Errorf("%s: no %q in:\n%s", tt.args, tt.says, out)
		}
	}
	for _, tt := range []struct{ args, says string }{
		{"--twist 9tpi --draw 6in", "give --setting, one of “knob at three”, “knob at nine”"},
		{"--twist 9tpi --draw 6in --setting three --rpm 700", "leave out --rpm"},
		{"--twist 9tpi --draw 6in --whorl slow", "give --setting"},
	} {
		if _, errs, code := command(t, w.folder, append([]string{"wheel", "--machine", "hum"}, strings.Fields(tt.args)...)...); code == 0 || !strings.Contains(errs, tt.says) {
			t.Errorf("%s: %d, %q, want %q", tt.args, code, errs, tt.says)
		}
	}
}

// The demonstration's machines by the command: listed, chosen from, refused.
func TestMachineCommands(t *testing.T) {
	t.Parallel()
	data := demoJournal(t)
	list := done(t, data, "machine")
	for _, want := range []string{"Upright from the loft, flyer-led", "“middle groove”: 8.72 turns a treadle", "slip takes", "Plying wheel, bobbin-led", "slip not watched yet", "“Thin core” (core 38.1 mm (1.50 in)"} {
		if !strings.Contains(list, want) {
			t.Errorf("no %q in:\n%s", want, list)
		}
	}
	var one struct {
		Kind   string
		Whorls []struct {
			Name  string
			Ratio struct{ Value, Low, High float64 }
		}
		Slip    struct{ Low, High float64 } `json:"slip_factor"`
		Bobbins []struct {
			Tare float64 `json:"tare_g"`
		}
	}
	if err := json.Unmarshal([]byte(done(t, data, "machine", "upright", "--json")), &one); err != nil {
		t.Fatal(err)
	}
	if one.Kind != "flyer-led" || len(one.Whorls) != 3 || math.Abs(one.Whorls[1].Ratio.Value-8.717) > 0.01 || !(one.Slip.Low < 0.95 && one.Slip.High > 0.93) || one.Bobbins[0].Tare != 71 {
		t.Errorf("%+v", one)
	}
	choice := done(t, data, "wheel", "--machine", "upright", "--twist", "6 tpi", "--draw", "24 in")
	if !strings.Contains(choice, "nearest first") || !strings.Contains(choice, "small groove: 13 treadles a draw") || !strings.Contains(choice, "with the slip that is known") || strings.Contains(choice, "Slip has not been measured") {
		t.Errorf("the choice of whorls:\n%s", choice)
	}
	set := done(t, data, "wheel", "--machine", "upright", "--whorl", "middle", "--twist", "6 tpi", "--draw", "24 in", "--json")
	if !strings.Contains(set, `"whorl":"middle groove"`) || strings.Contains(set, "slip not measured") || !strings.Contains(set, `"modelled"`) {
		t.Errorf("the setting of one whorl: %s", set)
	}
	for _, tt := range []struct{ args, says string }{
		{"--machine upright --ratio 8 --twist 6tpi --draw 24in", "leave out --kind, --ratio"},
		{"--machine plying --twist 6tpi --draw 24in", "give --bobbin"},
		{"--machine plying --bobbin core --twist 6tpi --draw 24in", "More than one bobbin"},
		{"--machine walking --twist 6tpi --draw 24in", "There is no machine “walking”"},
		{"--machine upright --treadles 20 --length 24in", "--length needs --whorl"},
		{"--machine upright --setting three --twist 6tpi --draw 24in", "give --whorl"},
		{"--whorl slow --twist 6tpi --draw 24in", "name it with --machine"},
	} {
		if _, errs, code := command(t, data, append([]string{"wheel"}, strings.Fields(tt.args)...)...); code == 0 || !strings.Contains(errs, tt.says) {
			t.Errorf("%s: %d, %q, want %q", tt.args, code, errs, tt.says)
		}
	}
	if out := done(t, emptyJournal(t), "machine"); !strings.Contains(out, "No machine is recorded") {
		t.Errorf("an empty journal: %q", out)
	}
}

// TestMachineInTheBrowser adds a wheel, counts it, watches its band, sets it, says
// what went in, strikes a count, and plies by it.
func TestMachineInTheBrowser(t *testing.T) {
	t.Parallel()
	w := startWorkbench(t, t.TempDir(), false)
	b := newTab(t)
	b.open(w.address + "/")
	b.press(link("Machines"))
	b.write("/machine", "name", "Reed")
	b.press(button("Add it"))
	b.write("/whorl", "name", "slow")
	b.write("/whorl", "turns", "83")
	b.press(button("Keep the count"))
	b.expect("slow 8.30 turns a treadle 8.2[0-9] to 8.3[0-9]")
	b.retype(field("#set", "twist"), "6 tpi")
	b.retype(field("#set", "draw"), "24 in")
	b.press(button("How to set it"))
	b.expect("144 turns a draw, on “slow”", "if nothing slips, 17.4 treadles", "has not been watched")
	b.write("/slip", "rhythm", "60")
	b.write("/slip", "turns", "448")
	b.write("/slip", "seconds", "60")
	b.press(button("Keep what was seen"))
	b.expect("10.0 % lost", "Lost to slip, the next time 1[01] %")
	b.retype(field("#set", "twist"), "6 tpi")
	b.retype(field("#set", "draw"), "24 in")
	b.press(button("How to set it"))
	b.expect(`Give each draw 19\.[0-9] treadles`)
	b.retype(field("#went", "length"), "24 in")
	b.retype(field("#went", "treadles"), "19.3")
	b.press(button("What twist that is"))
	b.expect(`Twist that went in (5\.9|6\.0)[0-9]? tpi`)

	p := w.newProject("name", "Muff", "strands", "2")
	one := w.newBobbin(p, "name", "Ibis", "direction", "Z", "thickness", "0.8 mm")
	w.sampled(p, one, "20, 21, 19", "38, 39, 37")
	w.must(w.post(p+"/target", "note", ""))
	b.open(w.address + p + "/run")
	b.unfold("The wheel or the motor")
	b.do(chromedp.SetValue(field("/run", "machine"), "whorl-1"))
	b.retype(field("/run", "draw"), "60 cm")
	b.press(button("Start plying"))
	b.expect(`[0-9.]+ treadles \([0-9.]+ to [0-9.]+\) for each draw of 60.0 cm .* at 8.30 flyer turns a treadle`, "Reed, whorl “slow”")

	b.open(w.address + "/machine/1")
	b.unfold("What was counted")
	b.unfold("Strike it")
	b.write("/strike", "reason", "the flag slipped")
	b.press(button("Keep that"))
	b.expect("struck: the flag slipped", "No count of “slow” stands; count it once more")
	b.open(w.address + "/run/1")
	b.expect("No count of “slow” stands")
	if found := b.troubles(); len(found) > 0 {
		t.Errorf("the browser complained: %q", found)
	}
}
