package sqlite_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"bookstead/internal/book"
	"bookstead/internal/class"
	"bookstead/internal/kit"
	"bookstead/internal/store"
	"bookstead/internal/store/sqlite"
)

// years is a store after years of use: 20 novels of 500 KB, 10 kits with 600
// decisions made in 400 steps each.
func years(b *testing.B) (dir string) {
	b.Helper()
	dir = b.TempDir()
	s := open(b, dir)
	ctx := b.Context()
	must := func(err error) {
		if err != nil {
			b.Fatal(err)
		}
	}
	for n := range 20 {
		x := &book.Book{ID: book.ID(fmt.Sprint("b", n)), Title: fmt.Sprint("Novel ", n), Text: strings.Repeat("“It’s a long way to go,” he said. ", 14_000)}
		for at := 0; at < len(x.Text); at += 400 {
			x.Blocks = append(x.Blocks, book.Block{Span: book.Span{Start: at, End: at + 398}, Kind: book.Paragraph})
		}
		_, err := s.Books().Put(ctx, x, today)
		must(err)
	}
	must(s.Classes().Create(ctx, class.Class{ID: "c", Name: "Grade 4"}, today))
	for n := range 10 {
		id := kit.ID(fmt.Sprint("k", n))
		k := kit.Kit{ID: id, Book: book.ID(fmt.Sprint("b", n)), Class: "c"}
		for i := range 200 {
			k.Decisions = append(k.Decisions, decision(i, "kept"))
		}
		must(s.Kits().Create(ctx, k, today))
		for i := range 400 {
			_, err := s.Journal().Change(ctx, store.OfKit(id), store.Change{Label: "Kept “doleful”", At: today, Edits: []store.Edit{store.SetDecision(decision(200+i, "kept"), 0)}})
			must(err)
		}
	}
	closed(b, s)
	s, err := sqlite.Open(ctx, dir, today.Add(time.Hour))
	must(err)
	closed(b, s)
	return dir
}

func decision(n int, head string) kit.Decision {
	return kit.Decision{
		ID: kit.ItemID(fmt.Sprintf("%016x", n)), Kind: kit.Vocabulary, State: kit.Kept,
		Place:   book.Place{Span: book.Span{Start: n, End: n + 7}, Exact: "doleful", Prefix: strings.Repeat("p", 32), Suffix: strings.Repeat("s", 32)},
		Content: kit.Content{Head: head, Lemma: "doleful", Sentence: strings.Repeat("The doleful gate. ", 8), Meaning: "very sad"},
	}
}

func BenchmarkStore(b *testing.B) {
	dir := years(b)
	ctx := b.Context()
	b.Run("Open", func(b *testing.B) {
		for b.Loop() {
			closed(b, open(b, dir))
		}
	})
	b.Run("OpenFirstOfADay", func(b *testing.B) {
		for n := 1; b.Loop(); n++ {
			s, err := sqlite.Open(ctx, dir, today.AddDate(0, 0, n))
			if err != nil {
				b.Fatal(err)
			}
			closed(b, s)
		}
	})
	s := open(b, dir)
	b.Run("Change", func(b *testing.B) {
		for n := 0; b.Loop(); n++ {
			edit := store.SetDecision(decision(1, fmt.Sprint(n, time.Now().UnixNano())), store.Any)
			if _, err := s.Journal().Change(ctx, store.OfKit("k1"), store.Change{Label: "Changed", At: today, Edits: []store.Edit{edit}}); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("ChangeUndoRedo", func(b *testing.B) {
		for b.Loop() {
			if _, err := s.Journal().Undo(ctx, store.OfKit("k1"), store.Any, today); err != nil {
				b.Fatal(err)
			}
			if _, err := s.Journal().Redo(ctx, store.OfKit("k1"), store.Any, today); err != nil {
				b.Fatal(err)
			}
		}
	})
	for name, read := range map[string]func() error{
		"GetKit":   func() error { _, err := s.Kits().Get(ctx, "k2"); return err },
		"GetBook":  func() error { _, err := s.Books().Get(ctx, "b2"); return err },
		"ListKits": func() error { _, err := s.Kits().List(ctx); return err },
		"Library":  func() error { _, err := s.Books().List(ctx); return err },
		"Check":    func() error { _, err := s.Pragma(ctx, "quick_check(1)"); return err },
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if err := read(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
