package rest

import "testing"

func TestOutsideModel(t *testing.T) {
	for fibre, want := range map[string][2]bool{
		"wool": {false, false}, "Line flax": {true, true}, "70 % wool, 30 % hemp": {true, true},
		"wool with 3 % elastane": {false, true}, "silk": {false, false}, "": {false, false},
	} {
		if got := [2]bool{TwistsByItself(fibre), OutsideModel(fibre)}; got != want {
			t.Errorf("%q: twists by itself, outside the model %v, want %v", fibre, got, want)
		}
	}
}
