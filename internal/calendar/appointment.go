package calendar

import (
	"fmt"

	"bookstead/internal/fault"
)

// Appointment is a fixed hour: on one or more weekdays, or on one day.
type Appointment struct {
	Name string `json:"name"`
	// Days on which it is, Sunday first; none of them for one on First alone.
	Days [7]bool `json:"days,omitzero"`
	// First and Last bound the weeks in which it is; None for the whole year.
	First Date `json:"first,omitzero"`
	Last  Date `json:"last,omitzero"`
	// From and To are its times, for the timetable of a day.
	From Clock `json:"from,omitzero"`
	To   Clock `json:"to,omitzero"`
	// Takes is how many of the day's minutes for books it takes.
	Takes int `json:"takes,omitempty"`
}

// On reports whether the appointment is on a day.
func (a Appointment) On(d Date) bool {
	if a.Days == [7]bool{} {
		return d == a.First && d != None
	}
	return a.Days[d.Weekday()] && (a.First == None || d >= a.First) && (a.Last == None || d <= a.Last)
}

func (a Appointment) validate() error {
	switch {
	case a.Days == [7]bool{} && a.First == None:
		return fault.New(fault.Invalid, fmt.Sprintf("%s has no day.", quoted(a.Name, "An appointment")), "Choose its weekdays, or type its date.")
	case a.Last != None && a.Last < a.First:
		return fault.New(fault.Invalid, fmt.Sprintf("%s ends on %s, before it starts on %s.", quoted(a.Name, "An appointment"), a.Last.Words(), a.First.Words()), "Check the two dates.")
	case a.To < a.From:
		return fault.New(fault.Invalid, fmt.Sprintf("%s ends at %s, before it begins at %s.", quoted(a.Name, "An appointment"), a.To, a.From), "Check the two times.")
	case a.Takes < 0 || a.Takes > 600:
		return fault.New(fault.Invalid, fmt.Sprintf("%s takes %d minutes of the day.", quoted(a.Name, "An appointment"), a.Takes), "Give between 0 and 600 minutes.")
	}
	return nil
}
