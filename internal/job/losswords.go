package job

import (
	"fmt"
	"math"
	"strings"

	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/plan"
	"waketwist/unit"
)

// LossRow is one learnt quantity in words, for page and command.
type LossRow struct {
	Key      string // for machines, such as spinning
	Name     string
	Of       string // what it is a share of
	Unit     string // of Number: share, m/h, or diameters
	Better   string // how to know it better
	Known    bool   // false where neither readings nor common practice say anything
	Value    string
	Range    string
	Readings int
	Demo     bool                           // they are those of the demonstration
	Share    *estimate.Estimate[cloth.Loss] // nil for paces and factors
	Number   [3]float64                     // value, low and high: a share, metres an hour, or a factor
}

// Taught says how many readings taught the row.
func (r LossRow) Taught() string {
	whose := "yours"
	if r.Demo {
		whose = "the demonstration"
	}
	switch {
	case r.Readings == 1:
		return "1 reading of " + whose + " taught it"
	case r.Readings > 1:
		return fmt.Sprintf("%d readings of %s taught it", r.Readings, whose)
	case r.Known:
		return "Common practice; no reading of yours yet"
	}
	return "Nothing is known yet"
}

// Rows are the learnt quantities in the order of the work.
func (l Losses) Rows() []LossRow {
	rows := l.rows()
	for i := range rows {
		rows[i].Demo = l.Demo && rows[i].Readings > 0
	}
	return rows
}

func (l Losses) rows() []LossRow {
	return []LossRow{
		lossRow("scouring", "Scouring", "of the weight of raw fibre", "weigh a lot as bought, and again scoured and dry", l.Scouring),
		lossRow("preparing", "Carding or combing", "of the weight of clean fibre", "weigh a lot scoured, and again prepared", l.Preparing),
		lossRow("sampling", "Sampling", "of the prepared fibre, for samples", "weigh what goes into samples", l.Sampling),
		lossRow("spinning", "Spinning", "of the fibre weighed out", "weigh out the fibre for a bobbin, and the singles on it less the empty bobbin", l.Spinning),
		lossRow("ply_take_up", "Ply take-up", "of the length of the singles", "measure the singles while you spin, and all skeins of the run", l.PlyTakeUp),
		lossRow("yarn_wash", "Wash of the yarn", "of the yarn's length", "measure a skein, loops and girth, before and after its wash", l.YarnWash),
		lossRow("draw_in", "Draw-in", "of the width on the loom", "measure a swatch on the loom and off it", l.DrawIn),
		lossRow("take_up", "Take-up", "of the length on the loom", "measure a swatch on the loom and off it", l.TakeUp),
		lossRow("wash_width", "Wash of the cloth, in width", "of the width off the loom", "measure a swatch off the loom, and again washed and dry", l.WashWidth),
		lossRow("wash_length", "Wash of the cloth, in length", "of the length off the loom", "measure a swatch off the loom, and again washed and dry", l.WashLength),
		paceRow("pace", "Pace of spinning", "singles, at the wheel", "give length and time at the wheel with a stretch of spinning", l.Pace),
		paceRow("ply_pace", "Pace of plying", "ply, at the wheel", "end a run when you stop, and measure its skeins", l.PlyPace),
		factorRow("diameters_per_wrap", "Diameters in a wrap", "wraps lie looser than threads in a cloth", "count wraps of a washed skein whose length and weight you measured", l.Wraps),
	}
}

func lossRow(key, name, of, better string, l Learnt[cloth.Loss]) LossRow {
	e := l.Estimate
	decimals := 0
	if e.High-e.Low < 0.04 {
		decimals = 1
	}
	return rowOf(LossRow{Key: key, Name: name, Of: of, Better: better, Unit: "share", Share: &e}, l, func(v float64) string {
		return PercentText(v, decimals)
	})
}

func paceRow(key, name, of, better string, l Learnt[plan.Pace]) LossRow {
	return rowOf(LossRow{Key: key, Name: name, Of: of, Better: better, Unit: "m/h"}, l, func(v float64) string {
		return fmt.Sprintf("%.0f m/h (%.0f yd/h)", v, v*unit.Metre.Yards())
	})
}

