package planner

import (
	"fmt"
	"slices"

	"bookstead/internal/calendar"
	"bookstead/internal/plan"
)

// dayAtOrAfter is the index of the first planned day that is not before d, the
// number of days when there is none.
func (y *year) dayAtOrAfter(d calendar.Date) int {
	i, _ := slices.BinarySearch(y.dates, d)
	return i
}

// dayBy is the index of the last planned day that is not after d, -1 when none.
func (y *year) dayBy(d calendar.Date) int { return y.dayAtOrAfter(d+1) - 1 }

// wishes turns start and end dates, pins and the plan agreed before into the
// numbers of the problem.
func (y *year) wishes() {
	p := y.problem
	for i := range y.books {
		w := y.wishOf(i)
		first, ok := y.first[i]
		if !ok {
			continue
		}
		if w.Start != calendar.None {
			p.atoms[first].first = max(p.atoms[first].first, y.dayAtOrAfter(w.Start))
		}
		if w.End != calendar.None {
			p.ends = append(p.ends, end{last: y.last[i], day: y.dayBy(w.End)})
		}
	}
	for _, pin := range y.Wish.Pins {
		y.pin(pin)
	}
	for i := 1; i < len(p.atoms); i++ {
		p.atoms[i].first = max(p.atoms[i].first, p.atoms[i-1].first)
	}
	y.agree()
}

// atomOf is the first atom of a lesson's own work, or of one of its quizzes,
// reviews or tests; -1 when nothing of it is left to do.
func (y *year) atomOf(pin plan.Pin) int {
	return slices.IndexFunc(y.work, func(w work) bool {
		return w.ref.Kit == pin.Kit && w.ref.Lesson == pin.Lesson &&
			(pin.Kind == "" && w.ref.Kind.OfLesson() || pin.Kind != "" && w.ref.Kind == pin.Kind)
	})
}

// begun reports whether some of what is pinned is done.
func (y *year) begun(pin plan.Pin) bool {
	for ref, n := range y.done {
		if n > 0 && ref.Kit == pin.Kit && ref.Lesson == pin.Lesson && (pin.Kind == "" && ref.Kind.OfLesson() || ref.Kind == pin.Kind) {
			return true
		}
	}
	return false
}

func (y *year) pin(pin plan.Pin) {
	a := y.atomOf(pin)
	if a < 0 || y.begun(pin) || pin.Date < y.Calendar.First {
		return
	}
	day := y.dayAtOrAfter(pin.Date)
	switch {
	case day == len(y.dates):
		return // no school day is left to move it to
	case pin.Date < y.dates[0]: // missed: as soon as it can be
		y.problem.ends = append(y.problem.ends, end{last: a, day: -1})
		return
	case y.dates[day] != pin.Date:
		y.note("%s was moved to %s, which is no school day; %s is the next.", y.name(y.work[a]), pin.Date.Words(), y.dates[day].Words())
	}
	at := &y.problem.atoms[a]
	at.first = max(at.first, day)
	y.problem.ends = append(y.problem.ends, end{last: a, day: day})
}

// agree prices the distance from the plan agreed before: of the first atom of
// each lesson, and of each quiz and test.
func (y *year) agree() {
	if y.Agreed == nil {
		return
	}
	days := map[Ref]calendar.Date{}
	eachStep(y.Agreed.Days, func(d, k int, s plan.Step, ref Ref) {
		if ref.Kind.OfLesson() {
			ref.Kind = ""
		}
		if _, ok := days[ref]; !ok || s.Part > 1 && y.Agreed.Days[d].Date >= y.From && days[ref] < y.From {
			days[ref] = y.Agreed.Days[d].Date
		}
	})
	seen := map[Ref]bool{}
	for i, w := range y.work {
		ref, price := w.ref, y.problem.w.Moved
		switch {
		case ref.Kind.OfLesson():
			ref.Kind = ""
		case ref.Kind == plan.Test:
			price = y.problem.w.Announced
		case ref.Kind != plan.Quiz:
			continue
		}
		date, ok := days[ref]
		if seen[ref] || !ok || date < y.From {
			continue
		}
		seen[ref] = true
		if ref.Kind == plan.Test && !y.Wish.TestsMove {
			y.announced(i, date)
		}
		y.problem.atoms[i].agreed = min(y.dayAtOrAfter(date), len(y.dates)-1)
		y.problem.atoms[i].moved = price
	}
}

