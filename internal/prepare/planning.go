package prepare

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"time"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
	"bookstead/internal/planner"
	"bookstead/internal/print"
	"bookstead/internal/print/pdf"
	"bookstead/internal/print/sheet"
	"bookstead/internal/store"
)

// classKits are the kits of a class in the order in which they were made.
func (w *Workshop) classKits(ctx context.Context, id class.ID) ([]store.KitSummary, error) {
	all, err := w.store.Kits().List(ctx)
	if err != nil {
		return nil, err
	}
	kits := slices.DeleteFunc(all, func(k store.KitSummary) bool { return k.Class != id })
	slices.SortStableFunc(kits, func(a, b store.KitSummary) int { return a.Created.Compare(b.Created) })
	return kits, nil
}

// wish changes what was asked of the year, in one step of the journal.
func (w *Workshop) wish(ctx context.Context, id class.ID, seen Revision, label string, change func(*plan.Wish) error) error {
	y, err := w.Year(ctx, id, nil)
	if err != nil {
		return err
	}
	wish := y.Wish.Wish
	wish.Books, wish.Pins = slices.Clone(wish.Books), slices.Clone(wish.Pins)
	wish.Books = slices.DeleteFunc(wish.Books, func(b plan.BookWish) bool { return y.Title(b.Kit) == "" }) // in the bin
	if err := change(&wish); err != nil {
		return err
	}
	books := slices.Clone(y.books)
	for _, b := range y.Books { // those that are not in the plan yet may be put into it
		if !b.In {
			books = append(books, planner.Book{Kit: b.Kit, Title: b.Title})
		}
	}
	if err := planner.Check(planner.Request{Class: id, Calendar: y.Class.Calendar, Wish: wish, Books: books}); err != nil {
		return err
	}
	_, err = w.store.Journal().Change(ctx, store.OfPlan(id), store.Change{Label: label, At: w.now(), Edits: []store.Edit{store.SetWish(wish, seen)}})
	return err
}

// WishRevision is the revision of the wish, for a page to send back.
func (y *Year) WishRevision() Revision { return y.Wish.Revisions[store.WishKey] }

// Pace is how a year's work is spread.
type Pace struct {
	Care      map[plan.Concern]float64 // what matters more or less than usual
	Reserve   int                      // share of the time left free, in percent
	Spread    bool                     // books go evenly up to their end dates
	TestsMove bool                     // announced tests may move
}

// SetBooks says which books the class reads, in which order and by when, and how
// the work is spread.
func (w *Workshop) SetBooks(ctx context.Context, id class.ID, seen Revision, books []plan.BookWish, pace Pace) error {
	if pace.Reserve < 0 || pace.Reserve > 50 {
		return fault.New(fault.Invalid, fmt.Sprintf("%d percent cannot be kept free.", pace.Reserve), "Give between 0 and 50 percent.")
	}
	return w.wish(ctx, id, seen, "Changed the books of the year", func(p *plan.Wish) error {
		p.Books, p.Reserve, p.Spread, p.TestsMove, p.Care = books, pace.Reserve, pace.Spread, pace.TestsMove, pace.Care
		p.Pins = slices.DeleteFunc(p.Pins, func(x plan.Pin) bool {
			return !slices.ContainsFunc(books, func(b plan.BookWish) bool { return b.Kit == x.Kit })
		})
		return nil
	})
}

// PinLesson says that a lesson starts on a date; what follows it moves along.
func (w *Workshop) PinLesson(ctx context.Context, id class.ID, seen Revision, k kit.ID, lesson int, d calendar.Date) error {
	c, err := w.store.Classes().Get(ctx, id)
	if err != nil {
		return err
	}
	if c.Calendar.MinutesOn(d) == 0 {
		why := c.Calendar.Off(d)
		if why == "" {
			why = "a day without lessons"
		}
		return fault.New(fault.Invalid, fmt.Sprintf("%s is %s.", d.Time().Format("Monday 2 January 2006"), why), "Choose a day with lessons, or change the school year of the class.")
	}
	return w.wish(ctx, id, seen, fmt.Sprintf("Moved lesson %d to %s", lesson, d.Time().Format("2 January")), func(p *plan.Wish) error {
		p.Pins = slices.DeleteFunc(p.Pins, func(x plan.Pin) bool { return x.Kit == k && x.Lesson == lesson && x.Kind == "" })
		p.Pins = append(p.Pins, plan.Pin{Kit: k, Lesson: lesson, Date: d})
		return nil
	})
}

