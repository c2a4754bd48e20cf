package web

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"waketwist/internal/journal"
	"waketwist/internal/picture"
	"waketwist/unit"
)

// form is what a person typed, kept so that a page can show it again beside
// what was wrong with it.
type form struct {
	values   url.Values
	problems map[string]string
	code     int        // status of a picture that was not taken, zero for none
	sample   journal.ID // the sample that it was sent for, zero for none
}

func newForm(values url.Values) *form {
	return &form{values: values, problems: map[string]string{}}
}

// readForm parses the body of a form without files.
func readForm(r *http.Request) (*form, error) {
	if err := r.ParseForm(); err != nil {
		return nil, err
	}
	return newForm(r.PostForm), nil
}

// sent finds the record that a form was sent to, and parses the form.
func sent[T any](r *http.Request, find func(*http.Request) (T, error)) (record T, f *form, err error) {
	if record, err = find(r); err != nil {
		return record, nil, err
	}
	f, err = readForm(r)
	return record, f, err
}

// Value returns what was typed into a field.
func (f *form) Value(name string) string { return f.values.Get(name) }

// Is reports whether a choice was made.
func (f *form) Is(name, value string) bool { return f.values.Get(name) == value }

// Problem returns what was wrong with a field, empty when nothing was.
func (f *form) Problem(name string) string { return f.problems[name] }

// Bad reports whether anything was wrong.
func (f *form) Bad() bool { return len(f.problems) > 0 }

func (f *form) text(name string) string { return strings.TrimSpace(f.values.Get(name)) }

// refuse notes an error of a field, as a sentence; the first one of each field
// stays.
func (f *form) refuse(name string, err error) {
	if _, there := f.problems[name]; there {
		return
	}
	text := err.Error()
	first, size := utf8.DecodeRuneInString(text)
	text = string(unicode.ToUpper(first)) + text[size:]
	if !strings.ContainsAny(text[len(text)-1:], ".?!") {
		text += "."
	}
	f.problems[name] = text
}

// askedAs names the field of a form that asks for what a record holds under
// another name.
var askedAs = map[string]string{"diameter": "thickness", "wraps": "thickness", "soak": "minutes"}

// status is that of the page which shows the form again.
func (f *form) status() int {
	switch {
	case !f.Bad():
		return http.StatusOK
	case f.code != 0:
		return f.code
	}
	return http.StatusUnprocessableEntity
}

// accept notes a journal's refusal under the field that it names, and what is
// wrong with a picture under that of the photographs. Other errors are returned.
func (f *form) accept(err error) error {
	var pic *picture.Error
	if errors.As(err, &pic) && pic.Code != picture.NotKept && pic.Code != picture.StoreFailed {
		f.code = pictureStatus(pic.Code)
		f.refuse("photo", err)
		return nil
	}
	var known *journal.Error
	if errors.As(err, &known) && known.Code == journal.Invalid {
		name := known.Field
		if asked := askedAs[name]; asked != "" && !f.values.Has(name) {
			name = asked
		}
		f.refuse(name, known)
		return nil
	}
	return err
}

// keep makes a change unless the form is wrong, and notes a journal's refusal in
// the form. kept reports whether the change was made.
func (f *form) keep(change func() error) (kept bool, err error) {
	if f.Bad() {
		return false, nil
	}
	if err = change(); err == nil {
		return true, nil
	}
	return false, f.accept(err)
}

// quantity parses a field that may stay empty.
func quantity[T any](f *form, name string, parse func(string) (T, error)) *T {
	text := f.text(name)
	if text == "" {
		return nil
	}
	v, err := parse(text)
	if err != nil {
		f.refuse(name, err)
		return nil
	}
	return &v
}

// count parses a whole number.
func count(text string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil {
		return 0, fmt.Errorf("“%s” is not a whole number; write it with digits alone, such as 120", shortened(text))
	}
	return n, nil
}

// shortened keeps what was typed short enough to be said again.
func shortened(text string) string {
	const most = 40
	if r := []rune(text); len(r) > most {
		return string(r[:most]) + "…"
	}
	return text
}

// share parses a percentage with or without its sign.
func share(text string) (float64, error) {
	v, err := unit.ParseNumber(strings.TrimSpace(strings.TrimSuffix(text, "%")))
	return v / 100, err
}

// number of a record in the path.
func pathID(r *http.Request) (journal.ID, error) {
	n, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil || n <= 0 {
		return 0, &journal.Error{Code: journal.NotFound, Text: "There is no such record in this journal."}
	}
	return journal.ID(n), nil
}

// recordID reads the number of a record that was chosen from a list.
func recordID(text string) (journal.ID, error) {
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil || n <= 0 {
		return 0, errors.New("choose one of the list, or none")
	}
	return journal.ID(n), nil
}

// queryID is the number of a record in the query, zero without one.
func queryID(r *http.Request, name string) journal.ID {
	n, err := strconv.ParseInt(r.URL.Query().Get(name), 10, 64)
	if err != nil || n < 0 {
		return 0
	}
	return journal.ID(n)
}

// see sends the browser to a page after a form was taken, so that going back or
// reloading sends nothing twice.
func see(w http.ResponseWriter, r *http.Request, format string, args ...any) error {
	http.Redirect(w, r, fmt.Sprintf(format, args...), http.StatusSeeOther)
	return nil
}
