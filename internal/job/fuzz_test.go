package job

import (
	"image"
	"maps"
	"strings"
	"testing"
)

// Whatever is typed for a scale is one that can be looked for in a picture, or is
// refused.
func FuzzParseScale(f *testing.F) {
	for _, s := range []string{
		"120,80,920,80=20 mm", "coin=23.25 mm", "ruler=1/16 in", "coin 600,200,300,300=23.25 mm", "ruler -1,0,5,5=1 mm",
		"1e300,0,0,0=1 m", "NaN,0,1,1=1 mm", "coin 0,0,1e6,1e6=3 mm", "=", "coin=", "1,2,3=4 mm",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ParseScale(text)
		if err != nil {
			return
		}
		if s.Check() != nil || !(s.Known > 0) {
			t.Errorf("%q is read as %+v", text, s)
		}
		if s.By != Points && s.At != (image.Rectangle{}) && s.At.Empty() {
			t.Errorf("%q has the box %v", text, s.At)
		}
		if found, err := s.Within(4000, 3000); s.By == Points && err == nil && !(found.PerMillimetre.Pixels > 0 && found.PerMillimetre.SD > 0) {
			t.Errorf("%q: %+v", text, found)
		}
	})
}

// Whatever stands in a file is no plan, or is one that comes back as it was
// written.
func FuzzReadPlan(f *testing.F) {
	for _, s := range []string{
		"[cloth]\nwidth = \"18 in\"\nweave = \"\"\"\nX.\n.X\"\"\"", "[work]\nratio = [\"8:1\", 12]\npace = 1e3", "width = 3", "[a]\nb = {c = 1}", "[a.b]\nc = 1",
		"[\"\"]\n\"\" = \" \"", "[a]\n\"b.c\" = \"\\u0000\"", "[a]\nb = 2026-01-01",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		read, err := ReadPlan(strings.NewReader(text))
		if err != nil {
			if _, ok := err.(PlanTextError); !ok {
				t.Errorf("%q: %T %v", text, err, err)
			}
			return
		}
		written, err := WritePlan(read)
		if err != nil {
			t.Fatalf("%q cannot be written: %v", text, err)
		}
		again, err := ReadPlan(strings.NewReader(string(written)))
		maps.DeleteFunc(read, func(_, value string) bool { return value == "" })
		if err != nil || !maps.Equal(again, read) {
			t.Errorf("%q is written as %q and read as %v, %v", text, written, again, err)
		}
	})
}
