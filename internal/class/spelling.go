package class

import (
	"fmt"
	"slices"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
)

// Standing says which of the spelling steps a class or a child has reached, from
// a day on.
type Standing struct {
	Since calendar.Date `json:"since"`
	Step  int           `json:"step"` // number of a step of the sequence, from 1
}

// Spelling is what a class has been taught of spelling.
type Spelling struct {
	// Sequence is the teacher's own file of steps; "" is the usual one.
	Sequence string `json:"sequence,omitempty"`
	// Standing is the class's, in order of the days.
	Standing []Standing `json:"standing,omitempty"`
}

// StepOn is the step reached by a day, 0 when nobody said.
func StepOn(standing []Standing, day calendar.Date) int {
	step, since := 0, calendar.Date(0)
	for _, s := range standing {
		if s.Since <= day && (step == 0 || s.Since >= since) {
			step, since = s.Step, s.Since
		}
	}
	return step
}

// Step is the step that a child has reached by a day: its own, else the class's;
// 0 when nobody said. An empty student asks for the class.
func (c Class) Step(student string, day calendar.Date) int {
	for _, st := range c.Students {
		if st.ID == student && student != "" {
			if n := StepOn(st.Standing, day); n > 0 {
				return n
			}
		}
	}
	return StepOn(c.Settings.Spelling.Standing, day)
}

// AsOf is the class as it stands on a day: without what holds only later.
func (c Class) AsOf(day calendar.Date) Class {
	until := func(all []Standing) []Standing {
		return slices.DeleteFunc(slices.Clone(all), func(s Standing) bool { return s.Since > day })
	}
	c.Settings.Spelling.Standing = until(c.Settings.Spelling.Standing)
	c.Students = slices.Clone(c.Students)
	for i := range c.Students {
		c.Students[i].Standing = until(c.Students[i].Standing)
	}
	return c
}

// Latest is a day behind every standing of the class.
const Latest = calendar.Date(1 << 30)

// Weigh is how much a part of the choice of words counts.
type Weigh int8

const (
	LeaveOut Weigh = -2
	Less     Weigh = -1
	Usual    Weigh = 0
	More     Weigh = 1
	Much     Weigh = 2
)

// Factor is what the part's usual weight is multiplied by: 0 to 2.
func (w Weigh) Factor() float64 { return 1 + float64(max(LeaveOut, min(Much, w)))/2 }

// Choosing says how much each part counts when vocabulary is chosen. The zero
// value is as usual.
type Choosing struct {
	Fit     Weigh `json:"fit,omitempty"`     // difficulty right for the grade
	Worth   Weigh `json:"worth,omitempty"`   // useful beyond this book
	Guess   Weigh `json:"guess,omitempty"`   // the sentence gives it away
	Again   Weigh `json:"again,omitempty"`   // the book brings it back later
	Variety Weigh `json:"variety,omitempty"` // of parts of speech
	Spread  Weigh `json:"spread,omitempty"`  // through the lesson
}

// Had is a word that the class was taught with an earlier book.
type Had struct {
	Word string `json:"word"`
	Book string `json:"book,omitempty"` // its title
}

func validStanding(whose string, all []Standing) error {
	days := map[calendar.Date]bool{}
	for _, s := range all {
		if s.Step < 1 {
			return fault.New(fault.Invalid, fmt.Sprintf("%s cannot stand at spelling step %d.", whose, s.Step), "Steps are counted from 1.")
		}
		if days[s.Since] {
			return fault.New(fault.Invalid, fmt.Sprintf("%s has two spelling steps for %s.", whose, s.Since), "Keep one of them.")
		}
		days[s.Since] = true
	}
	return nil
}
