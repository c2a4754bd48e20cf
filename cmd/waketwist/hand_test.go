package main

import (
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// What a person sees and takes hold of, named as a person would name it.

func named(element, text string) chromedp.Search {
	return chromedp.Search(`//` + element + `[contains(normalize-space(.), "` + text + `")]`)
}

func link(text string) chromedp.Search   { return named("a", text) }
func button(text string) chromedp.Search { return named("button", text) }

// now is a thing in the step of the wake page that is in hand.
func now(thing chromedp.Search) chromedp.Search { return `//*[@id="now"]` + thing }

// nowField is a field in that step.
func nowField(name string) chromedp.CSS { return chromedp.CSS(`#now [name="` + name + `"]`) }

// field is a field by its name within the form that has the action's end.
func field(action, name string) chromedp.CSS {
	return chromedp.CSS(`form[action$="` + action + `"] [name="` + name + `"]`)
}

// choice is one of several radio buttons.
func choice(action, name, value string) chromedp.CSS {
	return field(action, name) + chromedp.CSS(`[value="`+value+`"]`)
}

// press clicks what leads to another page, and returns that page's status.
func (b *tab) press(what chromedp.Search) int64 {
	b.t.Helper()
	return b.arrive(chromedp.Click(what))
}

// unfold opens what is folded under some words.
func (b *tab) unfold(words string) {
	b.t.Helper()
	b.do(chromedp.Click(named("summary", words)))
}

// write types into a field.
func (b *tab) write(action, name, text string) {
	b.t.Helper()
	b.do(chromedp.SendKeys(field(action, name), text))
}

// retype types over what stands in a field.
func (b *tab) retype(field chromedp.CSS, text string) {
	b.t.Helper()
	b.do(chromedp.Focus(field), chromedp.Evaluate[chromedp.Void](`document.activeElement.select()`), chromedp.KeyEvent(kb.Backspace))
	if text != "" {
		b.do(chromedp.KeyEvent(text))
	}
}

// choosePhoto picks a test picture.
func (b *tab) choosePhoto(field chromedp.CSS, name string) {
	b.t.Helper()
	path, err := filepath.Abs(filepath.Join(photographs, name))
	if err != nil {
		b.t.Fatal(err)
	}
	b.do(chromedp.SetUploadFiles(field, []string{path}))
}

// words is the text of the page, in single spaces, whether unfolded or not.
func (b *tab) words() string {
	b.t.Helper()
	return strings.Join(strings.Fields(js[string](b, `document.querySelector("main").textContent`)), " ")
}

// path is the address of the page shown, within the workbench.
func (b *tab) path() string {
	b.t.Helper()
	return js[string](b, `location.pathname`)
}

// expect fails the test for each pattern that the page does not show.
func (b *tab) expect(patterns ...string) {
	b.t.Helper()
	shown := b.words()
	for _, p := range patterns {
		if !regexp.MustCompile(p).MatchString(shown) {
			b.t.Errorf("%s does not show %q:\n%s", b.path(), p, shown)
		}
	}
}

// span is a number with its interval, as pages show it.
type span struct{ value, low, high float64 }

// measure reads the number that stands under a label.
func (b *tab) measure(label, unit string) span {
	b.t.Helper()
	n := `(-?[0-9.]+)` + regexp.QuoteMeta(unit)
	pattern := regexp.QuoteMeta(label) + ` ?` + n + ` ` + n + ` to ` + n + `, 9 times in 10`
	found := regexp.MustCompile(pattern).FindStringSubmatch(b.words())
	if found == nil {
		b.t.Fatalf("%s shows no %q in %s:\n%s", b.path(), label, unit, b.words())
	}
	var out [3]float64
	for i := range out {
		v, err := strconv.ParseFloat(found[i+1], 64)
		if err != nil {
			b.t.Fatal(err)
		}
		out[i] = v
	}
	s := span{out[0], out[1], out[2]}
	if !(s.low < s.value && s.value < s.high) {
		b.t.Errorf("%q is %v: its interval does not hold it", label, s)
	}
	return s
}
