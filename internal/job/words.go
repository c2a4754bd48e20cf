package job

import (
	"strings"

	"waketwist/estimate"
	"waketwist/reading"
	"waketwist/rest"
	"waketwist/wheel"
)

// flagSentences says each condition of a number as a sentence or two for the
// spinner: what it is, and what it means or what to do.
var flagSentences = map[estimate.Flag]string{
	estimate.Modelled:     "A modelled step had a part in this number; it is not purely measured.",
	estimate.Extrapolated: "This lies outside the range in which the model holds: take it as a hint.",
	estimate.FewReadings:  "Fewer than three readings stand behind this. Two more take a minute and steady it.",
	estimate.OnePlace:     "Every wet reading comes from one place on the bobbin. Turns vary by about a fifth from place to place, so the interval stays wide until a second place is sampled.",
	rest.NoDry:            "There is no dry reading, so how much of the twist is dormant cannot be said.",
	rest.NoDormancy:       "The dry sample looks as lively as the re-wet one: as far as the readings tell, no twist is dormant.",
	rest.ShortSoak:        "A sample soaked for less than 20 minutes. What such a soak leaves asleep is reckoned in, and the interval is the wider for it; soak one for 20 to 30 minutes and read it again.",
	rest.OuterOnly:        "The dry sample comes from the outermost layer, which rested for the shortest time. Deeper singles may be more dormant.",
	rest.PastLimit:        "A reading is steeper than a two-strand ply can be in balance: the sample was stretched, flattened or misread. Read it again, hanging free.",
	rest.BobbinsDiffer:    "The bobbins differ by more than a ply can hide. Ply them to one common target, and expect it to be a little off for each.",
	rest.BobbinsMayDiffer: "The bobbins read further apart than a ply can hide, but so few clips cannot tell that from the turns of one place. Clip each of them once more before you sort them.",
	rest.OutlyingAngle:    "One reading stands well apart from the others. Check it for a slip.",
	OutsideFibre:          "The fibre twists by itself when it is wetted or dried, as flax and hemp do, or it is elastic. The model does not cover that: take every angle as a hint, and sample the finished ply.",
	wheel.NotCounted:      "The ratio is as its maker states it, taken to 3 % (an assumption). Count it: turn the drive wheel slowly ten times by hand with a flag on what the whorl drives.",
	wheel.NotMeasured:     "The speed is as the display shows it, taken to 3 % (an assumption). Time it with a flag on the flyer, or on film.",
	wheel.SlipUnknown:     "What the band loses has not been watched; losses of up to 39 % have been measured (common practice). Watch it at work once, and the answer narrows.",
	wheel.UnlikelyBeat:    "That is faster than feet treadle: a larger ratio or a longer beat would do.",
	wheel.FastFlyer:       "Over 1,500 turns a minute: ask for the maker's limit first. Flyers have broken a little above 2,000 (common practice).",
	rest.NoDirectionSet:   "The direction is not known. Ply the other way from the singles: Z-spun singles to S, S-spun singles to Z.",
}

// FlagSentence says what a flag of an answer means, in whole sentences that fit
// a page and a terminal. A flag without a sentence of its own is named.
func FlagSentence(f estimate.Flag) string {
	if s, ok := flagSentences[f]; ok {
		return s
	}
	return "Note: " + string(f) + "."
}

// photoFlagSentences does the same for the conditions of a photograph's reading.
var photoFlagSentences = map[reading.Flag]string{
	reading.FewTurns:       "Fewer than three turns are in view. Show a longer piece.",
	reading.NarrowYarn:     "The yarn is less than 25 pixels wide, or not sharp enough to show more than such yarn. Come closer, and let the camera focus.",
	reading.UnsurePlies:    "The picture could show another number of strands. State the number where you know it.",
	reading.SeveralStrands: "More than one yarn lies side by side; one of them was read.",
	reading.Uneven:         "The yarn is uneven: its width varies by more than 15 %.",
	reading.StatedPlies:    "The number of strands was stated, not read.",
	reading.RoughAngle:     "Only the side to which the strands lean was read, not a whole turn of them: the direction holds, the angle and the width are rough.",
	reading.OtherTones:     "The twist hardly shows as the picture is, and was read with its tones changed. Light the yarn from the side, and compare the drawing over it.",
	reading.SteepTwist:     "The ply is near the steepest angle that strands can take.",
}

// photoFlagOrder begins with what casts most doubt on an angle.
var photoFlagOrder = []reading.Flag{
	reading.RoughAngle, reading.OtherTones, reading.FewTurns, reading.NarrowYarn, reading.UnsurePlies, reading.SeveralStrands, reading.SteepTwist, reading.Uneven, reading.StatedPlies,
}

// NoteParts parts the note of a reading into what ReadingOf joined there, what
// casts most doubt first, and what else stands in it.
func NoteParts(note string) (parts []string) {
	for _, f := range photoFlagOrder {
		if before, after, there := strings.Cut(note, photoFlagSentences[f]); there {
			parts = append(parts, photoFlagSentences[f])
			note = strings.TrimSpace(before) + " " + strings.TrimSpace(after)
		}
	}
	if rest := strings.TrimSpace(note); rest != "" {
		parts = append(parts, rest)
	}
	return parts
}

// PhotoFlagSentence says what a flag of a photograph's reading means, in whole
// sentences. A flag without a sentence of its own is named.
func PhotoFlagSentence(f reading.Flag) string {
	if s, ok := photoFlagSentences[f]; ok {
		return s
	}
	return "Note: " + string(f) + "."
}
