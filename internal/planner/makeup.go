package planner

import (
	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/plan"
)

// Makeup is a step that a child who was away does alone on another day.
type Makeup struct {
	Date calendar.Date `json:"date"`
	Step plan.Step     `json:"step"`
	// Missed is the day on which the class did it.
	Missed calendar.Date `json:"missed"`
}

// MakeUp lays what a child missed on the days from a date on that have minutes
// free, in order, each step whole and as early as can be; no other way in order
// is done earlier. A child can make up alone what it reads (then silently) and
// writes; what was talked over cannot be made up and is left out. What finds no
// room up to the plan's last day comes back in left.
func MakeUp(c calendar.Calendar, p plan.Plan, missed []plan.Day, from calendar.Date) (made []Makeup, left []plan.Step) {
	room := map[calendar.Date]int{}
	var days []calendar.Date
	for d := max(from, c.First); d <= p.Last(); d++ {
		if n := c.MinutesOn(d); n > 0 {
			days = append(days, d)
			room[d] = n
		}
	}
	for _, d := range p.Days {
		room[d.Date] -= d.Minutes()
	}
	at := 0
	for _, day := range missed {
		for _, s := range day.Steps {
			if !alone(s.Kind) {
				continue
			}
			if s.Kind == plan.Reading {
				s.Mode = class.Silent
			}
			s.With = plan.Alone
			for at < len(days) && (days[at] <= day.Date || room[days[at]] < s.Minutes) {
				at++
			}
			if at == len(days) {
				left = append(left, s)
				continue
			}
			room[days[at]] -= s.Minutes
			made = append(made, Makeup{Date: days[at], Step: s, Missed: day.Date})
		}
	}
	return made, left
}

// alone reports whether a child can make a step up by itself.
func alone(k plan.StepKind) bool {
	switch k {
	case plan.Reading, plan.Again, plan.Questions, plan.Extension, plan.Quiz, plan.Test:
		return true
	}
	return false
}
