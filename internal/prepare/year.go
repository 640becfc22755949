package prepare

import (
	"context"
	"slices"
	"time"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
	"bookstead/internal/planner"
	"bookstead/internal/store"
)

// Year is a class's plan as it would be now, beside what was agreed.
type Year struct {
	// Class has the days that were lost in its calendar.
	Class class.Class
	Today calendar.Date
	Plan  plan.Plan
	Wish  store.Wish
	// Books are the kits of the class: those of the wish in its order, then the
	// others, which are not in the plan yet.
	Books []YearBook
	// Agreed is the plan agreed last; its Sequence is 0 when there is none.
	Agreed plan.Plan
	// Fresh reports that the plan shown is the one agreed; otherwise Changes are
	// what begins on another day than agreed.
	Fresh   bool
	Changes []plan.Change
	// Learned says, for each kind of step of which minutes were noted, how the
	// plan now counts it.
	Learned []string

	books []planner.Book
	// factors are those by which learned minutes differ from the usual ones.
	factors map[plan.StepKind]float64
	// request and result are what was asked of the planner and what it said; nil
	// when there was nothing to plan.
	request *planner.Request
	result  *planner.Result
}

// YearBook is a book of the year.
type YearBook struct {
	Kit     kit.ID
	Title   string
	Lessons int
	In      bool // in the plan
	plan.BookWish
}

// Title of a step's book.
func (y *Year) Title(id kit.ID) string {
	for _, b := range y.Books {
		if b.Kit == id {
			return b.Title
		}
	}
	return ""
}

// Year plans the class's books. A class that never chose gets all its kits in
// the order in which they were made.
//
// What was agreed and lies behind today stays as it is, but for what the
// teacher noted as lost or not finished; the rest is laid anew as near to what
// was agreed as can be. Before anything is agreed, a book begins no earlier
// than on the day on which it was opened for the class.
func (w *Workshop) Year(ctx context.Context, id class.ID, progress Progress) (*Year, error) {
	c, err := w.store.Classes().Get(ctx, id)
	if err != nil {
		return nil, err
	}
	y := &Year{Class: c.Class, Today: calendar.FromTime(w.now())}
	if y.Wish, err = w.store.Plans().Wish(ctx, id); err != nil {
		return nil, err
	}
	if y.Agreed, err = w.store.Plans().Latest(ctx, id); err != nil && !fault.Is(err, fault.NotFound) {
		return nil, err
	}
	kits, err := w.classKits(ctx, id)
	if err != nil {
		return nil, err
	}
	if y.Wish.Revisions[store.WishKey] == 0 {
		for _, k := range kits {
			y.Wish.Books = append(y.Wish.Books, plan.BookWish{Kit: k.ID})
		}
	}
	begins := calendar.None
	for _, bw := range y.Wish.Books {
		i := slices.IndexFunc(kits, func(k store.KitSummary) bool { return k.ID == bw.Kit })
		if i < 0 {
			continue // in the bin
		}
		work, err := w.bookWork(ctx, bw.Kit, progress)
		if err != nil {
			return nil, err
		}
		y.books = append(y.books, work.book)
		y.Books = append(y.Books, YearBook{Kit: bw.Kit, Title: kits[i].BookTitle, Lessons: len(work.book.Lessons), In: true, BookWish: bw})
		opened := calendar.FromTime(kits[i].Created)
		if bw.Start != calendar.None {
			opened = bw.Start
		}
		if begins == calendar.None || opened < begins {
			begins = opened
		}
	}
	for _, k := range kits {
		if y.Title(k.ID) == "" {
			y.Books = append(y.Books, YearBook{Kit: k.ID, Title: k.BookTitle})
		}
	}
	return y, y.lay(ctx, begins, progress)
}

