package planner

import (
	"context"
	"fmt"
	"math"
	"slices"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/kit"
	"bookstead/internal/pace"
	"bookstead/internal/plan"
)

// Way is one way to catch up, with what it saves.
type Way struct {
	Kind   WayKind `json:"kind"`
	Kit    kit.ID  `json:"kit"`
	Lesson int     `json:"lesson,omitempty"`
	// Wish is the wish with this way taken: planning with it gives the plan.
	Wish plan.Wish `json:"wish"`
	// Minutes that it saves in class; Days, the school days by which the book
	// ends earlier; Ends, when it then ends, None when the year does not hold it.
	Minutes int           `json:"minutes"`
	Days    int           `json:"days"`
	Ends    calendar.Date `json:"ends,omitzero"`
	// Says is the way in words.
	Says string `json:"says"`
}

// WayKind is a kind of [Way].
type WayKind string

const (
	TeacherReads WayKind = "teacher reads" // the teacher reads the next chapter aloud
	LeaveOut     WayKind = "leave out"     // the next extension, or talking over, is left out
	TwoLessons   WayKind = "two lessons"   // a day is made long enough for two short lessons
	LaterEnd     WayKind = "later end"     // the book may end when it will
)

// most that a day is made longer for two lessons, and how many lessons ahead
// are looked at (our choices).
const (
	mostLonger = 30
	lookAhead  = 10
)

// CatchUp offers ways to gain time in the book that is read next, each planned
// and measured against the plan that stands without it. wpm is how fast the
// class reads in its own mode. A way that saves nothing is not offered.
func CatchUp(ctx context.Context, r Request, now *Result, wpm float64) ([]Way, error) {
	id, ok := current(r, now.Plan)
	if !ok {
		return nil, nil
	}
	b := adjust(r).Books[slices.IndexFunc(r.Books, func(b Book) bool { return b.Kit == id })]
	var out []Way
	for _, w := range []*Way{teacherReads(r, b, now.Plan, wpm), leaveOut(r, b, now.Plan), twoLessons(r, b, now.Plan), laterEnd(r, b, now.Plan)} {
		if w == nil {
			continue
		}
		q := r
		q.Wish = w.Wish
		got, err := Plan(ctx, q)
		if err != nil {
			return nil, err
		}
		w.Kit, w.Ends = id, endOf(got.Plan, id)
		w.Days = sooner(adjust(q).Calendar, endOf(now.Plan, id), w.Ends)
		if w.Kind == LaterEnd || w.Days > 0 || w.Minutes > 0 {
			w.Says += w.saves()
			out = append(out, *w)
		}
	}
	return out, nil
}

// current is the book of the first work that is still to be planned.
func current(r Request, p plan.Plan) (kit.ID, bool) {
	for _, d := range p.Days {
		if d.Date >= r.From && len(d.Steps) > 0 {
			id := d.Steps[0].Kit
			return id, slices.ContainsFunc(r.Books, func(b Book) bool { return b.Kit == id })
		}
	}
	return "", false
}

// endOf is the last day of a book, None when some of it found no day.
func endOf(p plan.Plan, id kit.ID) calendar.Date {
	for _, s := range p.Shortfalls {
		if s.Kit == id && s.Ends == calendar.None {
			return calendar.None
		}
	}
	last := calendar.None
	for _, d := range p.Days {
		if slices.ContainsFunc(d.Steps, func(s plan.Step) bool { return s.Kit == id }) {
			last = d.Date
		}
	}
	return last
}

// sooner counts the school days from one end to another, 0 when it is no earlier.
func sooner(c calendar.Calendar, before, after calendar.Date) int {
	if after == calendar.None {
		return 0
	}
	if before == calendar.None {
		before = c.Last + 1
	}
	n := 0
	for d := after + 1; d <= before; d++ {
		if c.MinutesOn(d) > 0 {
			n++
		}
	}
	return n
}

// begins is the day on which a step that is still to be planned begins, None
// when it has begun before or is not in the plan.
func begins(r Request, p plan.Plan, id kit.ID, lesson int, kind plan.StepKind) calendar.Date {
	for _, d := range p.Days {
		for _, s := range d.Steps {
			if s.Kit == id && s.Lesson == lesson && (kind == "" && s.Kind.OfLesson() || s.Kind == kind) {
				if d.Date >= r.From && s.Part <= 1 {
					return d.Date
				}
				return calendar.None
			}
		}
	}
	return calendar.None
}

func (r Request) with(w plan.StepWish) plan.Wish {
	wish := r.Wish
	wish.Steps = append(slices.Clone(wish.Steps), w)
	return wish
}

