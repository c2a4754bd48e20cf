package job

import (
	"slices"
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
		rest.NoDry, rest.NoDormancy, rest.ShortSoak, rest.OuterOnly, rest.PastLimit, rest.BobbinsDiffer, rest.BobbinsMayDiffer,
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
		reading.StatedPlies, reading.RoughAngle, reading.SteepTwist, reading.OtherTones,
	} {
		s := PhotoFlagSentence(f)
		if strings.HasPrefix(s, "Note: ") || !strings.HasSuffix(s, ".") {
			t.Errorf("flag %q has no sentence of its own: %q", f, s)
		}
	}
}

// A note is parted again into what was joined, what casts most doubt first.
func TestNoteParts(t *testing.T) {
	flags := []reading.Flag{reading.StatedPlies, reading.Uneven, reading.FewTurns}
	note := ""
	for _, f := range flags {
		note += PhotoFlagSentence(f) + " "
	}
	got := NoteParts(note + "It lay by the window.")
	want := []string{PhotoFlagSentence(reading.FewTurns), PhotoFlagSentence(reading.Uneven), PhotoFlagSentence(reading.StatedPlies), "It lay by the window."}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if got := NoteParts(" "); len(got) != 0 {
		t.Errorf("no note is parted into %q", got)
	}
	for f := range photoFlagSentences {
		if !slices.Contains(photoFlagOrder, f) {
			t.Errorf("%q has no place in the order", f)
		}
	}
}
