package plan

import (
	"slices"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/kit"
)

// Ref names a step: its kit, its lesson (for a quiz, review or test the last
// one it covers) and its kind.
type Ref struct {
	Kit    kit.ID   `json:"kit"`
	Lesson int      `json:"lesson"`
	Kind   StepKind `json:"kind"`
	// After tells the two kinds of corrections apart: quiz or test.
	After StepKind `json:"after,omitempty"`
}

// Happened is what the teacher noted of a day: that it was lost, what was not
// finished, who was away, how long things took.
type Happened struct {
	Date calendar.Date `json:"date"`
	// Lost says that nothing of the day's work could or can be done; Why is the
	// teacher's own word for it.
	Lost bool   `json:"lost,omitempty"`
	Why  string `json:"why,omitempty"`
	// Undone are steps of the day that were not done or not finished.
	Undone []Ref `json:"undone,omitempty"`
	// Absent are the IDs of the students who were away.
	Absent []string `json:"absent,omitempty"`
	Took   []Took   `json:"took,omitempty"`
	// Elsewhere is reading that a rule asks for and that happened in another subject.
	Elsewhere []Elsewhere `json:"elsewhere,omitempty"`
	// Held are blocks of the day's timetable that the teacher put at a time.
	Held []Held `json:"held,omitempty"`
}

// Elsewhere is a child's reading in another subject.
type Elsewhere struct {
	Student string      `json:"student"`
	Habit   class.Habit `json:"habit"`
	Minutes int         `json:"minutes"`
}

// Held is a block of a timetable at a time of day.
type Held struct {
	Block string         `json:"block"`
	At    calendar.Clock `json:"at"`
}

// Took is how many minutes a step took, and how many were planned.
type Took struct {
	Ref
	Planned int `json:"planned"`
	Minutes int `json:"minutes"`
}

// Empty reports whether nothing is noted.
func (h Happened) Empty() bool {
	return !h.Lost && len(h.Undone) == 0 && len(h.Absent) == 0 && len(h.Took) == 0 && len(h.Elsewhere) == 0 && len(h.Held) == 0
}

// On returns what was noted of a day.
func (w Wish) On(d calendar.Date) Happened {
	for _, h := range w.Happened {
		if h.Date == d {
			return h
		}
	}
	return Happened{Date: d}
}

// Note puts down what happened on a day, in place of what was noted of it
// before, and keeps the days in order. The wish's own list stays as it was.
func (w *Wish) Note(h Happened) {
	days := slices.DeleteFunc(slices.Clone(w.Happened), func(x Happened) bool { return x.Date == h.Date })
	if !h.Empty() {
		days = append(days, h)
	}
	slices.SortFunc(days, func(a, b Happened) int { return int(a.Date - b.Date) })
	w.Happened = days
}
