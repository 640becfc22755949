package prepare

import (
	"context"
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
	"bookstead/internal/timetable"
)

// DayTable is one day of all the teacher's classes on the clock.
type DayTable struct {
	Date    calendar.Date
	Classes []TableClass // those with work on the day
	Blocks  []TableBlock // by time
	Result  *timetable.Result
	// Tracks are the columns of the day: children whose whole day is the same,
	// by name, or by the class when that is all of it.
	Tracks []string
	// Without are classes that have work on the day and no students, so that
	// they cannot be laid on the clock.
	Without []string

	hours  timetable.Hours
	groups []timetable.Group
	pins   []timetable.Pin
	// books are the books of kits, by the name under which the day knows a kit;
	// titles and copies are by book.
	books  map[kit.ID]kit.ID
	titles map[kit.ID]string
	copies map[kit.ID]int
}

// TableClass is a class of the day.
type TableClass struct {
	ID   class.ID
	Name string
}

// TableBlock is a piece of work with its time.
type TableBlock struct {
	ID      string
	Classes []int // indices of its classes
	What    string
	Who     string // names, when it is not all of the class
	Tracks  []int  // see [DayTable.Tracks]
	From    calendar.Clock
	To      calendar.Clock
	Teacher bool
	Pause   bool
	Held    bool
}

// DayTable lays the plans of all classes for a day on the clock.
func (w *Workshop) DayTable(ctx context.Context, d calendar.Date, progress Progress) (*DayTable, error) {
	t, err := w.dayTable(ctx, d, progress)
	if err != nil {
		return nil, err
	}
	return t, t.solve(ctx)
}

// dayTable gathers what a day's timetable is made of.
func (w *Workshop) dayTable(ctx context.Context, d calendar.Date, progress Progress) (*DayTable, error) {
	classes, err := w.store.Classes().List(ctx)
	if err != nil {
		return nil, err
	}
	t := &DayTable{Date: d, books: map[kit.ID]kit.ID{}, titles: map[kit.ID]string{}, copies: map[kit.ID]int{}}
	for _, c := range classes {
		y, err := w.Year(ctx, c.ID, progress)
		if err != nil {
			return nil, err
		}
		day := y.day(d)
		if len(day.Day.Steps) == 0 || day.Note.Lost {
			continue
		}
		if len(c.Students) == 0 {
			t.Without = append(t.Without, c.Name)
			continue
		}
		g := timetable.Group{Class: c.ID, Grade: c.Grade, Steps: slices.Clone(day.Day.Steps)}
		for i, s := range g.Steps {
			if g.Steps[i].Kit, err = t.name(ctx, w, s.Kit, y.Title(s.Kit), c.Copies); err != nil {
				return nil, err
			}
		}
		for _, s := range c.Students {
			if !slices.Contains(day.Note.Absent, s.ID) {
				g.Children = append(g.Children, timetable.Child{ID: s.ID, Name: s.Name, From: c.Settings.Begins()})
			}
		}
		for _, a := range c.Calendar.Appointments {
			if a.On(d) && a.To > a.From {
				g.Away = append(g.Away, timetable.Away{Name: a.Name, From: a.From, To: a.To})
			}
		}
		if len(g.Children) == 0 {
			continue // all are away
		}
		if t.hours.Begins == 0 || c.Settings.Begins() < t.hours.Begins {
			t.hours.Begins = c.Settings.Begins()
		}
		for _, x := range day.Note.Held {
			t.pins = append(t.pins, timetable.Pin{Block: x.Block, At: x.At})
		}
		t.Classes, t.groups = append(t.Classes, TableClass{c.ID, c.Name}), append(t.groups, g)
	}
	return t, nil
}

// name is that of a kit in the timetable: of its book and its lessons, so that
// classes that read the same lessons do together what they do with the teacher.
func (t *DayTable) name(ctx context.Context, w *Workshop, id kit.ID, title string, copies int) (kit.ID, error) {
	work, err := w.bookWork(ctx, id, nil)
	if err != nil {
		return "", err
	}
	sum := sha256.New()
	for _, l := range work.book.Lessons {
		for _, s := range l.Steps {
			fmt.Fprintln(sum, s.Span.Start, s.Span.End)
		}
	}
	b := kit.ID(work.id)
	name := kit.ID(fmt.Sprintf("%s-%x", b, sum.Sum(nil)[:4]))
	t.books[name], t.titles[b], t.copies[b] = b, title, max(t.copies[b], copies)
	return name, nil
}

