package journal

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"waketwist/estimate"
	"waketwist/finish"
	"waketwist/unit"
	"waketwist/yarn"
)

var (
	dawn = time.Date(2026, 3, 1, 6, 0, 0, 0, time.UTC)
	nan  = math.NaN()
)

func ptr[T any](v T) *T { return &v }

// checked is a change to a good record and the field that must then be refused;
// "" when the record must stay good.
type checked[T any] struct {
	name   string
	change func(*T)
	field  string
	says   string // part of the refusal; without it the record is good
}

func checkAll[T interface{ Check() error }](t *testing.T, good func() T, tests []checked[T]) {
	t.Helper()
	if err := good().Check(); err != nil {
		t.Fatalf("the good record is refused: %v", err)
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			record := good()
			tt.change(&record)
			err := record.Check()
			if tt.says == "" {
				if err != nil {
					t.Errorf("refused: %v", err)
				}
				return
			}
			refused, ok := err.(*Error)
			if !ok || refused.Code != Invalid || refused.Field != tt.field || !strings.Contains(refused.Text, tt.says) {
				t.Errorf("%#v, want field %q and %q", err, tt.field, tt.says)
			}
		})
	}
}

var (
	longName = strings.Repeat("ß", longestName) // letters of two bytes
	longNote = strings.Repeat("ß", longestNote)
)

func TestProjectCheck(t *testing.T) {
	good := func() Project { return Project{Name: "socks", Plan: Plan{Strands: 3, Chain: true}} }
	checkAll(t, good, []checked[Project]{
		{"no name", func(p *Project) { p.Name = "" }, "name", "Give the project a name"},
		{"blank name", func(p *Project) { p.Name = " \t" }, "name", "Give the project a name"},
		{"longest name", func(p *Project) { p.Name = longName }, "", ""},
		{"too long a name", func(p *Project) { p.Name = longName + "s" }, "name", "longer than 120 letters"},
		{"longest aim", func(p *Project) { p.Aim = longNote }, "", ""},
		{"too long an aim", func(p *Project) { p.Aim = longNote + "s" }, "aim", "longer than 4000 letters"},
		{"finished", func(p *Project) { p.Finished = &dawn }, "", ""},
		{"finished in no year", func(p *Project) { p.Finished = &time.Time{} }, "finished", "year 1 cannot be meant"},
		{"no plan", func(p *Project) { p.Plan = Plan{} }, "strands", "not 0"},
	})
}

func TestPlanCheck(t *testing.T) {
	good := func() Plan { return Plan{Strands: 2} }
	checkAll(t, good, []checked[Plan]{
		{"one strand", func(p *Plan) { p.Strands = 1 }, "strands", "2, 3 or 4 strands here, not 1"},
		{"four strands", func(p *Plan) { p.Strands = 4 }, "", ""},
		{"five strands", func(p *Plan) { p.Strands = 5 }, "strands", "not 5"},
		{"chain of three", func(p *Plan) { p.Strands, p.Chain = 3, true }, "", ""},
		{"chain of two", func(p *Plan) { p.Chain = true }, "strands", "always has three strands"},
		{"chain of four", func(p *Plan) { p.Strands, p.Chain = 4, true }, "strands", "always has three strands"},
		{"most under balance", func(p *Plan) { p.Offset = -0.5 }, "", ""},
		{"too far under balance", func(p *Plan) { p.Offset = -0.51 }, "offset", "-51 %"},
		{"too far past balance", func(p *Plan) { p.Offset = 0.6 }, "offset", "60 %"},
		{"no number", func(p *Plan) { p.Offset = nan }, "offset", "between -50 and 50"},
	})
}

