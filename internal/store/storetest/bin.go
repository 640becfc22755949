package storetest

import (
	"testing"

	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
	"bookstead/internal/store"
)

var binCases = []testCase{
	{"Bin.List says what went in, when and with what", func(t *testing.T, f *fixture) {
		list, err := f.Bin().List(f.ctx)
		f.must(err)
		f.want("empty", len(list), 0)
		b, c, k := f.library()
		f.must(f.Kits().Create(f.ctx, kit.Kit{ID: "k2", Book: b.ID, Class: c.ID}, at(1)))
		f.must(f.Kits().Delete(f.ctx, "k2", at(2)))
		f.must(f.Books().Delete(f.ctx, b.ID, true, at(3)))
		f.must(f.Classes().Delete(f.ctx, c.ID, false, at(4)))
		list, err = f.Bin().List(f.ctx)
		f.must(err)
		f.want("bin", list, []store.Binned{
			{Ref: classRef(c.ID), Name: "Grade 4", At: kept(4)},
			{Ref: bookRef(b.ID), Name: "The Gate", At: kept(3)},
			{Ref: kitRef(k.ID), Name: "The Gate, Grade 4", At: kept(3), With: bookRef(b.ID)},
			{Ref: kitRef("k2"), Name: "The Gate, Grade 4", At: kept(2)},
		})
	}},
	{"Bin.Restore brings a thing back as it was", func(t *testing.T, f *fixture) {
		b, _, k := f.library()
		f.change(store.OfKit(k.ID), 2, "one", store.SetDecision(aDecision(b, "a", "1"), 0))
		f.change(store.OfKit(k.ID), 3, "two", store.SetDecision(aDecision(b, "a", "2"), 2))
		_, err := f.Journal().Undo(f.ctx, store.OfKit(k.ID), store.Any, at(4))
		f.must(err)
		before := f.kit(k.ID)
		f.must(f.Kits().Delete(f.ctx, k.ID, at(5)))
		f.must(f.Bin().Restore(f.ctx, kitRef(k.ID)))
		f.want("kit", f.kit(k.ID), before)
		_, err = f.Journal().Redo(f.ctx, store.OfKit(k.ID), 3, at(6))
		f.must(err)
		f.wantFault("again", f.Bin().Restore(f.ctx, kitRef(k.ID)), fault.NotFound)
		f.wantFault("no such kind", f.Bin().Restore(f.ctx, store.Ref{Kind: "hat", ID: "x"}), fault.NotFound)
	}},
	{"Bin.Restore brings back what went in together and what is needed", func(t *testing.T, f *fixture) {
		b, c, k := f.library()
		f.must(f.Kits().Create(f.ctx, kit.Kit{ID: "k2", Book: b.ID, Class: c.ID}, at(1)))
		f.must(f.Kits().Delete(f.ctx, "k2", at(2)))
		f.must(f.Books().Delete(f.ctx, b.ID, true, at(3)))
		f.must(f.Classes().Delete(f.ctx, c.ID, false, at(4)))
		f.must(f.Bin().Restore(f.ctx, bookRef(b.ID)))
		f.kit(k.ID) // it went with the book
		_, err := f.Classes().Get(f.ctx, c.ID)
		f.must(err) // the kit needs it
		_, err = f.Kits().Get(f.ctx, "k2")
		f.wantFault("the kit that went alone", err, fault.NotFound)
		list, err := f.Bin().List(f.ctx)
		f.must(err)
		f.want("still in the bin", len(list), 1)
	}},
	{"Bin.Restore of a kit brings back its book, but not the kits beside it", func(t *testing.T, f *fixture) {
		b, c, k := f.library()
		f.must(f.Kits().Create(f.ctx, kit.Kit{ID: "k2", Book: b.ID, Class: c.ID}, at(1)))
		f.must(f.Books().Delete(f.ctx, b.ID, true, at(3)))
		f.must(f.Bin().Restore(f.ctx, kitRef(k.ID)))
		_, err := f.Books().Get(f.ctx, b.ID)
		f.must(err)
		_, err = f.Kits().Get(f.ctx, "k2")
		f.wantFault("the other kit", err, fault.NotFound)
	}},
	{"Bin.Erase removes a kit and its journal for good", func(t *testing.T, f *fixture) {
		b, _, k := f.library()
		f.change(store.OfKit(k.ID), 2, "one", store.SetDecision(aDecision(b, "a", "1"), 0))
		f.wantFault("outside the bin", f.Bin().Erase(f.ctx, kitRef(k.ID)), fault.NotFound)
		f.kit(k.ID)
		f.must(f.Kits().Delete(f.ctx, k.ID, at(3)))
		f.must(f.Bin().Erase(f.ctx, kitRef(k.ID)))
		f.wantFault("restore", f.Bin().Restore(f.ctx, kitRef(k.ID)), fault.NotFound)
		// A new kit of the same name knows nothing of the old one.
		f.must(f.Kits().Create(f.ctx, k, at(4)))
		got := f.kit(k.ID)
		f.want("decisions", len(got.Decisions), 0)
		f.want("head", got.Head, store.Revision(1))
		h, err := f.Journal().History(f.ctx, store.OfKit(k.ID), 0)
		f.must(err)
		f.want("steps", len(h), 0)
	}},
	{"Bin.Erase of a class removes students, plans and kits with it", func(t *testing.T, f *fixture) {
		b, c, k := f.library()
		f.change(store.OfKit(k.ID), 2, "one", store.SetDecision(aDecision(b, "a", "1"), 0))
		f.change(store.OfPlan(c.ID), 2, "asked", store.SetWish(plan.Wish{Books: []plan.BookWish{{Kit: k.ID}}}, 0))
		renamed := c
		renamed.Name = "Owls"
		f.change(store.OfClass(c.ID), 2, "renamed", store.SetClass(renamed, 1))
		_, err := f.Plans().Agree(f.ctx, aPlan(c.ID, k.ID), 0, at(2))
		f.must(err)
		f.must(f.Classes().Delete(f.ctx, c.ID, true, at(3)))
		f.must(f.Bin().Erase(f.ctx, classRef(c.ID)))
		list, err := f.Bin().List(f.ctx)
		f.must(err)
		f.want("bin", len(list), 0)
		f.must(f.Classes().Create(f.ctx, c, at(4)))
		f.must(f.Kits().Create(f.ctx, k, at(4)))
		f.want("decisions", len(f.kit(k.ID).Decisions), 0)
		w, err := f.Plans().Wish(f.ctx, c.ID)
		f.must(err)
		f.want("wish", w.Wish, plan.Wish{})
		f.want("head", w.Head, store.Revision(1))
		_, err = f.Plans().Latest(f.ctx, c.ID)
		f.wantFault("plan", err, fault.NotFound)
		h, err := f.Journal().History(f.ctx, store.OfClass(c.ID), 0)
		f.must(err)
		f.want("steps", len(h), 0)
	}},
	{"Bin.Erase of a book removes its versions and kits, and nothing else", func(t *testing.T, f *fixture) {
		b, c, k := f.library()
		_, err := f.Books().Put(f.ctx, aBook(b.ID, "The Gate", "The second text."), at(2))
		f.must(err)
		_, err = f.Books().Put(f.ctx, aBook("other", "Other", gateText), at(2))
		f.must(err)
		f.must(f.Kits().Create(f.ctx, kit.Kit{ID: "k2", Book: "other", Class: c.ID}, at(2)))
		f.must(f.Books().Delete(f.ctx, b.ID, true, at(3)))
		f.must(f.Bin().Erase(f.ctx, bookRef(b.ID)))
		f.wantFault("its kit", f.Bin().Restore(f.ctx, kitRef(k.ID)), fault.NotFound)
		v, err := f.Books().Put(f.ctx, b, at(4))
		f.must(err)
		f.want("version", v, 1)
		f.kit("k2")
	}},
}
