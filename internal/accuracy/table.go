package accuracy

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Table sums up the outcomes of a set of pictures.
type Table struct {
	Readable, Unreadable    int // pictures
	Answered, FalseAnswers  int
	WrongDirection, PliesOK int // of those answered
	Held                    int // 90 % intervals that hold the truth

	degrees map[int][]float64 // errors of the angle by true number of plies, 0 for all
	widths  []float64         // relative errors, where enough is in view
	pitches []float64
	// Seconds spent on decoding each picture, and after that.
	decoding, beyond []float64
}

// Tally sums up outcomes.
func Tally(out []Outcome) Table {
	t := Table{degrees: map[int][]float64{}}
	for _, o := range out {
		t.decoding, t.beyond = append(t.decoding, o.Decoding.Seconds()), append(t.beyond, o.Beyond.Seconds())
		switch {
		case !o.Readable:
			t.Unreadable++
			t.FalseAnswers += count(o.Reading.Readable)
		case !o.Reading.Readable:
			t.Readable++
		default:
			t.Readable++
			t.answer(o)
		}
	}
	return t
}

// answer adds a readable picture that was read.
func (t *Table) answer(o Outcome) {
	t.Answered++
	t.WrongDirection += count(o.Reading.Direction != o.Direction)
	if o.Angle == 0 {
		return // only the direction is known
	}
	t.PliesOK += count(o.Reading.Plies == o.Plies)
	t.Held += count(o.Held())
	degrees := o.AngleError().Degrees()
	t.degrees[0] = append(t.degrees[0], degrees)
	t.degrees[o.Plies] = append(t.degrees[o.Plies], degrees)
	t.addSizes(o)
}

// addSizes counts errors of width and pitch where at least 40 pixels of width
// and, for a ply, three turns are in view.
func (t *Table) addSizes(o Outcome) {
	if o.WidthPixels < 40 {
		return
	}
	if o.Plies == 1 || o.Turns >= 3 {
		t.widths = append(t.widths, math.Abs(o.Reading.Width.Value/o.WidthPixels-1))
	}
	if o.Plies > 1 && o.Turns >= 3 && o.PitchPixels > 0 {
		t.pitches = append(t.pitches, math.Abs(o.Reading.Pitch.Value/o.PitchPixels-1))
	}
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// MeanErrorDegrees is the mean absolute error of the angles read, in degrees.
func (t Table) MeanErrorDegrees() float64 { return average(t.degrees[0]) }

// MedianErrors are the median errors of width and pitch, as shares of the truth,
// where enough of the yarn is in view; 0 where none is.
func (t Table) MedianErrors() (width, pitch float64) { return median(t.widths), median(t.pitches) }

// String is the table as it is printed, in the syntax of Markdown where it is one.
func (t Table) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d readable pictures, %d that are not\n", t.Readable, t.Unreadable)
	b.WriteString("| plies | read | MAE deg | median | P90 |\n|---|---|---|---|---|\n")
	for _, k := range slices.Sorted(maps.Keys(t.degrees)) {
		name, e := strconv.Itoa(k), t.degrees[k]
		if k == 0 {
			name = "all"
		}
		fmt.Fprintf(&b, "| %s | %d | %.2f | %.2f | %.2f |\n", name, len(e), average(e), median(e), quantile(e, 0.9))
	}
	fmt.Fprintf(&b, "answered %.1f %%, wrong directions %d, false answers %d of %d\n",
		percent(t.Answered, t.Readable), t.WrongDirection, t.FalseAnswers, t.Unreadable)
	n := len(t.degrees[0])
	fmt.Fprintf(&b, "plies right %.1f %%, 90 %% interval holds the truth %.1f %%\n", percent(t.PliesOK, n), percent(t.Held, n))
	width, pitch := t.MedianErrors()
	fmt.Fprintf(&b, "width median error %.1f %% (%d), pitch %.1f %% (%d)\n", 100*width, len(t.widths), 100*pitch, len(t.pitches))
	fmt.Fprintf(&b, "seconds for decoding: median %.3f; beyond it: median %.3f, most %.3f\n", median(t.decoding), median(t.beyond), quantile(t.beyond, 1))
	return b.String()
}

func percent(n, of int) float64 { return 100 * float64(n) / float64(max(of, 1)) }