func TestTargetCheck(t *testing.T) {
	span := Interval{Value: 0.5, Low: 0.4, High: 0.6}
	good := func() Target {
		return Target{
			Plan: Plan{Strands: 2}, Line: yarn.VisibleBorder, Angle: span, Washed: span, Wheel: span,
			TurnsTPM: &Turns{Value: 200, Low: 150, High: 260},
		}
	}
	checkAll(t, good, []checked[Target]{
		{"no plan", func(x *Target) { x.Plan.Strands = 0 }, "strands", "not 0"},
		{"no angle", func(x *Target) { x.Angle = Interval{} }, "", "no angle of a ply"},
		{"washed upside down", func(x *Target) { x.Washed = Interval{0.5, 0.6, 0.4} }, "", "28.6 degrees (34.4 to 22.9)"},
		{"wheel over 90 degrees", func(x *Target) { x.Wheel.High = 1.6 }, "", "no angle of a ply"},
		{"no number", func(x *Target) { x.Angle.Value = unit.Angle(nan) }, "", "no angle of a ply"},
		{"no width", func(x *Target) { x.Angle = Interval{0.5, 0.5, 0.5} }, "", ""},
		{"strand centre", func(x *Target) { x.Line = yarn.StrandCentre }, "", ""},
		{"no line", func(x *Target) { x.Line = 0 }, "", "needs the line"},
		{"line of singles", func(x *Target) { x.Line = yarn.SurfaceFibre }, "", "needs the line"},
		{"no turns", func(x *Target) { x.TurnsTPM = nil }, "", ""},
		{"turns upside down", func(x *Target) { x.TurnsTPM.Low = 300 }, "", "200 turns per metre (300 to 260)"},
		{"turns below none", func(x *Target) { x.TurnsTPM.Low = -1 }, "", "no twist of a ply"},
		{"endless turns", func(x *Target) { x.TurnsTPM.High = yarn.PlyTwist(math.Inf(1)) }, "", "no twist of a ply"},
		{"too long a note", func(x *Target) { x.Note = longNote + "s" }, "note", "longer than 4000 letters"},
	})
}

func TestLotCheck(t *testing.T) {
	good := func() Lot { return Lot{Name: "tops", Fibre: "wool", Preparation: finish.Worsted} }
	checkAll(t, good, []checked[Lot]{
		{"no name", func(l *Lot) { l.Name = "" }, "name", "Give the fibre lot a name"},
		{"longest fibre", func(l *Lot) { l.Fibre = longName }, "", ""},
		{"too long a fibre", func(l *Lot) { l.Fibre = longName + "s" }, "fibre", "longer than 120 letters"},
		{"unknown preparation", func(l *Lot) { l.Preparation = finish.Unknown }, "", ""},
		{"no preparation there is", func(l *Lot) { l.Preparation = finish.Woollen + 1 }, "preparation", "worsted, semi, woollen"},
		{"preparation below none", func(l *Lot) { l.Preparation = -1 }, "preparation", "worsted, semi, woollen"},
		{"too long a note", func(l *Lot) { l.Note = longNote + "s" }, "note", "longer than 4000 letters"},
	})
}

func TestBobbinCheck(t *testing.T) {
	good := func() Bobbin {
		return Bobbin{
			Name: "first", Direction: yarn.Z, Diameter: ptr(0.4 * unit.Millimetre), Wraps: ptr(40 * unit.WrapPerInch),
			Singles: ptr(25 * unit.Degree), Stretches: []Stretch{{Started: dawn, Ended: dawn}},
		}
	}
	checkAll(t, good, []checked[Bobbin]{
		{"bare", func(b *Bobbin) { *b = Bobbin{Name: "bare"} }, "", ""},
		{"no name", func(b *Bobbin) { b.Name = "" }, "name", "Give the bobbin a name"},
		{"no direction there is", func(b *Bobbin) { b.Direction = 'X' }, "direction", "S or Z"},
		{"too thin", func(b *Bobbin) { *b.Diameter = 0.04 * unit.Millimetre }, "diameter", "0.04 mm thick are not yarn"},
		{"too thick", func(b *Bobbin) { *b.Diameter = 51 * unit.Millimetre }, "diameter", "51 mm thick are not yarn"},
		{"no diameter", func(b *Bobbin) { *b.Diameter = unit.Length(nan) }, "diameter", "not yarn"},
		{"too few wraps", func(b *Bobbin) { *b.Wraps = 0.4 * unit.WrapPerInch }, "wraps", "0.4 wraps per inch"},
		{"too many wraps", func(b *Bobbin) { *b.Wraps = 401 * unit.WrapPerInch }, "wraps", "401 wraps per inch"},
		{"no wraps", func(b *Bobbin) { *b.Wraps = unit.Wraps(nan) }, "wraps", "cannot be meant"},
		{"no angle", func(b *Bobbin) { *b.Singles = 0 }, "singles", "0 degrees"},
		{"too steep", func(b *Bobbin) { *b.Singles = 75 * unit.Degree }, "singles", "75 degrees"},
		{"bad stretch", func(b *Bobbin) { b.Stretches[0].Ended = dawn.Add(-time.Hour) }, "ended", "before it started"},
		{"too long a note", func(b *Bobbin) { b.Note = longNote + "s" }, "note", "longer than 4000 letters"},
	})
}

