package prepare

import (
	"context"
	"fmt"

	"bookstead/internal/book"
	"bookstead/internal/divide"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/store"
)

// Cut is a place where a lesson may begin, as the teacher is offered it.
type Cut struct {
	Offset int
	// What says what begins there: "chapter", "scene break", "paragraph" …
	What string
	// Opening are the first words that would open the lesson.
	Opening string
	// Words from the start of the lesson that holds it.
	Words int
	Page  string
}

// CutsNear offers places where the lesson (from 1) could begin instead, or where
// it could be split: the better ones first, at most n.
func (p *Prepared) CutsNear(lesson, n int) (begin, split []Cut) {
	if lesson < 1 || lesson > len(p.Lessons) {
		return nil, nil
	}
	bs := divide.Boundaries(p.Book, divide.For(p.Class, p.Kit).Introduction)
	l := p.Lessons[lesson-1]
	if lesson > 1 {
		begin = p.offer(divide.Near(bs, l.Start, 600), l.Start, p.Lessons[lesson-2].Start, l.End, n)
	}
	return begin, p.offer(divide.Near(bs, (l.Start+l.End)/2, l.Words/2), l.Start, l.Start, l.End, n)
}

// offer shows the boundaries that lie strictly between lo and hi, but for the
// one where a lesson begins now.
func (p *Prepared) offer(bs []divide.Boundary, now, lo, hi, n int) (out []Cut) {
	for _, b := range bs {
		if b.Offset <= lo || b.Offset >= hi || b.Offset == now || len(out) == n {
			continue
		}
		opening := p.Book.Slice(book.Span{Start: b.Offset, End: min(b.Offset+60, hi)})
		out = append(out, Cut{Offset: b.Offset, What: b.Kind.String(), Opening: opening, Page: p.Page(b.Offset),
			Words: book.Words(p.Book.Slice(book.Span{Start: lo, End: b.Offset}))})
	}
	return out
}

// recut changes the division: edit gets the cuts as they stand.
func (w *Workshop) recut(ctx context.Context, id kit.ID, seen Revision, label string, edit func(b *book.Book, cuts []kit.Cut) ([]kit.Cut, error)) error {
	o, err := w.Open(ctx, id, nil)
	if err != nil {
		return err
	}
	lessons := make([]kit.Lesson, len(o.Lessons))
	for i, l := range o.Lessons {
		lessons[i] = l.Lesson
	}
	cuts, err := edit(o.Book, divide.Cuts(o.Book, lessons, o.Kit.Cuts))
	if err != nil {
		return err
	}
	return w.change(ctx, id, label, store.SetCuts(cuts, seen))
}

// CutsRevision is the revision of the division, for a page to send back.
func (o *Opened) CutsRevision() Revision { return o.Standing.Revisions[store.CutsKey] }

// BeginLesson moves the beginning of a lesson to the boundary nearest to offset.
func (w *Workshop) BeginLesson(ctx context.Context, id kit.ID, seen Revision, lesson, offset int) error {
	return w.recut(ctx, id, seen, fmt.Sprintf("Moved the beginning of lesson %d", lesson), func(b *book.Book, cuts []kit.Cut) ([]kit.Cut, error) {
		return divide.Move(b, cuts, lesson, offset)
	})
}

// SplitLesson lets another lesson begin at the boundary nearest to offset.
func (w *Workshop) SplitLesson(ctx context.Context, id kit.ID, seen Revision, offset int) error {
	return w.recut(ctx, id, seen, "Split a lesson", func(b *book.Book, cuts []kit.Cut) ([]kit.Cut, error) {
		return divide.Add(b, cuts, offset)
	})
}

// JoinLesson joins a lesson to the one before it.
func (w *Workshop) JoinLesson(ctx context.Context, id kit.ID, seen Revision, lesson int) error {
	return w.recut(ctx, id, seen, fmt.Sprintf("Joined lesson %d to the one before", lesson), func(b *book.Book, cuts []kit.Cut) ([]kit.Cut, error) {
		return divide.Remove(b, cuts, lesson)
	})
}

// NameLesson gives a lesson a title of the teacher's own; "" takes it back.
func (w *Workshop) NameLesson(ctx context.Context, id kit.ID, seen Revision, lesson int, title string) error {
	return w.recut(ctx, id, seen, fmt.Sprintf("Named lesson %d", lesson), func(_ *book.Book, cuts []kit.Cut) ([]kit.Cut, error) {
		if lesson < 1 || lesson > len(cuts) {
			return nil, fault.New(fault.NotFound, fmt.Sprintf("This kit has no lesson %d.", lesson), "Choose one from the list of lessons.")
		}
		cuts[lesson-1].Title = title
		return cuts, nil
	})
}

// Redivide gives the division back to the program.
func (w *Workshop) Redivide(ctx context.Context, id kit.ID, seen Revision) error {
	return w.change(ctx, id, "Went back to the program’s own division", store.SetCuts(nil, seen))
}
