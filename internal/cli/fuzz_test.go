package cli

import (
	"errors"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"waketwist/yarn"
)

// FuzzSpun gives --strand any text: it is a strand that can be reckoned with, or
// it is refused in one line.
func FuzzSpun(f *testing.F) {
	for _, s := range []string{"0.8 mm 25", "18 wpi 25 Z", "0.8 mm 25 Z 40%", "1/30 in 25° s, 12,5 % asleep", "0.8 mm 90", "9 tpi 25", "mm 25 Z 140%", "1,200 µm 1.2.3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		s, err := parseSpun(typed)
		if err != nil {
			if oneLine(typed) == typed && utf8.ValidString(typed) && strings.Contains(err.Error(), "\n") {
				t.Errorf("%q: %v", typed, err)
			}
			return
		}
		d, a := s.diameter.Millimetres(), float64(s.angle)
		if !(d > 0) || math.IsInf(d, 0) || !(a >= 0 && s.angle <= yarn.SurfaceAngle(steepestSingles)) || !(s.asleep >= 0 && s.asleep <= 1) {
			t.Errorf("%q is read as %+v", typed, s)
		}
	})
}

// FuzzTally gives the counts of a machine any text.
func FuzzTally(f *testing.F) {
	for _, s := range []string{"83/10", "10/171/240", " 8 1/2/10", "1e7/1", "-1/2", "/", "1,200/60", "NaN/1", "0x1/2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		for _, parts := range []int{2, 3} {
			out, err := tallyOf("--counted", typed, parts)
			var usage *usageError
			if err != nil && !errors.As(err, &usage) {
				t.Errorf("%q: %v is not an error of what was typed", typed, err)
			}
			for _, v := range out {
				if !(v >= 0 && v <= 1e7) {
					t.Errorf("%q is read as %v", typed, out)
				}
			}
		}
	})
}
