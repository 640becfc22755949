// Package planner lays the work of a class's books on the days of its school
// year, in the best way that there is for what the teacher asked.
//
// A book is a row of lessons, a lesson a row of steps with minutes ([Steps],
// [NewBook]). Hard rules: steps in order; a day holds no more than its minutes;
// a reading is divided only at a scene or paragraph break; a review lies on an
// earlier day than its test, and what was written is gone over on a later one.
// Wishes are prices ([Weights]), each linear in days or minutes; [Plan] finds
// the cheapest plan by dynamic programming over days and steps, so no other
// plan that keeps the rules costs less. docs/planning.md states the objective.
//
// Start with [NewBook] and [Plan].
package planner

import (
	"context"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/plan"
)

// Request is all that a plan is made from. As JSON ([Read]) it is the plan file
// that docs/plan-file.md describes.
type Request struct {
	Class    class.ID          `json:"class,omitempty"`
	Calendar calendar.Calendar `json:"calendar"`
	Wish     plan.Wish         `json:"wish"`
	// Books hold the kits that the wish names; the wish gives their order.
	Books []Book `json:"books"`
	// Weights of the wishes; nil for [Usual].
	Weights *Weights `json:"weights,omitempty"`
	// From is the first day that may be planned anew, None for the whole year.
	// Days of Agreed before it stay as they are, and their steps count as done.
	From   calendar.Date `json:"from,omitzero"`
	Agreed *plan.Plan    `json:"agreed,omitempty"`
	// Undone are steps on days before From that were not done after all, or not
	// finished: they are planned again.
	Undone []Ref `json:"undone,omitempty"`
}

// Result is a plan with its reasons.
type Result struct {
	Plan plan.Plan `json:"plan"`
	// Cost of the days planned, by wish.
	Cost Cost `json:"cost"`
	// Days are the reasons: one for each school day from the first planned to
	// the last with work, free days too.
	Days []Reason `json:"days"`
	// Unmet are sentences on what was asked and could not be: books that do not
	// end by their dates or find no room, lessons that could not be moved. They
	// are among the plan's notes, too.
	Unmet []string `json:"unmet,omitempty"`
}

// Plan makes the plan. Faults are Invalid: a calendar without school days, books
// without work. A year too short for the books is no fault: the plan holds what
// fits and says in its Shortfalls what does not; nor is a wish that cannot be
// met, see [Check]. The same request gives the same plan.
func Plan(ctx context.Context, r Request) (*Result, error) {
	y, err := newYear(r)
	if err != nil {
		return nil, err
	}
	groups, err := y.problem.solve(ctx)
	if err != nil {
		return nil, err
	}
	return y.result(groups), nil
}
