package planner

import (
	"slices"

	"bookstead/internal/calendar"
	"bookstead/internal/plan"
)

// adjust gives the books with the steps as the wish changes them, and the
// calendar with the days that it changes. What was given stays untouched.
func adjust(r Request) Request {
	if len(r.Wish.Days) > 0 {
		special := slices.Clone(r.Calendar.Special)
		for _, d := range r.Wish.Days {
			special = slices.DeleteFunc(special, func(s calendar.Special) bool { return s.Date == d.Date })
			special = append(special, d)
		}
		r.Calendar.Special = special
	}
	if len(r.Wish.Steps) == 0 {
		return r
	}
	books := slices.Clone(r.Books)
	for i := range books {
		b := &books[i]
		b.Lessons = slices.Clone(b.Lessons)
		for k := range b.Lessons {
			l := &b.Lessons[k]
			for _, w := range r.Wish.Steps {
				if w.Kit == b.Kit && w.Lesson == l.Number {
					l.change(w)
				}
			}
		}
	}
	r.Books = books
	return r
}

func (l *Lesson) change(w plan.StepWish) {
	apply := func(steps []plan.Step) []plan.Step {
		var out []plan.Step
		for _, s := range steps {
			if s.Kind == w.Kind {
				if w.Leave {
					continue
				}
				if w.Minutes != 0 {
					if s.Kind == plan.Reading && s.Minutes > 0 {
						l.stretch(float64(w.Minutes) / float64(s.Minutes))
					}
					s.Minutes = w.Minutes
				}
				if w.Mode != "" {
					s.Mode = w.Mode
				}
				if w.With != "" {
					s.With = w.With
				}
			}
			out = append(out, s)
		}
		return out
	}
	l.Steps, l.After = apply(l.Steps), apply(l.After)
}

// stretch moves the breaks of a reading with its minutes.
func (l *Lesson) stretch(by float64) {
	l.Breaks = slices.Clone(l.Breaks)
	for i := range l.Breaks {
		l.Breaks[i].Minutes *= by
	}
}
