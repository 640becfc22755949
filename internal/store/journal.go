package store

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"bookstead/internal/class"
	"bookstead/internal/kit"
)

// Journal changes the values of a subject and remembers each change.
//
// The steps of a subject form one line. Undo takes back the last step that is
// done, Redo does again the last one undone. A change made while steps are
// undone passes these over: they can no longer be redone, but stay to be read.
//
// All methods: NotFound when there is no such subject or it lies in the bin.
type Journal interface {
	// Change makes all edits as one step, or none of them, and returns it with
	// its edits. An edit to what already stands is no edit, whatever it expects,
	// so a click that comes twice does no harm; a change with nothing left to
	// change is no step and returns the zero Step. Conflict, around a [*Stale],
	// when a value has not the revision expected. Invalid when there is no label,
	// no edit, two edits of one key, or a value that the subject does not hold.
	Change(ctx context.Context, s Subject, c Change) (Step, error)
	// Undo puts every value of the step back exactly, with its revision, and
	// returns the step with its edits. expect is the number of the step on the
	// page, or [Any]; Conflict when it is not the one to undo. NotFound when
	// there is nothing to undo.
	Undo(ctx context.Context, s Subject, expect Revision, at time.Time) (Step, error)
	// Redo does the step undone last again, exactly. expect, Conflict and
	// NotFound are as in Undo.
	Redo(ctx context.Context, s Subject, expect Revision, at time.Time) (Step, error)
	// History returns up to limit steps without their edits, the newest first,
	// whatever their state. A limit of 0 means all.
	History(ctx context.Context, s Subject, limit int) ([]Step, error)
	// Step returns one step with its edits. NotFound when there is no such step.
	Step(ctx context.Context, s Subject, number Revision) (Step, error)
}

// SubjectKind is a kind of thing that has a journal.
type SubjectKind string

const (
	KitSubject   SubjectKind = "kit"
	ClassSubject SubjectKind = "class"
	PlanSubject  SubjectKind = "plan"
)

// Subject is what a journal is about.
type Subject struct {
	Kind SubjectKind
	ID   string
}

// OfKit is the subject of a kit's decisions, cuts and edition.
func OfKit(id kit.ID) Subject { return Subject{KitSubject, string(id)} }

// OfClass is the subject of a class itself.
func OfClass(id class.ID) Subject { return Subject{ClassSubject, string(id)} }

// OfPlan is the subject of a class's wish for the year.
func OfPlan(id class.ID) Subject { return Subject{PlanSubject, string(id)} }

// Revision is the number of a step, and so of the values that it wrote. Numbers
// rise and are never used twice within a subject. 0 is the revision of a value
// that is not set, 1 of the values that the subject was created with.
type Revision int64

// Any stands for whatever revision there is: no check.
const Any Revision = -1

// Standing is where a subject's journal stands.
type Standing struct {
	// Head is the number of the last step that is done, 1 when none is. It names
	// the whole state: as long as Head is the same, so is every value.
	Head Revision
	// Undo and Redo are the steps that Undo and Redo would take, without edits;
	// Number is 0 when there is none.
	Undo, Redo Step
	// Revisions are those of all values that are set.
	Revisions map[Key]Revision
}

// Change is a request to change values in one step.
type Change struct {
	Label string // for people: what was done, "Dropped “doleful”"
	At    time.Time
	Edits []Edit
}

// StepState says whether a step is done.
type StepState string

const (
	Done   StepState = "done"
	Undone StepState = "undone"
	Passed StepState = "passed" // undone, then passed over by another change
)

// Step is a change that was made.
type Step struct {
	Number Revision
	Label  string
	At     time.Time
	State  StepState
	Turned time.Time // when it was undone or redone last; zero when never
	Edits  []Edited  // in the order of their keys
}

// Edited is one value before and after a step.
type Edited struct {
	Key    Key
	Before Value
	After  Value
}

// Value is a value at a revision. An unset one has no JSON and revision 0.
type Value struct {
	JSON     json.RawMessage
	Revision Revision
}

// Stale is the cause of a Conflict in [Journal.Change]: what stands now under
// the key, so that a page can show it beside what was typed.
type Stale struct {
	Key    Key
	Expect Revision
	Now    Value
}

// Error names the key and the two revisions.
func (s *Stale) Error() string {
	return fmt.Sprintf("value %q: expected revision %d, found %d", s.Key, s.Expect, s.Now.Revision)
}
