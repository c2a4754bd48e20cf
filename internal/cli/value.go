package cli

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/alecthomas/kong"

	"waketwist/estimate"
	"waketwist/unit"
)

var errNoValue = errors.New("it needs a value behind it")

// text is the value of a flag, without the blanks around it.
type text string

// Decode takes one value.
func (t *text) Decode(ctx *kong.DecodeContext) error {
	token, err := ctx.Scan.PopValue("a")
	if err != nil {
		return errNoValue
	}
	*t = text(strings.TrimSpace(token.String()))
	if *t == "" {
		return errNoValue
	}
	return nil
}

// texts is a flag that takes every value up to the next flag, and may be
// repeated.
type texts []string

// Decode takes at least one value.
func (t *texts) Decode(ctx *kong.DecodeContext) error {
	token, err := ctx.Scan.PopValue("a")
	if err != nil || strings.TrimSpace(token.String()) == "" {
		return errNoValue
	}
	*t = append(*t, token.String())
	for ctx.Scan.Peek().Type == kong.UntypedToken && ctx.Scan.Peek().IsValue() {
		*t = append(*t, ctx.Scan.Pop().String())
	}
	return nil
}

// whole is a whole number.
type whole int

// Decode takes one whole number.
func (w *whole) Decode(ctx *kong.DecodeContext) error {
	var t text
	if err := t.Decode(ctx); err != nil {
		return err
	}
	n, err := strconv.Atoi(string(t))
	if err != nil || n < -1000 || n > 1000 {
		return fmt.Errorf("“%s” is not a whole number, such as 2", t)
	}
	*w = whole(n)
	return nil
}

// parseNumber reads the number of a flag.
func parseNumber(flag string, t text) (float64, error) {
	v, err := unit.ParseNumber(string(t))
	if err != nil {
		return 0, misused("%s: %v", flag, err)
	}
	return v, nil
}

// inRange refuses a number outside low to high.
func inRange(flag string, v, low, high float64) error {
	if v < low || v > high {
		return misused("%s: %v is out of range; give a number from %v to %v", flag, v, low, high)
	}
	return nil
}

// interval is an estimate as JSON, in the unit that its key names.
type interval struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

// intervalOf takes an estimate apart with a unit, to so many decimals.
func intervalOf[T ~float64](e estimate.Estimate[T], unit T, decimals int) *interval {
	return &interval{
		round(float64(e.Value/unit), decimals),
		round(float64(e.Low/unit), decimals),
		round(float64(e.High/unit), decimals),
	}
}

func round(v float64, decimals int) float64 {
	p := math.Pow10(decimals)
	return math.Round(v*p) / p
}

// writeJSON writes v as one line.
func writeJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// folded breaks a text into lines of at most width runes where words allow.
func folded(s string, width int) string {
	var lines []string
	line, length := "", 0
	for _, word := range strings.Fields(s) {
		n := len([]rune(word))
		if length > 0 && length+1+n > width {
			lines = append(lines, line)
			line, length = "", 0
		}
		if length > 0 {
			line += " "
			length++
		}
		line += word
		length += n
	}
	return strings.Join(append(lines, line), "\n")
}
