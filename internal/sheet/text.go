package sheet

import (
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
)

var regular = sync.OnceValue(func() *sfnt.Font {
	f, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		panic(err) // it is a part of the program
	}
	return f
})

// printable keeps of a text what the font can draw: blanks become plain ones,
// marks that would stand over a letter go, and other signs become a question mark.
func printable(s string) string {
	var buf sfnt.Buffer
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.Is(unicode.Mn, r) || unicode.IsControl(r):
			return -1
		}
		if g, err := regular().GlyphIndex(&buf, r); err != nil || g == 0 || r > 0xffff {
			return '?'
		}
		return r
	}, s)
}

// wrap breaks a text into lines no wider than w; words that are wider are cut. A
// figure stays with a unit behind it.
func (p *page) wrap(s style, w float64, text string) (lines []string) {
	p.set(s)
	at := ""
	for _, word := range words(text) {
		joined := strings.TrimLeft(at+" "+word, " ")
		if p.pdf.GetStringWidth(joined) <= w {
			at = joined
			continue
		}
		if at != "" {
			lines = append(lines, at)
		}
		for p.pdf.GetStringWidth(word) > w {
			n := p.fitting(word, w)
			lines = append(lines, word[:n])
			word = word[n:]
		}
		at = word
	}
	return append(lines, at)
}

// words parts a text at its blanks, but not between a figure and its unit.
func words(text string) (out []string) {
	for _, word := range strings.Fields(text) {
		last := len(out) - 1
		if last >= 0 && unitWords[strings.Trim(word, ".,;:()")] && endsInFigure(out[last]) {
			out[last] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

var unitWords = map[string]bool{
	"mm": true, "cm": true, "m": true, "km": true, "in": true, "ft": true, "yd": true, "g": true, "kg": true, "oz": true, "lb": true,
	"tex": true, "yd/lb": true, "turns/m": true, "tpi": true, "wpi": true, "wpc": true, "%": true, "h": true, "µm": true, "m/h": true, "yd/h": true,
}

func endsInFigure(word string) bool {
	last := word[len(word)-1]
	return '0' <= last && last <= '9'
}

// fitting is how many bytes of a word are at most w wide, one letter at least.
func (p *page) fitting(word string, w float64) int {
	n := 0
	for i, r := range word {
		end := i + len(string(r))
		if n > 0 && p.pdf.GetStringWidth(word[:end]) > w {
			break
		}
		n = end
	}
	return n
}
