package planner

import (
	"fmt"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
)

// mostReserve is the largest share of the time, in percent, that can be left free.
const mostReserve = 90

// Check says the first thing that cannot be met in what was asked, nil when
// there is none: dates that contradict each other or the school year, a book
// named twice or not there. A door calls it before a wish is kept. [Plan] makes
// a plan all the same, as near to the wish as it can be, and says these things
// in its notes, so that a wish that a new calendar made impossible can be seen
// and changed.
func Check(r Request) error {
	if err := r.Calendar.Validate(); err != nil {
		return err
	}
	if all := contradictions(r); len(all) > 0 {
		return all[0]
	}
	return nil
}

func contradictions(r Request) []*fault.Error {
	var out []*fault.Error
	say := func(hint, format string, args ...any) {
		out = append(out, fault.New(fault.Invalid, fmt.Sprintf(format, args...), hint))
	}
	c := r.Calendar
	title := func(id kit.ID) string {
		for _, b := range r.Books {
			if b.Kit == id {
				return b.Title
			}
		}
		return ""
	}
	if r.Wish.Reserve < 0 || r.Wish.Reserve > mostReserve {
		say(fmt.Sprintf("Give between 0 and %d percent.", mostReserve), "%d percent of the time cannot be left free.", r.Wish.Reserve)
	}
	for _, k := range plan.Concerns {
		if f, ok := r.Wish.Care[k]; ok && !(f >= 0 && f <= plan.MostCare) {
			say(fmt.Sprintf("Give a number from 0, for not at all, to %d.", plan.MostCare), "%g times is no measure of how much something matters.", f)
		}
	}
	seen := map[kit.ID]bool{}
	for _, w := range r.Wish.Books {
		name := title(w.Kit)
		switch {
		case name == "":
			say("Take it out of the year's books.", "The year names a book that is not there any more.")
		case seen[w.Kit]:
			say("Take one of the two out.", "“%s” stands in the year twice.", name)
		case w.End != calendar.None && w.End < c.First:
			say("Check the two dates.", "“%s” should end by %s, before the school year starts on %s.", name, w.End.Words(), c.First.Words())
		case w.Start != calendar.None && w.End != calendar.None && w.End < w.Start:
			say("Check the two dates.", "“%s” should end by %s, before it may start on %s.", name, w.End.Words(), w.Start.Words())
		case w.Start != calendar.None && len(c.SchoolDays(w.Start)) == 0:
			say("Choose an earlier day, or make the school year longer.", "“%s” should not start before %s, but no school day lies behind that.", name, w.Start.Words())
		}
		seen[w.Kit] = true
	}
	for _, p := range r.Wish.Pins {
		if name := title(p.Kit); name != "" && (p.Date < c.First || len(c.SchoolDays(p.Date)) == 0) {
			say("Choose a day of the school year.", "Lesson %d of “%s” was moved to %s, but no school day lies there.", p.Lesson, name, p.Date.Words())
		}
	}
	return out
}
