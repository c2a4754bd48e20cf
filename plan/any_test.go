package plan

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestAnyText fills any fields with any values that fields take somewhere: what
// cannot be meant is refused in words, and what is answered is a number.
func TestAnyText(t *testing.T) {
	fields := Fields()
	values := []string{"0 m", "-3", "1e300 m", "0.1 mm", "9000 km", "1 to 90 m", "1 g", "400 kg", "3 to 900 g", "0%", "0-10%", "0 m to 2 m", "150-200%", "90%", "-50-90%", "0.1-89%",
		"20 deg", "2 to 43 deg", "300/m", "0.2 tpi", "14 wpi", "900 wpi", "2/m", "500/in", "1600 yd/lb", "1 to 99999 tex", "1 m/h", "9 h", "1", "7", "S", "raw", "soft", "8:1", "100:1, 0.3:1", "X.\n.X", "12 µm"}
	rapid.Check(t, func(t *rapid.T) {
		text := Text{}
		for range rapid.IntRange(1, 14).Draw(t, "fields") {
			f := rapid.SampledFrom(fields).Draw(t, "field")
			own := append([]string{f.Example, f.Example}, f.Choices...)
			text[f.Key] = rapid.SampledFrom(append(own, values...)).Draw(t, "value")
		}
		_, first := Read(text)
		for key := range first {
			delete(text, key)
		}
		w, problems := Read(text)
		if len(problems) > 0 { // what belongs together is told apart only then
			return
		}
		r, err := solve(w, 20)
		var refused *Error
		if err != nil {
			if !errors.As(err, &refused) && !strings.HasSuffix(err.Error(), ".") {
				t.Errorf("%v is no sentence", err)
			}
			return
		}
		for _, l := range append(r.Lines(), r.MadeLines()...) {
			if v := l.Value + l.Low + l.High; math.IsNaN(v) || math.IsInf(v, 0) || l.Text == "" {
				t.Errorf("%s is %v (%v to %v), %q", l.Key, l.Value, l.Low, l.High, l.Text)
			}
		}
		for _, c := range r.Conflicts {
			if strings.Contains(c.Problem+c.Drop, "NaN") || !strings.HasSuffix(c.Problem, ".") || !strings.HasSuffix(c.Drop, ".") {
				t.Errorf("contradiction %q, %q", c.Problem, c.Drop)
			}
		}
		if o, err := r.Outlook(); err == nil && o != nil && (strings.Contains(o.Say(), "NaN") || strings.Contains(o.Say(), "Inf")) {
			t.Errorf("outlook %q", o.Say())
		}
	})
}
