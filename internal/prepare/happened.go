package prepare

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/plan"
	"bookstead/internal/planner"
)

// SchoolDay is one day of a class: its work, and what was noted of it.
type SchoolDay struct {
	*Year
	Date calendar.Date
	Off  string // why there is no lesson, "" when there is one
	Day  plan.Day
	Refs []plan.Ref // of the day's steps
	Note plan.Happened
	// Before and After are the days with work around it, None at the ends.
	Before, After calendar.Date
}

// SchoolDay opens a day. A day that lies behind shows the work that was agreed.
func (w *Workshop) SchoolDay(ctx context.Context, id class.ID, d calendar.Date) (*SchoolDay, error) {
	y, err := w.Year(ctx, id, nil)
	if err != nil {
		return nil, err
	}
	return y.day(d), nil
}

func (y *Year) day(d calendar.Date) *SchoolDay {
	out := &SchoolDay{Year: y, Date: d, Off: y.Class.Calendar.Off(d), Note: y.Wish.On(d)}
	shown := y.Plan
	if !out.Open() {
		shown = y.Agreed
	}
	for _, x := range y.Plan.Days {
		if x.Date < d {
			out.Before = x.Date
		}
		if x.Date > d && out.After == calendar.None {
			out.After = x.Date
		}
	}
	for _, x := range shown.Days {
		if x.Date != d {
			continue
		}
		out.Day = x
		for k := range x.Steps {
			ref, _ := planner.RefOf(shown, d, k)
			out.Refs = append(out.Refs, ref)
		}
	}
	return out
}

// Open reports whether the day's work is still to be planned.
func (d *SchoolDay) Open() bool { return d.Agreed.Sequence == 0 || d.Date >= d.openFrom() }

// NoteDay puts down what happened on a day, in place of what was noted of it
// before, and changes the minutes of steps. Steps can be noted as not finished only of a plan that was agreed:
// before that, nothing counts as done.
func (w *Workshop) NoteDay(ctx context.Context, id class.ID, seen Revision, h plan.Happened, steps []plan.StepWish) error {
	y, err := w.Year(ctx, id, nil)
	if err != nil {
		return err
	}
	h.Why = strings.TrimSpace(h.Why)
	if h.Lost {
		h.Undone, h.Took = nil, nil
	}
	for _, a := range h.Absent {
		if !slices.ContainsFunc(y.Class.Students, func(s class.Student) bool { return s.ID == a }) {
			return fault.New(fault.Conflict, "A student of this form is not in the class any more.", "Load the page again.")
		}
	}
	if (len(h.Undone) > 0 || len(h.Took) > 0) && y.Agreed.Sequence == 0 {
		return fault.New(fault.Invalid, "This plan is not agreed yet, so nothing of it counts as done.", "Agree to the plan first; then say what was not finished.")
	}
	if len(h.Undone) > 0 && h.Date > y.Today {
		return fault.New(fault.Invalid, fmt.Sprintf("%s has not come yet.", h.Date.Words()), "Move the lesson instead, or note the day as lost.")
	}
	h.Took = slices.Clone(h.Took)
	for i, t := range h.Took { // learned minutes are no measure of themselves
		if f := y.factors[t.Kind]; f > 0 {
			h.Took[i].Planned = max(1, int(math.Round(float64(t.Planned)/f)))
		}
	}
	return w.wish(ctx, id, seen, "Noted what happened on "+h.Date.Time().Format("2 January"), func(p *plan.Wish) error {
		h.Held = p.On(h.Date).Held // the timetable is not part of this
		p.Note(h)
		for _, c := range steps {
			if err := changeStep(p, c); err != nil {
				return err
			}
		}
		return nil
	})
}

// Missed is what a student missed while away, day by day.
type Missed struct {
	Student class.Student
	Days    []plan.Day
}

// Missed lists the students who were away on days with work, and that work.
func (y *Year) Missed() []Missed {
	var out []Missed
	for _, s := range y.Class.Students {
		m := Missed{Student: s}
		for _, h := range y.Wish.Happened {
			if slices.Contains(h.Absent, s.ID) && !h.Lost {
				if d := y.day(h.Date).Day; len(d.Steps) > 0 {
					m.Days = append(m.Days, d)
				}
			}
		}
		if len(m.Days) > 0 {
			out = append(out, m)
		}
	}
	return out
}

// MakeUp says when a student who was away can make up what can be made up alone.
func (y *Year) MakeUp(m Missed) []planner.Makeup {
	made, _ := planner.MakeUp(y.Class.Calendar, y.Plan, m.Days, max(y.Today, m.Days[len(m.Days)-1].Date+1))
	return made
}

// EarlierPlan is a plan agreed before, with the year it stood in.
func (w *Workshop) EarlierPlan(ctx context.Context, id class.ID, sequence int) (*Year, error) {
	y, err := w.Year(ctx, id, nil)
	if err != nil {
		return nil, err
	}
	old, err := w.store.Plans().Get(ctx, id, sequence)
	if err != nil {
		return nil, err
	}
	y.Changes = plan.Diff(y.Plan, old)
	y.Plan, y.Fresh = old, sequence == y.Agreed.Sequence
	return y, nil
}

// BringBack agrees to an earlier plan again, as a new version: its days from
// today on, behind the days that lie behind as they were agreed last.
func (w *Workshop) BringBack(ctx context.Context, id class.ID, sequence int) error {
	old, err := w.store.Plans().Get(ctx, id, sequence)
	if err != nil {
		return err
	}
	last, err := w.store.Plans().Latest(ctx, id)
	if err != nil || last.Sequence == sequence {
		return err
	}
	today := calendar.FromTime(w.now())
	back := plan.Plan{Class: id, Notes: old.Notes}
	for _, d := range last.Days {
		if d.Date < today {
			back.Days = append(back.Days, d)
		}
	}
	for _, d := range old.Days {
		if d.Date >= today {
			back.Days = append(back.Days, d)
		}
	}
	_, err = w.store.Plans().Agree(ctx, back, last.Sequence, w.now())
	return err
}
