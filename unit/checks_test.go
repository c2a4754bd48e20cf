package unit_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"waketwist/unit"
)

// published is one row of testdata/checks.csv: what a table or book prints.
type published struct {
	id, inputs, expected, tolerance, unit string
}

func publishedRows(t *testing.T) []published {
	t.Helper()
	f, err := os.Open("testdata/checks.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []published
	for _, r := range records[1:] {
		rows = append(rows, published{id: r[1], inputs: r[2], expected: r[3], tolerance: r[4], unit: r[5]})
	}
	return rows
}

// TestPublishedValues evaluates every row, each to its own printed tolerance. A
// row with an input or a unit that is not known here fails.
func TestPublishedValues(t *testing.T) {
	for _, row := range publishedRows(t) {
		t.Run(row.id+" "+row.inputs+" "+row.unit, func(t *testing.T) {
			want, err := strconv.ParseFloat(row.expected, 64)
			if err != nil {
				t.Fatal(err)
			}
			got, err := row.evaluate()
			if err != nil {
				t.Fatal(err)
			}
			if most := row.allowed(t, want); !(math.Abs(got-want) <= most) {
				t.Errorf("got %v, want %v within %v", got, want, most)
			}
		})
	}
}

// TestPublishedRowsComplete fails when a row is taken out of the file.
func TestPublishedRowsComplete(t *testing.T) {
	var want []string
	for i := range 31 {
		want = append(want, fmt.Sprintf("LD%02d", i+1))
	}
	for i := range 5 {
		want = append(want, fmt.Sprintf("TW%02d", i+1))
	}
	var got []string
	for _, row := range publishedRows(t) {
		if len(got) == 0 || got[len(got)-1] != row.id {
			got = append(got, row.id)
		}
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("rows (-want +got):\n%s", diff)
	}
}

// allowed returns the tolerance as an absolute one.
func (p published) allowed(t *testing.T, want float64) float64 {
	t.Helper()
	if p.tolerance == "exact" {
		return 1e-12 * want
	}
	digits, relative := strings.CutSuffix(p.tolerance, " rel")
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		t.Fatal(err)
	}
	if relative {
		return v * want
	}
	return v
}

// evaluate works out a row: a yarn of a stated length, two yarns twisted
// together, a twist in a yarn, a twist multiplier, or one quantity.
func (p published) evaluate() (float64, error) {
	if length, yarn, ok := strings.Cut(p.inputs, " of "); ok {
		l, errL := unit.ParseLength(length)
		d, errD := unit.ParseLinearDensity(yarn)
		return in(p.unit, d.MassOf(l), errL, errD)
	}
	if one, other, ok := strings.Cut(p.inputs, " + "); ok {
		a, errA := unit.ParseLinearDensity(one)
		b, errB := unit.ParseLinearDensity(other)
		return in(p.unit, a+b, errA, errB)
	}
	if twist, yarn, ok := strings.Cut(p.inputs, " in "); ok {
		u, errU := unit.ParseTwist(twist)
		d, errD := unit.ParseLinearDensity(yarn)
		return in(p.unit, unit.TwistFactorOf(u, d), errU, errD)
	}
	if digits, ok := strings.CutPrefix(p.inputs, "TM "); ok {
		tm, err := strconv.ParseFloat(digits, 64)
		return in(p.unit, unit.TwistFactorOf(unit.Twist(tm)*unit.TurnPerInch, unit.FromCottonCount(1)), err)
	}
	q, err := unit.Parse(p.inputs)
	return in(p.unit, q, err)
}

// in returns q in the unit named as in the file.
func in(name string, q any, errs ...error) (float64, error) {
	for _, err := range errs {
		if err != nil {
			return 0, err
		}
	}
	var units map[string]float64
	switch q := q.(type) {
	case unit.LinearDensity:
		units = densities(q)
	case unit.Mass:
		units = map[string]float64{"lb": q.Pounds()}
	case unit.Twist:
		units = map[string]float64{"turns/m": q.PerMetre()}
	case unit.TwistFactor:
		units = map[string]float64{
			"twist multiplier":     q.TwistMultiplier(),
			"turns/cm x sqrt(tex)": q.PerCentimetreRootTex(),
			"alpha metric":         q.AlphaMetric(),
		}
	}
	v, ok := units[name]
	if !ok {
		return 0, fmt.Errorf("no unit %q for a %T", name, q)
	}
	return v, nil
}

func densities(d unit.LinearDensity) map[string]float64 {
	return map[string]float64{
		"tex":           d.Tex(),
		"denier":        d.Denier(),
		"metric count":  d.Nm(),
		"cotton count":  d.CottonCount(),
		"worsted count": d.WorstedCount(),
		"woollen run":   d.WoollenRun(),
		"lea":           d.Lea(),
		"yd/lb":         d.YardsPerPound(),
		"m/100 g":       d.MetresPer100g(),
		// The French count is the number of kilometres in half a kilogram.
		"French count": float64(d.LengthOf(500*unit.Gram) / unit.Kilometre),
	}
}
