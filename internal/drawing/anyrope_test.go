package drawing

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"testing"

	"waketwist/internal/accuracy"
)

// TestAnyRopeIsRefused draws ropes as a phone may see them. By their fibres they
// can be taken for singles, by their colours or their glints for fewer strands, and
// in wraps by one of their strands.
func TestAnyRopeIsRefused(t *testing.T) {
	const seed = 101
	for _, n := range []uint64{6, 12, 23, 36, 37, 53, 65} {
		r := chance{rand.New(rand.NewPCG(seed, n))}
		p := r.picture()
		p.why = "rope"
		r.rope(&p)
		file, err := p.save()
		if err != nil {
			t.Fatal(err)
		}
		o, err := accuracy.Judge(p.truth(fmt.Sprint(n)), func() (image.Image, error) { return jpeg.Decode(bytes.NewReader(file)) })
		if err != nil {
			t.Fatal(err)
		}
		if wrong := o.Wrong(); wrong != "" {
			t.Errorf("%d strands: %s", p.yarn.Plies, wrong)
		}
	}
}
