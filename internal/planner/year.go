package planner

import (
	"fmt"
	"slices"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
)

// Ref names a step.
type Ref = plan.Ref

// year is a request made ready: the problem in numbers, and what they stand for.
type year struct {
	Request
	problem   *problem
	books     []Book // in the order of the wish
	dates     []calendar.Date
	work      []work      // what each atom is
	first     map[int]int // book to its first atom; missing when nothing of it is left
	last      map[int]int // book to its last atom
	kept      []plan.Day  // days before From, as they stand
	done      map[Ref]int // minutes of a step that lie on them; all of it when finished
	left      []work      // work that the year does not hold, in order, and its atoms
	leftAtoms []atom
	notes     []string
	tests     []held
}

// finished stands for all minutes of a step.
const finished = longestStepMinutes + 1

// work is what an atom stands for.
type work struct {
	book, lesson int // indices
	step         plan.Step
	ref          Ref
}

func newYear(r Request) (*year, error) {
	r = adjust(r)
	if err := r.Calendar.Validate(); err != nil {
		return nil, err
	}
	y := &year{Request: r, problem: &problem{w: Usual()}, first: map[int]int{}, last: map[int]int{}}
	if r.Weights != nil {
		y.problem.w = *r.Weights
	}
	y.problem.w = y.problem.w.care(r.Wish.Care)
	if err := y.order(); err != nil {
		return nil, err
	}
	for _, f := range contradictions(r) {
		y.notes = append(y.notes, f.Message)
	}
	y.keep()
	if err := y.slots(); err != nil {
		return nil, err
	}
	y.fill()
	y.wishes()
	y.clip()
	y.course()
	return y, nil
}

// order puts the books into the order of the wish; books that it does not name
// come last.
func (y *year) order() error {
	used := map[kit.ID]bool{}
	for _, w := range y.Wish.Books {
		i := slices.IndexFunc(y.Books, func(b Book) bool { return b.Kit == w.Kit })
		if i >= 0 && !used[w.Kit] {
			used[w.Kit] = true
			y.books = append(y.books, y.Books[i])
		}
	}
	for _, b := range y.Books {
		if !used[b.Kit] {
			y.books = append(y.books, b)
		}
	}
	minutes := 0
	for _, b := range y.books {
		for _, l := range b.Lessons {
			for _, s := range slices.Concat(l.Steps, l.After) {
				if s.Minutes < 0 || s.Minutes > longestStepMinutes {
					return fault.New(fault.Invalid, fmt.Sprintf("A step of lesson %d of “%s” has %d minutes.", l.Number, b.Title, s.Minutes),
						fmt.Sprintf("Give it between 0 and %d minutes.", longestStepMinutes))
				}
				minutes += s.Minutes
			}
		}
	}
	if minutes == 0 {
		return fault.New(fault.Invalid, "There is nothing to plan: no book of the year has lessons with minutes.", "Add a book, or give the steps of its lessons some minutes.")
	}
	return nil
}

// wishOf is what was asked of a book; the first word counts.
func (y *year) wishOf(i int) plan.BookWish {
	for _, w := range y.Wish.Books {
		if w.Kit == y.books[i].Kit {
			return w
		}
	}
	return plan.BookWish{}
}

// slots lays out the school days from the first that may be planned.
func (y *year) slots() error {
	c := y.Calendar
	from := max(c.First, y.From)
	y.dates = c.SchoolDays(from)
	if len(y.dates) == 0 {
		return fault.New(fault.Invalid, fmt.Sprintf("No school day is left in the year from %s on.", from.Words()), "Make the school year longer, or choose an earlier day.")
	}
	for i, d := range y.dates {
		y.problem.days = append(y.problem.days, y.slot(d, y.next(i)))
	}
	y.edges()
	return nil
}

// next is the school day after day i, None when it is the last.
func (y *year) next(i int) calendar.Date {
	if i+1 < len(y.dates) {
		return y.dates[i+1]
	}
	return calendar.None
}

