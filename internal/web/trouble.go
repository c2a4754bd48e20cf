package web

import (
	"context"
	"errors"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"strings"

	"waketwist/internal/journal"
	"waketwist/internal/picture"
	"waketwist/rest"
	"waketwist/unit"
	"waketwist/wheel"
)

// troubleView is a page that says what is wrong and what to do.
type troubleView struct {
	Problem, Advice string
}

// trouble answers with a page of trouble.
func (b *bench) trouble(w http.ResponseWriter, r *http.Request, status int, problem, advice string) {
	if err := b.show(w, r, status, "trouble", strings.TrimSuffix(problem, "."), troubleView{problem, advice}); err != nil {
		b.Log.Error("the page of trouble failed", "error", err)
	}
}

func (b *bench) noSuchPage(w http.ResponseWriter, r *http.Request) error {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		b.trouble(w, r, http.StatusMethodNotAllowed, "Nothing can be sent to this address.", "Go back to the bench and start from there.")
		return nil
	}
	b.trouble(w, r, http.StatusNotFound, "There is no such page.", "Go back to the bench and start from there.")
	return nil
}

// fail answers for an error that a page returned.
func (b *bench) fail(w http.ResponseWriter, r *http.Request, err error) {
	status, problem, advice := explain(err)
	if status == http.StatusInternalServerError {
		b.Log.Error("a request failed", "path", r.URL.Path, "error", err)
	}
	b.trouble(w, r, status, problem, advice)
}

// explain turns an error into a status and words for a person.
func explain(err error) (status int, problem, advice string) {
	var (
		tooBig *http.MaxBytesError
		known  *journal.Error
		words  *rest.Error
		turned *wheel.Error
		pic    *picture.Error
		text   *unit.ParseError
		escape url.EscapeError
	)
	switch {
	case errors.As(err, &tooBig), errors.Is(err, multipart.ErrMessageTooLarge):
		return http.StatusRequestEntityTooLarge, "That is more than is taken at once.", "Send fewer or smaller photographs: up to 25 MB each."
	case errors.As(err, &known):
		return statusOf(known.Code), known.Text, "Go back and correct it; what was recorded before is kept."
	case errors.As(err, &words):
		return http.StatusUnprocessableEntity, words.Problem, words.Advice
	case errors.As(err, &turned):
		return http.StatusUnprocessableEntity, turned.Problem, turned.Advice
	case errors.As(err, &pic):
		return pictureStatus(pic.Code), pic.Problem, pic.Advice
	case errors.As(err, &text):
		return http.StatusBadRequest, text.Error(), ""
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return http.StatusServiceUnavailable, "That took too long.", "Try again; if it was a photograph, send a smaller one."
	case strings.Contains(err.Error(), "multipart"), errors.Is(err, http.ErrNotMultipart), errors.Is(err, io.ErrUnexpectedEOF), errors.As(err, &escape):
		return http.StatusBadRequest, "The form arrived incomplete.", "Go back and send it again."
	}
	return http.StatusInternalServerError, "Something went wrong inside the program.", "Nothing that was recorded is lost. Go back and try again."
}

func statusOf(c journal.Code) int {
	switch c {
	case journal.NotFound:
		return http.StatusNotFound
	case journal.Conflict:
		return http.StatusConflict
	}
	return http.StatusUnprocessableEntity
}

func pictureStatus(c picture.Code) int {
	switch c {
	case picture.NotKept:
		return http.StatusNotFound
	case picture.StoreFailed:
		return http.StatusInsufficientStorage
	case picture.TooLarge, picture.TooMany:
		return http.StatusRequestEntityTooLarge
	}
	return http.StatusUnprocessableEntity
}