func TestStretchCheck(t *testing.T) {
	good := func() Stretch { return Stretch{Started: dawn, Ended: dawn, Length: ptr(120 * unit.Metre)} }
	checkAll(t, good, []checked[Stretch]{
		{"no start", func(s *Stretch) { s.Started = time.Time{} }, "started", "the day it ended"},
		{"no end", func(s *Stretch) { s.Ended = time.Time{} }, "started", "the day it ended"},
		{"backwards", func(s *Stretch) { s.Ended = dawn.AddDate(0, 0, -2) }, "ended", "ended (2026-02-27) before it started (2026-03-01)"},
		{"long ago", func(s *Stretch) { s.Started = dawn.AddDate(-127, 0, 0) }, "started", "year 1899"},
		{"far ahead", func(s *Stretch) { s.Ended = dawn.AddDate(974, 0, 0) }, "ended", "year 3000"},
		{"no length measured", func(s *Stretch) { s.Length = nil }, "", ""},
		{"length of nothing", func(s *Stretch) { *s.Length = 0 }, "length", "0 m of singles"},
		{"too long", func(s *Stretch) { *s.Length = 100_000 }, "length", "1e+05 m"},
		{"no number", func(s *Stretch) { *s.Length = unit.Length(nan) }, "length", "cannot be meant"},
	})
}

