package reading

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waketwist/yarn"
)

func TestExplainReadsAsRead(t *testing.T) {
	for _, name := range []string{"dev_009.jpg", "dev_022.jpg", "dev_017.jpg", "neg_brick.jpg", "neg_cardboard.jpg", "pc_s2_red_green_steep.jpg"} {
		photo := loadPhoto(t, "testdata/"+name)
		want := Read(photo, Options{})
		got, e := Explain(photo, Options{})
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s is read otherwise when it is explained:\n%s", name, diff)
		}
		if !got.Readable {
			continue
		}
		if e.Strip == nil || len(e.Lean) == 0 || len(e.Repeat) == 0 || e.Model == nil && got.Structure == Ply {
			t.Errorf("%s is read but not explained: %d leans, %d repeats", name, len(e.Lean), len(e.Repeat))
		}
	}
}

// TestExplanationAgrees holds the parts of an explanation to the reading that
// they explain.
func TestExplanationAgrees(t *testing.T) {
	for _, name := range []string{"dev_009.jpg", "dev_055.jpg", "dev_022.jpg"} {
		r, e := Explain(loadPhoto(t, "testdata/"+name), Options{})
		if !r.Readable || r.Structure != Ply {
			t.Fatalf("%s is read as %v, %v", name, r.Structure, r.Reason)
		}
		if e.Fits[0].Plies != r.Plies || e.Fits[0].Direction != r.Direction {
			t.Errorf("%s: the best fit is %v, the reading %d %v", name, e.Fits[0], r.Plies, r.Direction)
		}
		var sum, side float64
		for _, l := range e.Lean {
			sum += l.Share
			if (l.Angle > 0) == (r.Direction == yarn.Z) {
				side += l.Share
			}
		}
		if math.Abs(sum-1) > 1e-9 || side < 0.5 {
			t.Errorf("%s: leans add up to %v, %v of them to the side of %v", name, sum, side, r.Direction)
		}
		if e.Model.Rect != e.Strip.Rect {
			t.Errorf("%s: the model is %v, the strip %v", name, e.Model.Rect, e.Strip.Rect)
		}
		strip, model := e.wide()
		// The silhouette of a two-ply is 0.81 to 0.95 of its envelope.
		if width := r.Width.Value / e.StepPixels; math.Abs(model-0.9*width) > 0.12*width || math.Abs(strip-2*shownReach*width) > 0.3*width {
			t.Errorf("%s: of %.0f rows the model covers %.0f, the yarn is %.0f wide", name, strip, model, width)
		}
		if best := repeatNear(e.Repeat, r.Pitch.Value); best < 0.15 {
			t.Errorf("%s: one turn along, the yarn is like itself by %.2f only", name, best)
		}
	}
}

// wide is how many rows the strip has, and how many the model covers on the
// mean.
func (e Explanation) wide() (strip, model float64) {
	covered := 0
	for _, v := range e.Model.Pix {
		if v > 0 {
			covered++
		}
	}
	return float64(e.Strip.Rect.Dy()), float64(covered) / float64(e.Strip.Rect.Dx())
}

// repeatNear is the best correlation within a tenth of a length.
func repeatNear(all []Repeat, length float64) (best float64) {
	for _, r := range all {
		if math.Abs(r.AlongPixels-length) < 0.1*length {
			best = max(best, r.Correlation)
		}
	}
	return best
}