// announced keeps a test from moving behind the day that was agreed for it, as
// an end date does: before all wishes. Moving it to an earlier day costs more
// than it can save. A test that the teacher moved is free of this.
func (y *year) announced(a int, date calendar.Date) {
	for _, pin := range y.Wish.Pins {
		if y.atomOf(pin) == a {
			return
		}
	}
	day := y.dayBy(date) // -1 when every day up to it was lost: as soon as it can be
	y.problem.ends = append(y.problem.ends, end{last: a, day: day})
	y.tests = append(y.tests, held{a, day, date})
}

// held is a test with the day that was agreed for it.
type held struct {
	atom, day int
	date      calendar.Date
}

// clip takes out the work that the year cannot hold: of the plan that does each
// day as much as fits it keeps the lessons that are done with all that belongs
// to them, so that the plan does not end inside a lesson.
func (y *year) clip() {
	p := y.problem
	fits := newPack(p).by(len(p.days)-1, 0)
	if fits == len(p.atoms) {
		return
	}
	for fits > 0 && y.sameLesson(fits-1, fits) {
		fits--
	}
	y.left, y.leftAtoms = y.work[fits:], p.atoms[fits:]
	y.work, p.atoms = y.work[:fits], p.atoms[:fits]
	p.ends = slices.DeleteFunc(p.ends, func(e end) bool { return e.last >= fits })
	y.tests = slices.DeleteFunc(y.tests, func(t held) bool { return t.atom >= fits })
}

// sameLesson reports whether atoms i and j are work on one lesson, or one quiz,
// review or test.
func (y *year) sameLesson(i, j int) bool {
	a, b := y.work[i], y.work[j]
	if a.book != b.book || a.lesson != b.lesson {
		return false
	}
	return a.ref.Kind.OfLesson() && b.ref.Kind.OfLesson() || a.ref == b.ref
}

// course lays the even course that a reserve or spread wished asks for. Books
// up to one with an end date share a stretch, on which work goes on at one
// speed, a share of each day's minutes. The course is that of the whole year,
// what is done already included, so that planning anew does not change it.
func (y *year) course() {
	p := y.problem
	if y.Wish.Reserve == 0 && !y.Wish.Spread {
		return
	}
	dates := y.Calendar.SchoolDays(y.Calendar.First)
	line := make([]int, len(dates))
	day, done, total := 0, 0.0, 0
	wait := func(until int) {
		for ; day < until; day++ {
			line[day] = int(done)
		}
	}
	for i := 0; i < len(y.books); {
		k := i
		for k+1 < len(y.books) && y.wishOf(k).End == calendar.None {
			k++
		}
		work := 0
		for b := i; b <= k; b++ {
			work += y.minutesOf(b)
		}
		total += work
		if work > 0 {
			start, _ := slices.BinarySearch(dates, y.wishOf(i).Start)
			wait(start)
			speed := y.speed(dates[min(day, len(dates)):], work, y.wishOf(k).End)
			goal := done + float64(work)
			for ; day < len(dates) && done < goal; day++ {
				done = min(goal, done+speed*float64(y.Calendar.MinutesOn(dates[day])))
				line[day] = int(done)
			}
			done = goal
		}
		i = k + 1
	}
	wait(len(dates))
	// Lines of the days planned, less what is done.
	past := total - p.done(len(p.atoms))
	p.line = line[len(dates)-len(y.dates):]
	for d := range p.line {
		p.line[d] -= past
	}
	p.band = y.usualDay()
}

// minutesOf is the work of a book in the year, done or to do.
func (y *year) minutesOf(bookIndex int) int {
	n := 0
	for _, l := range y.books[bookIndex].Lessons {
		for _, s := range slices.Concat(l.Steps, l.After) {
			n += s.Minutes
		}
	}
	for _, w := range y.left {
		if w.book == bookIndex {
			n -= w.step.Minutes
		}
	}
	return n
}

// speed is the share of each day's minutes that a stretch of work takes, from
// the first of the days on.
func (y *year) speed(days []calendar.Date, work int, by calendar.Date) float64 {
	speed := 1 - float64(max(0, min(mostReserve, y.Wish.Reserve)))/100
	if by == calendar.None {
		return speed
	}
	room := 0
	for _, d := range days {
		if d <= by {
			room += y.Calendar.MinutesOn(d)
		}
	}
	need := 1.0
	if room > 0 {
		need = min(1, float64(work)/float64(room))
	}
	if y.Wish.Spread {
		return need
	}
	return max(speed, need)
}

// name is what a piece of work is called in a sentence.
func (y *year) name(w work) string {
	title := y.books[w.book].Title
	switch w.ref.Kind {
	case plan.Quiz, plan.Review, plan.Test, plan.Corrections:
		return fmt.Sprintf("The %s after lesson %d of “%s”", w.ref.Kind, w.ref.Lesson, title)
	}
	return fmt.Sprintf("Lesson %d of “%s”", w.ref.Lesson, title)
}
