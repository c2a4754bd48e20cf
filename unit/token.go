package unit

import (
	"regexp"
	"strings"
)

// A token is a number, a word or a mark of a quantity text, in lower case.
type token struct {
	kind tokenKind
	text string
}

type tokenKind int

const (
	number tokenKind = iota
	word
	mark // one of / x ' " ° - for which many written forms are folded into one
)

func (t token) is(kind tokenKind, text string) bool { return t.kind == kind && t.text == text }

// written folds the many ways of typing a sign into one.
var written = strings.NewReplacer(
	"’", "'", "‘", "'", "′", "'", "”", `"`, "“", `"`, "″", `"`, "''", `"`,
	"×", " x ", "*", " x ", "−", "-", "–", "-", "⁄", "/", "∕", "/",
	"\u00a0", " ", "\u2009", " ", "\u202f", " ", "\t", " ",
	"µ", "u", "μ", "u", "º", "°", "℃", "°c", "℉", "°f",
	"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅓", " 1/3", "⅔", " 2/3",
	"⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8",
)

var tokenShapes = []struct {
	kind  tokenKind
	shape *regexp.Regexp
}{
	{number, regexp.MustCompile(`^(?:\d+(?:[.,]\d+)*|\.\d+)(?:e[+-]?\d+)?`)},
	{word, regexp.MustCompile(`^[a-z]+\.?`)}, // a full stop may close an abbreviation
	{mark, regexp.MustCompile(`^[/'"°-]`)},
}

// longestText is the most bytes that a quantity may have; what spinners write
// stays far below it.
const longestText = 120

// tokenise cuts text into tokens. A comma after a unit only separates and is
// dropped; one inside a number stays in the number.
func tokenise(text string) ([]token, *fault) {
	if len(text) > longestText {
		return nil, &fault{problem: "the text is too long for one quantity", advice: "give one number with its unit"}
	}
	var toks []token
	for s := strings.ToLower(written.Replace(text)); s != ""; {
		if s[0] == ' ' || s[0] == ',' && afterUnit(toks) {
			s = s[1:]
			continue
		}
		t, size := nextToken(s)
		if size == 0 {
			return nil, strayCharacter(s)
		}
		toks, s = append(toks, t), s[size:]
	}
	if len(toks) == 0 {
		return nil, &fault{problem: "there is no text", advice: "give a number with its unit"}
	}
	return toks, oddNumber(toks)
}

// nextToken returns the token that s starts with and its size in bytes, 0 where
// there is none.
func nextToken(s string) (token, int) {
	for _, t := range tokenShapes {
		if m := t.shape.FindString(s); m != "" {
			return newToken(t.kind, m), len(m)
		}
	}
	return token{}, 0
}

func newToken(kind tokenKind, text string) token {
	if kind == word {
		text = strings.TrimSuffix(text, ".")
	}
	if text == "x" {
		kind = mark
	}
	return token{kind, text}
}

// afterUnit reports whether the last of toks may end a term.
func afterUnit(toks []token) bool {
	return len(toks) > 0 && isUnit(toks[len(toks)-1])
}

// isUnit reports whether t can be a unit or the end of one.
func isUnit(t token) bool {
	return t.kind == word || t.is(mark, "'") || t.is(mark, `"`) || t.is(mark, "°")
}

func strayCharacter(s string) *fault {
	first := string([]rune(s)[:1])
	return &fault{
		problem: "the character " + quoted(first) + " has no meaning here",
		advice:  "give a plain number with its unit",
	}
}

// oddNumber finds the words for what is no number at all.
func oddNumber(toks []token) *fault {
	for _, t := range toks {
		switch t.text {
		case "nan", "inf", "infinity":
			return &fault{problem: quoted(t.text) + " is not a number", advice: "give a plain number with its unit"}
		}
	}
	return nil
}

// spell joins toks as they would be typed, for an error message.
func spell(toks []token) string {
	var words []string
	for _, t := range toks {
		words = append(words, t.text)
	}
	return strings.Join(words, " ")
}
