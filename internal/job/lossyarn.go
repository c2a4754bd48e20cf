package job

import (
	"math"
	"time"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/internal/journal"
	"waketwist/unit"
)

// How far measures of length may be off: a tape laid on cloth or once round a
// skein, a skein hung under another load, and a length of singles counted while
// spinning. Assumed.
const (
	tapeSD   = 2 * unit.Millimetre
	girthSD  = 3 * unit.Millimetre
	loadSD   = 0.005
	spunSD   = 0.03
	paceSD   = 0.03           // of a time kept by the clock
	longWork = 12 * time.Hour // between two times that are one sitting at the wheel
	leastRun = 2 * time.Minute
)

// addProject learns from the skeins, the lengths and the times of a project.
func (o *occasions) addProject(p journal.Project) {
	runsOf := map[journal.ID]int{}
	for _, r := range p.Runs {
		for _, f := range r.Feeds {
			runsOf[f.Bobbin]++
		}
	}
	for _, b := range p.Bobbins {
		for _, s := range b.Stretches {
			o.addStretch(s)
		}
		for _, s := range b.Skeins {
			o.addSkein(s, characterOf(b.Lot))
		}
	}
	for _, r := range p.Runs {
		var lot *journal.Lot
		if b := p.Bobbin(r.Feeds[0].Bobbin); b != nil {
			lot = b.Lot
		}
		for _, s := range r.Skeins {
			o.addSkein(s, characterOf(lot))
		}
		o.addRun(p, r, runsOf)
	}
}

func characterOf(l *journal.Lot) cloth.Character {
	if l != nil && l.Preparation == finish.Woollen {
		return cloth.Soft
	}
	return cloth.Firm
}

// addSkein learns from a skein before and after its wash, and from its wraps and
// weight.
func (o *occasions) addSkein(s journal.Skein, c cloth.Character) {
	before, after := s.Measured(estimate.Rested), s.Measured(estimate.Washed)
	if before != nil && after != nil {
		m, okBefore := before.Length()
		n, okAfter := after.Length()
		if left := math.Log(float64(n / m)); okBefore && okAfter && left > math.Log(0.4) && left < math.Log(1.2) {
			sd := math.Sqrt(square(float64(girthSD / *before.Girth)) + square(float64(girthSD / *after.Girth)) + loadSD*loadSD)
			o.yarnWash = append(o.yarnWash, estimate.Occasion{Value: left, SD: sd})
		}
	}
	if after == nil || after.Wraps == nil {
		return
	}
	if t := gristOf(*after); t != nil {
		f := cloth.WrapFactorOf(*t, *after.Wraps, c)
		o.wraps = append(o.wraps, estimate.Occasion{Value: math.Log(float64(f.Value)), SD: math.Log(float64(f.High/f.Low)) / (2 * estimate.Reach)})
	}
}

// addStretch learns the pace of spinning.
func (o *occasions) addStretch(s journal.Stretch) {
	worked := s.Ended.Sub(s.Started)
	if s.Worked != nil {
		worked = *s.Worked
	} else if worked > longWork {
		return
	}
	if s.Length != nil {
		o.pace = appendPace(o.pace, *s.Length, worked)
	}
}

func appendPace(into []estimate.Occasion, length unit.Length, worked time.Duration) []estimate.Occasion {
	if worked < leastRun || length <= 0 {
		return into
	}
	return append(into, estimate.Occasion{Value: math.Log(length.Metres() / worked.Hours()), SD: paceSD})
}

// addRun learns the pace of plying and what the ply takes up, from a run whose
// skeins are all measured off the wheel.
func (o *occasions) addRun(p journal.Project, r journal.Run, runsOf map[journal.ID]int) {
	if r.Ended == nil || len(r.Skeins) == 0 {
		return
	}
	var plied unit.Length
	for _, s := range r.Skeins {
		m := s.Measured(estimate.Rested)
		if m == nil {
			return
		}
		l, ok := m.Length()
		if !ok {
			return
		}
		plied += l
	}
	if took := r.Ended.Sub(r.Started); took <= longWork {
		o.plying = appendPace(o.plying, plied, took)
	}
	strand, ok := strandOf(p, r, runsOf)
	if left := math.Log(float64(plied / strand)); ok && left > math.Log(0.5) && left < math.Log(1.1) {
		o.plyTakeUp = append(o.plyTakeUp, estimate.Occasion{Value: left, SD: spunSD})
	}
}

// strandOf is the length of singles that went into each strand of a run: that of
// the shortest bobbin, or of a single bobbin its part. ok is false where a length
// was not measured, or a bobbin was plied in two runs.
func strandOf(p journal.Project, r journal.Run, runsOf map[journal.ID]int) (strand unit.Length, ok bool) {
	for _, f := range r.Feeds {
		b := p.Bobbin(f.Bobbin)
		if b == nil || runsOf[f.Bobbin] > 1 || len(b.Skeins) > 0 {
			return 0, false
		}
		spun, known := spunLength(*b)
		if !known {
			return 0, false
		}
		if strand == 0 || spun < strand {
			strand = spun
		}
	}
	switch len(r.Feeds) {
	case r.Plan.Strands:
		return strand, strand > 0
	case 1:
		return strand / unit.Length(r.Plan.Strands), strand > 0
	}
	return 0, false
}

// spunLength is the length of singles on a bobbin; known is false unless every
// stretch was measured.
func spunLength(b journal.Bobbin) (l unit.Length, known bool) {
	for _, s := range b.Stretches {
		if s.Length == nil {
			return 0, false
		}
		l += *s.Length
	}
	return l, len(b.Stretches) > 0
}

// addSwatch learns from a woven swatch in its states.
func (o *occasions) addSwatch(s journal.Swatch) {
	if !s.Counts() || s.Kind != journal.Woven {
		return
	}
	o.drawIn = appendSide(o.drawIn, s.OnLoom.Width, s.OffLoom.Width)
	o.takeUp = appendSide(o.takeUp, s.OnLoom.Length, s.OffLoom.Length)
	o.washWidth = appendSide(o.washWidth, s.OffLoom.Width, s.Washed.Width)
	o.washLength = appendSide(o.washLength, s.OffLoom.Length, s.Washed.Length)
}

func appendSide(into []estimate.Occasion, before, after *unit.Length) []estimate.Occasion {
	if before == nil || after == nil {
		return into
	}
	return append(into, estimate.Occasion{
		Value: math.Log(float64(*after / *before)),
		SD:    math.Hypot(float64(tapeSD / *before), float64(tapeSD / *after)),
	})
}
