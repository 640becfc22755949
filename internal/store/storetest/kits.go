package storetest

import (
	"testing"

	"bookstead/internal/book"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/record"
	"bookstead/internal/store"
)

var kitCases = []testCase{
	{"Kits.Create and Get give the same kit", func(t *testing.T, f *fixture) {
		b, c, _ := f.library()
		k := kit.Kit{
			ID: "k2", Book: b.ID, Class: c.ID,
			Cuts:    []kit.Cut{{Place: b.Place(book.Span{Start: 0, End: 3}), Title: "One"}, {Place: b.Place(book.Span{Start: 30, End: 34})}},
			Edition: book.Edition{Name: "the green one", First: map[int]int{2: 11, 1: 7}, Last: 99, Fixed: []book.FixedPage{{Place: b.Place(book.Span{Start: 4, End: 8}), Page: 8}}},
			// A head that a browser would read as markup, a number with a fraction.
			Decisions: []kit.Decision{aDecision(b, "b-1", "doleful"), aDecision(b, "a-2", "<gate>")},
			Words:     []kit.OwnWord{{Word: "doleful", Meaning: "sad & sorry"}, {Word: "gate"}},
		}
		f.must(f.Kits().Create(f.ctx, k, at(3)))
		got := f.kit("k2")
		k.Decisions[0], k.Decisions[1] = k.Decisions[1], k.Decisions[0] // by ID
		f.want("kit", got.Kit, k)
		f.want("created", got.Created, kept(3))
		f.want("standing", got.Standing, store.Standing{Head: 1, Revisions: map[store.Key]store.Revision{
			store.CutsKey: 1, store.EditionKey: 1, store.WordsKey: 1, store.DecisionKey("a-2"): 1, store.DecisionKey("b-1"): 1,
		}})
	}},
	{"Kits keep children's answers beside the kit", func(t *testing.T, f *fixture) {
		_, _, k := f.library()
		answers := []record.Answer{{Item: "q-1", Student: "s-1", Text: "Because he was <tired> & sad.", Verdict: record.Partly, Day: 20700}, {Item: "q-2", Text: "The hen."}}
		f.change(store.OfKit(k.ID), 2, "Kept an answer", store.SetAnswers(answers, 0))
		got := f.kit(k.ID)
		f.want("answers", got.Answers, answers)
		f.want("kit", got.Kit, k)
		_, err := f.Journal().Undo(f.ctx, store.OfKit(k.ID), store.Any, at(3))
		f.must(err)
		f.want("undone", f.kit(k.ID).Answers, []record.Answer(nil))
	}},
	{"Kits.Create is refused for an ID that is taken", func(t *testing.T, f *fixture) {
		_, _, k := f.library()
		f.wantFault("again", f.Kits().Create(f.ctx, k, at(2)), fault.Conflict)
		f.must(f.Kits().Delete(f.ctx, k.ID, at(3)))
		f.wantFault("in the bin", f.Kits().Create(f.ctx, k, at(4)), fault.Conflict)
	}},
	{"Kits.Create needs its book, its class and decisions that differ", func(t *testing.T, f *fixture) {
		b, c, k := f.library()
		f.wantFault("no book", f.Kits().Create(f.ctx, kit.Kit{ID: "x", Book: "nowhere", Class: c.ID}, at(2)), fault.NotFound)
		f.wantFault("no class", f.Kits().Create(f.ctx, kit.Kit{ID: "x", Book: b.ID, Class: "nowhere"}, at(2)), fault.NotFound)
		twice := kit.Kit{ID: "x", Book: b.ID, Class: c.ID, Decisions: []kit.Decision{aDecision(b, "i", "one"), aDecision(b, "i", "two")}}
		f.wantFault("one decision twice", f.Kits().Create(f.ctx, twice, at(2)), fault.Invalid)
		f.must(f.Kits().Delete(f.ctx, k.ID, at(2)))
		f.must(f.Books().Delete(f.ctx, b.ID, false, at(2)))
		f.wantFault("book in the bin", f.Kits().Create(f.ctx, kit.Kit{ID: "x", Book: b.ID, Class: c.ID}, at(2)), fault.NotFound)
		f.must(f.Bin().Restore(f.ctx, bookRef(b.ID)))
		f.must(f.Kits().Create(f.ctx, kit.Kit{ID: "x", Book: b.ID, Class: c.ID}, at(2)))
	}},
	{"Kits.Get finds nothing", func(t *testing.T, f *fixture) {
		_, err := f.Kits().Get(f.ctx, "nowhere")
		f.wantFault("get", err, fault.NotFound)
	}},
	{"Kits.List has the kit changed last first", func(t *testing.T, f *fixture) {
		b, c, k := f.library()
		f.must(f.Kits().Create(f.ctx, kit.Kit{ID: "k2", Book: b.ID, Class: c.ID}, at(2)))
		f.must(f.Kits().Create(f.ctx, kit.Kit{ID: "k0", Book: b.ID, Class: c.ID}, at(2)))
		f.change(store.OfKit(k.ID), 5, "Kept", store.SetDecision(aDecision(b, "i", "doleful"), 0), store.SetEdition(book.Edition{Last: 9}, 0))
		summary := func(id kit.ID, decisions, created, changed int) store.KitSummary {
			return store.KitSummary{ID: id, Book: b.ID, Class: c.ID, BookTitle: "The Gate", ClassName: "Grade 4", Decisions: decisions, Created: kept(created), Changed: kept(changed)}
		}
		list, err := f.Kits().List(f.ctx)
		f.must(err)
		f.want("kits", list, []store.KitSummary{summary(k.ID, 1, 1, 5), summary("k0", 0, 2, 2), summary("k2", 0, 2, 2)})
		_, err = f.Journal().Undo(f.ctx, store.OfKit(k.ID), store.Any, at(7))
		f.must(err)
		f.must(f.Kits().Delete(f.ctx, "k2", at(8)))
		list, err = f.Kits().List(f.ctx)
		f.must(err)
		f.want("kits", list, []store.KitSummary{summary(k.ID, 0, 1, 7), summary("k0", 0, 2, 2)})
	}},
	{"Kits.Delete puts a kit out of sight", func(t *testing.T, f *fixture) {
		_, _, k := f.library()
		f.must(f.Kits().Delete(f.ctx, k.ID, at(2)))
		_, err := f.Kits().Get(f.ctx, k.ID)
		f.wantFault("get", err, fault.NotFound)
		list, err := f.Kits().List(f.ctx)
		f.must(err)
		f.want("kits", len(list), 0)
		f.wantFault("delete again", f.Kits().Delete(f.ctx, k.ID, at(3)), fault.NotFound)
		_, err = f.Journal().Change(f.ctx, store.OfKit(k.ID), store.Change{Label: "Kept", At: at(4), Edits: []store.Edit{store.SetEdition(book.Edition{Last: 3}, 0)}})
		f.wantFault("change", err, fault.NotFound)
	}},
}
