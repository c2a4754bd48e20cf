package cloth

import (
	"strings"
	"testing"

	"waketwist/estimate"
	"waketwist/unit"
	"waketwist/yarn"
)

func TestTrackingRisk(t *testing.T) {
	angle := func(deg float64) estimate.Estimate[yarn.SurfaceAngle] {
		return Exactly(yarn.SurfaceAngle(unit.Angle(deg) * unit.Degree))
	}
	for _, tt := range []struct {
		weave string
		deg   float64
		sett  Share
		want  Risk
	}{
		{"plain", 25, 0.6, HighRisk}, // plain weave, open sett, high twist: common practice
		{"plain", 2, 0.6, LowRisk},   // balanced yarn does not track
		{"plain", 12, 0.75, SomeRisk},
		{"2/2-twill", 12, 0.75, SomeRisk},
		{"2/2-twill", 25, 0.75, SomeRisk}, // floats and a close sett hide it
	} {
		got := TrackingRisk(angle(tt.deg), tt.sett, named(t, tt.weave))
		if got.Most != tt.want || got.Least != tt.want || !got.Flags.Has(Assumed) {
			t.Errorf("%s at %v degrees and %v: %s, want %s", tt.weave, tt.deg, tt.sett, got.Most, tt.want)
		}
	}
	unknown := estimate.Estimate[yarn.SurfaceAngle]{Value: 0.2, Low: 0, High: 0.6}
	if got := TrackingRisk(unknown, 0.6, named(t, "plain")); got.Least != LowRisk || got.Most != HighRisk || !got.Open {
		t.Errorf("unknown twist: %+v", got)
	}
}

// Taylor, Cotton Weaving: opposite twists bed together, a twill line against the
// twist shows best.
func TestArrange(t *testing.T) {
	twill := named(t, "2/2-twill")
	for _, tt := range []struct {
		warp, weft   yarn.Direction
		alike, shows bool
		says         string
	}{
		{yarn.S, yarn.Z, true, true, "shows best"},
		{yarn.Z, yarn.Z, false, false, "apart"},
		{yarn.Z, yarn.S, true, false, "softly"},
	} {
		a, err := Arrange(tt.warp, tt.weft, twill)
		if err != nil || a.Alike != tt.alike || a.TwillShows != tt.shows || !strings.Contains(a.Note(), tt.says) {
			t.Errorf("%s warp, %s weft: %+v, %v", tt.warp, tt.weft, a, err)
		}
	}
	if a, err := Arrange(yarn.S, yarn.S, named(t, "plain")); err != nil || a.TwillShows || strings.Contains(a.Note(), "twill") {
		t.Errorf("plain weave: %+v, %v", a, err)
	}
	_, err := Arrange(yarn.NoDirection, yarn.S, twill)
	refused(t, "no direction", err, "not given")
	mirror, err := ParseWeave("X..X\nXX..\n.XX.\n..XX\n")
	if err != nil || mirror.Diagonal() != yarn.S {
		t.Errorf("the mirrored twill runs %q, %v", mirror.Diagonal(), err)
	}
}

func TestRefusedQuestions(t *testing.T) {
	plain := named(t, "plain")
	_, err := SettByWeight(0, Firm, plain)
	refused(t, "no weight", err, "The yarn")
	_, err = SettByWraps(0, PriorWrapFactor(), plain)
	refused(t, "no wraps", err, "wraps")
	_, err = SettByWraps(22*unit.WrapPerInch, Exactly[WrapFactor](0), plain)
	refused(t, "no factor", err, "factor")
	_, err = Brierley(0, Cotton, plain)
	refused(t, "no weight for Brierley", err, "The yarn")
	_, err = TakeUp(plain, PerInch[OnLoom](40), 2000)
	refused(t, "rope", err, "take up")
	_, err = SleyFor(PerInch[OnLoom](12), 0)
	refused(t, "no reed", err, "reed")
	_, err = SleyFor(PerInch[OnLoom](100), DentsPerInch(10))
	refused(t, "coarse reed", err, "crowd")
	_, err = SleyFor(PerInch[OnLoom](1), DentsPerInch(10))
	refused(t, "fine reed", err, "almost empty")
	_, err = LoadOn(0, unit.Kilogram, unit.Kilogram)
	refused(t, "no ends", err, "0 ends")
	_, err = LoadOn(10, 0, unit.Kilogram)
	refused(t, "no tension", err, "tension")
	_, err = LoadOn(10, unit.Kilogram, 0)
	refused(t, "no strength", err, "breaking")
	_, _, err = Measured{0, 1, 1}.Losses(0.003)
	refused(t, "no sample", err, "sample")
	_, _, err = Measured{1, 0.01, 0.01}.Losses(0.003)
	refused(t, "a sample gone", err, "loss of the sample")
	_, _, err = AtWheel(1, 1, 2, 0)
	refused(t, "yarn washed away", err, "100 %")
	_, _, err = AtWheel(1, 0.1, 2, 1)
	refused(t, "ply of nothing", err, "100 %")
	_, _, err = AtWheel(1, 0.1, 0, 0.1)
	refused(t, "no strands", err, "0 strands")
	_, _, err = Swatch{1, 1, 0}.Yarn(1, 1, 100)
	refused(t, "weightless swatch", err, "mass")
}

func TestRefusedPieces(t *testing.T) {
	for name, change := range map[string]func(*Piece){
		"no width":    func(p *Piece) { p.Width = 0 },
		"too wide":    func(p *Piece) { p.Width = 1000 },
		"100 %":       func(p *Piece) { p.WashLength = 1 },
		"draw-in":     func(p *Piece) { p.DrawIn = 1.5 },
		"no ends":     func(p *Piece) { p.Ends = 0 },
		"dense":       func(p *Piece) { p.Picks = PerInch[OffLoom](1000) },
		"waste":       func(p *Piece) { p.Waste = -1 },
		"much spared": func(p *Piece) { p.Spare = 4 },
	} {
		p := shawl
		change(&p)
		_, err := p.Needs()
		refused(t, name, err, "")
	}
	for name, change := range map[string]func(*Order){
		"100 %":     func(o *Order) { o.WashWidth = GuessedLoss(1) },
		"backwards": func(o *Order) { o.WashWidth = LossBetween(0.3, 0.1) },
		"no picks":  func(o *Order) { o.Picks = Exactly[Density[OffLoom]](0) },
		"no ends":   func(o *Order) { o.Ends = 0 },
	} {
		o := order()
		change(&o)
		_, err := o.Answer()
		refused(t, name, err, "")
	}
	for l := LeastLoss; l <= MostLoss; l += 0.05 {
		o := order()
		o.WashLength = GuessedLoss(l)
		if _, err := o.Answer(); err != nil {
			t.Errorf("a guessed loss of %v: %v", l, err)
		}
	}
}

func TestTrials(t *testing.T) {
	s, err := SettByWeight(200, Soft, named(t, "plain"))
	if err != nil {
		t.Fatal(err)
	}
	if trial := Trials(s.Working); len(trial.Setts) != 3 || trial.Side != 10*unit.Inch {
		t.Errorf("%+v", trial)
	}
	if trial := Trials(Exactly(s.Working.Value)); len(trial.Setts) != 1 {
		t.Errorf("%+v", trial)
	}
}
