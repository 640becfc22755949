package prepare

import (
	"context"
	"fmt"
	"slices"

	"bookstead/internal/calendar"
	"bookstead/internal/calendar/holidays"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/store"
)

// ImportHolidays puts the days off and short days of a calendar file (iCalendar
// or a table) into the school year of a class, and says what came of it. Days
// that are there already stay as they are. dayFirst says how 3/4/2027 is meant.
func (w *Workshop) ImportHolidays(ctx context.Context, id class.ID, data []byte, dayFirst bool) (said []string, err error) {
	c, err := w.store.Classes().Get(ctx, id)
	if err != nil {
		return nil, err
	}
	order := holidays.MonthFirst
	if dayFirst {
		order = holidays.DayFirst
	}
	in, err := holidays.Read(ctx, data, c.Calendar.First, c.Calendar.Last, order)
	if err != nil {
		return nil, err
	}
	next := c.Class
	cal := &next.Calendar
	cal.DaysOff, cal.Special = slices.Clone(cal.DaysOff), slices.Clone(cal.Special)
	added := 0
	for _, r := range in.DaysOff {
		if !slices.ContainsFunc(cal.DaysOff, func(x calendar.Range) bool { return x.First == r.First && x.Last == r.Last }) {
			cal.DaysOff = append(cal.DaysOff, r)
			added++
		}
	}
	for _, s := range in.Special {
		if !slices.ContainsFunc(cal.Special, func(x calendar.Special) bool { return x.Date == s.Date }) {
			cal.Special = append(cal.Special, s)
			added++
		}
	}
	said = append(slices.Clone(in.Problems), in.Notes...)
	if added == 0 {
		return said, fault.New(fault.Invalid, "Nothing new for this school year stands in the file.", "Check that it is the calendar of the right year.")
	}
	slices.SortStableFunc(cal.DaysOff, func(a, b calendar.Range) int { return int(a.First - b.First) })
	slices.SortStableFunc(cal.Special, func(a, b calendar.Special) int { return int(a.Date - b.Date) })
	cal.Plain = false
	if err := validClass(next); err != nil {
		return nil, err
	}
	_, err = w.store.Journal().Change(ctx, store.OfClass(id), store.Change{Label: fmt.Sprintf("Took %d days from a calendar file", added), At: w.now(),
		Edits: []store.Edit{store.SetClass(next, c.Revisions[store.ClassKey])}})
	return append([]string{fmt.Sprintf("%d entries of the file were added to the school year.", added)}, said...), err
}
