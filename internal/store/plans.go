package store

import (
	"context"
	"time"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/plan"
)

// Plans are a class's wish for the year and the plans agreed on. The wish
// changes through the [Journal]: see [OfPlan] and [SetWish]. An agreed plan
// never changes; the next one takes its place and the older ones stay.
type Plans interface {
	// Wish returns what the teacher asked of the year; an empty wish at revision 0
	// when nothing was asked yet. NotFound when there is no such class or it lies
	// in the bin.
	Wish(ctx context.Context, id class.ID) (Wish, error)
	// Agree keeps p as the next plan of the class p.Class and returns it with
	// Sequence set, from 1. seen is the Sequence of the plan that the teacher saw
	// as the latest, 0 for none: Conflict when there is a later one. NotFound as
	// Wish.
	Agree(ctx context.Context, p plan.Plan, seen int, at time.Time) (plan.Plan, error)
	// Latest returns the plan agreed last. NotFound as Wish, and when none was
	// agreed.
	Latest(ctx context.Context, id class.ID) (plan.Plan, error)
	// Get returns the agreed plan of a sequence. NotFound as Wish, and when there
	// is none of it.
	Get(ctx context.Context, id class.ID, sequence int) (plan.Plan, error)
	// List returns the agreed plans, the newest first. NotFound as Wish.
	List(ctx context.Context, id class.ID) ([]PlanSummary, error)
}

// Wish is a wish as it stands. Its value has the key [WishKey].
type Wish struct {
	plan.Wish
	Standing
}

// PlanSummary is what a list shows of an agreed plan.
type PlanSummary struct {
	Sequence int
	Agreed   time.Time
	First    calendar.Date // None for a plan without work
	Last     calendar.Date
}
