package yarn

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// published is one row of testdata/checks.csv: values that books and standards
// print or that follow from them.
type published struct {
	id, inputs, expected, tolerance string
}

func publishedRows(t *testing.T) (rows []published) {
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
	for _, r := range records[1:] {
		rows = append(rows, published{id: r[1], inputs: r[2], expected: r[3], tolerance: r[4]})
	}
	return rows
}

// notMet are the rows that this package does not have to meet, and why.
var notMet = map[string]string{
	"TW10": "approximation: one mill's straight line for cotton",
	"TW12": "how to test, nothing to work out",
	"TW14": "scope of a standard, nothing to work out",
	"TW15": "how to test, nothing to work out",
	"TW16": "how to test, nothing to work out",
	"TW17": "air of a laboratory, nothing to work out",
	"TW18": "definition of S and Z",
	"TW21": "trend: how far a test method can be off",
	"DI05": "dry fibre: the package reckons in room air",
	"DI09": "range of an uncertain input",
	"SN02": "absolute tension: needs stiffnesses that are hardly ever known, the package gives the ratio",
	"SN03": "absolute tension, as SN02",
	"BP20": "sanity band of low authority",
	"BP21": "trend only",
	"BP23": "approximation: a radius that does not grow with the angle",
}

// TestPublishedRows evaluates every row of the file or finds it in notMet.
func TestPublishedRows(t *testing.T) {
	seen := map[string]bool{}
	for _, row := range publishedRows(t) {
		seen[row.id] = true
		t.Run(row.id, func(t *testing.T) {
			value, worked := values[row.id]
			law, stated := laws[row.id]
			_, skipped := notMet[row.id]
			switch {
			case skipped == (worked || stated):
				t.Fatalf("%s: %s: must be either evaluated or listed as not to be met", row.id, row.inputs)
			case worked:
				row.compare(t, value())
			case stated:
				law(t)
			}
		})
	}
	if want := len(values) + len(laws) + len(notMet); len(seen) != want {
		t.Errorf("%d rows in the file, %d known here", len(seen), want)
	}
}

// compare holds got to the printed values, each within its tolerance.
func (p published) compare(t *testing.T, got []float64) {
	t.Helper()
	want, allowed := strings.Split(p.expected, "; "), strings.Split(p.tolerance, "; ")
	if len(want) != len(got) {
		t.Fatalf("%d values for %d printed", len(got), len(want))
	}
	for i := range got {
		value, err := strconv.ParseFloat(want[i], 64)
		if err != nil {
			t.Fatal(err)
		}
		most := tolerance(t, allowed[min(i, len(allowed)-1)], value)
		if !(math.Abs(got[i]-value) <= most) {
			t.Errorf("%s: got %v, want %v within %v", p.inputs, got[i], value, most)
		}
	}
}

// tolerance reads a printed tolerance as an absolute one.
func tolerance(t *testing.T, text string, value float64) float64 {
	t.Helper()
	if text == "exact" {
		return 1e-12 * max(1, math.Abs(value))
	}
	number, relative := strings.CutSuffix(text, " rel")
	most, err := strconv.ParseFloat(number, 64)
	if err != nil {
		t.Fatal(err)
	}
	if relative {
		most *= math.Abs(value)
	}
	return most
}
