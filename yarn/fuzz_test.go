package yarn

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"waketwist/unit"
)

// allFinite fails on any number in v that is not one.
func allFinite(t *testing.T, v reflect.Value) {
	t.Helper()
	switch v.Kind() {
	case reflect.Float64:
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			t.Fatalf("%v among the figures", f)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			allFinite(t, v.Field(i))
		}
	case reflect.Slice:
		for i := range v.Len() {
			allFinite(t, v.Index(i))
		}
	}
}

// FuzzPly looks for strands, lengths and turns that make a ply without physical
// meaning, or end in a panic.
func FuzzPly(f *testing.F) {
	f.Add(uint8(2), false, false, 0.5, 0.5, 1.0, 1.0, 0.7, 1.0, 1.0, 1.0, 200.0)
	f.Add(uint8(3), true, false, 0.5, 0.1, 2.0, 1.0, 0.7, 1.0, 4.0, 1.0, 100.0)
	f.Add(uint8(7), false, true, 0.5, 9.0, 0.02, 50.0, 0.0, 1000.0, 1e8, 3.0, 1e9)
	f.Add(uint8(4), false, true, -0.5, 0.5, 3.0, 0.1, 3.0, 1e-3, 1e-7, 0.2, 0.0)
	f.Fuzz(func(t *testing.T, n uint8, slips, lengths bool, t1, t2, d1, d2, k1, k2, c2, l2, turns float64) {
		mm := unit.Millimetre
		a := Strand{unit.Length(d1) * mm, Living(t1), Stiffness(k1), 1}
		b := Strand{unit.Length(d2) * mm, Living(t2), Stiffness(k2), TorsionalStiffness(c2)}
		var strands []Strand
		feed := Feed{Slips: slips}
		for i := range n % 10 {
			strands = append(strands, []Strand{a, b, a, a}[i%4])
			if lengths {
				feed.Lengths = append(feed.Lengths, []unit.Length{1, unit.Length(l2), 1, 1}[i%4])
			}
		}
		for _, solve := range []func() (Ply, error){
			func() (Ply, error) { return BalanceOf(strands, feed) },
			func() (Ply, error) { return Forced(strands, feed, PlyTwist(turns)) },
		} {
			p, err := solve()
			if err != nil {
				checkMessage(t, err)
				continue
			}
			checkPly(t, p, len(strands))
		}
	})
}

func checkPly(t *testing.T, p Ply, strands int) {
	t.Helper()
	allFinite(t, reflect.ValueOf(p))
	if len(p.Strands) != strands || p.Turns < 0 || p.Envelope <= 0 {
		t.Fatalf("odd ply %+v", p)
	}
	for _, s := range p.Strands {
		if s.Share < 1 || s.HelixRadius < 0 || s.Angle < 0 || s.Angle >= math.Pi/2 || 2*s.HelixRadius+s.Diameter > p.Envelope*(1+1e-12) {
			t.Fatalf("odd strand %+v", s)
		}
	}
	cable, err := Cabled([]Ply{p, p}, Feed{})
	if err != nil {
		checkMessage(t, err)
		return
	}
	allFinite(t, reflect.ValueOf(cable))
}

// checkMessage fails on an error that shows a figure without saying what to do.
func checkMessage(t *testing.T, err error) {
	t.Helper()
	if msg := err.Error(); !strings.Contains(msg, " ") || strings.Contains(msg, "%!") {
		t.Fatalf("odd message %q", msg)
	}
}

// FuzzTwist looks for singles, plies round a core and tensions that are no
// number.
func FuzzTwist(f *testing.F) {
	f.Add(1.0, 0.5, 300.0, 2.0, 0.4, uint8(2))
	f.Add(0.001, 1.0, 1e6, 4.0, 0.0, uint8(7))
	f.Fuzz(func(t *testing.T, d1, d2, u, p, x float64, n uint8) {
		got, err := SpreadTwist([]unit.Length{unit.Length(d1) * unit.Millimetre, unit.Length(d2) * unit.Millimetre}, StrandTwist(u), ThicknessExponent(p))
		if err == nil {
			allFinite(t, reflect.ValueOf(got))
		}
		count := 2 + int(n)%(MaxStrands-1)
		if p, _, err := OnCore(alike(count, Strand{unit.Length(d1) * unit.Millimetre, 0.5, 0.7, 1}), unit.Length(d2)*unit.Millimetre, PlyTwist(u)); err == nil {
			allFinite(t, reflect.ValueOf(p))
		}
		if ratio, err := SnarlTensionRatio(x); err == nil && !(ratio >= 0 && ratio <= 1) {
			t.Fatalf("ratio %v", ratio)
		}
	})
}