func TestSampleCheck(t *testing.T) {
	good := func() Sample {
		return Sample{
			Bobbin: 1, State: estimate.Rewet, Humidity: ptr(55.0), Place: "A", Depth: 0.5, AgeHours: ptr(100.0), Soak: ptr(25.0), SoakStart: &dawn,
			Water: ptr(unit.Temperature(20)), Load: estimate.Light, LoadGrams: ptr(2.0),
		}
	}
	checkAll(t, good, []checked[Sample]{
		{"bare", func(s *Sample) { *s = Sample{Bobbin: 1, State: estimate.Fresh} }, "", ""},
		{"of nothing", func(s *Sample) { s.Bobbin = 0 }, "", "one bobbin, one run or one skein"},
		{"of a run", func(s *Sample) { s.Bobbin, s.Run = 0, 1 }, "", ""},
		{"of a skein", func(s *Sample) { s.Bobbin, s.Skein = 0, 1 }, "", ""},
		{"of a bobbin and a run", func(s *Sample) { s.Run = 1 }, "", "one bobbin, one run or one skein"},
		{"of a bobbin and a skein", func(s *Sample) { s.Skein = 1 }, "", "one bobbin, one run or one skein"},
		{"of a run and a skein", func(s *Sample) { s.Bobbin, s.Run, s.Skein = 0, 1, 1 }, "", "one bobbin, one run or one skein"},
		{"no state", func(s *Sample) { s.State = estimate.Unstated }, "state", "fresh, rested"},
		{"washed on a bobbin", func(s *Sample) { s.State = estimate.Washed }, "state", "re-wet and dried."},
		{"washed in a run", func(s *Sample) { s.Bobbin, s.Run, s.State = 0, 1, estimate.Washed }, "", ""},
		{"washed in a skein", func(s *Sample) { s.Bobbin, s.Skein, s.State = 0, 1, estimate.Washed }, "", ""},
		{"no state of a skein", func(s *Sample) { s.Bobbin, s.Skein, s.State = 0, 1, estimate.Unstated }, "state", "or washed"},
		{"no state there is", func(s *Sample) { s.Bobbin, s.Skein, s.State = 0, 1, estimate.Washed+1 }, "state", "or washed"},
		{"on the core", func(s *Sample) { s.Depth = 1 }, "", ""},
		{"outside the bobbin", func(s *Sample) { s.Depth = -0.1 }, "depth", "outermost layer (0)"},
		{"inside the core", func(s *Sample) { s.Depth = 1.1 }, "depth", "the core (1)"},
		{"no depth", func(s *Sample) { s.Depth = nan }, "depth", "from where"},
		{"age before spinning", func(s *Sample) { *s.AgeHours = -1 }, "age", "-1 hours"},
		{"age without end", func(s *Sample) { *s.AgeHours = math.Inf(1) }, "age", "cannot be meant"},
		{"soaking air", func(s *Sample) { *s.Humidity = 101 }, "humidity", "101 % relative humidity"},
		{"air below dry", func(s *Sample) { *s.Humidity = -1 }, "humidity", "-1 % relative humidity"},
		{"air of no number", func(s *Sample) { *s.Humidity = nan }, "humidity", "cannot be meant"},
		{"no soak", func(s *Sample) { *s.Soak = -1 }, "soak", "-1 minutes"},
		{"two days' soak", func(s *Sample) { *s.Soak = 2880 }, "", ""},
		{"longer soak", func(s *Sample) { *s.Soak = 2881 }, "soak", "2881 minutes"},
		{"soak in no year", func(s *Sample) { s.SoakStart = &time.Time{} }, "soak", "year 1 "},
		{"ice", func(s *Sample) { *s.Water = -1 }, "water", "-1 °C"},
		{"steam", func(s *Sample) { *s.Water = 101 }, "water", "101 °C"},
		{"no load there is", func(s *Sample) { s.Load = estimate.AtWheel + 1 }, "load", "how the sample was held"},
		{"light without grams", func(s *Sample) { s.LoadGrams = nil }, "load", "how many grams"},
		{"light of no grams", func(s *Sample) { *s.LoadGrams = 0 }, "load", "how many grams"},
		{"a kilogram", func(s *Sample) { *s.LoadGrams = 1000 }, "load", "how many grams"},
		{"free with no number", func(s *Sample) { s.Load, *s.LoadGrams = estimate.Free, nan }, "load", "how many grams"},
		{"longest place", func(s *Sample) { s.Place = longName }, "", ""},
		{"too long a place", func(s *Sample) { s.Place = longName + "s" }, "place", "longer than 120 letters"},
		{"too long a note", func(s *Sample) { s.Note = longNote + "s" }, "note", "longer than 4000 letters"},
	})
}

