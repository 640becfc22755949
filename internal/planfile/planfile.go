// Package planfile reads a planning problem from a file and answers it: the
// plans of one or more classes with their prices and what could not be met, and
// the timetable of a day. docs/plan-file.md describes the file.
//
// A [File] is one class's [planner.Request], or several classes that share a
// school calendar and a teacher. Start with [Read], then [File.Plan] and
// [Answer.Timetable].
package planfile

import (
	"context"
	"fmt"
	"io"
	"slices"
	"time"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/pace"
	"bookstead/internal/plan"
	"bookstead/internal/planner"
	"bookstead/internal/timetable"
)

// Largest is the largest file that is read, in bytes.
const Largest = 64 << 20

// File is a plan file.
type File struct {
	Class                // of a file with one class
	Classes []Class      `json:"classes,omitempty"`
	Day     *Day         `json:"day,omitempty"`
	Week    time.Weekday `json:"weekStart,omitempty"` // 0 Sunday, 1 Monday
}

// Class is one class of the file.
type Class struct {
	planner.Request
	Name     string  `json:"name,omitempty"`
	Grade    int     `json:"grade,omitempty"`
	Children []Child `json:"children,omitempty"`
	// Rate is how many words a minute the class reads in its own mode, for the
	// ways to catch up; 0 for the published median of reading aloud.
	Rate float64 `json:"rate,omitempty"`
}

// Child is one child of a class.
type Child struct {
	planner.Reader
	From calendar.Clock   `json:"from,omitzero"`
	Away []timetable.Away `json:"away,omitempty"`
}

// Day is how the day is shaped, and what the teacher moved in it.
type Day struct {
	timetable.Hours
	Pins    []timetable.Pin    `json:"pins,omitempty"`
	Before  []timetable.Placed `json:"before,omitempty"`
	Weights *timetable.Weights `json:"weights,omitempty"`
}

// Read reads a plan file. It is Unreadable when it is none, with the place of
// the trouble; TooLarge beyond [Largest]; Invalid when it contradicts itself.
func Read(r io.Reader) (*File, error) {
	data, err := io.ReadAll(io.LimitReader(r, Largest+1))
	if err != nil {
		return nil, fault.Wrap(fault.Unreadable, err, "The plan file cannot be read.", "Check that it is still there.")
	}
	if len(data) > Largest {
		return nil, fault.New(fault.TooLarge, "The plan file is larger than 64 megabytes.", "Leave out what it does not need.")
	}
	var f File
	if err := planner.Decode(data, &f); err != nil {
		return nil, err
	}
	return &f, f.complete()
}

func (f *File) complete() error {
	if len(f.Classes) == 0 {
		f.Classes = []Class{f.Class}
	} else if len(f.Class.Books) > 0 {
		return fault.New(fault.Invalid, "The file has books beside its classes.", "Put each book into the class that reads it.")
	}
	if f.Week < time.Sunday || f.Week > time.Saturday {
		return fault.New(fault.Invalid, fmt.Sprintf("The week cannot start on day %d.", f.Week), "Write 0 for Sunday or 1 for Monday.")
	}
	seen := map[class.ID]bool{}
	for i := range f.Classes {
		c := &f.Classes[i]
		if c.Request.Class == "" {
			c.Request.Class = class.ID(fmt.Sprintf("class %d", i+1))
		}
		if seen[c.Request.Class] {
			return fault.New(fault.Invalid, fmt.Sprintf("Two classes have the same name: %q.", c.Request.Class), "Give each class a name of its own.")
		}
		seen[c.Request.Class] = true
		if c.Name == "" {
			c.Name = string(c.Request.Class)
		}
		if c.Grade == 0 {
			c.Grade = 4
		}
		if c.Grade < 1 || c.Grade > 6 {
			return fault.New(fault.Invalid, fmt.Sprintf("%s is of grade %d.", c.Name, c.Grade), "Bookstead plans for grades 1 to 6.")
		}
		if c.Calendar.First == calendar.None && c.Calendar.Last == calendar.None {
			c.Calendar = f.Calendar
		}
		if err := c.Complete(); err != nil {
			return err
		}
		if err := c.rules(); err != nil {
			return err
		}
	}
	return nil
}

func (c *Class) rules() error {
	for i := range c.Children {
		ch := &c.Children[i]
		if ch.ID == "" {
			return fault.New(fault.Invalid, fmt.Sprintf("A child of %s has no id.", c.Name), "Give each child an id of its own.")
		}
		if ch.Name == "" {
			ch.Name = ch.ID
		}
		for _, r := range ch.Rules {
			if err := r.Validate(); err != nil {
				return fault.New(fault.Invalid, ch.Name+": "+fault.Of(err).Message, fault.Of(err).Hint)
			}
		}
	}
	return nil
}

// Answer is the answer to a file.
type Answer struct {
	Classes []ClassAnswer `json:"classes"`
	// Timetable of the day asked for.
	Timetable *DayAnswer `json:"timetable,omitempty"`
}

// ClassAnswer is the answer for one class.
type ClassAnswer struct {
	Class class.ID `json:"class"`
	Name  string   `json:"name"`
	*planner.Result
	// Added is the reading that the children's rules need besides.
	Added  []planner.Added  `json:"added,omitempty"`
	Unkept []planner.Unkept `json:"unkept,omitempty"`
	// Changes are what begins on another day than in the plan agreed before, and
	// Ways to catch up, each with its wish and what it saves.
	Changes []plan.Change `json:"changes,omitempty"`
	Ways    []planner.Way `json:"ways,omitempty"`
}