// lay makes the plan of the books; begins is the first day for work as long as
// nothing is agreed.
func (y *Year) lay(ctx context.Context, begins calendar.Date, progress Progress) error {
	y.loseDays()
	y.Plan = plan.Plan{Class: y.Class.ID, Sequence: y.Agreed.Sequence}
	if len(y.books) == 0 {
		return nil
	}
	r := planner.Request{Class: y.Class.ID, Calendar: y.Class.Calendar, Wish: y.Wish.Wish, Books: y.books, From: begins}
	r.Wish.Books = slices.DeleteFunc(slices.Clone(r.Wish.Books), func(b plan.BookWish) bool { return y.Title(b.Kit) == "" })
	if y.Agreed.Sequence > 0 {
		r.Agreed, r.From, r.Undone = &y.Agreed, y.openFrom(), y.undone()
	}
	if r.From <= y.Class.Calendar.First {
		r.From = calendar.None
	}
	if len(y.Class.Calendar.SchoolDays(r.From)) == 0 && y.Agreed.Sequence > 0 { // the year is over
		y.Plan, y.Fresh = y.Agreed, true
		return nil
	}
	r.Wish.Steps = slices.Concat(y.learn(), r.Wish.Steps)
	progress.at(StagePlan, 0)
	made, err := planner.Plan(ctx, r)
	if err != nil {
		return err
	}
	progress.at(StagePlan, 1)
	y.Plan, y.request, y.result = made.Plan, &r, made
	if y.Agreed.Sequence > 0 {
		y.Fresh = sameDays(y.Agreed.Days, y.Plan.Days)
		y.Changes = plan.Diff(y.Agreed, y.Plan)
	}
	return nil
}

// openFrom is the first day that is still to be planned: today, or tomorrow
// once something of today was noted.
func (y *Year) openFrom() calendar.Date {
	from := y.Today
	if h := y.Wish.On(y.Today); len(h.Undone) > 0 || len(h.Took) > 0 {
		from++
	}
	return from
}

// loseDays takes the lost days that are still to be planned out of the calendar.
func (y *Year) loseDays() {
	c := &y.Class.Calendar
	for _, h := range y.Wish.Happened {
		if !h.Lost {
			continue
		}
		why := h.Why
		if why == "" {
			why = "A lost day"
		}
		c.Special = slices.Concat([]calendar.Special{{Name: why, Date: h.Date}}, c.Special)
	}
}

// undone are the steps of days past that are to be planned again.
func (y *Year) undone() []plan.Ref {
	from := y.openFrom()
	var out []plan.Ref
	for _, d := range y.Agreed.Days {
		h := y.Wish.On(d.Date)
		for k := range d.Steps {
			ref, ok := planner.RefOf(y.Agreed, d.Date, k)
			if ok && d.Date < from && (h.Lost || slices.Contains(h.Undone, ref)) {
				out = append(out, ref)
			}
		}
	}
	return out
}

func sameDays(a, b []plan.Day) bool {
	return slices.EqualFunc(a, b, func(x, y plan.Day) bool {
		return x.Date == y.Date && slices.Equal(x.Steps, y.Steps)
	})
}

// CalendarFile is the class's plan as iCalendar: the plan agreed last, so that
// a calendar never takes in what the teacher has not agreed to; before there is
// one, the plan as it stands.
func (w *Workshop) CalendarFile(ctx context.Context, id class.ID) ([]byte, error) {
	y, err := w.Year(ctx, id, nil)
	if err != nil {
		return nil, err
	}
	p := y.Plan
	if y.Agreed.Sequence > 0 {
		p = y.Agreed
	}
	var earlier []plan.Plan // a calendar may have taken in any of them
	for n := p.Sequence - 1; n > 0; n-- {
		old, err := w.store.Plans().Get(ctx, id, n)
		if err != nil {
			return nil, err
		}
		earlier = append(earlier, old)
	}
	return calendarFile(p, earlier, y.Class.Name, y.Title, w.now().UTC().Truncate(time.Second))
}