func factorRow(key, name, of, better string, l Learnt[cloth.WrapFactor]) LossRow {
	return rowOf(LossRow{Key: key, Name: name, Of: of, Better: better, Unit: "diameters"}, l, func(v float64) string {
		return fmt.Sprintf("%.2f", v)
	})
}

func rowOf[T ~float64](r LossRow, l Learnt[T], text func(float64) string) LossRow {
	e := l.Estimate
	r.Known, r.Readings = e.High != 0, l.Readings
	r.Number = [3]float64{float64(e.Value), float64(e.Low), float64(e.High)}
	if r.Known {
		r.Value, r.Range = text(r.Number[0]), text(r.Number[1])+" to "+text(r.Number[2])
	}
	return r
}

// PercentText is a share in per cent to so many decimals, with a true minus and
// without one before nothing.
func PercentText(share float64, decimals int) string {
	text := strings.Replace(fmt.Sprintf("%.*f %%", decimals, 100*share), "-", "−", 1)
	if strings.Trim(text, "−0. %") == "" {
		text = strings.TrimPrefix(text, "−")
	}
	return text
}

// StepLoss is what one step took of a lot or of a side of a swatch, as it was
// weighed or measured.
type StepLoss struct {
	Name     string
	Estimate estimate.Estimate[cloth.Loss] // by the scale and the moisture, or by the tape
}

// StepsOf are the losses that the weighings of a lot show by themselves.
func StepsOf(l journal.Lot, bobbins []journal.Bobbin) (out []StepLoss) {
	var seen occasions
	seen.addLot(l, bobbins)
	for _, step := range []struct {
		name string
		seen []estimate.Occasion
	}{{"Scouring", seen.scouring}, {"Carding or combing", seen.preparing}, {"Sampling", seen.sampling}, {"Spinning", seen.spinning}} {
		for _, o := range step.seen {
			out = append(out, StepLoss{step.name, readLoss(o)})
		}
	}
	return out
}

// readLoss is an occasion as a loss.
func readLoss(o estimate.Occasion) estimate.Estimate[cloth.Loss] {
	loss := func(log float64) cloth.Loss { return cloth.Loss(-math.Expm1(log)) }
	return estimate.Estimate[cloth.Loss]{
		Value: loss(o.Value), Low: loss(o.Value + estimate.Reach*o.SD), High: loss(o.Value - estimate.Reach*o.SD),
		SD: cloth.Loss(o.SD * math.Exp(o.Value)), N: 1,
	}
}

// SidesOf are the losses that a woven swatch shows by itself.
func SidesOf(s journal.Swatch) (out []StepLoss) {
	s.SupersededBy, s.Struck = 0, ""
	var seen occasions
	seen.addSwatch(s)
	for _, side := range []struct {
		name string
		seen []estimate.Occasion
	}{{"Draw-in, of the width", seen.drawIn}, {"Take-up, of the length", seen.takeUp}, {"Wash, of the width", seen.washWidth}, {"Wash, of the length", seen.washLength}} {
		for _, o := range side.seen {
			out = append(out, StepLoss{side.name, readLoss(o)})
		}
	}
	return out
}

// WeighedWords says what lay on the scale.
func WeighedWords(w journal.Weighed) string {
	return map[journal.Weighed]string{
		journal.Bought: "as bought, or raw", journal.Scoured: "scoured and dry", journal.Prepared: "prepared to spin",
		journal.Sampled: "gone into samples", journal.Left: "left over now", journal.Waste: "waste of carding or combing",
		journal.Spun: "singles on the bobbin",
	}[w]
}

// StockWords says in which state fibre in hand is.
func StockWords(w journal.Weighed) string {
	return map[journal.Weighed]string{journal.Bought: "As bought", journal.Scoured: "Scoured", journal.Prepared: "Prepared to spin"}[w]
}
