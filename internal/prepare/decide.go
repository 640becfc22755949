package prepare

import (
	"context"
	"fmt"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/store"
)

// Find returns an item of the kit and the index of its lesson.
func (p *Prepared) Find(id kit.ItemID) (it kit.Item, lesson int, ok bool) {
	for i, l := range p.Lessons {
		for _, x := range l.Items {
			if x.ID == id {
				return x, i, true
			}
		}
	}
	return kit.Item{}, 0, false
}

func gone() error {
	return fault.New(fault.NotFound, "This item is not in the kit any more.", "Load the page again.")
}

// revision is that of a decision, 0 while the item is a draft.
func (o *Opened) revision(id kit.ItemID) store.Revision {
	return o.Standing.Revisions[store.DecisionKey(id)]
}

// Revision is the revision of the decision on an item, for a page to send back.
func (o *Opened) Revision(id kit.ItemID) store.Revision { return o.revision(id) }

// decide changes one item in one step of the journal.
func (w *Workshop) decide(ctx context.Context, id kit.ID, item kit.ItemID, seen store.Revision, verb string, change func(*kit.Decision) error) error {
	o, err := w.Open(ctx, id, nil)
	if err != nil {
		return err
	}
	it, _, ok := o.Find(item)
	if !ok {
		return gone()
	}
	d := it.Decision(it.State)
	if it.State == kit.Drafted {
		d.State = kit.Kept
	}
	if err := change(&d); err != nil {
		return err
	}
	return w.change(ctx, id, verb+" "+Name(it.Kind, d.Content), store.SetDecision(d, seen))
}

func (w *Workshop) change(ctx context.Context, id kit.ID, label string, edits ...store.Edit) error {
	_, err := w.store.Journal().Change(ctx, store.OfKit(id), store.Change{Label: label, At: w.now(), Edits: edits})
	return err
}

// Name is an item in a few words, for labels: “doleful”, a question's beginning.
func Name(k kit.Kind, c kit.Content) string {
	s := c.Head
	if s == "" {
		s = c.Sentence
	}
	if r := []rune(s); len(r) > 48 {
		s = strings.TrimSpace(string(r[:47])) + "…"
	}
	return fmt.Sprintf("the %s “%s”", KindName(k), strings.Trim(book.Typeset(s), "“”"))
}

// Keep keeps a draft as it is, or takes a dropped item back.
func (w *Workshop) Keep(ctx context.Context, id kit.ID, item kit.ItemID, seen store.Revision) error {
	return w.decide(ctx, id, item, seen, "Kept", func(d *kit.Decision) error { d.State = kit.Kept; return nil })
}

// Drop takes an item off every paper; it stays in the desk to be taken back.
func (w *Workshop) Drop(ctx context.Context, id kit.ID, item kit.ItemID, seen store.Revision) error {
	return w.decide(ctx, id, item, seen, "Dropped", func(d *kit.Decision) error { d.State = kit.Dropped; return nil })
}

// Change gives an item other words.
func (w *Workshop) Change(ctx context.Context, id kit.ID, item kit.ItemID, seen store.Revision, c kit.Content) error {
	if err := checkContent(c); err != nil {
		return err
	}
	return w.decide(ctx, id, item, seen, "Changed", func(d *kit.Decision) error {
		if d.State != kit.Added {
			d.State = kit.Changed
		}
		d.Content = c
		return nil
	})
}

// Mark puts an item on the quiz or the test, or takes it off.
func (w *Workshop) Mark(ctx context.Context, id kit.ID, item kit.ItemID, seen store.Revision, m kit.Marks) error {
	return w.decide(ctx, id, item, seen, "Marked", func(d *kit.Decision) error { d.Marks = m; return nil })
}

// Undraft forgets the decision on a drafted item, so that the draft stands again.
func (w *Workshop) Undraft(ctx context.Context, id kit.ID, item kit.ItemID, seen store.Revision) error {
	return w.change(ctx, id, "Went back to the draft", store.RemoveDecision(item, seen))
}

// KeepAll keeps every printed draft of a lesson (from 1) in one step.
func (w *Workshop) KeepAll(ctx context.Context, id kit.ID, lesson int) error {
	o, err := w.Open(ctx, id, nil)
	if err != nil {
		return err
	}
	if lesson < 1 || lesson > len(o.Lessons) {
		return fault.New(fault.NotFound, fmt.Sprintf("This kit has no lesson %d.", lesson), "Choose one from the list of lessons.")
	}
	var edits []store.Edit
	for _, it := range o.Lessons[lesson-1].Items {
		if it.State == kit.Drafted && !it.Spare {
			edits = append(edits, store.SetDecision(it.Decision(kit.Kept), o.revision(it.ID)))
		}
	}
	if len(edits) == 0 {
		return nil
	}
	return w.change(ctx, id, fmt.Sprintf("Kept all %d drafts of lesson %d", len(edits), lesson), edits...)
}

