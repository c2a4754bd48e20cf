package finish

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.5g, want %.5g", what, got, want)
	}
}

// 18.25 %: Trans. N.Z. Inst. 42 (1909). Weights at several regains: arithmetic.
func TestRegain(t *testing.T) {
	near(t, "100 g dry at 18.25 %", Conditioned(100, 0, 0.1825).Grams(), 118.25, 0.005)
	near(t, "100 g at 10 % brought to 16 %", Conditioned(100, 0.10, 0.16).Grams(), 105.45, 0.01)
	near(t, "50 g at 18.25 %, dry", Conditioned(50, 0.1825, 0).Grams(), 42.28, 0.01)
	near(t, "50 g at 18.25 %, at 14 %", Conditioned(50, 0.1825, 0.14).Grams(), 48.20, 0.01)
	near(t, "50 g at 18.25 %, at 9 %", Conditioned(50, 0.1825, 0.09).Grams(), 46.09, 0.01)
}

// 14 % taking up water to 16-18 % giving it off at 65 % (Morton and Hearle, 2008).
func TestWoolRegain(t *testing.T) {
	near(t, "at 65 %", 100*float64(WoolRegain(65).Value), 16, 2)
	near(t, "at 50 %", 100*float64(WoolRegain(50).Value), 12.8, 0.01)
	for rh := -10.0; rh < 120; rh += 3 {
		e := WoolRegain(rh)
		if !(e.Low >= 0 && e.Low <= e.Value && e.Value <= e.High) || e.Measured() {
			t.Errorf("at %v %%: %+v", rh, e)
		}
		if WoolRegain(rh+3).Value < e.Value {
			t.Errorf("regain falls from %v %% on", rh)
		}
	}
}
