package cli

import (
	"fmt"

	"waketwist/estimate"
	"waketwist/internal/job"
	"waketwist/unit"
	"waketwist/wheel"
)

func twistSpread(e estimate.Estimate[unit.Twist]) string {
	return fmt.Sprintf("%s, nine times in ten between %s and %s tpi (%s and %s turns/m)", job.TwistWords(e.Value),
		job.Three(e.Low.PerInch()), job.Three(e.High.PerInch()), job.Three(e.Low.PerMetre()), job.Three(e.High.PerMetre()))
}

// slipWords leads to what to expect where slip is not known.
func slipWords() string {
	return fmt.Sprintf("Slip has not been measured, and losses of up to %.0f %% have been (common practice): expect", 100*(1-wheel.LeastGrip))
}

func secondsWords(s wheel.Seconds) string {
	if s >= 120 {
		return unit.FormatDuration(seconds(float64(s)))
	}
	return job.Three(float64(s)) + " seconds"
}

// flagNotes say what a flag asks of the spinner.
var flagNotes = []struct {
	flag  estimate.Flag
	words string
}{
	{wheel.NotCounted, "The ratio is taken as given, to 3 % (an assumption). Count it, and give --counted TURNS/TREADLES, or keep the count with your machine in the workbench."},
	{wheel.NotMeasured, "The speed is taken as given, to 3 % (an assumption). Measure it: --timed, --filmed or --untwisted."},
	{wheel.SlipUnknown, "To measure slip, film the flyer (the bobbin, of a bobbin-led wheel) at work while you count treadles: --counted, --treadling and --filmed together say what is lost; kept with your machine in the workbench, it is used from then on."},
	{wheel.UnlikelyBeat, "That is faster than feet treadle: a larger ratio or a longer beat would do."},
	{wheel.FastFlyer, "Over 1,500 turns a minute: ask for the maker's limit first. Flyers have broken a little above 2,000 (common practice)."},
}

func wheelNotes(fs estimate.Flags) (out []string) {
	for _, n := range flagNotes {
		if fs.Has(n.flag) {
			out = append(out, n.words)
		}
	}
	return out
}

// careful ends an answer that somebody is about to spin by.
const careful = "Hair, sleeves and fingers away from flyer, hooks, band and motor."

// kindNotes say what a kind of machine asks for besides.
func kindNotes(k wheel.Kind) []string {
	if k == wheel.DoubleDrive {
		return []string{"On a double drive the ratio is that of the flyer, counted while yarn winds on: the band slips to make up for what the bobbin does not take."}
	}
	return nil
}
