package cli

import (
	"waketwist/estimate"
	"waketwist/internal/job"
	"waketwist/unit"
	"waketwist/wheel"
	"waketwist/yarn"
)

// wheelJSON is an answer about a wheel as JSON. Flags are always there; the other
// keys are left out where they do not apply.
type wheelJSON struct {
	Machine    string    `json:"machine,omitempty"` // of the journal, with what was chosen of it
	Whorl      string    `json:"whorl,omitempty"`
	Setting    string    `json:"setting,omitempty"`
	Bobbin     string    `json:"bobbin,omitempty"`
	SlipLearnt bool      `json:"slip_learnt,omitempty"`
	TwistTPI   *interval `json:"twist_tpi,omitempty"` // put in, or added or taken over the end
	TwistTPM   *interval `json:"twist_tpm,omitempty"`
	NoSlip     *float64  `json:"no_slip_twist_tpm,omitempty"`
	Turns      *interval `json:"flyer_turns,omitempty"`
	Wraps      *interval `json:"wraps,omitempty"`

	Treadles       *interval `json:"treadles_per_draw,omitempty"`
	NoSlipTreadles *float64  `json:"no_slip_treadles_per_draw,omitempty"`
	Hold           *interval `json:"hold_s,omitempty"`
	Rhythm         *interval `json:"treadles_per_min,omitempty"`
	Time           *interval `json:"time_per_draw_s,omitempty"`
	Speed          *interval `json:"speed_rpm,omitempty"`

	Stages []stageJSON `json:"filling,omitempty"`
	Whorls []whorlJSON `json:"whorls,omitempty"`

	Ratio *interval `json:"ratio,omitempty"`
	Grip  *interval `json:"slip_factor,omitempty"`

	ThumbTPM   *float64  `json:"rule_of_thumb_tpm,omitempty"`
	BalanceTPM *interval `json:"balance_tpm,omitempty"`

	Flags estimate.Flags `json:"flags"`
}

// named puts the machine of the journal into an answer.
func (s wheelSetup) named(answer any) any {
	out, ok := answer.(wheelJSON)
	if !ok || s.of == nil {
		return answer
	}
	out.Machine, out.Whorl, out.Setting, out.Bobbin = s.of.Name, s.of.whorl, s.of.setting, s.of.bobbin
	if learnt := job.SlipOf(s.of.Machine); learnt != (wheel.Slip{}) && s.wheel.Slip == learnt {
		out.Flags = out.Flags.With(estimate.Modelled)
	}
	return out
}

type stageJSON struct {
	Filled   float64   `json:"filled_share"`
	Diameter float64   `json:"diameter_mm"`
	Treadles *interval `json:"treadles_per_draw"`
	NoSlip   float64   `json:"no_slip_treadles_per_draw"`
}

type whorlJSON struct {
	Whorl    string    `json:"whorl"`
	Treadles float64   `json:"treadles_per_draw"` // whole
	Exact    float64   `json:"no_slip_exact_treadles"`
	NoSlip   float64   `json:"no_slip_off_share"` // twist put in over that wanted, less 1
	Off      *interval `json:"off_share"`
}

// plain is an estimate without a unit of its own.
func plain[T ~float64](e estimate.Estimate[T]) *interval { return intervalOf(e, 1, 4) }

func maybe[T ~float64](e *estimate.Estimate[T]) *interval {
	if e == nil {
		return nil
	}
	return plain(*e)
}

func jsonWith(fs estimate.Flags) wheelJSON { return wheelJSON{Flags: append(estimate.Flags{}, fs...)} }

func (d done) json() any {
	out := jsonWith(d.flags())
	out.TwistTPI, out.TwistTPM = intervalOf(d.put.Twist, unit.TurnPerInch, 4), intervalOf(d.put.Twist, unit.TurnPerMetre, 3)
	out.Turns = plain(d.put.Turns)
	if d.flags().Has(wheel.SlipUnknown) {
		out.NoSlip = ptr(round(d.put.Gripped.Value.PerMetre(), 3))
	}
	if d.put.Wraps.Value > 0 {
		out.Wraps = plain(d.put.Wraps)
	}
	return out
}

func (a treadled) json() any {
	out := jsonWith(a.flags())
	out.Treadles, out.NoSlipTreadles = plain(a.setting.Treadles), ptr(round(float64(a.setting.Gripped.Value), 4))
	out.Rhythm, out.Time, out.Speed = maybe(a.rhythm), maybe(a.time), maybe(a.speed)
	for _, s := range a.stages {
		out.Stages = append(out.Stages, stageJSON{
			float64(s.Filled), round(s.Diameter.Millimetres(), 2),
			plain(s.Setting.Treadles), round(float64(s.Setting.Gripped.Value), 4),
		})
	}
	return out
}

func (a held) json() any {
	out := jsonWith(a.flags())
	out.Hold, out.Speed = maybe(a.hold), maybe(a.seen)
	if a.speed != nil {
		out.Speed = maybe(a.speed)
	}
	return out
}

func (a chosen) json() any {
	out := jsonWith(a.flags())
	out.Speed = maybe(a.speed)
	for _, c := range a.choices {
		out.Whorls = append(out.Whorls, whorlJSON{
			c.Whorl.Name, float64(c.Treadles), round(float64(c.Setting.Gripped.Value), 4),
			round(float64(c.Gripped.Value), 4), plain(c.Off),
		})
	}
	return out
}

func (g gripSeen) json() any {
	out := jsonWith(g.flags())
	out.Grip, out.Speed = plain(g.grip), plain(g.speed)
	return out
}

func (c counted) json() any {
	out := jsonWith(c.flags())
	out.Ratio, out.Speed = maybe(c.ratio), maybe(c.speed)
	return out
}

func (o overEnd) json() any {
	out := jsonWith(o.flags())
	out.TwistTPI = intervalOf(o.twist, yarn.StrandTwist(unit.TurnPerInch), 4)
	out.TwistTPM = intervalOf(o.twist, yarn.StrandTwist(unit.TurnPerMetre), 3)
	return out
}

func (p plies) json() any {
	out := jsonWith(p.flags())
	out.ThumbTPM, out.BalanceTPM = ptr(round(p.thumb.Value.PerMetre(), 3)), intervalOf(p.balance, unit.TurnPerMetre, 2)
	return out
}
