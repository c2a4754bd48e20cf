package cloth

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"waketwist/estimate"
	"waketwist/unit"
)

// ranges are the rows that have no one value to meet.
var ranges = map[string]string{
	"CL18 take-up and shrinkage range": "a range of practice, wider for wool",
}

// TestPublishedRows evaluates every row of the file or finds it in ranges. Where
// a source prints a wrong answer, the row holds the right one and says so.
func TestPublishedRows(t *testing.T) {
	seen := map[string]bool{}
	for _, row := range published(t) {
		id, key := row[1], row[1]+" "+row[2]+" "+row[3]
		seen[id] = true
		t.Run(key, func(t *testing.T) {
			got, worked := evaluate(t, id, row[2], row[3])
			if _, listed := ranges[key]; worked == listed {
				t.Fatal("neither evaluated nor listed as a range, or both")
			}
			if worked {
				compare(t, got, row[4], row[5])
			}
		})
	}
	for _, id := range strings.Fields("DI06 DI07 DI14 DI16 CL01 CL02 CL03 CL04 CL05 CL06 CL07 CL08 CL09 CL10 CL11 CL12 CL13 CL14 CL15 CL16 CL17 CL18 CL19") {
		if !seen[id] {
			t.Errorf("row %s is not in the file", id)
		}
	}
}

