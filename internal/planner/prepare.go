package planner

import (
	"slices"

	"bookstead/internal/calendar"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
)

// Ready is what a teacher has to have ready for a lesson.
type Ready struct {
	Kit    kit.ID
	Lesson int
	Title  string
	Pages  string
	// Day on which the lesson begins, None when the plan does not hold it.
	Day calendar.Date
	// Copy are the papers to have: what, and on which day if not the lesson's.
	Copy []Paper
	// Quiz and Test are the items of the lesson that come up again there.
	Quiz, Test []kit.Item
	// Undecided is how many drafts the teacher has not looked at.
	Undecided int
}

// Paper is a paper to have copied.
type Paper struct {
	What plan.StepKind // reading for the student pages, quiz, test
	Day  calendar.Date
}

// Checklist lists the lessons of a kit with what to have ready for each, in
// order. Items that are not printed (spare, dropped) are not looked at.
func Checklist(id kit.ID, lessons []kit.Prepared, p plan.Plan, hold bool) []Ready {
	var out []Ready
	for _, l := range lessons {
		r := Ready{Kit: id, Lesson: l.Number, Title: l.Title, Pages: l.Pages, Day: startOf(p, id, l.Number, "")}
		for _, it := range l.Items {
			if it.State == kit.Drafted && !it.Spare {
				r.Undecided++
			}
			if !it.Printed(hold) {
				continue
			}
			if it.Marks.Quiz {
				r.Quiz = append(r.Quiz, it)
			}
			if it.Marks.Test {
				r.Test = append(r.Test, it)
			}
		}
		if slices.ContainsFunc(l.Items, func(it kit.Item) bool { return it.Printed(hold) }) {
			r.Copy = append(r.Copy, Paper{plan.Reading, r.Day})
		}
		for _, kind := range []plan.StepKind{plan.Quiz, plan.Test} {
			if d := startOf(p, id, l.Number, kind); d != calendar.None {
				r.Copy = append(r.Copy, Paper{kind, d})
			}
		}
		out = append(out, r)
	}
	return out
}

// startOf is the first day of a lesson's own work, or of its quiz or test.
func startOf(p plan.Plan, id kit.ID, lesson int, kind plan.StepKind) calendar.Date {
	for _, d := range p.Days {
		for _, s := range d.Steps {
			if s.Kit == id && s.Lesson == lesson && (kind == "" && s.Kind.OfLesson() || s.Kind == kind) {
				return d.Date
			}
		}
	}
	return calendar.None
}