// Add puts an item of the teacher's own into a lesson, at a span of the text or,
// with an empty span, at the lesson's start.
func (w *Workshop) Add(ctx context.Context, id kit.ID, lesson int, kind kit.Kind, at book.Span, c kit.Content) (kit.ItemID, error) {
	if err := checkContent(c); err != nil {
		return "", err
	}
	o, err := w.Open(ctx, id, nil)
	if err != nil {
		return "", err
	}
	if lesson < 1 || lesson > len(o.Lessons) {
		return "", fault.New(fault.NotFound, fmt.Sprintf("This kit has no lesson %d.", lesson), "Choose one from the list of lessons.")
	}
	l := o.Lessons[lesson-1]
	if at.Len() <= 0 || !l.Span.Contains(at) {
		at = o.firstSentence(l.Span)
	}
	d := kit.Decision{ID: kit.ItemID("own-" + w.newID()), Kind: kind, State: kit.Added, Place: o.Book.Place(at), Content: c}
	if kind == kit.Vocabulary && d.Content.Lemma == "" {
		d.Content.Lemma = strings.ToLower(d.Content.Head)
	}
	return d.ID, w.change(ctx, id, "Added "+Name(kind, c), store.SetDecision(d, 0))
}

func (p *Prepared) firstSentence(s book.Span) book.Span {
	if i := p.Doc.SentenceAt(s.Start-1) + 1; i < len(p.Doc.Sentences) {
		sp := p.Doc.SentenceSpan(i)
		return book.Span{Start: sp.Start, End: sp.End}
	}
	return book.Span{Start: s.Start, End: min(s.End, s.Start+1)}
}

// Move puts an item one place up (by < 0) or down among its kind in its lesson.
func (w *Workshop) Move(ctx context.Context, id kit.ID, item kit.ItemID, by int) error {
	o, err := w.Open(ctx, id, nil)
	if err != nil {
		return err
	}
	it, lesson, ok := o.Find(item)
	if !ok {
		return gone()
	}
	var same []kit.Item
	at := -1
	for _, x := range o.Lessons[lesson].Items {
		if x.Kind == it.Kind && x.State != kit.Dropped && (!x.Spare || x.State != kit.Drafted) {
			if x.ID == item {
				at = len(same)
			}
			same = append(same, x)
		}
	}
	to := at + by
	if at < 0 || to < 0 || to >= len(same) || by == 0 {
		return nil
	}
	// The whole order is written down, so that it stays whatever is drafted later.
	moved := same[at]
	same = append(same[:at], same[at+1:]...)
	same = append(same[:to], append([]kit.Item{moved}, same[to:]...)...)
	base := float64(o.Lessons[lesson].Start)
	var edits []store.Edit
	for i, x := range same {
		d := x.Decision(x.State)
		if x.State == kit.Drafted {
			d.State = kit.Kept
		}
		d.Position = base + float64(i+1)/1024
		edits = append(edits, store.SetDecision(d, o.revision(x.ID)))
	}
	return w.change(ctx, id, "Moved "+Name(it.Kind, it.Content), edits...)
}

// Undo takes the last step back.
func (w *Workshop) Undo(ctx context.Context, id kit.ID, seen store.Revision) (store.Step, error) {
	return w.store.Journal().Undo(ctx, store.OfKit(id), seen, w.now())
}

// Redo does the step undone last again.
func (w *Workshop) Redo(ctx context.Context, id kit.ID, seen store.Revision) (store.Step, error) {
	return w.store.Journal().Redo(ctx, store.OfKit(id), seen, w.now())
}

// History returns the latest steps of a kit.
func (w *Workshop) History(ctx context.Context, id kit.ID, limit int) ([]store.Step, error) {
	return w.store.Journal().History(ctx, store.OfKit(id), limit)
}

// mostText bounds what one field of an item may hold, in bytes: short
// quotations and answers, never the book.
const mostText = 4000

func checkContent(c kit.Content) error {
	if strings.TrimSpace(c.Head) == "" && strings.TrimSpace(c.Sentence) == "" {
		return fault.New(fault.Invalid, "The item is empty.", "Type at least its first field, or drop it.")
	}
	for _, s := range []string{c.Head, c.Sentence, c.Meaning, c.Synonym, c.Answer, c.Note, c.Pattern} {
		if len(s) > mostText {
			return fault.New(fault.TooLarge, "This text is too long for a page.", "Keep it under about six hundred words, and quote only short passages.")
		}
	}
	return nil
}

// KindName is a kind of item in the trade's words.
func KindName(k kit.Kind) string {
	switch k {
	case kit.Background:
		return "background note"
	case kit.Vocabulary:
		return "word"
	case kit.Practice:
		return "practice word"
	case kit.Figure:
		return "figure of speech"
	case kit.Passage:
		return "key passage"
	case kit.Discussion:
		return "discussion prompt"
	}
	return string(k)
}
