package plan

import (
	"fmt"
	"sort"
	"strings"

	"waketwist/estimate"
)

// breeds are the fineness of some breeds' fibres in micrometres, from the finest
// to the coarsest fleece (common practice).
var breeds = map[string][2]float64{
	"merino":               {18, 22},
	"corriedale":           {22, 34},
	"blue-faced leicester": {24, 28},
	"romney":               {31, 36},
	"lincoln":              {37, 40},
}

// titled gives every word of a breed's name but its joined part a capital.
func titled(name string) string {
	parts := strings.Fields(name)
	for i, part := range parts {
		parts[i] = capital(part)
	}
	return strings.Join(parts, " ")
}

// readBreed gives the fineness where none is measured.
func readBreed(w *Wish, s string) error {
	span, ok := breeds[strings.ReplaceAll(strings.ToLower(s), "bluefaced", "blue-faced")]
	if !ok {
		names := make([]string, 0, len(breeds))
		for name := range breeds {
			names = append(names, titled(name))
		}
		sort.Strings(names)
		return words(fmt.Sprintf("The breed “%s” is not known here, only %s; give the diameter of its fibres instead, as in “25 µm”.", shortened(s), enumerate(names, "and")))
	}
	w.given = put(w.given, qFineness, entry{Estimate: estimate.Estimate[float64]{Value: (span[0] + span[1]) / 2e6, Low: span[0] / 1e6, High: span[1] / 1e6}})
	return nil
}
