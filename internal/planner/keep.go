package planner

import (
	"slices"

	"bookstead/internal/calendar"
	"bookstead/internal/plan"
)

// eachStep visits the steps of days in order, with their references.
func eachStep(days []plan.Day, visit func(day, k int, s plan.Step, ref Ref)) {
	type paper struct {
		kit    any
		lesson int
	}
	last := map[paper]plan.StepKind{}
	for d, day := range days {
		for k, s := range day.Steps {
			ref := Ref{Kit: s.Kit, Lesson: s.Lesson, Kind: s.Kind}
			at := paper{s.Kit, s.Lesson}
			switch s.Kind {
			case plan.Quiz, plan.Test:
				last[at] = s.Kind
			case plan.Corrections:
				ref.After = last[at]
			}
			visit(d, k, s, ref)
		}
	}
}

// keep takes over the days before From as they stand, but for the steps that
// were not done, and counts the minutes of what was.
func (y *year) keep() {
	y.done = map[Ref]int{}
	if y.Agreed == nil || y.From == calendar.None {
		return
	}
	past := slices.DeleteFunc(slices.Clone(y.Agreed.Days), func(d plan.Day) bool { return d.Date >= y.From })
	undone := map[Ref][2]int{} // its last step on those days
	eachStep(past, func(d, k int, _ plan.Step, ref Ref) {
		if slices.Contains(y.Undone, ref) {
			undone[ref] = [2]int{d, k}
		}
	})
	kept := make([]plan.Day, len(past))
	for i, d := range past {
		kept[i] = plan.Day{Date: d.Date, Available: d.Available}
	}
	eachStep(past, func(d, k int, s plan.Step, ref Ref) {
		if at, ok := undone[ref]; ok && at == [2]int{d, k} {
			return
		}
		kept[d].Steps = append(kept[d].Steps, s)
		y.done[ref] += s.Minutes
		if s.Part == s.Parts { // the only or the last part: whatever its minutes were
			y.done[ref] = finished
		}
	})
	y.kept = slices.DeleteFunc(kept, func(d plan.Day) bool { return len(d.Steps) == 0 })
}

// RefOf is the reference of step k (from 0) on a day of a plan, for [Request.Undone].
func RefOf(p plan.Plan, date calendar.Date, k int) (ref Ref, ok bool) {
	eachStep(p.Days, func(d, i int, _ plan.Step, r Ref) {
		if p.Days[d].Date == date && i == k {
			ref, ok = r, true
		}
	})
	return ref, ok
}