func published(t *testing.T) [][]string {
	t.Helper()
	f, err := os.Open("testdata/checks.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// compare takes words as they stand and numbers to their tolerance.
func compare(t *testing.T, got any, expected, tolerance string) {
	t.Helper()
	v, number := got.(float64)
	if !number {
		if fmt.Sprint(got) != expected {
			t.Errorf("got %v, want %s", got, expected)
		}
		return
	}
	want, err := strconv.ParseFloat(expected, 64)
	if err != nil {
		t.Fatal(err)
	}
	most, err := strconv.ParseFloat(tolerance, 64)
	if err != nil {
		t.Fatal(err)
	}
	if !(math.Abs(v-want) <= most) {
		t.Errorf("got %.6g, want %v within %v", v, want, most)
	}
}

// evaluate works a row out; worked is false where there is nothing for it here.
func evaluate(t *testing.T, id, inputs, what string) (got any, worked bool) {
	switch id {
	case "DI06", "DI07", "DI14", "DI16":
		return diameterRow(t, id, inputs, what)
	case "CL01", "CL02", "CL03", "CL04", "CL05", "CL06":
		return settRow(t, id, inputs, what)
	case "CL07", "CL08", "CL09", "CL10", "CL11", "CL19":
		return coverRow(t, id, inputs)
	}
	return lossRow(t, id, inputs, what)
}

func diameterRow(t *testing.T, id, inputs, what string) (any, bool) {
	t.Helper()
	if id == "DI14" {
		var count float64
		scan(t, inputs, "worsted count %g", &count)
		return Ashenhurst(unit.FromWorstedCount(count), Firm).PerInch(), true
	}
	if id == "DI16" {
		var grist, wraps float64
		scan(t, inputs, "%g yd/lb at %g wpi", &grist, &wraps)
		pitch := (unit.Wraps(wraps) * unit.WrapPerInch).Pitch()
		return float64(VolumeOf(unit.FromYardsPerPound(grist), pitch).Wool()), true
	}
	character, yarn := Firm, unit.FromYardsPerPound(1600)
	if inputs == "factor 0.84" {
		character = Soft
	}
	v := VolumeOf(yarn, Ashenhurst(yarn, character).Contact())
	if what == "packing" {
		return float64(v.Wool()), true
	}
	return float64(v), true
}

func scan(t *testing.T, text, format string, into ...any) {
	t.Helper()
	if _, err := fmt.Sscanf(text, format, into...); err != nil {
		t.Fatalf("%q: %v", text, err)
	}
}

func settRow(t *testing.T, id, inputs, what string) (any, bool) {
	t.Helper()
	rounded := Diameters(52 / unit.Inch.Metres())
	cotton := unit.FromYardsPerPound(3360)
	switch id {
	case "CL01":
		return Ashenhurst(cotton, Firm).PerInch(), true
	case "CL02":
		return Closest(rounded, named(t, "plain")).PerInch(), true
	case "CL03":
		return Closest(rounded, named(t, "2/2-twill")).PerInch(), true
	case "CL04":
		s, err := SettByWeight(cotton, Firm, named(t, "plain"))
		if err != nil {
			t.Fatal(err)
		}
		return float64(s.Working.Value / s.Closest.Value), true
	case "CL05":
		return brierley(t, 60*unit.Tex, Cotton, "2/2-twill").PerCentimetre() * 10, true
	}
	return brierleyRow(t, inputs, what)
}

func brierleyRow(t *testing.T, inputs, what string) (any, bool) {
	t.Helper()
	wool := unit.FromWorstedCount(6)
	plain := brierley(t, wool, Worsted, "plain")
	if what == "K" {
		return plain.PerInch() * plain.PerInch() / 6, true
	}
	weave := map[string]string{"twill": "2/2-twill", "satin": "5-end-satin", "hopsack": "3/3-hopsack"}[inputs]
	float := float64(named(t, weave).PickFloat())
	return math.Log(float64(brierley(t, wool, Worsted, weave)/plain)) / math.Log(float), true
}

func brierley(t *testing.T, yarn unit.LinearDensity, system Count, weave string) Density[OnLoom] {
	t.Helper()
	e, err := Brierley(yarn, system, named(t, weave))
	if err != nil {
		t.Fatal(err)
	}
	return e.Value
}

func coverRow(t *testing.T, id, inputs string) (any, bool) {
	t.Helper()
	fine, dense := 20*unit.Tex, PerCentimetre[OnLoom](28)
	switch id {
	case "CL07":
		return float64(SICoverOf(dense, fine)), true
	case "CL08":
		return float64(CoverOf(dense, fine)), true
	case "CL09":
		return float64(Peirce(1).SI()), true
	case "CL10":
		return float64(TouchingCover(1.1)), true
	case "CL19":
		one := unit.FromCottonCount(1)
		return float64(MassOf(PerInch[Washed](1), one, 0, PerInch[Washed](0), one, 0)), true
	}
	var warp, weft float64
	scan(t, inputs, "%g + %g", &warp, &weft)
	return TightnessOf(Peirce(warp), Peirce(weft)), true
}

func lossRow(t *testing.T, id, inputs, what string) (any, bool) {
	t.Helper()
	const in = unit.Inch
	switch id + " " + what {
	case "CL12 passages":
		satin := named(t, "5-end-satin")
		return 180 * satin.Intersections().PerEnd / float64(satin.Picks()), true
	case "CL12 warp take-up":
		return 100 * float64(takeUp(t, "5-end-satin", 180)), true
	case "CL12 warp for 94 yd of cloth":
		return Before(takeUp(t, "5-end-satin", 180), 94*unit.Yard).Yards(), true
	case "CL13 warp take-up":
		return 100 * float64(takeUp(t, "plain", 120)), true
	case "CL14 shrinkage":
		return 100 * float64(LossOf(10*in, 8*in)), true
	case "CL15 to weave":
		return Before(0.2, 10*in).Inches(), true
	case "CL15 finished":
		return After(0.2, 12*in).Inches(), true
	case "CL16 shrinkage":
		return 100 * float64(LossOf(10*in, 8.5*in)), true
	case "CL17 stretch":
		var warp, tied, woven, waste unit.Length
		scan(t, inputs, "warp %g in, tie-on %g, woven %g under tension, waste %g", &warp, &tied, &woven, &waste)
		// A warp that stretches on the loom has lost less than nothing.
		return float64(-LossOf(warp, tied+woven+waste)) * float64(warp), true
	case "CL17 loss":
		return 100 * float64(LossOf(75*in, 65*in)), true
	case "CL18 least":
		return LoomWaste().Low.Inches(), true
	case "CL18 most":
		return LoomWaste().High.Inches(), true
	}
	return nil, false
}

func takeUp(t *testing.T, weave string, picksPerInch float64) Loss {
	t.Helper()
	e, err := TakeUp(named(t, weave), PerInch[OnLoom](picksPerInch), unit.FromCottonCount(70))
	if err != nil {
		t.Fatal(err)
	}
	if e.Measured() || e.Flags.Has(estimate.Extrapolated) {
		t.Errorf("the rule is marked %v", e.Flags)
	}
	return e.Value
}

func named(t *testing.T, name string) Weave {
	t.Helper()
	w, err := Named(name)
	if err != nil {
		t.Fatal(err)
	}
	return w
}