// solve lays the day out and puts it into the words of a page.
func (t *DayTable) solve(ctx context.Context) error {
	p, err := timetable.Day(t.hours, t.groups)
	if err != nil {
		return err
	}
	short := map[kit.ID]bool{} // a class has fewer copies than children: they look into one together
	for _, g := range t.groups {
		for _, s := range g.Steps {
			b := t.books[s.Kit]
			short[b] = short[b] || t.copies[b] < len(g.Children)
		}
	}
	for i, b := range p.Blocks {
		p.Blocks[i].Kit = t.books[b.Kit]
		if short[p.Blocks[i].Kit] {
			p.Blocks[i].Copies = 0
		}
	}
	for b, n := range t.copies {
		if !short[b] {
			p.Copies = append(p.Copies, timetable.Copies{Kit: b, Count: n})
		}
	}
	slices.SortFunc(p.Copies, func(a, b timetable.Copies) int { return strings.Compare(string(a.Kit), string(b.Kit)) })
	for _, x := range t.pins { // those whose block is still there
		if slices.ContainsFunc(p.Blocks, func(b timetable.Block) bool { return b.ID == x.Block }) {
			p.Pins = append(p.Pins, x)
		}
	}
	if t.Result, err = timetable.Solve(ctx, p); err != nil {
		return err
	}
	t.Blocks, t.Tracks = nil, nil
	for _, at := range t.Result.Placed {
		i := slices.IndexFunc(p.Blocks, func(b timetable.Block) bool { return b.ID == at.Block })
		t.Blocks = append(t.Blocks, t.block(p, p.Blocks[i], at.At))
	}
	t.tracks(p)
	return nil
}

// tracks finds the children whose whole day is the same.
func (t *DayTable) tracks(p timetable.Problem) {
	blocksOf := func(child string) (own []int) {
		for i, x := range t.Blocks {
			b := p.Blocks[slices.IndexFunc(p.Blocks, func(b timetable.Block) bool { return b.ID == x.ID })]
			if slices.Contains(b.Children, child) {
				own = append(own, i)
			}
		}
		return own
	}
	for gi, g := range t.groups {
		var days [][]int
		var names [][]string
		for _, c := range g.Children {
			own := blocksOf(c.ID)
			k := slices.IndexFunc(days, func(d []int) bool { return slices.Equal(d, own) })
			if k < 0 {
				k, days, names = len(days), append(days, own), append(names, nil)
			}
			names[k] = append(names[k], c.Name)
		}
		for k, own := range days {
			name := t.Classes[gi].Name
			if len(days) > 1 {
				name = strings.Join(names[k], ", ")
			}
			for _, i := range own {
				t.Blocks[i].Tracks = append(t.Blocks[i].Tracks, len(t.Tracks))
			}
			t.Tracks = append(t.Tracks, name)
		}
	}
}

func (t *DayTable) block(p timetable.Problem, b timetable.Block, at calendar.Clock) TableBlock {
	x := TableBlock{ID: b.ID, What: "Pause", From: at, To: at + calendar.Clock(b.Minutes), Teacher: b.Teacher, Pause: b.Kind == timetable.Break,
		Held: slices.ContainsFunc(p.Pins, func(q timetable.Pin) bool { return q.Block == b.ID })}
	if !x.Pause {
		x.What = fmt.Sprintf("%s, lesson %d: %s", t.titles[b.Kit], b.Lesson, StepName(plan.Step{Lesson: b.Lesson, Kind: b.Kind}))
	}
	var names []string
	whole := true
	for i, g := range t.groups {
		n := len(names)
		for _, c := range g.Children {
			if slices.Contains(b.Children, c.ID) {
				names = append(names, c.Name)
			}
		}
		if n = len(names) - n; n > 0 {
			x.Classes = append(x.Classes, i)
			whole = whole && n == len(g.Children)
		}
	}
	if !whole {
		x.Who = strings.Join(names, ", ")
	}
	return x
}

// HoldBlock puts a block of a day's timetable at a time, and the rest follows; a
// time that cannot be kept is refused.
func (w *Workshop) HoldBlock(ctx context.Context, d calendar.Date, block string, at calendar.Clock) error {
	return w.hold(ctx, d, block, fmt.Sprintf("Put a step of %s at %s", d.Time().Format("2 January"), at), &at)
}

// FreeBlock lets a block of a day's timetable move again.
func (w *Workshop) FreeBlock(ctx context.Context, d calendar.Date, block string) error {
	return w.hold(ctx, d, block, "Let a step of "+d.Time().Format("2 January")+" move again", nil)
}

func (w *Workshop) hold(ctx context.Context, d calendar.Date, block, label string, at *calendar.Clock) error {
	t, err := w.DayTable(ctx, d, nil)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(t.Blocks, func(b TableBlock) bool { return b.ID == block })
	if i < 0 {
		return fault.New(fault.Conflict, "This piece of work is not on that day any more.", "Load the page again.")
	}
	id := t.Classes[t.Blocks[i].Classes[0]].ID
	if at != nil {
		t.pins = append(slices.DeleteFunc(t.pins, func(p timetable.Pin) bool { return p.Block == block }), timetable.Pin{Block: block, At: *at})
		if err := t.solve(ctx); err != nil {
			return err
		}
	}
	y, err := w.Year(ctx, id, nil)
	if err != nil {
		return err
	}
	return w.wish(ctx, id, y.WishRevision(), label, func(p *plan.Wish) error {
		h := p.On(d)
		h.Held = slices.DeleteFunc(slices.Clone(h.Held), func(x plan.Held) bool { return x.Block == block })
		if at != nil {
			h.Held = append(h.Held, plan.Held{Block: block, At: *at})
		}
		p.Note(h)
		return nil
	})
}
