package cloth

import (
	"strings"
	"testing"
)

// Whatever is typed is a weave that reads back as itself, or a refusal with
// advice.
func FuzzParseWeave(f *testing.F) {
	for _, s := range []string{
		"X.\n.X", "X . \r\n. X\r\n", "# twill\nXX..\n.XX.\n..XX\nX..X", "X", "",
		"threading: 1 2 3 4\ntie-up: 1+2 2+3 3+4 4+1\ntreadling: 1 2 3 4", "threading: 1\ntie-up:\ntreadling: 1",
		"shafts: 99999999999999999999", "tie-up: +", "X\x00\n", "ΧX\n.X",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		w, err := ParseWeave(text)
		checkParsed(t, text, w, err)
	})
}

func FuzzNamed(f *testing.F) {
	for _, s := range []string{"plain", "2/2-twill", "5-end-satin", "satin 8", "3/3 basket", "1/-2 twill", "999999999999/1 twill", "7 shaft sateen"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, name string) {
		if len(name) > 200 {
			return
		}
		w, err := Named(name)
		checkParsed(t, name, w, err)
	})
}

func checkParsed(t *testing.T, text string, w Weave, err error) {
	t.Helper()
	if err != nil {
		e, ok := err.(*Error)
		if !ok || e.Advice == "" || strings.Contains(e.Error(), "%!") && !strings.Contains(text, "%!") || len(e.Error()) > 400 {
			t.Errorf("%q: %v", text, err)
		}
		return
	}
	if w.Ends() < 2 || w.Picks() < 2 || w.Shafts() < 2 {
		t.Errorf("%q: a weave of %d ends and %d picks", text, w.Ends(), w.Picks())
	}
	again, err := ParseWeave(w.String())
	if err != nil || again.String() != w.String() {
		t.Errorf("%q: %v", text, err)
	}
}

// Whatever is typed is a number of threads that can be woven, or a refusal with
// advice.
func FuzzParseDensity(f *testing.F) {
	for _, s := range []string{"12/in", "5 ends per cm", "12 epi", "48/10cm", "1,200/in", "2,5 per cm", "12", "0/in", "/cm", "9e9 epi"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, err := ParseDensity[OnLoom](text)
		if e, ok := err.(*Error); err != nil && (!ok || e.Advice == "" || len(e.Error()) > 400) {
			t.Errorf("%q: %v", text, err)
		}
		if err == nil && !(d.PerInch() > 0.25 && d.PerInch() < 508) {
			t.Errorf("%q is read as %v an inch", text, d.PerInch())
		}
	})
}
