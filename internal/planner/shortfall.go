package planner

import (
	"fmt"
	"strings"

	"bookstead/internal/calendar"
	"bookstead/internal/plan"
)

// shortfalls says which books do not end by their dates, or at all.
func (y *year) shortfalls(at []int) []plan.Shortfall {
	var out []plan.Shortfall
	full := y.full()
	for i, b := range y.books {
		by := y.wishOf(i).End
		last, ok := y.last[i]
		if !ok {
			continue
		}
		day := len(y.dates) - 1
		if by != calendar.None {
			day = y.dayBy(by)
		}
		ends := len(y.dates) // the day behind the year
		if last < len(y.problem.atoms) {
			ends = y.dayOf(at, last)
		}
		if ends <= day {
			continue
		}
		s := plan.Shortfall{Kit: b.Kit, Wanted: by, Days: ends - day}
		if by == calendar.None {
			s.Wanted = y.Calendar.Last
		}
		if ends < len(y.dates) {
			s.Ends = y.dates[ends]
		} else {
			s.Days = y.daysBehind(full, last) + len(y.dates) - 1 - day
		}
		for a, w := range y.work {
			if w.book == i && y.dayOf(at, a) > day {
				s.Minutes += y.problem.atoms[a].minutes
			}
		}
		for _, w := range y.left {
			if w.book == i {
				s.Minutes += w.step.Minutes
			}
		}
		s.MoreMinutes = moreMinutes(full, day, last)
		s.FewerLessons = y.fewerLessons(full, i, day, last)
		out = append(out, s)
	}
	return out
}

// full is the problem with the work that the year does not hold.
func (y *year) full() *problem {
	p := *y.problem
	p.atoms = append(p.atoms[:len(p.atoms):len(p.atoms)], y.leftAtoms...)
	return &p
}

// dayOf is the day on which an atom lies.
func (y *year) dayOf(at []int, a int) int {
	d := 0
	for at[d+1] <= a {
		d++
	}
	return d
}

// daysBehind is how many school days behind the end of the year it takes to
// reach the end of a book, with the weekdays of the year and no days off.
func (y *year) daysBehind(p *problem, last int) int {
	k := newPack(p)
	i, n := k.by(len(p.days)-1, 0), 0
	for d := y.Calendar.Last + 1; i <= last && n < 2000; d++ {
		cap := y.Calendar.Minutes[d.Weekday()]
		if cap == 0 {
			if y.anyWeekday() {
				continue
			}
			cap = y.usualDay()
		}
		i, n = k.day(len(p.days), cap, i), n+1
	}
	return n
}

func (y *year) anyWeekday() bool { return y.Calendar.Minutes != [7]int{} }

// mostHelp is the longest that a day is made when help is looked for, in minutes.
const mostHelp = 120

// moreMinutes is how many minutes more each day would need for the atoms up to
// last to be done by a day, 0 when two hours do not suffice.
func moreMinutes(p *problem, day, last int) int {
	for m := 1; m <= mostHelp; m++ {
		k := newPack(p)
		k.more = m
		if day >= 0 && k.by(day, 0) > last {
			return m
		}
	}
	return 0
}

// fewerLessons is how many lessons at the end of a book would have to be left
// out for it to be done by a day; its quizzes and tests stay. 0 when none suffices.
func (y *year) fewerLessons(p *problem, bookIndex, day, last int) int {
	k := newPack(p)
	k.skip = make([]bool, len(p.atoms))
	all := append(y.work[:len(y.work):len(y.work)], y.left...)
	n := len(y.books[bookIndex].Lessons)
	for fewer := 1; fewer < n && day >= 0; fewer++ {
		for a, w := range all {
			if w.book == bookIndex && w.lesson == n-fewer && w.ref.Kind.OfLesson() {
				k.skip[a] = true
			}
		}
		if k.by(day, 0) > last {
			return fewer
		}
	}
	return 0
}

// sentences are the plan's notes for the teacher, and those of them that say
// what could not be.
func (y *year) sentences(at []int, p plan.Plan) (out, unmet []string) {
	if y.Calendar.Plain {
		out = append(out, fmt.Sprintf("No holidays are known yet: from %s on, every Monday to Friday is taken for a school day of %d minutes. Set up the school calendar to change this.",
			y.Calendar.First.Words(), y.usualDay()))
	}
	out = append(out, y.Calendar.Warnings()...)
	out = append(out, y.notes...)
	told := len(out)
	for _, e := range y.problem.ends {
		if p := y.problem.atoms[e.last]; p.first >= e.day && y.pinned(e) {
			if d := y.dayOf(at, e.last); d > e.day {
				out = append(out, fmt.Sprintf("%s cannot start on %s, because the work before it is not done by then; it starts on %s.",
					y.name(y.work[e.last]), y.dates[e.day].Words(), y.dates[d].Words()))
			}
		}
	}
	for _, t := range y.tests {
		if d := y.dayOf(at, t.atom); d > t.day {
			out = append(out, fmt.Sprintf("%s was agreed for %s and moves to %s: the work before it is not done by then.", y.name(y.work[t.atom]), t.date.Words(), y.dates[d].Words()))
		}
	}
	none := 0
	for _, s := range p.Shortfalls {
		out = append(out, y.tell(s))
		if s.Ends == calendar.None {
			none++
		}
	}
	// The last books of the year are those that found no room, so without them
	// the others have it.
	if n := len(y.books); none > 0 && none < n {
		titles := make([]string, 0, none)
		for _, b := range y.books[n-none:] {
			titles = append(titles, "“"+b.Title+"”")
		}
		out = append(out, fmt.Sprintf("The year holds %d of the %d books. Without %s the others fit into it.", n-none, n, list(titles)))
	}
	return out, out[told:]
}

// list joins names: "a", "a and b", "a, b and c".
func list(s []string) string {
	if len(s) < 2 {
		return strings.Join(s, "")
	}
	return strings.Join(s[:len(s)-1], ", ") + " and " + s[len(s)-1]
}

// pinned reports whether an end stands for a pin.
func (y *year) pinned(e end) bool {
	for _, pin := range y.Wish.Pins {
		if e.day >= 0 && y.atomOf(pin) == e.last {
			return true
		}
	}
	return false
}

// tell is a shortfall in words.
func (y *year) tell(s plan.Shortfall) string {
	var b strings.Builder
	title := y.books[y.bookOf(s.Kit)].Title
	if s.Ends == calendar.None {
		fmt.Fprintf(&b, "The school year is too short for “%s”: %s of work find no day by %s, %s too many.", title, minutes(s.Minutes), s.Wanted.Words(), many(s.Days, "school day"))
	} else {
		fmt.Fprintf(&b, "“%s” ends on %s, %s after %s.", title, s.Ends.Words(), many(s.Days, "school day"), s.Wanted.Words())
	}
	var help []string
	if s.MoreMinutes > 0 {
		help = append(help, many(s.MoreMinutes, "minute")+" more each day")
	}
	switch {
	case s.Ends == calendar.None:
		help = append(help, many(s.Days, "more school day"))
	default:
		help = append(help, "an end "+many(s.Days, "school day")+" later")
	}
	if n := len(y.books[y.bookOf(s.Kit)].Lessons); s.FewerLessons > 0 && 4*s.FewerLessons <= n { // more would be another book
		help = append(help, "leaving out "+many(s.FewerLessons, "lesson"))
	}
	if len(help) > 0 {
		fmt.Fprintf(&b, " What would help: %s.", strings.Join(help, ", or "))
	}
	return b.String()
}

func minutes(n int) string { return many(n, "minute") }

func many(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