// Unpin lets a lesson move freely again.
func (w *Workshop) Unpin(ctx context.Context, id class.ID, seen Revision, k kit.ID, lesson int) error {
	return w.wish(ctx, id, seen, fmt.Sprintf("Let lesson %d move again", lesson), func(p *plan.Wish) error {
		p.Pins = slices.DeleteFunc(p.Pins, func(x plan.Pin) bool { return x.Kit == k && x.Lesson == lesson })
		return nil
	})
}

// UndoPlan takes the last change to the wish back.
func (w *Workshop) UndoPlan(ctx context.Context, id class.ID) error {
	_, err := w.store.Journal().Undo(ctx, store.OfPlan(id), store.Any, w.now())
	return err
}

// RedoPlan does the change undone last again.
func (w *Workshop) RedoPlan(ctx context.Context, id class.ID) error {
	_, err := w.store.Journal().Redo(ctx, store.OfPlan(id), store.Any, w.now())
	return err
}

// Agree keeps the plan as it stands; calendars that subscribed are updated by
// its next export.
func (w *Workshop) Agree(ctx context.Context, id class.ID) error {
	y, err := w.Year(ctx, id, nil)
	if err != nil || y.Fresh {
		return err
	}
	_, err = w.store.Plans().Agree(ctx, y.Plan, y.Agreed.Sequence, w.now())
	return err
}

// PlanPaper sets the weekly sheets or the checklist of the class's plan; of one
// book when only is not empty.
func (w *Workshop) PlanPaper(ctx context.Context, id class.ID, paper Paper, only kit.ID) ([]byte, error) {
	y, err := w.Year(ctx, id, nil)
	if err != nil {
		return nil, err
	}
	if paper == ShoppingPaper {
		return w.shoppingPaper(ctx, y)
	}
	p := y.Plan
	name := y.Class.Name
	if only != "" {
		p, name = onlyKit(p, only), y.Title(only)
	}
	if len(p.Days) == 0 {
		return nil, fault.New(fault.Invalid, "The plan holds no days yet.", "Put a book into the plan first.")
	}
	k := sheet.Kit{Title: name, Class: y.Class, Date: day(w.now())}
	title := func(s plan.Step) string { return y.Title(s.Kit) }
	var d print.Document
	switch paper {
	case WeeklySheets:
		d = sheet.Weeks(k, p, title)
	case ChecklistPaper:
		d = sheet.Checklist(k, p, title)
	default:
		return nil, fault.New(fault.NotFound, fmt.Sprintf("There is no paper called %q.", paper), "Choose one from the list.")
	}
	return setPlain(ctx, d, paper, y.Class)
}

// setPlain lays a document out and writes it as a PDF.
func setPlain(ctx context.Context, d print.Document, paper Paper, c class.Class) ([]byte, error) {
	f, err := lay(ctx, d, paper, c)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	if err := pdf.Write(&out, f, pdf.Options{}); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// onlyKit is the plan with the steps of one kit.
func onlyKit(p plan.Plan, id kit.ID) plan.Plan {
	days := p.Days
	p.Days = nil
	for _, d := range days {
		d.Steps = slices.DeleteFunc(slices.Clone(d.Steps), func(s plan.Step) bool { return s.Kit != id })
		if len(d.Steps) > 0 {
			p.Days = append(p.Days, d)
		}
	}
	return p
}

// StepName is a step in words.
func StepName(s plan.Step) string { return sheet.StepName(s) }

// SchoolYear is a calendar to start from: from the coming Monday, or the last
// one in September to June, to the end of June.
func SchoolYear(today calendar.Date, minutes int) calendar.Calendar {
	first := today
	for first.Weekday() != time.Monday {
		first++
	}
	c := calendar.PlainYear(first, minutes)
	year := first.Time().Year()
	if first.Time().Month() >= time.June {
		year++
	}
	c.Last = calendar.Of(year, time.June, 12)
	return c
}

// YearReady reports whether the year can be planned at once, without reading a
// book first.
func (w *Workshop) YearReady(ctx context.Context, id class.ID) bool {
	kits, err := w.classKits(ctx, id)
	if err != nil {
		return true // Year will say what is wrong
	}
	for _, k := range kits {
		if _, ok := w.knownWork(ctx, k.ID); !ok {
			return false
		}
	}
	return true
}

// DaysReady reports whether the days of all classes can be planned at once.
func (w *Workshop) DaysReady(ctx context.Context) bool {
	classes, err := w.store.Classes().List(ctx)
	if err != nil {
		return true // DayTable will say what is wrong
	}
	return !slices.ContainsFunc(classes, func(c class.Class) bool { return !w.YearReady(ctx, c.ID) })
}
