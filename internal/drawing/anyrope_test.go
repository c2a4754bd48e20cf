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
	for _, c := range [][2]uint64{
		{101, 6}, {101, 12}, {101, 15}, {101, 18}, {101, 23}, {101, 36}, {101, 37}, {101, 53}, {101, 65}, {201, 78}, {301, 99}, {301, 114},
	} {
		r := chance{rand.New(rand.NewPCG(c[0], c[1]))}
		p := r.picture()
		p.why = "rope"
		r.rope(&p)
		file, err := p.save()
		if err != nil {
			t.Fatal(err)
		}
		o, err := accuracy.Judge(p.truth(fmt.Sprint(c)), func() (image.Image, error) { return jpeg.Decode(bytes.NewReader(file)) })
		if err != nil {
			t.Fatal(err)
		}
		if wrong := o.Wrong(); wrong != "" {
			t.Errorf("%d strands: %s", p.yarn.Plies, wrong)
		}
	}
}
