package class

import (
	"fmt"

	"bookstead/internal/fault"
)

// Habit is a kind of reading that a rule asks for.
type Habit string

const (
	ReadsAloud  Habit = "aloud"  // the child reads aloud and is heard
	HearsReader Habit = "hears"  // the child hears a good reader
	ReadsSilent Habit = "silent" // the child reads silently
)

// Rule is what a teacher wants of one child's reading: so many minutes each
// school day, or so many minutes so often a week.
type Rule struct {
	Habit   Habit `json:"habit"`
	Minutes int   `json:"minutes"`
	// Times a week; 0 for every school day.
	Times int `json:"times,omitempty"`
	// Elsewhere is how many times a week it happens in other subjects anyway, so
	// that books need not provide it.
	Elsewhere int `json:"elsewhere,omitempty"`
}

// Validate says the first thing that is wrong with the rule, nil if nothing.
func (r Rule) Validate() error {
	switch {
	case r.Habit != ReadsAloud && r.Habit != HearsReader && r.Habit != ReadsSilent:
		return fault.New(fault.Invalid, fmt.Sprintf("%q is no kind of reading that a rule can ask for.", r.Habit), "Choose reading aloud, hearing a good reader, or reading silently.")
	case r.Minutes < 1 || r.Minutes > 120:
		return fault.New(fault.Invalid, fmt.Sprintf("A rule asks for %d minutes.", r.Minutes), "Give between 1 and 120 minutes.")
	case r.Times < 0 || r.Times > 7 || r.Elsewhere < 0:
		return fault.New(fault.Invalid, fmt.Sprintf("A rule asks for %d times a week.", r.Times), "Give between 1 and 7 times a week, or none for every school day.")
	}
	return nil
}
