package finish

import (
	"testing"

	"waketwist/yarn"
)

// Common practice: Z singles plied S; a washed skein hanging Z is over-plied.
func TestHang(t *testing.T) {
	tests := []struct {
		ply, hangs yarn.Direction
		want       Balance
	}{
		{yarn.S, yarn.Z, OverPlied},
		{yarn.S, yarn.S, UnderPlied},
		{yarn.S, yarn.NoDirection, Balanced},
		{yarn.Z, yarn.S, OverPlied},
		{yarn.Z, yarn.Z, UnderPlied},
	}
	for _, tt := range tests {
		if got := Hang(tt.ply, tt.hangs); got != tt.want {
			t.Errorf("%s ply hanging %q: %s, want %s", tt.ply, tt.hangs, got, tt.want)
		}
	}
}

func TestWashRangesAreInOrder(t *testing.T) {
	for p := Unknown; p <= Woollen; p++ {
		w := WashOf(p)
		for _, r := range []Range{w.Length, w.Diameter, w.Damp} {
			if !(r.Low > 0 && r.Low < r.High) {
				t.Errorf("%s: range %v", p, r)
			}
		}
		if got, err := ParsePreparation(p.String()); err != nil || got != p {
			t.Errorf("ParsePreparation(%q) = %v, %v", p, got, err)
		}
	}
	if wo, wl := WashOf(Worsted), WashOf(Woollen); wl.Length.High > wo.Length.High || wl.Diameter.High < wo.Diameter.High {
		t.Error("woollen yarn must shrink and bloom more than worsted")
	}
}
