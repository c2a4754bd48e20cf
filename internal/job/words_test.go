package job

import (
	"strings"
	"testing"

	"waketwist/estimate"
	"waketwist/reading"
	"waketwist/rest"
	"waketwist/wheel"
)

func TestFlagSentence(t *testing.T) {
	flags := []estimate.Flag{
		estimate.Modelled, estimate.Extrapolated, estimate.FewReadings, estimate.OnePlace, OutsideFibre,
		rest.NoDry, rest.NoDormancy, rest.ShortSoak, rest.OuterOnly, rest.PastLimit, rest.BobbinsDiffer,
		rest.OutlyingAngle, rest.NoDirectionSet, wheel.NotCounted, wheel.NotMeasured, wheel.SlipUnknown, wheel.UnlikelyBeat, wheel.FastFlyer,
	}
	seen := map[string]estimate.Flag{}
	for _, f := range flags {
		s := FlagSentence(f)
		if strings.HasPrefix(s, "Note: ") || !strings.HasSuffix(s, ".") {
			t.Errorf("flag %q has no sentence of its own: %q", f, s)
		}
		if other, twice := seen[s]; twice {
			t.Errorf("flags %q and %q share a sentence", f, other)
		}
		seen[s] = f
	}
	if got, want := FlagSentence("thread missing"), "Note: thread missing."; got != want {
		t.Errorf("FlagSentence of a flag without a sentence = %q, want %q", got, want)
	}
}

func TestPhotoFlagSentence(t *testing.T) {
	for _, f := range []reading.Flag{
		reading.FewTurns, reading.NarrowYarn, reading.UnsurePlies, reading.SeveralStrands, reading.Uneven,
		reading.StatedPlies, reading.RoughAngle, reading.SteepTwist,
	} {
		s := PhotoFlagSentence(f)
		if strings.HasPrefix(s, "Note: ") || !strings.HasSuffix(s, ".") {
			t.Errorf("flag %q has no sentence of its own: %q", f, s)
		}
	}
}
