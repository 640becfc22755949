//go:build bench

package planfile

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
	"bookstead/internal/planner"
	"bookstead/internal/timetable"
)

// yearOf is a year of 36 weeks for eight children in four classes of two, each
// class with a book of 45 lessons and quizzes.
func yearOf() *File {
	f := &File{Day: &Day{Hours: timetable.Hours{Begins: 9 * 60, Ends: 12 * 60}}}
	c := calendar.PlainYear(calendar.Of(2026, 9, 7), 60)
	c.Plain, c.Last = false, c.First+36*7-1
	for i := range 4 {
		k := kit.ID(fmt.Sprint("k", i))
		b := planner.Book{Kit: k, Title: fmt.Sprint("Book ", i)}
		for n := 1; n <= 45; n++ {
			l := planner.Lesson{Number: n, Steps: []plan.Step{
				{Kit: k, Lesson: n, Kind: plan.Background, Minutes: 10}, {Kit: k, Lesson: n, Kind: plan.Reading, Minutes: 14 + (n*7+i*3)%12, Mode: class.Turns},
				{Kit: k, Lesson: n, Kind: plan.Questions, Minutes: 15}, {Kit: k, Lesson: n, Kind: plan.Discussion, Minutes: 10}}}
			if n%4 == 0 {
				l.After = []plan.Step{{Kit: k, Lesson: n, From: n - 3, Kind: plan.Quiz, Minutes: 15}, {Kit: k, Lesson: n, Kind: plan.Corrections, Minutes: 5}}
			}
			b.Lessons = append(b.Lessons, l)
		}
		x := Class{Name: fmt.Sprint("Class ", i), Grade: 1 + i}
		x.Request = planner.Request{Class: class.ID(fmt.Sprint("c", i)), Calendar: c, Books: []planner.Book{b}}
		for n := range 2 {
			id := fmt.Sprint(i, n)
			x.Children = append(x.Children, Child{Reader: planner.Reader{ID: id, Name: "Child " + id, Rules: []class.Rule{{Habit: class.ReadsAloud, Minutes: 10, Times: 2}}}})
		}
		f.Classes = append(f.Classes, x)
	}
	return f
}

func median(n int, run func(i int)) time.Duration {
	var took []time.Duration
	for i := range n {
		start := time.Now()
		run(i)
		took = append(took, time.Since(start))
	}
	slices.Sort(took)
	return took[n/2]
}

// A year with four books for eight children is planned in under 100 ms, planned
// anew in under 30, and its days are laid on the clock in a median under 20.
func TestGateTimes(t *testing.T) {
	f := yearOf()
	var a *Answer
	if got := median(5, func(int) {
		var err error
		if a, err = f.Plan(t.Context()); err != nil {
			t.Fatal(err)
		}
	}); got > 100*time.Millisecond {
		t.Errorf("a year takes %v", got)
	} else {
		t.Logf("a year: %v", got)
	}
	r := f.Classes[0].Request
	r.Agreed, r.From = &a.Classes[0].Plan, r.Calendar.First+30
	r.Wish.Days = []calendar.Special{{Name: "Flu", Date: r.From}}
	if got := median(9, func(int) {
		if _, err := planner.Plan(t.Context(), r); err != nil {
			t.Fatal(err)
		}
	}); got > 30*time.Millisecond {
		t.Errorf("planned anew in %v", got)
	} else {
		t.Logf("planned anew: %v", got)
	}
	days := a.Classes[0].Plan.Days
	exact := 0
	got := median(len(days), func(i int) {
		if err := f.Timetable(t.Context(), a, days[i].Date); err != nil {
			t.Fatal(err)
		}
		if a.Timetable.Exact {
			exact++
		}
	})
	t.Logf("a day: %v in the median, %d of %d exact", got, exact, len(days))
	if got > 20*time.Millisecond {
		t.Errorf("a day takes %v in the median", got)
	}
}
