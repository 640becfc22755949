package prepare

import (
	"context"
	"fmt"

	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/store"
)

// PagesOf says where a span stands in the class's own printed copy: "pages
// 27–36", "about page 40", "" without known pages. Edges that are not exact
// make it "about".
func PagesOf(p *book.Pages, s book.Span) string {
	if p == nil {
		return ""
	}
	first, last, about, ok := p.Range(s)
	if !ok {
		return ""
	}
	word := ""
	if about {
		word = "about "
	}
	if first == last {
		return fmt.Sprintf("%spage %d", word, first)
	}
	return fmt.Sprintf("%spages %d–%d", word, first, last)
}

// Page says on which page an offset stands, as PagesOf.
func (p *Prepared) Page(offset int) string {
	return PagesOf(p.Pages, book.Span{Start: offset, End: offset + 1})
}

// SetPages keeps the pages of the class's own copy. Problems are told with the
// chapter at fault, and nothing is kept until they are mended.
func (w *Workshop) SetPages(ctx context.Context, id kit.ID, e book.Edition, seen Revision) error {
	k, err := w.store.Kits().Get(ctx, id)
	if err != nil {
		return err
	}
	b, err := w.store.Books().Get(ctx, k.Book)
	if err != nil {
		return err
	}
	if err := e.Validate(b); err != nil {
		return err
	}
	return w.change(ctx, id, "Changed the pages of your copy", store.SetEdition(e, seen))
}

// FixPage says that a place of the text stands on this page of the class's copy.
func (w *Workshop) FixPage(ctx context.Context, id kit.ID, offset, page int) error {
	o, err := w.Open(ctx, id, nil)
	if err != nil {
		return err
	}
	e := o.Kit.Edition
	at := o.Book.Place(book.Span{Start: offset, End: min(offset+24, len(o.Book.Text))})
	fixed := []book.FixedPage{{Place: at, Page: page}}
	for _, f := range e.Fixed {
		if f.Place.Start != offset {
			fixed = append(fixed, f)
		}
	}
	e.Fixed = fixed
	return w.SetPages(ctx, id, e, o.Standing.Revisions[store.EditionKey])
}

// PagesRevision is the revision of the pages, for a page to send back.
func (o *Opened) PagesRevision() Revision { return o.Standing.Revisions[store.EditionKey] }
