package drawing

import (
	"image/color"
	"math"
)

// dyeing tells the colour of every fibre of a strip.
type dyeing struct {
	strip   *strip
	plain   []paint // of each strand
	changes []paint
	blend   []paint
}

// changeLength is how far one dye of a changing strand goes, in strand diameters.
const changeLength = 14

func newDyeing(s *strip) *dyeing {
	d := &dyeing{strip: s, changes: s.soaked(s.yarn.Changes), blend: s.soaked(s.yarn.Blend)}
	for k := range s.yarn.Plies {
		d.plain = append(d.plain, s.soaked([]color.NRGBA{s.yarn.dye(k)})...)
	}
	return d
}

// soaked turns colours into light; water fills the air between fibres, so a wet
// strand is darker and deeper.
func (s *strip) soaked(dyes []color.NRGBA) (out []paint) {
	deep := func(v float32) float32 { return float32(0.72 * math.Pow(float64(v), 1.35)) }
	for _, dye := range dyes {
		p := linear(dye)
		if s.yarn.Finish == Wet {
			p = paint{deep(p.r), deep(p.g), deep(p.b), 1}
		}
		out = append(out, p)
	}
	return out
}

// at is the colour of the fibre at angle theta round a strand and at a length
// along it, in strand diameters.
func (d *dyeing) at(strand int, theta, along float64) paint {
	p := d.plain[strand]
	if n := len(d.changes); n > 0 {
		at := along/changeLength + 1.7*float64(strand) + math.Mod(float64(d.strip.yarn.Seed)*0.618034, float64(n))
		k := int(at)
		p = mixed(d.changes[k%n], d.changes[(k+1)%n], smooth((at-float64(k)-0.7)/0.3))
	}
	for i, fibre := range d.blend {
		// The fibres of each colour lie where those of another patch are lightest.
		q := d.strip.patches[strand]
		q.around, q.along = q.around+151*float64(i+1), q.along+97*float64(i+1)
		t := d.strip.wool.at(q, theta, along)
		p = mixed(p, fibre, 0.85*smooth((float64(t.tone)-0.1)/0.9))
	}
	return p
}

// mixed goes from p to q as t goes from 0 to 1.
func mixed(p, q paint, t float64) paint {
	k := float32(t)
	return paint{p.r + k*(q.r-p.r), p.g + k*(q.g-p.g), p.b + k*(q.b-p.b), p.a + k*(q.a-p.a)}
}
