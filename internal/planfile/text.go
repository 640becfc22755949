package planfile

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/plan"
	"bookstead/internal/planner"
	"bookstead/internal/timetable"
)

// WriteText writes the answer for people: for each class its days, its price by
// wish and what could not be met; then the timetable.
func (f *File) WriteText(w io.Writer, a *Answer) error {
	out := bufio.NewWriter(w)
	for i, c := range a.Classes {
		if i > 0 {
			fmt.Fprintln(out)
		}
		f.Classes[i].text(out, c)
	}
	if a.Timetable != nil {
		fmt.Fprintln(out)
		f.day(out, a.Timetable)
	}
	if err := out.Flush(); err != nil {
		return fmt.Errorf("writing the plan: %w", err)
	}
	return nil
}

func (c Class) text(w io.Writer, a ClassAnswer) {
	fmt.Fprintf(w, "%s\n", a.Name)
	for _, d := range a.Plan.Days {
		var parts []string
		last := ""
		for _, s := range d.Steps {
			book := ""
			if head := fmt.Sprintf("%s, lesson %d", c.title(s), s.Lesson); head != last {
				book, last = head+": ", head
			}
			part := fmt.Sprintf("%s%s %d", book, s.Kind, s.Minutes)
			if s.Parts > 1 {
				part += fmt.Sprintf(" (part %d of %d)", s.Part, s.Parts)
			}
			parts = append(parts, part)
		}
		for _, x := range a.Added {
			if x.Date == d.Date {
				parts = append(parts, fmt.Sprintf("%s: %s %d", c.child(x.Child), habit(x.Habit), x.Minutes))
			}
		}
		fmt.Fprintf(w, "  %s  %3d of %3d  %s\n", d.Date.Time().Format("Mon 02 Jan 2006"), d.Minutes(), d.Available, strings.Join(parts, "; "))
	}
	fmt.Fprintf(w, "\n  Price, %d points: %s\n", a.Cost.Points(), prices(a.Cost))
	section(w, "What could not be met", a.Unmet)
	var moved, ways []string
	for _, x := range a.Changes {
		moved = append(moved, c.change(x))
	}
	for _, x := range a.Ways {
		ways = append(ways, x.Says)
	}
	section(w, "What changes", moved)
	section(w, "Ways to catch up", ways)
	section(w, "Notes", slices.DeleteFunc(slices.Clone(a.Plan.Notes), func(s string) bool { return slices.Contains(a.Unmet, s) }))
}

// change is a change in words.
func (c Class) change(x plan.Change) string {
	what := fmt.Sprintf("%s, lesson %d", c.title(plan.Step{Kit: x.Kit}), x.Lesson)
	if x.Kind != "" {
		what += fmt.Sprintf(": %s", x.Kind)
	}
	day := func(d calendar.Date) string { return d.Time().Format("Mon 2 Jan") }
	switch {
	case x.From == calendar.None:
		return fmt.Sprintf("%s: new, on %s", what, day(x.To))
	case x.To == calendar.None:
		return fmt.Sprintf("%s: no longer in the plan, was on %s", what, day(x.From))
	}
	return fmt.Sprintf("%s: from %s to %s", what, day(x.From), day(x.To))
}

func section(w io.Writer, head string, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintf(w, "\n  %s\n", head)
	for _, l := range lines {
		fmt.Fprintf(w, "    %s\n", l)
	}
}

func (c Class) title(s plan.Step) string {
	for _, b := range c.Books {
		if b.Kit == s.Kit && b.Title != "" {
			return b.Title
		}
	}
	return string(s.Kit)
}

func (c Class) child(id string) string {
	for _, ch := range c.Children {
		if ch.ID == id {
			return ch.Name
		}
	}
	return id
}

func habit(h class.Habit) string {
	switch h {
	case class.ReadsAloud:
		return "reads aloud"
	case class.HearsReader:
		return "hears a good reader"
	}
	return "reads silently"
}

// prices names the wishes that cost something.
func prices(c planner.Cost) string {
	var out []string
	for _, x := range []struct {
		name   string
		points int
	}{
		{"days", c.Days}, {"lessons cut", c.Cuts}, {"open over a weekend or days off", c.Weekends}, {"tests beside days off", c.Tests},
		{"thin days", c.Thin}, {"full light days", c.Light}, {"talking over shortened", c.Short}, {"off the even course", c.Reserve}, {"moved", c.Moved},
	} {
		if x.points > 0 {
			out = append(out, fmt.Sprintf("%s %d", x.name, x.points))
		}
	}
	if c.Late > 0 {
		out = append(out, fmt.Sprintf("and, before all of these, days late %d", c.Late))
	}
	return strings.Join(out, ", ")
}

func (f *File) day(w io.Writer, d *DayAnswer) {
	fmt.Fprintf(w, "%s\n", d.Date.Time().Format("Monday 2 January 2006"))
	blocks := map[string]timetable.Block{}
	for _, b := range d.Blocks {
		blocks[b.ID] = b
	}
	for _, p := range d.Placed {
		b := blocks[p.Block]
		var names []string
		title := ""
		for _, id := range b.Children {
			for _, c := range f.Classes {
				if slices.ContainsFunc(c.Children, func(ch Child) bool { return ch.ID == id }) {
					names = append(names, c.child(id))
					title = c.title(plan.Step{Kit: b.Kit})
				}
			}
		}
		what := string(b.Kind)
		switch {
		case b.Kind == timetable.Break:
		case b.Lesson > 0:
			what = fmt.Sprintf("%s, lesson %d of %s", b.Kind, b.Lesson, title)
		default:
			what = habit(class.Habit(b.Kind))
		}
		with := "          "
		if b.Teacher {
			with = "with you  "
		}
		fmt.Fprintf(w, "  %s–%s  %s%s: %s\n", p.At, p.At+calendar.Clock(b.Minutes), with, strings.Join(names, ", "), what)
	}
	section(w, "Notes", d.Notes)
}
