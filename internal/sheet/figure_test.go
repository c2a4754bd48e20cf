package sheet

import "testing"

func TestFigures(t *testing.T) {
	for _, c := range []struct{ text, first, second string }{
		{"50.0 cm (19.7 in)", "50.0 cm", "19.7 in"},
		{"26°", "26°", ""},
		{"40 h", "40 h", ""},
		{"", "", ""},
	} {
		if a, b := halves(c.text); a != c.first || b != c.second {
			t.Errorf("halves(%q) = %q, %q", c.text, a, b)
		}
	}
	for _, c := range []struct{ text, first, second string }{
		{"50 cm (20 in) to 60 cm (24 in)", "50 to 60 cm", "20 to 24 in"},
		{"88.4 cm (34.8 in) to 1.15 m (45.2 in)", "88.4 cm to 1.15 m", "34.8 to 45.2 in"},
		{"5/cm (12.7/in) to 6/cm (15.2/in)", "5 to 6/cm", "12.7 to 15.2/in"},
		{"1,045 yd to 1,217 yd", "1,045 to 1,217 yd", ""},
		{"6 ft 7 in to 7 ft 7 in", "6 ft 7 in to 7 ft 7 in", ""},
		{"20° to 30°", "20 to 30°", ""},
		{"252 to 277", "252 to 277", ""},
		{"", "", ""},
	} {
		if a, b := spans(c.text); a != c.first || b != c.second {
			t.Errorf("spans(%q) = %q, %q", c.text, a, b)
		}
	}
}

func TestParsePaper(t *testing.T) {
	for name, want := range map[string]Paper{"a4": A4, " A4": A4, "Letter": Letter} {
		if got, err := ParsePaper(name); err != nil || got != want {
			t.Errorf("ParsePaper(%q) = %v, %v", name, got, err)
		}
	}
	for _, name := range []string{"", "a5", "legal"} {
		if got, err := ParsePaper(name); err == nil {
			t.Errorf("ParsePaper(%q) = %v", name, got)
		}
	}
}
