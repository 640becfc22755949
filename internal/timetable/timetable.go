// Package timetable lays one day of several children on the clock: who does
// what when, so that the teacher is never needed in two places, what is shared
// is held together, and no child waits longer than must be.
//
// A [Problem] holds children and blocks of work. Each child does its blocks in
// the order in which they stand; a block may need the teacher, copies of a novel,
// and several children at once; children and teacher may be away at times; a
// block may be pinned to a time, as when the teacher drags it. The price of a
// day ([Weights]) is the minutes that children wait, each from its arrival to
// its last block, and the length of the day. [Solve] finds the cheapest day by
// branch and bound (search.go, with its bounds and why they hold in bound.go);
// on a day that is too large for that it gives the best found and its gap.
// [Day] makes a problem from the plans of classes.
//
// The search counts states, never time, so the same problem gives the same day
// on every machine.
package timetable

import (
	"context"
	"fmt"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
)

// Problem is a day to be laid out.
type Problem struct {
	// Begins is when the day begins; Ends, when it is not 0, the time by which
	// it should be over: a later end is told, not forbidden.
	Begins   calendar.Clock `json:"begins"`
	Ends     calendar.Clock `json:"ends,omitzero"`
	Children []Child        `json:"children"`
	// Teacher holds the stretches in which the teacher is away.
	Teacher []Away  `json:"teacher,omitempty"`
	Blocks  []Block `json:"blocks"`
	// Copies of novels; a novel that is not named has enough of them.
	Copies []Copies `json:"copies,omitempty"`
	Pins   []Pin    `json:"pins,omitempty"`
	// Before is the day as it stood; of days at the same price it is kept.
	Before  []Placed `json:"before,omitempty"`
	Weights *Weights `json:"weights,omitempty"`
	// States is how many states the search may look at, 0 for [UsualStates].
	States int `json:"states,omitempty"`
}

// Child is one child of the day.
type Child struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	// From is when the child can begin; 0 for the beginning of the day.
	From calendar.Clock `json:"from,omitzero"`
	Away []Away         `json:"away,omitempty"`
}

// Away is a stretch without work: lunch, a music lesson.
type Away struct {
	Name string         `json:"name"`
	From calendar.Clock `json:"from"`
	To   calendar.Clock `json:"to"` // the first minute that is free again
}

// Block is a piece of work that is not interrupted.
type Block struct {
	ID       string   `json:"id"` // unique within the day
	Children []string `json:"children"`
	Minutes  int      `json:"minutes"`
	// Teacher is true when it needs the teacher all the time.
	Teacher bool `json:"teacher,omitempty"`
	// Kit whose novel is needed, and how many copies of it; none when 0.
	Kit    kit.ID `json:"kit,omitempty"`
	Copies int    `json:"copies,omitempty"`
	// Lesson and Kind say what it is, for people; Kind "break" is a pause.
	Lesson int           `json:"lesson,omitempty"`
	Kind   plan.StepKind `json:"kind,omitempty"`
}

// Break is the kind of a block that is a pause.
const Break plan.StepKind = "break"

// Copies says how many copies of a novel there are.
type Copies struct {
	Kit   kit.ID `json:"kit"`
	Count int    `json:"count"`
}

// Pin holds a block at a time.
type Pin struct {
	Block string         `json:"block"`
	At    calendar.Clock `json:"at"`
}

// Weights are the prices, in points a minute.
type Weights struct {
	Wait int `json:"wait"` // a child that waits
	End  int `json:"end"`  // of the day
}

// Usual are the prices that stand until a teacher changes them: a minute's wait
// of one child weighs as much as a minute by which the whole day is longer.
func Usual() Weights { return Weights{Wait: 1, End: 1} }

// UsualStates is the usual limit of the search; it takes a few tenths of a second.
const UsualStates = 60_000

// Limits of a day.
const (
	// MostGroups is how many children with work of their own a day may have;
	// children whose whole day is the same count once.
	MostGroups = 12
	// MostBlocks of a day.
	MostBlocks = 120
)

// Placed is a block with its time.
type Placed struct {
	Block string         `json:"block"`
	At    calendar.Clock `json:"at"`
}

// Waiting is a stretch in which a child has nothing to do.
type Waiting struct {
	Child string         `json:"child"`
	From  calendar.Clock `json:"from"`
	To    calendar.Clock `json:"to"`
}

// Result is a day laid out.
type Result struct {
	Placed []Placed `json:"placed"` // by time; at one time in the order of the blocks
	// Ends is when the last block is over.
	Ends  calendar.Clock `json:"ends"`
	Waits []Waiting      `json:"waits,omitempty"` // by time
	// Cost of the day in points, Bound what no day can be cheaper than, Gap the
	// difference; Exact when it is 0: no day is cheaper.
	Cost  int  `json:"cost"`
	Bound int  `json:"bound"`
	Gap   int  `json:"gap"`
	Exact bool `json:"exact"`
	// States that the search looked at.
	States int `json:"states"`
	// Notes are sentences for the teacher.
	Notes []string `json:"notes,omitempty"`
}

// Solve lays out the day. Faults are Invalid, in the teacher's words: a block
// without minutes or children, two of one name, orders that contradict each
// other, pins that cannot all be; TooLarge beyond the limits; Canceled.
func Solve(ctx context.Context, p Problem) (*Result, error) {
	m, err := compile(p)
	if err != nil {
		return nil, err
	}
	if len(m.tasks) == 0 {
		return &Result{Placed: []Placed{}, Ends: p.Begins, Exact: true}, nil
	}
	s := &search{m: m, limit: p.States}
	if s.limit <= 0 {
		s.limit = UsualStates
	}
	if err := s.run(ctx); err != nil {
		return nil, err
	}
	if s.best == nil {
		if s.open {
			return nil, fault.New(fault.Invalid, "No day was found in which the blocks stay where they were put.", "Let one of them move again.")
		}
		return nil, m.impossible()
	}
	return m.result(s), nil
}

func invalid(hint, format string, args ...any) error {
	return fault.New(fault.Invalid, fmt.Sprintf(format, args...), hint)
}
