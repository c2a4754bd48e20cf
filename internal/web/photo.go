package web

import (
	"net/http"
	"net/url"

	"waketwist/estimate"
	"waketwist/internal/journal"
	"waketwist/internal/picture"
)

// sendPhoto sends a kept photograph, upright and reduced for a page.
func (b *bench) sendPhoto(w http.ResponseWriter, r *http.Request) error {
	hash, err := picture.ParseHash(r.PathValue("hash"))
	if err != nil {
		return err
	}
	side := picture.Preview
	if r.URL.Query().Get("size") == "small" {
		side = picture.Thumbnail
	}
	data, err := b.Photos.Reduced(r.Context(), hash, side)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Cache-Control", "private, max-age=31536000, immutable")
	w.Write(data) // a reader that left needs no answer
	return nil
}

// askView asks for a photograph that belongs to no project.
type askView struct {
	*form
}

func (b *bench) askPhoto(w http.ResponseWriter, r *http.Request) error {
	return b.show(w, r, http.StatusOK, "read", "Read a photograph", askView{newForm(url.Values{})})
}

// takePhoto keeps a photograph and goes to what was read on it.
func (b *bench) takePhoto(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseMultipartForm(8 << 20); err != nil {
		return err
	}
	defer r.MultipartForm.RemoveAll() // temporary files; the photograph is kept elsewhere
	f, photos := newForm(r.PostForm), r.MultipartForm.File["photo"]
	if len(photos) == 0 {
		f.refuse("photo", &journal.Error{Text: "Choose a photograph first."})
	}
	var hash picture.Hash
	kept, err := f.keep(func() error {
		data, err := upload(photos[0])
		if err != nil {
			return err
		}
		hash, _, err = b.Photos.Put(r.Context(), data)
		return err
	})
	switch {
	case err != nil:
		return err
	case kept:
		return see(w, r, "/read/%s?plies=%s", hash, url.QueryEscape(r.PostForm.Get("plies")))
	}
	return b.show(w, r, f.status(), "read", "Read a photograph", askView{f})
}

// photoView is what was read on a photograph that belongs to no project.
type photoView struct {
	Card  readingCard
	Form  *form
	Hash  picture.Hash
	Scale *scaleForm // nil where there is nothing to size
}

// showPhoto reads a kept photograph anew: nothing of it is recorded.
func (b *bench) showPhoto(w http.ResponseWriter, r *http.Request) error {
	hash, err := picture.ParseHash(r.PathValue("hash"))
	if err != nil {
		return err
	}
	f := newForm(r.URL.Query())
	as := readAsFrom(f)
	found, err := b.readKept(r.Context(), hash, as)
	if err != nil && f.accept(err) == nil {
		found, err = b.readKept(r.Context(), hash, readAs{plies: as.plies})
	}
	if err != nil {
		return err
	}
	scale, err := b.scaleOn(r, r.URL.Path, found, estimate.Unstated)
	if err != nil {
		return err
	}
	view := photoView{
		Card: readingCardOf(found, estimate.Unstated), Form: f, Hash: hash, Scale: scale,
	}
	title := "What the photograph shows"
	if view.Card.Refused != "" {
		title = "This photograph was not read"
	}
	view.Card.label()
	scale.show(view.Card.Overlay)
	return b.show(w, r, max(f.status(), view.Scale.status()), "photo", title, view)
}

// showHelp is the built-in help.
func (b *bench) showHelp(w http.ResponseWriter, r *http.Request) error {
	return b.show(w, r, http.StatusOK, "help", "How it works", nil)
}
