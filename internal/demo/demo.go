// Package demo makes the project that a newcomer finds at the first start: a
// yarn in the making, with a decision still open, and two wheels. Everything in it is invented;
// its photographs are drawn and then read like any other.
package demo

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/internal/drawing"
	"waketwist/internal/job"
	"waketwist/internal/journal"
	"waketwist/internal/picture"
	"waketwist/raster"
	"waketwist/reading"
	"waketwist/unit"
	"waketwist/yarn"
)

// bobbin is one bobbin of the demonstration: spun over some days, ended some
// days ago, with the angles its ply-backs are drawn at; zero for none.
type bobbin struct {
	name       string
	ended      int // days ago
	took       int // days of spinning
	wpi        float64
	dry, rewet unit.Angle
	note       string
	fibre, net unit.Mass // weighed out for it, and singles on it
}

// The third bobbin came off the wheel last and was not soaked yet: that is the
// decision left to the newcomer.
var bobbins = []bobbin{
	{"Heron", 33, 6, 26, 17 * unit.Degree, 35 * unit.Degree, "Finished before the lambing; the longest rest.", 110 * unit.Gram, 106 * unit.Gram},
	{"Curlew", 12, 9, 25, 22 * unit.Degree, 37 * unit.Degree, "Spun in the evenings, a little livelier.", 110 * unit.Gram, 107 * unit.Gram},
	{"Plover", 2, 3, 26, 29 * unit.Degree, 0, "The newest. Its second length is cut and waits for the bowl.", 105 * unit.Gram, 101 * unit.Gram},
}

// Make records the demonstration in a journal.
func Make(ctx context.Context, store journal.Store, photos *picture.Store, now time.Time) error {
	m := maker{ctx, store, photos, now}
	lot, err := store.AddLot(ctx, journal.Lot{
		Name: "Grey hill wool, spring clip", Fibre: "wool", Preparation: finish.Semi,
		Note: "Carded by hand into rolags, drafted short from the end.",
	})
	if err != nil {
		return err
	}
	project, err := store.AddProject(ctx, journal.Project{
		Name: "Lap rug for the ferry hut", Demo: true, Plan: journal.Plan{Strands: 2},
		Aim: "Plain weave, hard-wearing, ten strips sewn together. The warp must not go limp in the wash as the last one did.",
	})
	if err != nil {
		return err
	}
	for i, one := range bobbins {
		if err := m.bobbin(project, journal.Lot{ID: lot}, one, uint64(i+1)); err != nil {
			return fmt.Errorf("demonstration, bobbin %s: %w", one.name, err)
		}
	}
	if err := m.machines(); err != nil {
		return fmt.Errorf("demonstration, machines: %w", err)
	}
	if err := m.stash(project, lot); err != nil {
		return err
	}
	return keepPlans(ctx, store)
}

type maker struct {
	ctx    context.Context
	store  journal.Store
	photos *picture.Store
	now    time.Time
}

func (m maker) daysAgo(n int) time.Time { return m.now.AddDate(0, 0, -n) }

func (m maker) bobbin(project journal.ID, lot journal.Lot, one bobbin, seed uint64) error {
	wraps := unit.Wraps(one.wpi) * unit.WrapPerInch
	id, err := m.store.AddBobbin(m.ctx, journal.Bobbin{
		Project: project, Lot: &lot, Name: one.name, Direction: yarn.Z, Wraps: &wraps, Note: one.note,
		Stretches: []journal.Stretch{{Started: m.daysAgo(one.ended + one.took), Ended: m.daysAgo(one.ended)}},
	})
	if err != nil {
		return err
	}
	if err := m.weigh(id, one); err != nil {
		return err
	}
	hours := float64(24 * one.ended)
	dry := journal.Sample{Bobbin: id, State: estimate.Rested, Place: "place 1", AgeHours: &hours}
	if err := m.sample(dry, one.dry, drawing.Dry, seed); err != nil || one.rewet == 0 {
		return err
	}
	soak, water := 25.0, unit.Temperature(19)
	wet := journal.Sample{Bobbin: id, State: estimate.Rewet, Place: "place 1", AgeHours: &hours, Soak: &soak, Water: &water}
	return m.sample(wet, one.rewet, drawing.Wet, seed+10)
}

// sample records a ply-back, draws its photograph and reads it.
func (m maker) sample(s journal.Sample, angle unit.Angle, look drawing.Finish, seed uint64) error {
	data, err := plyBack(angle, look, seed)
	if err != nil {
		return err
	}
	r, err := m.read(data)
	if err != nil {
		return err
	}
	s.Readings = []journal.Reading{r}
	_, err = m.store.AddSample(m.ctx, s)
	return err
}

func (m maker) read(data []byte) (out journal.Reading, err error) {
	hash, _, err := m.photos.Put(m.ctx, data)
	if err != nil {
		return out, err
	}
	err = m.photos.Look(m.ctx, hash, func(photo *raster.Photo) error {
		out = job.ReadPhoto(photo, string(hash), reading.Options{})
		return nil
	})
	return out, err
}

// plyBack draws a grey ply-back on a dark card, as a JPEG.
func plyBack(angle unit.Angle, look drawing.Finish, seed uint64) ([]byte, error) {
	y := drawing.Yarn{
		Plies: 2, Direction: yarn.S, Angle: angle, StrandDiameter: 0.95 * unit.Millimetre, Finish: look,
		Dyes:      []color.NRGBA{{R: 0xb4, G: 0xb0, B: 0xa6, A: 0xff}, {R: 0xa4, G: 0xa0, B: 0x98, A: 0xff}},
		Hairiness: 0.4, UnevennessCV: 0.05, Seed: seed, Loop: true,
	}
	img, err := drawing.Photograph(y, scene(seed))
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = jpeg.Encode(&out, img, &jpeg.Options{Quality: 88})
	return out.Bytes(), err
}

// scene is a dark card by a window, with a rule laid along its edge.
func scene(seed uint64) drawing.Scene {
	return drawing.Scene{
		Size: image.Pt(1280, 960), PixelsPerMillimetre: 26, Ground: drawing.Card,
		Axis: unit.Angle(8+5*float64(seed%4)) * unit.Degree, Light: 120 * unit.Degree,
		BlurPixels: 0.8, GrainShare: 0.012, Ruler: true,
	}
}
