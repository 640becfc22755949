package prepare

import (
	"context"
	"io"
	"time"

	"bookstead/internal/book"
	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
	"bookstead/internal/planner"
)

// Made is a whole kit made without a store.
type Made struct {
	*Prepared
	Plan  plan.Plan
	Files []File
}

// WholeKit does everything for one book: reads its file, divides, drafts, plans
// from the class's calendar, and sets every paper. now dates the papers. The
// same file, class and day give the same bytes.
func WholeKit(ctx context.Context, r io.ReaderAt, size int64, name string, c class.Class, now time.Time, progress Progress) (*Made, error) {
	b, err := ReadBook(ctx, name, r, size, progress)
	if err != nil {
		return nil, err
	}
	return wholeKit(ctx, b, c, now, progress)
}

func wholeKit(ctx context.Context, b *book.Book, c class.Class, now time.Time, progress Progress) (*Made, error) {
	progress.at(StageRead, 0)
	doc, err := Analyze(ctx, b, progress)
	if err != nil {
		return nil, err
	}
	p, err := PrepareOn(ctx, b, c, kit.Kit{ID: kit.ID(b.ID), Book: b.ID, Class: c.ID}, doc, calendar.FromTime(now), progress)
	if err != nil {
		return nil, err
	}
	progress.at(StagePlan, 0)
	pl, err := planner.Plan(ctx, planner.Request{Class: c.ID, Calendar: c.Calendar, Wish: plan.Wish{Books: []plan.BookWish{{Kit: p.Kit.ID}}},
		Books: []planner.Book{p.plannerBook()}})
	if err != nil {
		return nil, err
	}
	progress.at(StagePlan, 1)
	m := &Made{Prepared: p, Plan: pl.Plan}
	if m.Files, err = p.printAll(ctx, pl.Plan, day(now), progress); err != nil {
		return nil, err
	}
	ics, err := calendarFile(pl.Plan, nil, b.Title, func(kit.ID) string { return b.Title }, day(now))
	if err != nil {
		return nil, err
	}
	m.Files = append(m.Files, File{Name: "plan.ics", Data: ics})
	return m, nil
}

func (p *Prepared) plannerBook() planner.Book {
	pages := p.Pages // and not the kit, which is large
	return planner.NewBook(p.Book, p.Kit.ID, p.Class, p.Lessons, planner.Options{Pages: func(s book.Span) string { return PagesOf(pages, s) }})
}

// day is midnight UTC of the clock's own day, so that papers made on one day
// are the same bytes.
func day(now time.Time) time.Time {
	y, m, d := now.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}
