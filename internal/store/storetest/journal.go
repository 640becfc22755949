package storetest

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bookstead/internal/book"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
	"bookstead/internal/store"
)

var journalCases = []testCase{
	{"Journal.Change sets, replaces and removes values", func(t *testing.T, f *fixture) {
		b, _, k := f.library()
		s, key := store.OfKit(k.ID), store.DecisionKey("i")
		st := f.change(s, 2, "Kept “doleful”", store.SetDecision(aDecision(b, "i", "doleful"), 0))
		f.want("number, label, state", []any{st.Number, st.Label, st.State}, []any{store.Revision(2), "Kept “doleful”", store.Done})
		f.want("time", st.At, kept(2))
		f.want("edits", len(st.Edits), 1)
		f.want("before", st.Edits[0].Before, store.Value{})
		f.want("revision", st.Edits[0].After.Revision, store.Revision(2))
		f.change(s, 3, "Changed “doleful”", store.SetDecision(aDecision(b, "i", "mournful"), 2))
		got := f.kit(k.ID)
		f.want("decisions", got.Decisions, []kit.Decision{aDecision(b, "i", "mournful")})
		f.want("revision", got.Revisions[key], store.Revision(3))
		st = f.change(s, 4, "Took it back", store.RemoveDecision("i", 3))
		f.want("after", st.Edits[0].After, store.Value{})
		got = f.kit(k.ID)
		f.want("decisions", len(got.Decisions), 0)
		f.want("revision", got.Revisions[key], store.Revision(0))
		f.want("head", got.Head, store.Revision(4))
	}},
	{"Journal.Change holds cuts, edition and class too", func(t *testing.T, f *fixture) {
		b, c, k := f.library()
		cuts := []kit.Cut{{Place: b.Place(book.Span{Start: 4, End: 8}), Title: "At the gate"}}
		edition := book.Edition{Name: "school copy", First: map[int]int{2: 3}}
		f.change(store.OfKit(k.ID), 2, "Moved a boundary", store.SetCuts(cuts, 0), store.SetEdition(edition, 0))
		got := f.kit(k.ID)
		f.want("cuts", got.Cuts, cuts)
		f.want("edition", got.Edition, edition)
		f.change(store.OfKit(k.ID), 3, "Gave the division back", store.SetCuts(nil, 2))
		f.want("cuts", len(f.kit(k.ID).Cuts), 0)

		c.Copies = 30
		f.change(store.OfClass(c.ID), 4, "Counted the copies", store.SetClass(c, 1))
		class, err := f.Classes().Get(f.ctx, c.ID)
		f.must(err)
		f.want("class", class.Class, c)
		f.want("revision", class.Revisions[store.ClassKey], store.Revision(2))
	}},
	{"Journal.Change is all or nothing", func(t *testing.T, f *fixture) {
		b, _, k := f.library()
		s := store.OfKit(k.ID)
		f.change(s, 2, "Kept", store.SetDecision(aDecision(b, "b", "old"), 0))
		_, err := f.Journal().Change(f.ctx, s, store.Change{Label: "Kept all", At: at(3), Edits: []store.Edit{
			store.SetDecision(aDecision(b, "a", "new"), 0), store.SetDecision(aDecision(b, "b", "new"), 0), store.SetDecision(aDecision(b, "c", "new"), 0),
		}})
		f.wantFault("one of three is stale", err, fault.Conflict)
		f.want("decisions", decisions(f.kit(k.ID)), map[kit.ItemID]string{"b": "old"})
		h, err := f.Journal().History(f.ctx, s, 0)
		f.must(err)
		f.want("steps", len(h), 1)
	}},
	{"Journal.Change tells two windows apart", func(t *testing.T, f *fixture) {
		b, _, k := f.library()
		s := store.OfKit(k.ID)
		f.change(s, 2, "Kept", store.SetDecision(aDecision(b, "i", "first window"), 0))
		_, err := f.Journal().Change(f.ctx, s, store.Change{Label: "Changed", At: at(3), Edits: []store.Edit{store.SetDecision(aDecision(b, "i", "second window"), 0)}})
		f.wantFault("stale", err, fault.Conflict)
		var stale *store.Stale
		if !errors.As(err, &stale) {
			t.Fatalf("%v holds no Stale", err)
		}
		f.want("what stands", []any{stale.Key, stale.Expect, stale.Now.Revision}, []any{store.DecisionKey("i"), store.Revision(0), store.Revision(2)})
		var x store.Kit
		f.must(x.Lay(stale.Key, stale.Now.JSON))
		f.want("what stands", x.Decisions, []kit.Decision{aDecision(b, "i", "first window")})

		_, err = f.Journal().Change(f.ctx, s, store.Change{Label: "Changed", At: at(3), Edits: []store.Edit{store.RemoveDecision("i", 1)}})
		f.wantFault("removing what is stale", err, fault.Conflict)
		_, err = f.Journal().Change(f.ctx, s, store.Change{Label: "Changed", At: at(3), Edits: []store.Edit{store.SetDecision(aDecision(b, "j", "new"), 2)}})
		f.wantFault("replacing what is gone", err, fault.Conflict)
		f.change(s, 4, "Changed", store.SetDecision(aDecision(b, "i", "whatever stands"), store.Any))
		f.want("decisions", decisions(f.kit(k.ID)), map[kit.ItemID]string{"i": "whatever stands"})
	}},
	{"Journal.Change to what stands already is no step", func(t *testing.T, f *fixture) {
		b, _, k := f.library()
		s, edit := store.OfKit(k.ID), store.SetDecision(aDecision(b, "i", "doleful"), 0)
		f.change(s, 2, "Kept", edit)
		st := f.change(s, 3, "Kept", edit, store.RemoveDecision("never", 0))
		f.want("a click that came twice", st, store.Step{})
		st = f.change(s, 4, "Kept both", edit, store.SetDecision(aDecision(b, "j", "mournful"), 0))
		f.want("edits", len(st.Edits), 1)
		f.want("decisions", decisions(f.kit(k.ID)), map[kit.ItemID]string{"i": "doleful", "j": "mournful"})
		// Nor does it cost the steps that could be redone.
		_, err := f.Journal().Undo(f.ctx, s, store.Any, at(5))
		f.must(err)
		f.change(s, 6, "Kept", edit)
		_, err = f.Journal().Redo(f.ctx, s, st.Number, at(7))
		f.must(err)
	}},
	{"Journal.Change refuses what does not belong", func(t *testing.T, f *fixture) {
		b, c, k := f.library()
		d := store.SetDecision(aDecision(b, "i", "doleful"), 0)
		other := c
		other.ID = "another"
		for name, x := range map[string]struct {
			s store.Subject
			c store.Change
		}{
			"no edit":             {store.OfKit(k.ID), store.Change{Label: "Kept"}},
			"no label":            {store.OfKit(k.ID), store.Change{Label: " ", Edits: []store.Edit{d}}},
			"one key twice":       {store.OfKit(k.ID), store.Change{Label: "Kept", Edits: []store.Edit{d, d}}},
			"a wish in a kit":     {store.OfKit(k.ID), store.Change{Label: "Kept", Edits: []store.Edit{store.SetWish(plan.Wish{}, 0)}}},
			"a decision in class": {store.OfClass(c.ID), store.Change{Label: "Kept", Edits: []store.Edit{d}}},
			"no class":            {store.OfClass(c.ID), store.Change{Label: "Kept", Edits: []store.Edit{{Key: store.ClassKey, Expect: 1}}}},
			"another class":       {store.OfClass(c.ID), store.Change{Label: "Kept", Edits: []store.Edit{store.SetClass(other, 1)}}},
			"another key":         {store.OfKit(k.ID), store.Change{Label: "Kept", Edits: []store.Edit{{Key: "colour", Value: "red"}}}},
			"another item":        {store.OfKit(k.ID), store.Change{Label: "Kept", Edits: []store.Edit{{Key: store.DecisionKey("j"), Value: aDecision(b, "i", "x")}}}},
			"an item without ID":  {store.OfKit(k.ID), store.Change{Label: "Kept", Edits: []store.Edit{store.SetDecision(kit.Decision{}, 0)}}},
		} {
			_, err := f.Journal().Change(f.ctx, x.s, x.c)
			f.wantFault(name, err, fault.Invalid)
		}
		for _, s := range []store.Subject{store.OfKit("nowhere"), {Kind: store.KitSubject}} {
			_, err := f.Journal().Change(f.ctx, s, store.Change{Label: "Kept", Edits: []store.Edit{d}})
			f.wantFault("no such subject", err, fault.NotFound)
		}
	}},
	{"Journal.Undo puts a bulk change back exactly", func(t *testing.T, f *fixture) {
		b, _, k := f.library()
		s := store.OfKit(k.ID)
		f.change(s, 2, "Kept three", store.SetDecision(aDecision(b, "a", "one"), 0), store.SetDecision(aDecision(b, "b", "two"), 0), store.SetEdition(book.Edition{Last: 7}, 0))
		before := f.kit(k.ID)
		bulk := f.change(s, 3, "Changed all", store.RemoveDecision("a", 2), store.SetDecision(aDecision(b, "b", "zwei"), 2), store.SetDecision(aDecision(b, "c", "drei"), 0), store.SetEdition(book.Edition{Last: 8}, 2))
		st, err := f.Journal().Undo(f.ctx, s, bulk.Number, at(4))
		f.must(err)
		bulk.State, bulk.Turned = store.Undone, kept(4)
		f.want("step", st, bulk)
		after := f.kit(k.ID)
		bulk.Edits = nil
		f.want("redo", after.Redo, bulk)
		after.Redo = store.Step{}
		f.want("kit", after, before)
	}},
	{"Journal.Undo refuses from an old page and at the beginning", func(t *testing.T, f *fixture) {
		b, _, k := f.library()
		s := store.OfKit(k.ID)
		_, err := f.Journal().Undo(f.ctx, s, store.Any, at(2))
		f.wantFault("nothing yet", err, fault.NotFound)
		f.change(s, 2, "Kept", store.SetDecision(aDecision(b, "a", "one"), 0))
		f.change(s, 3, "Kept", store.SetDecision(aDecision(b, "b", "two"), 0))
		_, err = f.Journal().Undo(f.ctx, s, 2, at(4))
		f.wantFault("not the last step", err, fault.Conflict)
		f.want("decisions", len(f.kit(k.ID).Decisions), 2)
		for range 2 {
			_, err = f.Journal().Undo(f.ctx, s, store.Any, at(5))
			f.must(err)
		}
		_, err = f.Journal().Undo(f.ctx, s, store.Any, at(6))
		f.wantFault("nothing left", err, fault.NotFound)
		_, err = f.Journal().Undo(f.ctx, store.OfKit("nowhere"), store.Any, at(6))
		f.wantFault("no such kit", err, fault.NotFound)
	}},
	{"Journal.Undo of one subject leaves the others", func(t *testing.T, f *fixture) {
		b, c, k := f.library()
		f.must(f.Kits().Create(f.ctx, kit.Kit{ID: "k2", Book: b.ID, Class: c.ID}, at(1)))
		f.change(store.OfKit(k.ID), 2, "Kept", store.SetDecision(aDecision(b, "a", "one"), 0))
		f.change(store.OfPlan(c.ID), 3, "Asked", store.SetWish(plan.Wish{Books: []plan.BookWish{{Kit: k.ID}}}, 0))
		f.change(store.OfKit("k2"), 4, "Kept", store.SetDecision(aDecision(b, "a", "one"), 0))
		_, err := f.Journal().Undo(f.ctx, store.OfKit(k.ID), store.Any, at(5))
		f.must(err)
		f.want("its own", len(f.kit(k.ID).Decisions), 0)
		f.want("the other kit", len(f.kit("k2").Decisions), 1)
		w, err := f.Plans().Wish(f.ctx, c.ID)
		f.must(err)
		f.want("the wish", len(w.Books), 1)
		// A change here passes over what was undone here, and nothing else.
		_, err = f.Journal().Undo(f.ctx, store.OfKit("k2"), store.Any, at(5))
		f.must(err)
		f.change(store.OfKit(k.ID), 6, "Kept", store.SetDecision(aDecision(b, "b", "two"), 0))
		_, err = f.Journal().Redo(f.ctx, store.OfKit("k2"), store.Any, at(6))
		f.must(err)
		_, err = f.Journal().Undo(f.ctx, store.OfClass(c.ID), store.Any, at(6))
		f.wantFault("the class", err, fault.NotFound)
	}},
	{"Journal.Redo does again exactly, until another change passes it over", func(t *testing.T, f *fixture) {
		b, _, k := f.library()
		s := store.OfKit(k.ID)
		f.change(s, 2, "Kept one", store.SetDecision(aDecision(b, "a", "one"), 0))
		f.change(s, 3, "Kept two", store.SetDecision(aDecision(b, "b", "two"), 0))
		before := f.kit(k.ID)
		for range 2 {
			_, err := f.Journal().Undo(f.ctx, s, store.Any, at(4))
			f.must(err)
		}
		_, err := f.Journal().Redo(f.ctx, s, 3, at(5))
		f.wantFault("out of turn", err, fault.Conflict)
		for n := range 2 {
			st, err := f.Journal().Redo(f.ctx, s, store.Revision(n+2), at(5))
			f.must(err)
			f.want("state", st.State, store.Done)
			f.want("turned", st.Turned, kept(5))
		}
		after := f.kit(k.ID)
		before.Undo.Turned = kept(5)
		f.want("kit", after, before)
		_, err = f.Journal().Redo(f.ctx, s, store.Any, at(6))
		f.wantFault("nothing undone", err, fault.NotFound)

		_, err = f.Journal().Undo(f.ctx, s, store.Any, at(7))
		f.must(err)
		st := f.change(s, 8, "Kept another", store.SetDecision(aDecision(b, "c", "three"), 0))
		f.want("number", st.Number, store.Revision(4))
		_, err = f.Journal().Redo(f.ctx, s, store.Any, at(9))
		f.wantFault("passed over", err, fault.NotFound)
		f.want("decisions", decisions(f.kit(k.ID)), map[kit.ItemID]string{"a": "one", "c": "three"})
		// What was passed over can still be read.
		old, err := f.Journal().Step(f.ctx, s, 3)
		f.must(err)
		f.want("state", old.State, store.Passed)
		var x store.Kit
		f.must(x.Lay(old.Edits[0].Key, old.Edits[0].After.JSON))
		f.want("what was typed", x.Decisions[0], aDecision(b, "b", "two"))
	}},
	{"Journal.Undo and Redo at random: Head names the state", func(t *testing.T, f *fixture) {
		b, _, k := f.library()
		s := store.OfKit(k.ID)
		rng := rand.New(rand.NewPCG(1, 2))
		states := map[store.Revision]store.Kit{}
		for n := range 300 {
			now := f.kit(k.ID)
			redo := now.Redo
			now.Undo, now.Redo = store.Step{}, store.Step{}
			if was, ok := states[now.Head]; ok {
				if d := cmp.Diff(was, now); d != "" {
					t.Fatalf("two states at head %d (-then +now):\n%s", now.Head, d)
				}
			}
			states[now.Head] = now
			switch op := rng.IntN(5); {
			case op == 0 && now.Head > 1:
				st, err := f.Journal().Undo(f.ctx, s, now.Head, at(n))
				f.must(err)
				f.want("undone", st.Number, now.Head)
			case op == 1 && redo.Number > 0:
				st, err := f.Journal().Redo(f.ctx, s, redo.Number, at(n))
				f.must(err)
				f.want("head", f.kit(k.ID).Head, st.Number)
			default:
				var edits []store.Edit
				for _, i := range rng.Perm(5)[:1+rng.IntN(4)] {
					id := kit.ItemID(rune('a' + i))
					rev := now.Revisions[store.DecisionKey(id)]
					if rng.IntN(3) == 0 {
						edits = append(edits, store.RemoveDecision(id, rev))
					} else {
						edits = append(edits, store.SetDecision(aDecision(b, id, fmt.Sprint(n)), rev))
					}
				}
				f.change(s, n, "Changed", edits...)
			}
		}
		if len(states) < 100 {
			t.Errorf("only %d states were seen", len(states))
		}
	}},
	{"Journal.Change from many windows at once loses nothing", func(t *testing.T, f *fixture) {
		b, _, k := f.library()
		const windows, each = 6, 10
		var wg sync.WaitGroup
		errs := make([]error, windows)
		for w := range windows {
			wg.Go(func() { errs[w] = f.count(b, k.ID, each) })
		}
		wg.Wait()
		f.must(errors.Join(errs...))
		f.want("count", decisions(f.kit(k.ID))["i"], fmt.Sprint(windows*each))
		h, err := f.Journal().History(f.ctx, store.OfKit(k.ID), 0)
		f.must(err)
		f.want("steps", len(h), windows*each)
	}},
	{"Journal.History has the newest first, whatever its state", func(t *testing.T, f *fixture) {
		b, _, k := f.library()
		s := store.OfKit(k.ID)
		h, err := f.Journal().History(f.ctx, s, 10)
		f.must(err)
		f.want("steps", len(h), 0)
		f.change(s, 2, "one", store.SetDecision(aDecision(b, "a", "1"), 0))
		f.change(s, 3, "two", store.SetDecision(aDecision(b, "a", "2"), 2))
		_, err = f.Journal().Undo(f.ctx, s, store.Any, at(4))
		f.must(err)
		f.change(s, 5, "three", store.SetDecision(aDecision(b, "a", "3"), 2))
		f.change(s, 6, "four", store.SetDecision(aDecision(b, "a", "4"), 4))
		_, err = f.Journal().Undo(f.ctx, s, store.Any, at(7))
		f.must(err)
		want := []store.Step{
			{Number: 5, Label: "four", At: kept(6), State: store.Undone, Turned: kept(7)},
			{Number: 4, Label: "three", At: kept(5), State: store.Done},
			{Number: 3, Label: "two", At: kept(3), State: store.Passed, Turned: kept(4)},
			{Number: 2, Label: "one", At: kept(2), State: store.Done},
		}
		h, err = f.Journal().History(f.ctx, s, 0)
		f.must(err)
		f.want("all", h, want)
		h, err = f.Journal().History(f.ctx, s, 2)
		f.must(err)
		f.want("two", h, want[:2])
		_, err = f.Journal().History(f.ctx, store.OfPlan("nowhere"), 2)
		f.wantFault("no such class", err, fault.NotFound)
	}},
	{"Journal.Step gives one step with its edits", func(t *testing.T, f *fixture) {
		b, _, k := f.library()
		s := store.OfKit(k.ID)
		f.change(s, 2, "one", store.SetDecision(aDecision(b, "a", "1"), 0))
		want := f.change(s, 3, "two", store.SetDecision(aDecision(b, "c", "3"), 0), store.RemoveDecision("a", 2), store.SetDecision(aDecision(b, "b", "2"), 0))
		f.want("keys", []store.Key{want.Edits[0].Key, want.Edits[1].Key, want.Edits[2].Key}, []store.Key{"decision/a", "decision/b", "decision/c"})
		got, err := f.Journal().Step(f.ctx, s, want.Number)
		f.must(err)
		f.want("step", got, want)
		_, err = f.Journal().Step(f.ctx, s, 9)
		f.wantFault("no such step", err, fault.NotFound)
		_, err = f.Journal().Step(f.ctx, store.OfKit("nowhere"), 2)
		f.wantFault("no such kit", err, fault.NotFound)
	}},
}

// count adds 1 to the number that a decision's head is, n times, and tries again
// when another was quicker.
func (f *fixture) count(b *book.Book, id kit.ID, n int) error {
	for done := 0; done < n; {
		k, err := f.Kits().Get(f.ctx, id)
		if err != nil {
			return err
		}
		was := 0
		if len(k.Decisions) > 0 {
			if _, err := fmt.Sscan(k.Decisions[0].Content.Head, &was); err != nil {
				return err
			}
		}
		edit := store.SetDecision(aDecision(b, "i", fmt.Sprint(was+1)), k.Revisions[store.DecisionKey("i")])
		st, err := f.Journal().Change(context.WithoutCancel(f.ctx), store.OfKit(id), store.Change{Label: "Counted", At: at(0), Edits: []store.Edit{edit}})
		switch {
		case fault.Is(err, fault.Conflict) || err == nil && st.Number == 0: // another was quicker
		case err != nil:
			return err
		default:
			done++
		}
	}
	return nil
}
