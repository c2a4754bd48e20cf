package sheet

import (
	"bytes"
	"compress/zlib"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"
)

// run is a line of text on a page: from x on the baseline y, in millimetres from
// the upper left corner.
type run struct {
	x, y, size float64
	bold       bool
	text       string
}

// leaf is a page as it is read back.
type leaf struct {
	content string // bytes as runes
	runs    []run
}

// document is a PDF as it is read back; its size is in millimetres.
type document struct {
	w, h  float64
	pages []leaf
}

var (
	mediaBox   = regexp.MustCompile(`/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]`)
	contents   = regexp.MustCompile(`/Contents (\d+) 0 R`)
	fontObject = regexp.MustCompile(`(/F[0-9a-f]{40}) (\d+) 0 R`)
	baseFont   = regexp.MustCompile(`/BaseFont /utf8go(B?)\s`)
	drawn      = regexp.MustCompile(`(?s)BT (/F\w+) ([\d.]+) Tf ET|BT (-?[\d.]+) (-?[\d.]+) Td \(((?:[^\\()]|\\.)*)\) Tj ET`)
)

// readBack takes apart a PDF as this package writes it.
func readBack(t testing.TB, pdf []byte) (d document) {
	t.Helper()
	all := latin(pdf)
	box := mediaBox.FindStringSubmatch(all)
	if box == nil || !strings.HasPrefix(all, "%PDF-") || !strings.HasSuffix(strings.TrimSpace(all), "%%EOF") {
		t.Fatal("this is no whole PDF")
	}
	d.w, d.h = number(t, box[1])*point, number(t, box[2])*point
	bold := map[string]bool{}
	for _, m := range fontObject.FindAllStringSubmatch(all, -1) {
		bold[m[1]] = baseFont.FindStringSubmatch(object(t, all, m[2]))[1] == "B"
	}
	for _, m := range contents.FindAllStringSubmatch(all, -1) {
		page := leaf{content: inflated(t, object(t, all, m[1]))}
		page.runs = runsOf(t, page.content, bold, d.h)
		d.pages = append(d.pages, page)
	}
	return d
}

// latin makes a rune of each byte.
func latin(b []byte) string {
	out := make([]rune, len(b))
	for i, c := range b {
		out[i] = rune(c)
	}
	return string(out)
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// object is the text of an object of a PDF.
func object(t testing.TB, pdf, n string) string {
	t.Helper()
	_, rest, found := strings.Cut(pdf, "\n"+n+" 0 obj\n")
	if !found {
		t.Fatalf("the PDF has no object %s", n)
	}
	text, _, _ := strings.Cut(rest, "\nendobj")
	return text
}

func inflated(t testing.TB, object string) string {
	t.Helper()
	_, stream, found := strings.Cut(object, "stream\n")
	if !found {
		t.Fatal("a page has no stream")
	}
	packed := make([]byte, 0, len(stream))
	for _, r := range stream {
		packed = append(packed, byte(r))
	}
	r, err := zlib.NewReader(bytes.NewReader(packed))
	if err != nil {
		t.Fatal(err)
	}
	plain, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return latin(plain)
}

// runsOf returns what a page's stream writes.
func runsOf(t testing.TB, content string, bold map[string]bool, height float64) (out []run) {
	t.Helper()
	var at run
	for _, m := range drawn.FindAllStringSubmatch(content, -1) {
		if m[1] != "" {
			at.bold, at.size = bold[m[1]], number(t, m[2])
			continue
		}
		at.x, at.y, at.text = number(t, m[3])*point, height-number(t, m[4])*point, unescaped(m[5])
		out = append(out, at)
	}
	return out
}

// unescaped decodes a string of UTF-16 between the brackets of a PDF.
func unescaped(s string) string {
	s = regexp.MustCompile(`(?s)\\(.)`).ReplaceAllStringFunc(s, func(m string) string {
		if m == `\r` {
			return "\r"
		}
		return m[1:]
	})
	var units []uint16
	bytes := []rune(s)
	for i := 0; i+1 < len(bytes); i += 2 {
		units = append(units, uint16(bytes[i])<<8|uint16(bytes[i+1]))
	}
	return string(utf16.Decode(units))
}

// text is all that the pages say, in the order in which it was drawn.
func (d document) text() string {
	var all []string
	for _, page := range d.pages {
		for _, r := range page.runs {
			all = append(all, r.text)
		}
	}
	return strings.Join(all, " ")
}

// count is how often a text stands on a page.
func (l leaf) count(text string) (n int) {
	for _, r := range l.runs {
		if r.text == text {
			n++
		}
	}
	return n
}
