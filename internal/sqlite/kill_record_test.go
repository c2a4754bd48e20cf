package sqlite

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math/rand/v2"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"waketwist/internal/journal"
	"waketwist/internal/picture"
	"waketwist/unit"
	"waketwist/wheel"
)

// What the recording process writes follows from a number that stands in its
// notes, so that any record, acknowledged or not, can be told to be whole.

func bobbinOf(n int) journal.Bobbin {
	b := fullBobbin(1)
	b.Note, b.Diameter = strconv.Itoa(n), ptr(unit.Length(1+n%40)*0.1*unit.Millimetre)
	return b
}

// sampleOf is a piece of what the sample names.
func sampleOf(n int, s journal.Sample) journal.Sample {
	of := rewet(s.Bobbin)
	of.Run, of.Skein = s.Run, s.Skein
	of.Note, of.AgeHours = strconv.Itoa(n), ptr(float64(n))
	return of
}

func readingOf(n int, sample journal.ID) journal.Reading {
	r := photographed(sample)
	r.Note, r.Angle = strconv.Itoa(n), unit.Angle(1+n%70)*unit.Degree
	r.Photo.Hash, r.Photo.Width, r.Photo.Height = hashOf(n), photoWidth, photoHeight
	if n%4 == 0 { // of many pages, so that the kill often falls between them
		r.Trace = `"` + strings.Repeat(strconv.Itoa(n%10), 400_000) + `"`
	}
	return r
}

const photoWidth, photoHeight = 32, 24

// photographOf is a picture with the number in its first pixels.
func photographOf(n int) []byte {
	img := image.NewGray(image.Rect(0, 0, photoWidth, photoHeight))
	for i := range img.Pix {
		img.Pix[i] = byte(i * 7)
	}
	for i := range 4 {
		img.SetGray(i, 0, color.Gray{Y: byte(n >> (8 * i))})
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		panic(err) // a buffer takes everything
	}
	return b.Bytes()
}

// hashOf names the photograph as the store of pictures does.
func hashOf(n int) string {
	clean, _, err := picture.Strip(photographOf(n))
	if err != nil {
		panic(err) // the same for every number
	}
	sum := sha256.Sum256(clean)
	return hex.EncodeToString(sum[:])
}

func runOf(n int, bobbins ...journal.ID) journal.Run {
	r := aRun(1, bobbins...)
	r.Note, r.Drive.Ratio, r.Ended = strconv.Itoa(n), ptr(1+float64(n%30)), nil
	return r
}

// endedRunOf is the run after its one change.
func endedRunOf(n int, bobbins ...journal.ID) journal.Run {
	r := runOf(n, bobbins...)
	r.Name, r.Ended = "ended", ptr(r.Started.Add(time.Duration(n)*time.Second))
	return r
}

func skeinOf(n int, run journal.ID) journal.Skein {
	return journal.Skein{Run: run, Name: "skein", Note: strconv.Itoa(n)}
}

func measureOf(n int, skein journal.ID) journal.Measure {
	m := aMeasure(skein)
	m.Loops, m.Mass = ptr(1+n%1000), ptr(unit.Mass(1+n%1000)*unit.Gram)
	return m
}

func washOf(n int, skein journal.ID) journal.Wash {
	w := aWash(skein)
	w.Note, w.Minutes = strconv.Itoa(n), ptr(float64(n%1000))
	return w
}

func hangOf(n int, skein journal.ID) journal.Hang {
	h := aHang(skein)
	h.HalfTurns, h.Length = float64(1+n%100), ptr(unit.Length(10+n%100)*unit.Centimetre)
	return h
}

// wishOfNumber is the first version of a wish, or with more the second.
func wishOfNumber(n int, more ...string) journal.Wish {
	w := journal.Wish{Name: strconv.Itoa(n), Text: map[string]string{"cloth.width": strconv.Itoa(n) + " in"}}
	for _, field := range more {
		w.Text[field] = strconv.Itoa(n) + " in"
	}
	return w
}

func machineOfNumber(n int) journal.Machine {
	m := aMachine()
	m.Note = strconv.Itoa(n)
	return m
}

func whorlOf(n int, machine journal.ID) journal.Whorl {
	return journal.Whorl{Machine: machine, Name: "whorl", Counts: []journal.Count{
		{Turns: wheel.Turns(50 + n%50), Treadles: 10}, {Turns: wheel.Turns(50.5 + float64(n%50)), Treadles: 10},
	}}
}

func useOf(n int, skein journal.ID) journal.Use {
	return journal.Use{Skein: skein, How: journal.Uses[n%len(journal.Uses)], Note: strconv.Itoa(n)}
}

func weighingOf(n int, bobbin journal.ID) journal.Weighing {
	return journal.Weighing{Bobbin: bobbin, What: journal.Spun, Mass: unit.Mass(1+n%500) * unit.Gram, Note: strconv.Itoa(n), At: tick(n % 1000)}
}

func swatchOf(n int) journal.Swatch {
	w := aSwatch(1)
	w.Mass, w.Note = ptr(unit.Mass(1+n%100)*unit.Gram), strconv.Itoa(n)
	return w
}

func reasonFor(id journal.ID) string { return fmt.Sprintf("reading %d slipped", id) }

// photographsIn is the folder of the photographs of a journal.
func photographsIn(folder string) string { return filepath.Join(folder, "photographs") }

