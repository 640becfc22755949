package storetest

import (
	"testing"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
	"bookstead/internal/plan"
	"bookstead/internal/store"
)

var planCases = []testCase{
	{"Plans.Wish is empty until something is asked", func(t *testing.T, f *fixture) {
		_, c, k := f.library()
		w, err := f.Plans().Wish(f.ctx, c.ID)
		f.must(err)
		f.want("wish", w, store.Wish{Standing: store.Standing{Head: 1, Revisions: map[store.Key]store.Revision{}}})
		_, err = f.Plans().Wish(f.ctx, "nowhere")
		f.wantFault("no such class", err, fault.NotFound)

		wish := plan.Wish{Books: []plan.BookWish{{Kit: k.ID, End: calendar.Of(2026, 12, 18)}}, Pins: []plan.Pin{{Kit: k.ID, Lesson: 3, Date: calendar.Of(2026, 9, 14)}}}
		st := f.change(store.OfPlan(c.ID), 2, "Asked for an end date", store.SetWish(wish, 0))
		w, err = f.Plans().Wish(f.ctx, c.ID)
		f.must(err)
		st.Edits = nil
		f.want("wish", w, store.Wish{Wish: wish, Standing: store.Standing{Head: 2, Undo: st, Revisions: map[store.Key]store.Revision{store.WishKey: 2}}})
		_, err = f.Journal().Undo(f.ctx, store.OfPlan(c.ID), 2, at(3))
		f.must(err)
		w, err = f.Plans().Wish(f.ctx, c.ID)
		f.must(err)
		f.want("wish", w.Wish, plan.Wish{})
	}},
	{"Plans.Agree keeps every plan", func(t *testing.T, f *fixture) {
		_, c, k := f.library()
		first := aPlan(c.ID, k.ID)
		got, err := f.Plans().Agree(f.ctx, first, 0, at(2))
		f.must(err)
		first.Sequence = 1
		f.want("first", got, first)
		_, err = f.Plans().Agree(f.ctx, aPlan(c.ID, k.ID), 0, at(3))
		f.wantFault("from an old page", err, fault.Conflict)
		second := aPlan(c.ID, k.ID)
		second.Days = second.Days[1:]
		got, err = f.Plans().Agree(f.ctx, second, 1, at(4))
		f.must(err)
		second.Sequence = 2
		f.want("second", got, second)
		for n, want := range []plan.Plan{first, second} {
			got, err := f.Plans().Get(f.ctx, c.ID, n+1)
			f.must(err)
			f.want("plan as agreed", got, want)
		}
		_, err = f.Plans().Agree(f.ctx, plan.Plan{Class: "nowhere"}, 0, at(5))
		f.wantFault("no such class", err, fault.NotFound)
	}},
	{"Plans.Latest is the plan agreed last", func(t *testing.T, f *fixture) {
		_, c, k := f.library()
		_, err := f.Plans().Latest(f.ctx, c.ID)
		f.wantFault("none yet", err, fault.NotFound)
		for n := range 2 {
			p := aPlan(c.ID, k.ID)
			p.Notes = []string{[]string{"one", "two"}[n]}
			_, err := f.Plans().Agree(f.ctx, p, n, at(n))
			f.must(err)
		}
		p, err := f.Plans().Latest(f.ctx, c.ID)
		f.must(err)
		f.want("latest", p.Notes, []string{"two"})
		_, err = f.Plans().Latest(f.ctx, "nowhere")
		f.wantFault("no such class", err, fault.NotFound)
	}},
	{"Plans.Get finds nothing", func(t *testing.T, f *fixture) {
		_, c, _ := f.library()
		_, err := f.Plans().Get(f.ctx, c.ID, 1)
		f.wantFault("no such plan", err, fault.NotFound)
	}},
	{"Plans.List has the newest first", func(t *testing.T, f *fixture) {
		_, c, k := f.library()
		list, err := f.Plans().List(f.ctx, c.ID)
		f.must(err)
		f.want("none", len(list), 0)
		_, err = f.Plans().Agree(f.ctx, aPlan(c.ID, k.ID), 0, at(2))
		f.must(err)
		_, err = f.Plans().Agree(f.ctx, plan.Plan{Class: c.ID}, 1, at(3))
		f.must(err)
		list, err = f.Plans().List(f.ctx, c.ID)
		f.must(err)
		f.want("plans", list, []store.PlanSummary{
			{Sequence: 2, Agreed: kept(3)},
			{Sequence: 1, Agreed: kept(2), First: calendar.Of(2026, 9, 1), Last: calendar.Of(2026, 9, 3)},
		})
		_, err = f.Plans().List(f.ctx, "nowhere")
		f.wantFault("no such class", err, fault.NotFound)
	}},
}
