package prepare

import (
	"context"
	"slices"

	"bookstead/internal/book"
	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/digest"
	"bookstead/internal/kit"
	"bookstead/internal/planner"
	"bookstead/internal/store"
)

// Digests sum up the chapters that the class reads, in order.
func (p *Prepared) Digests() []Digest {
	var out []Digest
	for i, c := range p.Book.Chapters {
		if c.Kind.Told() {
			out = append(out, digest.Of(p.Book, p.Doc, i))
		}
	}
	return out
}

// LessonOf is the number of the lesson in which a place lies, 0 for none.
func (p *Prepared) LessonOf(offset int) int {
	for _, l := range p.Lessons {
		if l.Start <= offset && offset < l.End {
			return l.Number
		}
	}
	return 0
}

// Checklist is what to have ready for each lesson of a kit, by the class's plan.
func (w *Workshop) Checklist(ctx context.Context, o *Opened) ([]Ready, error) {
	y, err := w.Year(ctx, o.Class.ID, nil)
	if err != nil {
		return nil, err
	}
	return planner.Checklist(o.Kit.ID, o.Lessons, y.Plan, o.Hold()), nil
}

// ReadAhead lays the novels of a class's year, for the teacher to read, on the
// weekdays (Sunday first) from one day to another, each done before the class
// begins it.
func (w *Workshop) ReadAhead(ctx context.Context, id class.ID, weekdays [7]bool, first, last calendar.Date) (*Ahead, error) {
	y, err := w.Year(ctx, id, nil)
	if err != nil {
		return nil, err
	}
	var novels []planner.Novel
	for _, b := range y.Books {
		if !b.In {
			continue
		}
		k, err := w.store.Kits().Get(ctx, b.Kit)
		if err != nil {
			return nil, err
		}
		text, err := w.store.Books().Get(ctx, k.Book)
		if err != nil {
			return nil, err
		}
		n := planner.Novel{Title: b.Title}
		n.By, _ = readFrom(y, b.Kit)
		for _, c := range text.Chapters {
			if c.Kind.Told() {
				n.Chapters = append(n.Chapters, planner.Length{Name: c.Name(), Words: book.Words(text.Slice(c.Span))})
			}
		}
		novels = append(novels, n)
	}
	return planner.ReadAhead(novels, weekdays, first, last, 0)
}

// RememberWords puts the words of a kit to those that its class has had, so that
// later books do not teach them again and may bring them back.
func (w *Workshop) RememberWords(ctx context.Context, id kit.ID) error {
	o, err := w.Open(ctx, id, nil)
	if err != nil {
		return err
	}
	c, err := w.store.Classes().Get(ctx, o.Class.ID)
	if err != nil {
		return err
	}
	next := c.Class
	if next.Had = AddHad(c.Had, o.Taught()); slices.Equal(next.Had, c.Had) {
		return nil
	}
	_, err = w.store.Journal().Change(ctx, store.OfClass(c.ID), store.Change{Label: "Remembered the words of " + o.Book.Title, At: w.now(),
		Edits: []store.Edit{store.SetClass(next, c.Revisions[store.ClassKey])}})
	return err
}
