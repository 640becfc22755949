package plan

import (
	"cmp"
	"slices"

	"bookstead/internal/calendar"
	"bookstead/internal/kit"
)

// Change is a piece of work that begins on another day in a new plan.
type Change struct {
	Kit    kit.ID `json:"kit"`
	Lesson int    `json:"lesson"`
	// Kind is empty for a lesson's own work, else quiz, review, test or corrections.
	Kind StepKind `json:"kind,omitempty"`
	// From and To are its first days; None where the plan does not have it.
	From calendar.Date `json:"from,omitzero"`
	To   calendar.Date `json:"to,omitzero"`
}

// Diff says what begins on another day in the plan after than in the plan
// before, in the order of the days after; what is gone comes last.
func Diff(before, after Plan) []Change {
	type key struct {
		kit    kit.ID
		lesson int
		kind   StepKind
	}
	begins := func(p Plan) (order []key, day map[key]calendar.Date) {
		day = map[key]calendar.Date{}
		for _, d := range p.Days {
			for _, s := range d.Steps {
				k := key{s.Kit, s.Lesson, s.Kind}
				if s.Kind.OfLesson() {
					k.kind = ""
				}
				if _, ok := day[k]; !ok {
					day[k] = d.Date
					order = append(order, k)
				}
			}
		}
		return order, day
	}
	old, from := begins(before)
	now, to := begins(after)
	var out []Change
	for _, k := range old {
		if _, stays := to[k]; !stays {
			now = append(now, k)
		}
	}
	for _, k := range now {
		if from[k] != to[k] {
			out = append(out, Change{Kit: k.kit, Lesson: k.lesson, Kind: k.kind, From: from[k], To: to[k]})
		}
	}
	slices.SortStableFunc(out, func(a, b Change) int {
		if (a.To == calendar.None) != (b.To == calendar.None) {
			return cmp.Compare(b.To, a.To)
		}
		return cmp.Compare(a.To, b.To)
	})
	return out
}