func TestReadingCheck(t *testing.T) {
	photo := func() *Photo { return &Photo{Hash: strings.Repeat("0a", 32), Width: 400, Height: 300} }
	good := func() Reading {
		return Reading{
			Method: Photograph, Photo: photo(), Reader: "program", Structure: Ply, Plies: 2, Direction: yarn.S,
			Line: yarn.StrandCentre, Angle: 30 * unit.Degree, SD: 2 * unit.Degree, Low: 27 * unit.Degree, High: 33 * unit.Degree,
			Trace: `{"axis":[]}`,
		}
	}
	checkAll(t, good, []checked[Reading]{
		{"typed", func(r *Reading) { r.Method, r.Photo, r.Trace = Typed, nil, "" }, "", ""},
		{"no method", func(r *Reading) { r.Method = "" }, "method", `called ""`},
		{"photograph without one", func(r *Reading) { r.Photo = nil }, "photo", "needs the photograph"},
		{"dragged over nothing", func(r *Reading) { r.Method, r.Photo = Dragged, nil }, "photo", "needs the photograph"},
		{"short hash", func(r *Reading) { r.Photo.Hash = "0a" }, "photo", "not one that the program keeps"},
		{"hash in capitals", func(r *Reading) { r.Photo.Hash = strings.Repeat("0A", 32) }, "photo", "not one that the program keeps"},
		{"no width", func(r *Reading) { r.Photo.Width = 0 }, "photo", "not one that the program keeps"},
		{"no height", func(r *Reading) { r.Photo.Height = -1 }, "photo", "not one that the program keeps"},
		{"no structure", func(r *Reading) { r.Structure = "" }, "structure", "singles or a ply"},
		{"no structure there is", func(r *Reading) { r.Structure = "cable" }, "structure", `not "cable"`},
		{"fewer than no plies", func(r *Reading) { r.Plies = -1 }, "plies", "-1 strands"},
		{"too many plies", func(r *Reading) { r.Plies = yarn.MaxStrands + 1 }, "plies", "8 strands"},
		{"no direction there is", func(r *Reading) { r.Direction = 's' }, "direction", "S or Z"},
		{"no line", func(r *Reading) { r.Line = 0 }, "line", "on which line"},
		{"no line there is", func(r *Reading) { r.Line = yarn.SurfaceFibre + 1 }, "line", "on which line"},
		{"no angle", func(r *Reading) { r.Angle = 0 }, "angle", "0 degrees"},
		{"too steep", func(r *Reading) { r.Angle = 75 * unit.Degree }, "angle", "75 degrees"},
		{"no number", func(r *Reading) { r.Angle = unit.Angle(nan) }, "angle", "cannot be meant"},
		{"no deviation", func(r *Reading) { r.SD = 0 }, "angle", "standard deviation"},
		{"great deviation", func(r *Reading) { r.SD = 45 * unit.Degree }, "angle", "standard deviation"},
		{"interval upside down", func(r *Reading) { r.Low, r.High = r.High, r.Low }, "angle", "lower end to its upper"},
		{"interval of no number", func(r *Reading) { r.Low = unit.Angle(nan) }, "angle", "lower end to its upper"},
		{"endless interval", func(r *Reading) { r.High = unit.Angle(math.Inf(1)) }, "angle", "lower end to its upper"},
		{"too long a reader", func(r *Reading) { r.Reader = longName + "s" }, "reader", "longer than 120 letters"},
		{"trace that is no JSON", func(r *Reading) { r.Trace = "axis" }, "trace", "draw it again"},
		{"huge trace", func(r *Reading) { r.Trace = `"` + strings.Repeat("x", longestTrace) + `"` }, "trace", "draw it again"},
		{"too long a note", func(r *Reading) { r.Note = longNote + "s" }, "note", "longer than 4000 letters"},
		{"refused", func(r *Reading) { *r = Reading{Method: Photograph, Photo: photo(), Refused: "Out of focus."} }, "", ""},
		{"refused with an angle", func(r *Reading) { r.Refused, r.SD = "Out of focus.", 0 }, "angle", "carries no angle"},
		{"refused with a deviation", func(r *Reading) { r.Refused, r.Angle = "Out of focus.", 0 }, "angle", "carries no angle"},
		{"refused at length", func(r *Reading) { r.Refused = longNote + "s" }, "refused", "longer than 4000 letters"},
	})
}

func TestErrors(t *testing.T) {
	err := Missing("bobbin", 7)
	if CodeOf(fmt.Errorf("load: %w", err)) != NotFound || err.Error() != "There is no bobbin number 7 in this journal." {
		t.Errorf("code %d, %q", CodeOf(err), err)
	}
	if CodeOf(nil) != 0 || CodeOf(fmt.Errorf("other")) != 0 {
		t.Error("errors of others have a code")
	}
}
