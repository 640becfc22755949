package storetest

import (
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"bookstead/internal/book"
	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
	"bookstead/internal/store"
)

// fixture is the store under test with what the cases have in common.
type fixture struct {
	*testing.T
	store.Store
	ctx context.Context
}

// at is a fixed moment, n minutes on, with more digits than a store keeps.
func at(n int) time.Time {
	return time.Date(2026, 9, 1, 8, n, 0, 123456789, time.FixedZone("home", -5*3600))
}

// kept is a moment as a store keeps it.
func kept(n int) time.Time { return at(n).Truncate(time.Microsecond).UTC() }

// must ends the case when err is not nil.
func (f *fixture) must(err error) {
	f.Helper()
	if err != nil {
		f.Fatal(err)
	}
}

// want compares what was got with what is wanted; nil and empty are the same.
func (f *fixture) want(what string, got, want any) {
	f.Helper()
	if d := cmp.Diff(want, got, cmp.Transformer("time", func(t time.Time) string { return t.UTC().Format(time.RFC3339Nano) })); d != "" {
		f.Errorf("%s (-want +got):\n%s", what, d)
	}
}

// wantFault checks that err is a fault of the kind with a message for people.
func (f *fixture) wantFault(what string, err error, kind fault.Kind) {
	f.Helper()
	if !fault.Is(err, kind) {
		f.Errorf("%s: got the error %v, want the kind %q", what, err, kind)
	} else if fault.Of(err).Message == "" {
		f.Errorf("%s: no message for people", what)
	}
}

// aBook is a small book with everything that a book can hold.
func aBook(id book.ID, title, text string) *book.Book {
	var w book.Builder
	w.Chapter(book.Chapter{Kind: book.Front, Part: -1})
	w.Add(book.Paragraph, "For nobody in particular.")
	part := w.Part(book.Part{Label: "Part One", Title: "Wind"})
	w.Page("5", 0)
	w.Chapter(book.Chapter{Kind: book.Introduction, Title: "To the reader", Part: -1})
	w.Add(book.Heading, "To the reader")
	w.Add(book.Paragraph, "Read on.")
	w.Chapter(book.Chapter{Kind: book.Body, Label: "Chapter I", Number: 1, Title: "The Gate", Part: part})
	w.Add(book.Heading, "The Gate")
	w.Add(book.Paragraph, text, book.Span{Start: 0, End: 3})
	b := w.Book()
	b.ID, b.Title, b.Author, b.Language = id, title, "A. Writer", "en"
	b.Source = book.Source{Format: "text", File: "gate.txt", SHA256: fmt.Sprintf("%064d", len(text))}
	b.Setaside, b.Notes = []string{"A <licence> & \"more\"."}, []string{"One heading was unsure."}
	return b
}

const gateText = "The gate — “old & doleful” — had\u2028no <hinges>. Zoë laughed."

// words and chapters of aBook with gateText: "To the reader Read on." and
// "The Gate" with its text; one chapter that counts.
const gateWords, gateChapters = 5 + 2 + 9, 1

func aClass(id class.ID, name string) class.Class {
	return class.Class{
		ID: id, Name: name, School: "Hill School", Grade: 4, Copies: 12,
		Students: []class.Student{{ID: "s1", Name: "Ada", WCPM: 93.5, Note: "sits in front"}, {ID: "s2", Name: "Ben"}},
		Calendar: calendar.PlainYear(calendar.Of(2026, 9, 1), 60),
		Settings: class.Defaults(4),
	}
}

func aDecision(b *book.Book, id kit.ItemID, head string) kit.Decision {
	return kit.Decision{
		ID: id, Kind: kit.Vocabulary, State: kit.Changed, Place: b.Place(book.Span{Start: 4, End: 10}),
		Content: kit.Content{Head: head, Lemma: head, Meaning: "very sad, “as a rainy day”", Note: "<b>&"},
		Marks:   kit.Marks{Quiz: true}, Position: 12.75,
	}
}

func aPlan(id class.ID, k kit.ID) plan.Plan {
	return plan.Plan{Class: id, Notes: []string{"No holidays are in this calendar."}, Days: []plan.Day{
		{Date: calendar.Of(2026, 9, 1), Available: 60, Steps: []plan.Step{{Kit: k, Lesson: 1, Kind: plan.Reading, Minutes: 25, Span: book.Span{Start: 3, End: 90}}}},
		{Date: calendar.Of(2026, 9, 3), Available: 60, Steps: []plan.Step{{Kit: k, Lesson: 1, Kind: plan.Questions, Minutes: 15}}},
	}}
}

// library puts a book, a class and a kit into the store.
func (f *fixture) library() (*book.Book, class.Class, kit.Kit) {
	f.Helper()
	b, c := aBook("gate", "The Gate", gateText), aClass("c4", "Grade 4")
	k := kit.Kit{ID: "k1", Book: b.ID, Class: c.ID}
	_, err := f.Books().Put(f.ctx, b, at(0))
	f.must(err)
	f.must(f.Classes().Create(f.ctx, c, at(0)))
	f.must(f.Kits().Create(f.ctx, k, at(1)))
	return b, c, k
}

// change makes a change that must succeed.
func (f *fixture) change(s store.Subject, minute int, label string, edits ...store.Edit) store.Step {
	f.Helper()
	st, err := f.Journal().Change(f.ctx, s, store.Change{Label: label, At: at(minute), Edits: edits})
	f.must(err)
	return st
}

// kit reads a kit that must be there.
func (f *fixture) kit(id kit.ID) store.Kit {
	f.Helper()
	k, err := f.Kits().Get(f.ctx, id)
	f.must(err)
	return k
}

// decisions are the heads of a kit's decisions by item.
func decisions(k store.Kit) map[kit.ItemID]string {
	out := map[kit.ItemID]string{}
	for _, d := range k.Decisions {
		out[d.ID] = d.Content.Head
	}
	return out
}

func bookRef(id book.ID) store.Ref   { return store.Ref{Kind: store.BookRef, ID: string(id)} }
func classRef(id class.ID) store.Ref { return store.Ref{Kind: store.ClassRef, ID: string(id)} }
func kitRef(id kit.ID) store.Ref     { return store.Ref{Kind: store.KitRef, ID: string(id)} }