func teacherReads(r Request, b Book, p plan.Plan, wpm float64) *Way {
	if wpm <= 0 || wpm >= pace.AdultAloud {
		return nil
	}
	for _, l := range b.Lessons {
		for _, s := range l.Steps {
			if s.Kind != plan.Reading || s.Mode == class.Teacher || begins(r, p, b.Kit, l.Number, plan.Reading) == calendar.None {
				continue
			}
			m := max(1, int(math.Round(float64(s.Minutes)*wpm/pace.AdultAloud)))
			if m == s.Minutes {
				continue
			}
			return &Way{Kind: TeacherReads, Lesson: l.Number, Minutes: s.Minutes - m,
				Wish: r.with(plan.StepWish{Kit: b.Kit, Lesson: l.Number, Kind: plan.Reading, Minutes: m, Mode: class.Teacher}),
				Says: fmt.Sprintf("Read lesson %d aloud yourself: %s instead of %d.", l.Number, minutes(m), s.Minutes)}
		}
	}
	return nil
}

func leaveOut(r Request, b Book, p plan.Plan) *Way {
	for _, kind := range []plan.StepKind{plan.Extension, plan.Discussion} {
		for _, l := range b.Lessons {
			i := slices.IndexFunc(l.Steps, func(s plan.Step) bool { return s.Kind == kind && s.Minutes > 0 })
			if i < 0 || begins(r, p, b.Kit, l.Number, kind) == calendar.None {
				continue
			}
			what := "the extension"
			if kind == plan.Discussion {
				what = "talking over"
			}
			return &Way{Kind: LeaveOut, Lesson: l.Number, Minutes: l.Steps[i].Minutes,
				Wish: r.with(plan.StepWish{Kit: b.Kit, Lesson: l.Number, Kind: kind, Leave: true}),
				Says: fmt.Sprintf("Leave out %s in lesson %d.", what, l.Number)}
		}
	}
	return nil
}

// twoLessons makes the day of the pair of lessons that needs the least more
// long enough for both.
func twoLessons(r Request, b Book, p plan.Plan) *Way {
	c := adjust(r).Calendar
	var best *Way
	least, seen := mostLonger+1, 0
	for i := 0; i+1 < len(b.Lessons) && seen < lookAhead; i++ {
		x, y := b.Lessons[i], b.Lessons[i+1]
		on, then := begins(r, p, b.Kit, x.Number, ""), begins(r, p, b.Kit, y.Number, "")
		if on == calendar.None || then == calendar.None || len(x.After) > 0 {
			continue
		}
		seen++
		need := 0
		for _, s := range slices.Concat(x.Steps, y.Steps) {
			need += s.Minutes
		}
		for _, d := range p.Days { // what else lies on the day before the first of them
			for _, s := range d.Steps {
				if d.Date == on && (s.Kit != b.Kit || s.Lesson < x.Number) {
					need += s.Minutes
				}
			}
		}
		more := need - c.MinutesOn(on)
		if more <= 0 || more >= least {
			continue
		}
		least = more
		wish := r.Wish
		wish.Days = append(slices.DeleteFunc(slices.Clone(wish.Days), func(s calendar.Special) bool { return s.Date == on }),
			calendar.Special{Name: "Two lessons", Date: on, Minutes: need})
		best = &Way{Kind: TwoLessons, Lesson: x.Number, Wish: wish,
			Says: fmt.Sprintf("Hold lessons %d and %d together on %s, with %s more that day.", x.Number, y.Number, on.Time().Format("Monday 2 January"), minutes(more))}
	}
	return best
}

func laterEnd(r Request, b Book, p plan.Plan) *Way {
	i := slices.IndexFunc(p.Shortfalls, func(s plan.Shortfall) bool { return s.Kit == b.Kit && s.Ends != calendar.None })
	if i < 0 {
		return nil
	}
	s := p.Shortfalls[i]
	wish := r.Wish
	wish.Books = slices.Clone(wish.Books)
	for k := range wish.Books {
		if wish.Books[k].Kit == b.Kit {
			wish.Books[k].End = s.Ends
		}
	}
	return &Way{Kind: LaterEnd, Wish: wish, Says: fmt.Sprintf("Let the book end on %s, %s later than you wished.", s.Ends.Words(), many(s.Days, "school day"))}
}

func (w Way) saves() string {
	switch {
	case w.Kind == LaterEnd:
		return " Nothing is left out or shortened."
	case w.Days > 0 && w.Minutes > 0:
		return fmt.Sprintf(" Saves %s; the book ends %s earlier, on %s.", minutes(w.Minutes), many(w.Days, "school day"), w.Ends.Words())
	case w.Days > 0:
		return fmt.Sprintf(" The book ends %s earlier, on %s.", many(w.Days, "school day"), w.Ends.Words())
	}
	return fmt.Sprintf(" Saves %s, not enough alone to end the book a day earlier.", minutes(w.Minutes))
}
