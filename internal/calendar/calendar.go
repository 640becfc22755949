package calendar

import (
	"fmt"
	"time"

	"bookstead/internal/fault"
)

// Calendar is a class's school year.
type Calendar struct {
	First Date `json:"first"` // first school day
	Last  Date `json:"last"`
	// Minutes for books on each weekday, Sunday first; 0 means no lesson.
	Minutes [7]int `json:"minutes"`
	// Terms, when there are any, are the only stretches with lessons.
	Terms   []Range `json:"terms,omitempty"`
	DaysOff []Range `json:"daysOff,omitempty"`
	// Special days have minutes of their own: half days, or a Saturday with school.
	Special []Special `json:"special,omitempty"`
	// Appointments are fixed hours in the week: gymnastics, a music lesson.
	Appointments []Appointment `json:"appointments,omitempty"`
	// Plain is true when the calendar was made up from a first day alone, so
	// that screens and papers can say that no holidays are in it.
	Plain bool `json:"plain,omitempty"`
}

// Special is a day whose minutes differ from its weekday's.
type Special struct {
	Name    string `json:"name"`
	Date    Date   `json:"date"`
	Minutes int    `json:"minutes"`
}

// PlainYear is the calendar from a first day alone: Monday to Friday, the same
// minutes every day, no holidays, 52 weeks.
func PlainYear(first Date, minutes int) Calendar {
	c := Calendar{First: first, Last: first + 52*7 - 1, Plain: true}
	for wd := time.Monday; wd <= time.Friday; wd++ {
		c.Minutes[wd] = minutes
	}
	return c
}

// MinutesOn returns the minutes for books on a day: 0 outside the year, between
// terms, on days off and on weekdays without lessons. A special day wins over
// its weekday and over a day off; otherwise the day's appointments take from it
// what they say.
func (c Calendar) MinutesOn(d Date) int {
	if d < c.First || d > c.Last {
		return 0
	}
	for _, s := range c.Special {
		if s.Date == d {
			return s.Minutes
		}
	}
	for _, r := range c.DaysOff {
		if r.Has(d) {
			return 0
		}
	}
	if len(c.Terms) > 0 {
		in := false
		for _, t := range c.Terms {
			in = in || t.Has(d)
		}
		if !in {
			return 0
		}
	}
	n := c.Minutes[d.Weekday()]
	for _, a := range c.Appointments {
		if a.On(d) {
			n -= a.Takes
		}
	}
	return max(0, n)
}

// SchoolDays returns the days with lessons from the given day on, in order.
func (c Calendar) SchoolDays(from Date) []Date {
	var out []Date
	for d := max(from, c.First); d <= c.Last; d++ {
		if c.MinutesOn(d) > 0 {
			out = append(out, d)
		}
	}
	return out
}

// Off returns the name of the day off or special day that a date is, "" if none.
func (c Calendar) Off(d Date) string {
	for _, s := range c.Special {
		if s.Date == d {
			return s.Name
		}
	}
	for _, r := range c.DaysOff {
		if r.Has(d) {
			return r.Name
		}
	}
	return ""
}

// Validate says the first thing that is wrong with the calendar, nil if nothing.
func (c Calendar) Validate() error {
	switch {
	case c.First == None || c.Last == None:
		return fault.New(fault.Invalid, "The school year has no first or no last day.", "Type both dates.")
	case c.Last < c.First:
		return fault.New(fault.Invalid, fmt.Sprintf("The school year ends on %s, before it starts on %s.", c.Last.Words(), c.First.Words()), "Check the two dates.")
	case c.Last-c.First > 366*2:
		return fault.New(fault.Invalid, "The school year is longer than two years.", "Check the two dates.")
	}
	for _, list := range [][]Range{c.Terms, c.DaysOff} {
		for _, r := range list {
			if r.Last < r.First {
				return fault.New(fault.Invalid, fmt.Sprintf("%q ends on %s, before it starts on %s.", r.Name, r.Last.Words(), r.First.Words()), "Check the two dates.")
			}
		}
	}
	for _, x := range c.Special {
		if x.Minutes < 0 || x.Minutes > 600 {
			return fault.New(fault.Invalid, fmt.Sprintf("%s has %d minutes.", x.Date.Words(), x.Minutes), "Give a special day between 0 and 600 minutes.")
		}
	}
	for _, a := range c.Appointments {
		if err := a.validate(); err != nil {
			return err
		}
	}
	for wd, m := range c.Minutes {
		if m < 0 || m > 600 {
			return fault.New(fault.Invalid, fmt.Sprintf("%s has %d minutes.", time.Weekday(wd), m), "Give each weekday between 0 and 600 minutes.")
		}
	}
	if len(c.SchoolDays(c.First)) == 0 {
		return fault.New(fault.Invalid, "No day of the school year has time for books.", "Give at least one weekday some minutes, and check that the days off do not cover every term.")
	}
	return nil
}

// Warnings are sentences on what is allowed and yet is likely a mistake: a term
// without a school day left, dates outside the year.
func (c Calendar) Warnings() []string {
	var out []string
	for _, t := range c.Terms {
		days := 0
		for d := max(t.First, c.First); d <= min(t.Last, c.Last); d++ {
			if c.MinutesOn(d) > 0 {
				days++
			}
		}
		switch {
		case t.Last < c.First || t.First > c.Last:
			out = append(out, fmt.Sprintf("%s lies outside the school year.", quoted(t.Name, "A term")))
		case days == 0:
			out = append(out, fmt.Sprintf("%s has no school day left: days off cover all of it.", quoted(t.Name, "A term")))
		}
	}
	for _, r := range c.DaysOff {
		if r.Last < c.First || r.First > c.Last {
			out = append(out, fmt.Sprintf("%s (%s) lies outside the school year.", quoted(r.Name, "A day off"), r.First.Words()))
		}
	}
	for _, a := range c.Appointments {
		if a.Last != None && a.Last < c.First || a.First > c.Last {
			out = append(out, fmt.Sprintf("%s lies outside the school year.", quoted(a.Name, "An appointment")))
		}
	}
	for _, s := range c.Special {
		if s.Date < c.First || s.Date > c.Last {
			out = append(out, fmt.Sprintf("%s (%s) lies outside the school year.", quoted(s.Name, "A special day"), s.Date.Words()))
		}
	}
	return out
}

func quoted(name, otherwise string) string {
	if name == "" {
		return otherwise
	}
	return "“" + name + "”"
}