// Plan plans every class.
func (f *File) Plan(ctx context.Context) (*Answer, error) {
	out := &Answer{}
	for i := range f.Classes {
		c := &f.Classes[i]
		r, err := planner.Plan(ctx, c.Request)
		if err != nil {
			if len(f.Classes) > 1 && fault.Of(err).Kind == fault.Invalid {
				return nil, fault.New(fault.Invalid, c.Name+": "+fault.Of(err).Message, fault.Of(err).Hint)
			}
			return nil, err
		}
		a := ClassAnswer{Class: c.Request.Class, Name: c.Name, Result: r}
		var readers []planner.Reader
		for _, ch := range c.Children {
			readers = append(readers, ch.Reader)
		}
		a.Added, a.Unkept = planner.Habits(c.Calendar, r.Plan, readers, f.Week)
		for _, u := range a.Unkept {
			r.Unmet = append(r.Unmet, u.Why)
		}
		r.Plan.Notes = append(r.Plan.Notes, c.oddities()...)
		if c.Agreed != nil {
			a.Changes = plan.Diff(*c.Agreed, r.Plan)
			rate := c.Rate
			if rate <= 0 {
				rate = pace.Of(class.Class{Grade: c.Grade, Settings: class.Defaults(c.Grade)}, class.Turns, pace.SeasonOf(c.Calendar, c.From)).WPM
			}
			if a.Ways, err = planner.CatchUp(ctx, c.Request, r, rate); err != nil {
				return nil, err
			}
		}
		out.Classes = append(out.Classes, a)
	}
	return out, nil
}

// oddities are sentences on what is allowed and yet may be a mistake.
func (c *Class) oddities() []string {
	var out []string
	longest := 0
	for d := c.Calendar.First; d <= c.Calendar.Last; d++ {
		longest = max(longest, c.Calendar.MinutesOn(d))
	}
	empty, long, most, which := 0, 0, 0, ""
	for _, b := range c.Books {
		for _, l := range b.Lessons {
			n := 0
			for _, s := range l.Steps {
				if n += s.Minutes; s.Minutes == 0 {
					empty++
				}
			}
			if n > longest {
				long++
				if n > most {
					most, which = n, fmt.Sprintf("lesson %d of “%s”", l.Number, b.Title)
				}
			}
		}
	}
	if long == 1 {
		out = append(out, fmt.Sprintf("One lesson is longer than any day, so it goes on over more than one: %s takes %d minutes, a day has %d.", which, most, longest))
	} else if long > 1 {
		out = append(out, fmt.Sprintf("%d lessons are longer than any day, so each goes on over more than one; the longest is %s, with %d minutes, and a day has %d.", long, which, most, longest))
	}
	if empty > 0 {
		out = append(out, fmt.Sprintf("Steps without minutes are left out of the plan; there are %d.", empty))
	}
	if len(c.Children) == 0 {
		out = append(out, "The class has no students, so no rules are looked at and it has no timetable.")
	}
	return out
}

// DayAnswer is a day's timetable, with what its blocks are.
type DayAnswer struct {
	Date   calendar.Date     `json:"date"`
	Blocks []timetable.Block `json:"blocks"`
	*timetable.Result
}

// Timetable lays out a day of the plans. It is Invalid when no class has work
// on it, and as [timetable.Solve].
func (f *File) Timetable(ctx context.Context, a *Answer, date calendar.Date) error {
	var groups []timetable.Group
	var extra []timetable.Block
	for i, c := range f.Classes {
		k := slices.IndexFunc(a.Classes[i].Plan.Days, func(d plan.Day) bool { return d.Date == date })
		if k < 0 {
			continue
		}
		g := timetable.Group{Class: c.Request.Class, Grade: c.Grade, Steps: a.Classes[i].Plan.Days[k].Steps}
		for _, ch := range c.Children {
			g.Children = append(g.Children, timetable.Child{ID: ch.ID, Name: ch.Name, From: ch.From, Away: ch.Away})
		}
		for _, ap := range c.Calendar.Appointments {
			if ap.On(date) && ap.From < ap.To {
				g.Away = append(g.Away, timetable.Away{Name: ap.Name, From: ap.From, To: ap.To})
			}
		}
		groups = append(groups, g)
		for n, x := range a.Classes[i].Added {
			if x.Date == date {
				extra = append(extra, timetable.Block{ID: fmt.Sprintf("rule/%s/%s/%d", x.Child, x.Habit, n), Children: []string{x.Child},
					Minutes: x.Minutes, Teacher: x.Habit != class.ReadsSilent, Kind: plan.StepKind(x.Habit)})
			}
		}
	}
	if len(groups) == 0 {
		return fault.New(fault.Invalid, fmt.Sprintf("No class has work on %s.", date.Time().Format("Monday 2 January 2006")), a.nearest(date))
	}
	h := timetable.Hours{Begins: 9 * 60}
	var day Day
	if f.Day != nil {
		day, h = *f.Day, f.Day.Hours
	}
	p, err := timetable.Day(h, groups)
	if err != nil {
		return err
	}
	p.Blocks = append(p.Blocks, extra...)
	p.Pins, p.Before, p.Weights = day.Pins, day.Before, day.Weights
	r, err := timetable.Solve(ctx, p)
	if err != nil {
		return err
	}
	a.Timetable = &DayAnswer{Date: date, Blocks: p.Blocks, Result: r}
	return nil
}

// nearest is a hint at the next day with work.
func (a *Answer) nearest(date calendar.Date) string {
	next := calendar.None
	for _, c := range a.Classes {
		for _, d := range c.Plan.Days {
			if d.Date > date && (next == calendar.None || d.Date < next) {
				next = d.Date
			}
		}
	}
	if next == calendar.None {
		return "Choose a day of the plan."
	}
	return fmt.Sprintf("The next day with work is %s.", next.Words())
}
