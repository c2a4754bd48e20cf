package cli

import (
	"waketwist/cloth"
	"waketwist/estimate"
	"waketwist/unit"
)

// settOut is the answer, as JSON. What was not asked is null.
type settOut struct {
	Weave      settWeave   `json:"weave"`
	Basis      string      `json:"basis"` // weight or wraps
	Diameters  *interval   `json:"diameters_per_in"`
	Closest    *interval   `json:"closest_ends_per_in"`
	Working    *interval   `json:"working_ends_per_in"`
	WorkingCm  *interval   `json:"working_ends_per_cm"`
	ByWraps    *interval   `json:"working_ends_per_in_by_wraps"`
	WrapFactor *interval   `json:"contact_diameters_per_wrap"`
	Packing    *float64    `json:"wrap_packing"`
	Brierley   *interval   `json:"closest_ends_per_in_brierley"`
	Ends       float64     `json:"ends_per_in"`
	Picks      float64     `json:"picks_per_in_off_loom"`
	Cover      *settCover  `json:"warp_cover"`
	Covered    float64     `json:"covered_share"`
	Sley       *settSley   `json:"sley"`
	Piece      *settPieceJ `json:"piece"`
	Load       *settLoad   `json:"load"`
	Tracking   [2]string   `json:"tracking"` // least and most
	Twist      *string     `json:"twist_note"`
	Trial      []float64   `json:"trial_ends_per_in"`
	Flags      []string    `json:"flags"`
}

type settWeave struct {
	Family    string  `json:"family"`
	Ends      int     `json:"ends"`
	Picks     int     `json:"picks"`
	Shafts    int     `json:"shafts"`
	PerPick   float64 `json:"intersections_per_pick"`
	PerEnd    float64 `json:"intersections_per_end"`
	EndsShare float64 `json:"ends_share"`
}

type settCover struct {
	Peirce float64 `json:"peirce"`
	SI     float64 `json:"si"`
}

type settSley struct {
	Order []int   `json:"order"`
	Ends  float64 `json:"ends_per_in"`
	Off   float64 `json:"off_share"`
}

type settPieceJ struct {
	Ends          int       `json:"ends"`
	Picks         int       `json:"picks"`
	Dents         *int      `json:"dents"`
	WidthOffLoom  *interval `json:"width_off_loom_m"`
	ReedWidth     *interval `json:"reed_width_m"`
	WovenOffLoom  *interval `json:"woven_off_loom_m"`
	WovenOnLoom   *interval `json:"woven_on_loom_m"`
	WarpLength    *interval `json:"warp_length_m"`
	Warp          *interval `json:"warp_yarn_m"`
	Weft          *interval `json:"weft_yarn_m"`
	Yarn          *interval `json:"yarn_m"`
	YarnWithSpare *interval `json:"yarn_with_spare_m"`
	Mass          *interval `json:"yarn_with_spare_g"`
	WashedEnds    float64   `json:"washed_ends_per_in"`
	WashedPicks   float64   `json:"washed_picks_per_in"`
	MassPerArea   *float64  `json:"washed_g_per_m2"`
	Plied         *float64  `json:"yarn_at_wheel_m"`
	Singles       *float64  `json:"singles_m"`
}

type settLoad struct {
	PerEnd float64   `json:"per_end_g"`
	Steady *interval `json:"margin"`
	AtPeak *interval `json:"margin_at_peak"`
}

