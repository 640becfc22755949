package prepare

import (
	"context"

	"bookstead/internal/class"
	"bookstead/internal/kit"
	"bookstead/internal/pace"
	"bookstead/internal/store"
)

// Ready reports whether a kit opens at once, without reading its book first.
func (w *Workshop) Ready(ctx context.Context, id kit.ID) bool {
	k, err := w.store.Kits().Get(ctx, id)
	if err != nil {
		return true // Open will say what is wrong
	}
	b, err := w.store.Books().Get(ctx, k.Book)
	if err != nil {
		return true
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	d, ok := w.docs.get(textKey(b))
	return ok && d.Text == b.Text
}

// ClassRevision is the revision of a class, for a form to send back.
func ClassRevision(c store.Class) Revision { return c.Revisions[store.ClassKey] }

// RateNote says at which rate a class reads, and by which table.
func RateNote(c class.Class) string {
	r := pace.Of(c, "", pace.MidYear)
	if r.Source == "" {
		return r.Why
	}
	return r.Why + " (" + r.Source + ")"
}