func (y *year) slot(d, next calendar.Date) slot {
	c := y.Calendar
	s := slot{cap: c.MinutesOn(d), light: y.problem.w.LightDays[d.Weekday()]}
	for x := d + 1; x < next; x++ {
		switch {
		case c.Minutes[x.Weekday()] > 0:
			s.gap = daysOff
		case s.gap == overnight && (x.Weekday() == 0 || x.Weekday() == 6):
			s.gap = weekend
		}
	}
	return s
}

// edges marks the days before and after days off.
func (y *year) edges() {
	days := y.problem.days
	for i := range days {
		days[i].edge = days[i].gap == daysOff || i > 0 && days[i-1].gap == daysOff
	}
}

// fill makes the atoms of all work that is left to do.
func (y *year) fill() {
	usual := y.usualDay()
	for bi, b := range y.books {
		for li, l := range b.Lessons {
			var before plan.StepKind
			open := false // the lesson's own work has begun
			for k, s := range slices.Concat(l.Steps, l.After) {
				s.Kit = b.Kit
				ref := Ref{Kit: b.Kit, Lesson: s.Lesson, Kind: s.Kind}
				if s.Kind == plan.Corrections {
					ref.After = before
				}
				before = s.Kind
				if s.Minutes > 0 {
					ofLesson := k < len(l.Steps)
					y.addStep(work{book: bi, lesson: li, step: s, ref: ref}, l, ofLesson, open, usual)
					open = ofLesson
				}
			}
		}
	}
}

// usualDay is the length of the longest regular day; a step is not to be longer.
func (y *year) usualDay() int {
	n := slices.Max(y.Calendar.Minutes[:])
	if n == 0 {
		for _, s := range y.Calendar.Special {
			n = max(n, s.Minutes)
		}
	}
	return n
}

// addStep adds the atoms of a step that are not done: one, or for a reading its
// pieces, or for what is longer than a day as many as needed. Open says that
// the step goes on with a lesson.
func (y *year) addStep(w work, l Lesson, ofLesson, open bool, usual int) {
	p := y.problem
	parts := divideStep(w.step, l, usual)
	if len(parts) > 1 && w.step.Kind == plan.Test {
		y.noteOnce("A test takes %d minutes, longer than a day of %d, so it is written on more than one day.", w.step.Minutes, usual)
	}
	done := y.done[w.ref]
	for k, part := range parts {
		if done >= part.minutes {
			done -= part.minutes
			continue
		}
		a := atom{minutes: part.minutes, agreed: -1}
		n := len(p.atoms)
		if ofLesson && open {
			a.inside, a.cut = true, p.w.CutStep
		}
		switch {
		case k > 0 && part.scene:
			a.inside, a.cut = ofLesson, p.w.CutScene
		case k > 0 && w.step.Kind == plan.Reading:
			a.inside, a.cut = ofLesson, p.w.CutParagraph
		case k > 0:
			a.inside, a.cut = ofLesson, p.w.CutPiece
		case breaksDay(w.step.Kind) && n > 0 && y.follows(w, y.work[n-1]):
			a.fresh = true
		}
		switch w.step.Kind {
		case plan.Discussion:
			a.give = part.minutes / 2
		case plan.Test:
			a.test = p.w.Test
		case plan.Quiz:
			a.test = p.w.Quiz
		}
		if _, ok := y.first[w.book]; !ok {
			y.first[w.book] = n
		}
		y.last[w.book] = n
		x := w
		x.step.Minutes, x.step.Span = part.minutes, part.span
		p.atoms = append(p.atoms, a)
		y.work = append(y.work, x)
	}
}

// noteOnce is for what may be true of several books or lessons.
func (y *year) noteOnce(format string, args ...any) {
	if s := fmt.Sprintf(format, args...); !slices.Contains(y.notes, s) {
		y.notes = append(y.notes, s)
	}
}

// follows reports whether one of the steps behind a lesson comes after another.
func (y *year) follows(w, before work) bool {
	return before.book == w.book && before.lesson == w.lesson && !before.step.Kind.OfLesson()
}

func (y *year) note(format string, args ...any) {
	y.notes = append(y.notes, fmt.Sprintf(format, args...))
}