func settJSON(s *settAnswer) settOut {
	x := s.weave.Intersections()
	out := settOut{
		Weave: settWeave{s.weave.Family().String(), s.weave.Ends(), s.weave.Picks(), s.weave.Shafts(), round(x.PerPick, 4), round(x.PerEnd, 4), round(float64(s.weave.EndsShare()), 4)},
		Basis: s.basis(), Diameters: intervalOf(s.sett.Diameters, cloth.Diameters(1/unit.Inch.Metres()), 2),
		Closest: perInch(s.sett.Closest), Working: perInch(s.sett.Working), WorkingCm: intervalOf(s.sett.Working, cloth.PerCentimetre[cloth.OnLoom](1), 2),
		Ends: round(s.ends.PerInch(), 2), Picks: round(s.picks.PerInch(), 2), Covered: round(float64(s.covered()), 3),
		Tracking: [2]string{s.tracking.Least.String(), s.tracking.Most.String()}, Flags: []string{},
	}
	if s.byWraps != nil {
		out.ByWraps = perInch(s.byWraps.Working)
	}
	if s.factor != nil {
		p := round(float64(s.packing), 3)
		out.WrapFactor, out.Packing = intervalOf(*s.factor, 1, 3), &p
	}
	if s.brierley != nil {
		out.Brierley = perInch(*s.brierley)
		out.Cover = &settCover{round(float64(s.warpCover), 2), round(float64(s.warpCover.SI()), 2)}
	}
	if s.sley != nil {
		out.Sley = &settSley{s.sley.Order, round(s.sley.Sett.PerInch(), 3), round(float64(s.sley.Off), 4)}
	}
	if s.needs != nil {
		out.Piece = s.pieceJSON()
	}
	if s.load != nil {
		out.Load = &settLoad{round(s.load.PerEnd.Grams(), 2), intervalOf(s.load.Steady, 1, 2), intervalOf(s.load.AtPeak, 1, 2)}
	}
	if s.arranged != nil {
		note := s.arranged.Note()
		out.Twist = &note
	}
	for _, d := range s.trial.Setts {
		out.Trial = append(out.Trial, round(d.PerInch(), 1))
	}
	for _, f := range s.flags() {
		out.Flags = append(out.Flags, string(f))
	}
	return out
}

func perInch(e estimate.Estimate[cloth.Density[cloth.OnLoom]]) *interval {
	return intervalOf(e, cloth.PerInch[cloth.OnLoom](1), 2)
}

func (s *settAnswer) pieceJSON() *settPieceJ {
	n := s.needs
	m := func(e estimate.Estimate[unit.Length]) *interval { return intervalOf(e, unit.Metre, 3) }
	out := &settPieceJ{
		Ends: n.Middle.Ends, Picks: n.Middle.Picks,
		WidthOffLoom: m(n.WidthOffLoom), ReedWidth: m(n.ReedWidth), WovenOffLoom: m(n.WovenOffLoom), WovenOnLoom: m(n.WovenOnLoom),
		WarpLength: m(n.WarpLength), Warp: m(n.Warp), Weft: m(n.Weft), Yarn: m(n.Yarn), YarnWithSpare: m(n.Spared),
		WashedEnds: round(s.washed.ends.PerInch(), 2), WashedPicks: round(s.washed.picks.PerInch(), 2),
	}
	if s.sley != nil {
		dents := s.sley.Dents(n.Middle.Ends)
		out.Dents = &dents
	}
	if s.yarn != nil {
		mass, area := *intervalOf(n.Spared, unit.Length(1000/s.yarn.Tex()), 1), round(float64(s.washed.mass), 1)
		out.Mass, out.MassPerArea = &mass, &area
	}
	if s.spin != nil {
		plied, singles := round(s.spin.plied.Metres(), 2), round(s.spin.singles.Metres(), 2)
		out.Plied = &plied
		if s.spin.strands > 0 {
			out.Singles = &singles
		}
	}
	return out
}

func (s *settAnswer) basis() string {
	if s.yarn != nil {
		return "weight"
	}
	return "wraps"
}

// covered is the part of the face that is covered on the loom, picks as close as
// they lie off it.
func (s *settAnswer) covered() cloth.Share {
	d := s.sett.Diameters.Value
	return cloth.Covered(s.ends, d, cloth.Density[cloth.OnLoom](s.picks), d)
}

// flags are those of all that was answered.
func (s *settAnswer) flags() estimate.Flags {
	flags := s.sett.Closest.Flags.With(s.tracking.Flags...)
	if s.brierley != nil {
		flags = flags.With(s.brierley.Flags...)
	}
	if s.factor != nil {
		flags = flags.With(s.factor.Flags...)
	}
	if s.needs != nil {
		flags = flags.With(s.needs.Yarn.Flags...)
	}
	if s.load != nil {
		flags = flags.With(s.load.AtPeak.Flags...)
	}
	return flags
}
