package reading

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"waketwist/raster"
)

// cord fills a picture with something of a width that runs down its middle on
// grey ground, with some noise. Light is 0 to 1, or negative where the ground is
// seen; d runs from -1 to 1 across.
func cord(w, h int, width float64, light func(d float64, y int) float64) *raster.Photo {
	r := rand.New(rand.NewPCG(5, 9))
	m := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			v := 90 + 2*r.NormFloat64()
			if d := (float64(x) - float64(w)/2) / (width / 2); math.Abs(d) <= 1 {
				if l := light(d, y); l >= 0 {
					v = 60 + 150*l + 4*r.NormFloat64()
				}
			}
			m.SetGray(x, y, color.Gray{Y: uint8(min(max(v, 0), 255))})
		}
	}
	return raster.NewPhoto(m, 1)
}

// braided is the light on three braided strands.
func braided(pitch float64) func(d float64, y int) float64 {
	return func(d float64, y int) float64 {
		light, nearest := -1.0, math.Inf(-1)
		for k := range 3 {
			t := 2*math.Pi*float64(y)/pitch + 2*math.Pi*float64(k)/3
			u := (d - 0.58*math.Sin(t)) / 0.42
			if math.Abs(u) > 1 {
				continue
			}
			if z := 0.4*math.Sin(2*t) + 0.42*math.Sqrt(1-u*u); z > nearest {
				nearest, light = z, 0.35+0.65*math.Sqrt(1-u*u)+0.2*u
			}
		}
		return light
	}
}

// looped is the light on a chain of loops, seen as one V behind the other.
func looped(pitch float64) func(d float64, y int) float64 {
	return func(d float64, y int) float64 {
		t := float64(y)/pitch + 0.8*math.Abs(d)
		light := 0.4 + 0.6*math.Sin(math.Pi*(t-math.Floor(t)))*math.Sqrt(1-d*d)
		if math.Abs(d) < 0.1 {
			light *= 0.6
		}
		return light
	}
}

// A braid is not a three-ply, nor half of it a two-ply, and a leg of a chain of
// loops is no yarn, whatever is pointed to and stated.
func TestBraidsAndChainsAreRefused(t *testing.T) {
	for _, c := range []struct {
		name  string
		photo *raster.Photo
	}{
		{"tight braid", cord(401, 600, 83, braided(90))},
		{"braid", cord(401, 600, 83, braided(150))},
		{"long braid", cord(401, 600, 83, braided(240))},
		{"fine chain", cord(401, 600, 70, looped(30))},
		{"chain", cord(401, 600, 70, looped(60))},
	} {
		for _, at := range []image.Rectangle{{}, image.Rect(150, 5, 250, 595)} {
			for n := range maxPlies + 1 {
				if n == 1 {
					continue
				}
				if r := Read(c.photo, Options{Plies: n, At: at}); r.Readable {
					t.Errorf("%s in %v, %d stated: read as %d strands, %v %.1f", c.name, at, n, r.Plies, r.Direction, r.Angle.Value.Degrees())
				}
			}
		}
	}
}

// Strands cannot be plied steeper than they lock.
func TestPastTheLockIsRefused(t *testing.T) {
	for _, d := range []drawn{{n: 2, degrees: 58, diameter: 60, x: 200}, {n: 2, degrees: 59, z: true, diameter: 48, x: 180}} {
		if r := Read(photoOf(drawing(401, 600, d)), Options{Plies: 2, At: image.Rect(150, 5, 250, 595)}); r.Readable || r.Reason != PastLock {
			t.Errorf("%.0f degrees: %v, %v %.1f", d.degrees, r.Reason, r.Direction, r.Angle.Value.Degrees())
		}
	}
}

// Two yarns that lie against each other are read each for itself.
func TestYarnsThatTouch(t *testing.T) {
	for _, z := range []bool{false, true} {
		a := drawn{n: 2, degrees: 24, z: z, diameter: 44, x: 178}
		b := a
		b.x += 44
		r := Read(photoOf(drawing(401, 700, a, b)), Options{At: image.Rect(140, 5, 260, 695)})
		if !r.Readable || r.Direction != a.direction() || r.Plies != 2 || r.StrandsInView != 2 {
			t.Errorf("%d strands, %v, of %d yarns (%v)", r.Plies, r.Direction, r.StrandsInView, r.Reason)
		} else if got := r.Angle.Value.Degrees(); got < 20 || got > 28 {
			t.Errorf("%v: %.1f degrees, want 24", r.Direction, got)
		}
	}
}
