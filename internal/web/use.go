package web

import (
	"net/http"

	"waketwist/internal/journal"
)

// useSkein records what became of a skein.
func (b *bench) useSkein(w http.ResponseWriter, r *http.Request) error {
	id, f, err := sent(r, pathID)
	if err != nil {
		return err
	}
	u := journal.Use{Skein: id, How: f.text("how"), Note: f.text("usenote")}
	return b.keepOnSkein(w, r, id, f, func() error { _, err := b.Store.AddUse(r.Context(), u); return err })
}
