package planner

import (
	"fmt"
	"reflect"

	"bookstead/internal/calendar"
	"bookstead/internal/plan"
)

// Reason is why a school day is as it is.
type Reason struct {
	Date calendar.Date `json:"date"`
	Cost Cost          `json:"cost"`
	// Why are plain sentences, one for each wish that the day does not keep;
	// none for a day that keeps them all.
	Why []string `json:"why,omitempty"`
}

// result turns a solution into a plan.
func (y *year) result(at []int) *Result {
	p := y.problem
	out := &Result{Plan: plan.Plan{Class: y.Class, Days: append([]plan.Day{}, y.kept...)}}
	for d := range p.days {
		i, j := at[d], at[d+1]
		if j > i {
			out.Plan.Days = append(out.Plan.Days, y.day(d, i, j))
		}
		if i < len(p.atoms) {
			c := p.price(d, i, j)
			out.Cost.add(c)
			out.Days = append(out.Days, Reason{Date: y.dates[d], Cost: c, Why: y.why(d, i, j, c)})
		}
	}
	numberParts(&out.Plan)
	out.Plan.Shortfalls = y.shortfalls(at)
	out.Plan.Notes, out.Unmet = y.sentences(at, out.Plan)
	if y.Agreed != nil {
		out.Plan.Sequence = y.Agreed.Sequence
		if !reflect.DeepEqual(out.Plan.Days, y.Agreed.Days) {
			out.Plan.Sequence++
		}
	}
	return out
}

// day makes a day of atoms: those of one step that lie together become one.
func (y *year) day(d, i, j int) plan.Day {
	day := plan.Day{Date: y.dates[d], Available: y.problem.days[d].cap}
	over := -day.Available
	for _, a := range y.problem.atoms[i:j] {
		over += a.minutes
	}
	var last Ref
	for k := i; k < j; k++ {
		w, a := y.work[k], y.problem.atoms[k]
		s := w.step
		if cut := min(a.give, max(0, over)); cut > 0 {
			s.Minutes -= cut
			over -= cut
		}
		if n := len(day.Steps) - 1; n >= 0 && w.ref == last {
			day.Steps[n].Minutes += s.Minutes
			day.Steps[n].Span.End = s.Span.End
			continue
		}
		day.Steps = append(day.Steps, s)
		last = w.ref
	}
	for k := range day.Steps {
		if s := &day.Steps[k]; s.Kind == plan.Reading {
			s.Pages = ""
			if pages := y.books[y.bookOf(s.Kit)].Pages; pages != nil {
				s.Pages = pages(s.Span)
			}
		}
	}
	return day
}

func (y *year) bookOf(id any) int {
	for i, b := range y.books {
		if b.Kit == id {
			return i
		}
	}
	return 0
}

// numberParts counts the parts of steps that lie on several days.
func numberParts(p *plan.Plan) {
	parts := map[Ref]int{}
	eachStep(p.Days, func(_, _ int, _ plan.Step, ref Ref) { parts[ref]++ })
	seen := map[Ref]int{}
	eachStep(p.Days, func(d, k int, _ plan.Step, ref Ref) {
		s := &p.Days[d].Steps[k]
		s.Part, s.Parts = 0, 0
		if parts[ref] > 1 {
			seen[ref]++
			s.Part, s.Parts = seen[ref], parts[ref]
		}
	})
}

// why says which wishes a day does not keep.
func (y *year) why(d, i, j int, c Cost) []string {
	p := y.problem
	var out []string
	say := func(points int, format string, args ...any) {
		if points > 0 {
			out = append(out, fmt.Sprintf(format, args...))
		}
	}
	if i == j && p.open(d, i) {
		out = append(out, "A free day, kept as a reserve.")
		if p.line == nil {
			out[0] = "A free day: what comes next does not fit, or would cost more here."
		}
	}
	load := p.done(j) - p.done(i)
	if c.Cuts > 0 {
		say(c.Cuts, "%s goes on on another day.", y.name(y.work[j]))
	}
	if c.Weekends > 0 {
		between := "a weekend"
		if p.days[d].gap == daysOff {
			between = "days off"
		}
		say(c.Weekends, "%s is open over %s.", y.name(y.work[j]), between)
	}
	for k := i; k < j; k++ {
		if p.days[d].edge {
			say(p.atoms[k].test, "%s lies beside days off.", y.name(y.work[k]))
		}
		if a := p.atoms[k]; a.agreed >= 0 && a.agreed != d {
			say(a.moved, "%s moved from %s.", y.name(y.work[k]), y.dates[a.agreed].Words())
		}
	}
	say(c.Thin, "Only %d of %d minutes are used.", load, p.days[d].cap)
	say(c.Light, "%d of %d minutes, on a day that should be lighter.", min(load, p.days[d].cap), p.days[d].cap)
	say(c.Short, "Talking over is %s shorter, so that the day holds all.", minutes(load-p.days[d].cap))
	say(c.Reserve, "The work is more than a day off its even course.")
	say(c.Late, "An end date, a moved day or the day of an announced test is past.")
	return out
}