// recorder records until the first error, which it keeps. It prints a line for
// each record after the store has acknowledged it.
type recorder struct {
	journal *Store
	photos  *picture.Store
	err     error
}

// recordInChild records without end, beginning with either half of the job.
func recordInChild(folder string) error {
	s, err := Open(context.Background(), folder, time.Now)
	if err != nil {
		return err
	}
	photos, err := picture.OpenStore(photographsIn(folder))
	if err != nil {
		return err
	}
	r := &recorder{journal: s, photos: photos}
	n := rand.IntN(1e6)
	bobbin := r.bobbin(n)
	for ; r.err == nil; n++ {
		if n%2 == 0 {
			r.ply(n, bobbin)
		} else {
			bobbin = r.bobbin(n)
			r.clip(n, bobbin)
			r.count(n)
			r.wish(n)
		}
	}
	return r.err
}

func (r *recorder) bobbin(n int) journal.ID {
	return r.add("bobbin", func(c ctx) (journal.ID, error) { return r.journal.AddBobbin(c, bobbinOf(n)) })
}

// clip records a sample of a bobbin with three readings that replace each
// other, the last one struck.
func (r *recorder) clip(n int, bobbin journal.ID) {
	sample := r.sample(n, journal.Sample{Bobbin: bobbin})
	var last journal.ID
	for i := range 3 {
		last = r.reading(n+i, sample, last)
	}
	r.add("strike", func(c ctx) (journal.ID, error) { return last, r.journal.StrikeReading(c, last, reasonFor(last)) })
	weighing := r.add("weighing", func(c ctx) (journal.ID, error) { return r.journal.AddWeighing(c, weighingOf(n, bobbin)) })
	r.add("weighing-struck", func(c ctx) (journal.ID, error) {
		return weighing, r.journal.StrikeWeighing(c, weighing, reasonFor(weighing))
	})
}

// count records a machine with a counted whorl, which is then struck.
func (r *recorder) count(n int) {
	machine := r.add("machine", func(c ctx) (journal.ID, error) { return r.journal.AddMachine(c, machineOfNumber(n)) })
	whorl := r.add("whorl", func(c ctx) (journal.ID, error) { return r.journal.AddWhorl(c, whorlOf(n, machine)) })
	r.add("whorlstrike", func(c ctx) (journal.ID, error) {
		return whorl, r.journal.StrikePart(c, journal.PartWhorl, whorl, reasonFor(whorl))
	})
}

// wish records a plan and a second version of it.
func (r *recorder) wish(n int) {
	wish := r.add("wish", func(c ctx) (journal.ID, error) { return r.journal.AddWish(c, wishOfNumber(n)) })
	changed := wishOfNumber(n, "cloth.length")
	changed.ID = wish
	r.add("wishversion", func(c ctx) (journal.ID, error) { return wish, r.journal.ChangeWish(c, changed) })
}

// ply records a run with a piece read during it, its end, and a skein of it
// that is measured, washed, hung and read.
func (r *recorder) ply(n int, bobbin journal.ID) {
	run := r.add("run", func(c ctx) (journal.ID, error) { return r.journal.AddRun(c, runOf(n, bobbin)) })
	r.reading(n, r.sample(n, journal.Sample{Run: run}), 0)
	ended := endedRunOf(n, bobbin)
	ended.ID = run
	r.add("end", func(c ctx) (journal.ID, error) { return run, r.journal.ChangeRun(c, ended) })
	skein := r.add("skein", func(c ctx) (journal.ID, error) { return r.journal.AddSkein(c, skeinOf(n, run)) })
	r.add("measure", func(c ctx) (journal.ID, error) { return r.journal.AddMeasure(c, measureOf(n, skein)) })
	r.add("wash", func(c ctx) (journal.ID, error) { return r.journal.AddWash(c, washOf(n, skein)) })
	r.add("hang", func(c ctx) (journal.ID, error) { return r.journal.AddHang(c, hangOf(n, skein)) })
	r.add("use", func(c ctx) (journal.ID, error) { return r.journal.AddUse(c, useOf(n, skein)) })
	r.add("swatch", func(c ctx) (journal.ID, error) { return r.journal.AddSwatch(c, swatchOf(n)) })
	r.reading(n+1, r.sample(n, journal.Sample{Skein: skein}), 0)
}

func (r *recorder) sample(n int, of journal.Sample) journal.ID {
	return r.add("sample", func(c ctx) (journal.ID, error) { return r.journal.AddSample(c, sampleOf(n, of)) })
}

// reading keeps the photograph before the reading that names it.
func (r *recorder) reading(n int, sample, old journal.ID) journal.ID {
	return r.add("reading", func(c ctx) (journal.ID, error) {
		hash, _, err := r.photos.Put(c, photographOf(n))
		if err != nil {
			return 0, err
		}
		one := readingOf(n, sample)
		one.Photo.Hash, one.Supersedes = string(hash), old
		return r.journal.AddReading(c, one)
	})
}

func (r *recorder) add(kind string, keep func(ctx) (journal.ID, error)) journal.ID {
	if r.err != nil {
		return 0
	}
	id, err := keep(context.Background())
	if r.err = err; err == nil {
		_, r.err = fmt.Println(kind, id)
	}
	return id
}
