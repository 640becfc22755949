package planner

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"bookstead/internal/book"
	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
)

var (
	monday = calendar.Of(2026, 9, 7)
	ctx    = context.Background()
)

// novel is a book of lessons with the usual steps and so many minutes of
// reading, a quiz every four lessons, a review and a test at the end.
func novel(id kit.ID, tests bool, reading ...int) Book {
	b := Book{Kit: id, Title: "The " + string(id)}
	at := 0
	for i, m := range reading {
		n := i + 1
		l := Lesson{Number: n, Title: fmt.Sprint("Chapter ", n), Steps: []plan.Step{
			{Lesson: n, Kind: plan.Background, Minutes: 10},
			{Lesson: n, Kind: plan.Reading, Minutes: m, Mode: class.Turns, Span: book.Span{Start: at, End: at + 100*m}},
			{Lesson: n, Kind: plan.Questions, Minutes: 15}, {Lesson: n, Kind: plan.Discussion, Minutes: 10}}}
		for k := 1; k < m; k++ {
			l.Breaks = append(l.Breaks, Break{Offset: at + 100*k, Minutes: float64(k), Scene: k%7 == 0})
		}
		at += 100 * m
		b.Lessons = append(b.Lessons, l)
		if tests && n%4 == 0 {
			b.after(span(n-3, n), plan.Quiz, 15)
			b.after(span(n-3, n), plan.Corrections, 5)
		}
	}
	if tests {
		all := span(1, len(reading))
		b.after(all, plan.Review, 30)
		b.after(all, plan.Test, 45)
		b.after(all, plan.Corrections, 10)
	}
	return b
}

func schoolYear(days, minutes int) calendar.Calendar {
	c := calendar.PlainYear(monday, minutes)
	c.Plain = false
	c.Last = c.First + calendar.Date(days) - 1
	return c
}

func request(c calendar.Calendar, books ...Book) Request {
	r := Request{Class: "class", Calendar: c, Books: books}
	for _, b := range books {
		r.Wish.Books = append(r.Wish.Books, plan.BookWish{Kit: b.Kit})
	}
	return r
}

func mustPlan(t *testing.T, r Request) *Result {
	t.Helper()
	res, err := Plan(ctx, r)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

// on is the first day of a lesson or, with a kind, of that step.
func on(p plan.Plan, id kit.ID, lesson int, kind plan.StepKind) calendar.Date {
	for _, d := range p.Days {
		for _, s := range d.Steps {
			if s.Kit == id && s.Lesson == lesson && (s.Kind == kind || kind == "") {
				return d.Date
			}
		}
	}
	return calendar.None
}

// show is a plan in a few letters: days behind a stroke, "1r20" a reading of
// lesson 1 of twenty minutes; b r q d lesson's steps, Q quiz, C corrections, R
// review, T test.
func show(p plan.Plan) string {
	letters := map[plan.StepKind]string{plan.Background: "b", plan.Practice: "p", plan.Reading: "r", plan.Questions: "q", plan.Discussion: "d",
		plan.Quiz: "Q", plan.Corrections: "C", plan.Review: "R", plan.Test: "T"}
	var days []string
	for _, d := range p.Days {
		var s []string
		for _, x := range d.Steps {
			s = append(s, fmt.Sprintf("%d%s%d", x.Lesson, letters[x.Kind], x.Minutes))
		}
		days = append(days, d.Date.Time().Format("02 ")+strings.Join(s, " "))
	}
	return strings.Join(days, " | ")
}

func TestALessonADay(t *testing.T) {
	r := mustPlan(t, request(schoolYear(60, 60), novel("k", false, 20, 25, 15)))
	want := "07 1b10 1r20 1q15 1d10 | 08 2b10 2r25 2q15 2d10 | 09 3b10 3r15 3q15 3d10"
	if got := show(r.Plan); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if r.Cost != (Cost{Days: 180}) || len(r.Plan.Notes) != 0 || len(r.Days) != 3 || r.Days[0].Why != nil {
		t.Errorf("%+v, %q, %+v", r.Cost, r.Plan.Notes, r.Days)
	}
}

func TestQuizReviewTest(t *testing.T) {
	r := mustPlan(t, request(schoolYear(60, 60), novel("k", true, 20, 20, 20, 10)))
	// The quiz fits behind the short lesson when talking over gives way a
	// little no more than that; corrections and the review wait for the next
	// day, the test for the one after it, and its corrections again.
	want := "07 1b10 1r20 1q15 1d10 | 08 2b10 2r20 2q15 2d10 | 09 3b10 3r20 3q15 3d10 | 10 4b10 4r10 4q15 4d10 4Q15 | 11 4C5 4R30 | 14 4T45 | 15 4C10"
	if got := show(r.Plan); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestALessonOfMoreThanADay(t *testing.T) {
	r := mustPlan(t, request(schoolYear(60, 30), novel("k", false, 42)))
	// 77 minutes on days of 30: the reading stops where a scene ends.
	want := "07 1b10 1r20 | 08 1r22 | 09 1q15 1d10"
	got := show(r.Plan)
	if len(r.Plan.Days) != 3 {
		t.Fatalf("got %s, want like %s", got, want)
	}
	first := r.Plan.Days[0].Steps[1]
	if first.Part != 1 || first.Parts != 2 || first.Span.Start != 0 || first.Span.End%700 != 0 {
		t.Errorf("%s: %+v", got, first)
	}
	if second := r.Plan.Days[1].Steps[0]; second.Part != 2 || second.Span.Start != first.Span.End || second.Span.End != 4200 {
		t.Errorf("%s: %+v", got, second)
	}
}

func TestNoTestBesideDaysOff(t *testing.T) {
	c := schoolYear(60, 60)
	b := novel("k", false, 20)
	b.after(span(1, 1), plan.Test, 45)
	// Lesson on Monday, test on Tuesday at the earliest; Wednesday is off.
	c.DaysOff = []calendar.Range{{Name: "Holiday", First: monday + 2, Last: monday + 2}}
	r := mustPlan(t, request(c, b))
	got := on(r.Plan, "k", 1, plan.Test)
	if got != monday+4 { // Friday: Tuesday is before the holiday, Thursday after it
		t.Errorf("the test is on %s: %+v", got, r.Days)
	}
	w := Usual()
	w.Test = 0
	q := request(c, b)
	q.Weights = &w
	if got := on(mustPlan(t, q).Plan, "k", 1, plan.Test); got != monday+1 {
		t.Errorf("without that wish the test is on %s", got)
	}
}

func TestPinsAndStarts(t *testing.T) {
	r := request(schoolYear(90, 60), novel("a", false, 20, 20, 20), novel("b", false, 20, 20))
	r.Wish.Pins = []plan.Pin{{Kit: "a", Lesson: 2, Date: monday + 3}}
	r.Wish.Books[1].Start = monday + 12 // a Saturday
	p := mustPlan(t, r).Plan
	for _, x := range []struct {
		id     kit.ID
		lesson int
		want   calendar.Date
	}{{"a", 1, monday}, {"a", 2, monday + 3}, {"a", 3, monday + 4}, {"b", 1, monday + 14}, {"b", 2, monday + 15}} {
		if got := on(p, x.id, x.lesson, ""); got != x.want {
			t.Errorf("%s %d starts on %s, want %s", x.id, x.lesson, got, x.want)
		}
	}
	// A pin on a Saturday goes to Monday, one too early as near as it can.
	r.Wish.Pins = []plan.Pin{{Kit: "a", Lesson: 2, Date: monday + 5}, {Kit: "b", Lesson: 2, Date: monday + 10}}
	p = mustPlan(t, r).Plan
	if on(p, "a", 2, "") != monday+7 || on(p, "b", 2, "") != monday+14 || len(p.Notes) != 2 ||
		!strings.Contains(p.Notes[0], "no school day") || !strings.Contains(p.Notes[1], "cannot start on 17 September 2026") {
		t.Errorf("%s\n%q", show(p), p.Notes)
	}
}

func TestEndDates(t *testing.T) {
	books := []Book{novel("a", false, 20, 20, 20, 20, 20, 20), novel("b", false, 20, 20, 20)}
	r := request(schoolYear(90, 60), books...)
	r.Wish.Books[0].End = monday + 4 // Friday: five days for six lessons of 55 minutes
	res := mustPlan(t, r)
	want := plan.Shortfall{Kit: "a", Wanted: monday + 4, Ends: monday + 7, Days: 1, Minutes: res.Plan.Shortfalls[0].Minutes, MoreMinutes: 5, FewerLessons: 1}
	if !reflect.DeepEqual(res.Plan.Shortfalls, []plan.Shortfall{want}) || res.Cost.Late != 1 || want.Minutes < 1 {
		t.Fatalf("%+v", res.Plan.Shortfalls)
	}
	if n := res.Plan.Notes; len(n) != 1 || !strings.Contains(n[0], "5 minutes more each day") || !strings.Contains(n[0], "1 school day after 11 September") {
		t.Errorf("%q", n)
	}
	// With what it says would help, it does end by then.
	more := r
	more.Calendar = schoolYear(90, 60+want.MoreMinutes)
	if got := mustPlan(t, more).Plan; len(got.Shortfalls) != 0 {
		t.Errorf("with more minutes: %+v", got.Shortfalls)
	}
	less := r
	less.Calendar = schoolYear(90, 60+want.MoreMinutes-1)
	if got := mustPlan(t, less).Plan; len(got.Shortfalls) != 1 {
		t.Errorf("one minute less helps too")
	}
	// The end date is kept at the price of cutting lessons where it can be.
	tight := request(schoolYear(90, 60), novel("a", false, 12, 12, 12, 12, 12, 12, 12)) // 47 minutes each, 329 in all
	tight.Wish.Books[0].End = monday + 7
	if res := mustPlan(t, tight); len(res.Plan.Shortfalls) != 0 || res.Plan.Last() > monday+7 || res.Cost.Cuts == 0 {
		t.Errorf("%s: %+v", show(res.Plan), res.Plan.Shortfalls)
	}
}

func TestYearTooShort(t *testing.T) {
	r := request(schoolYear(5, 60), novel("a", false, 20, 20, 20), novel("b", false, 20, 20, 20, 20))
	p := mustPlan(t, r).Plan
	if len(p.Shortfalls) != 1 {
		t.Fatalf("%+v", p.Shortfalls)
	}
	s := p.Shortfalls[0]
	if s.Kit != "b" || s.Ends != calendar.None || s.Days != 2 || s.Minutes != 110 || s.FewerLessons != 2 || s.MoreMinutes == 0 {
		t.Errorf("%+v", s)
	}
	if p.Last() != monday+4 || on(p, "b", 2, "") != monday+4 || on(p, "b", 3, "") != calendar.None {
		t.Errorf("%s", show(p))
	}
	if !strings.Contains(p.Notes[0], "too short for “The b”") || !strings.Contains(p.Notes[0], "2 more school days") {
		t.Errorf("%q", p.Notes)
	}
	if n := p.Notes[len(p.Notes)-1]; !strings.Contains(n, "The year holds 1 of the 2 books. Without “The b”") {
		t.Errorf("%q", p.Notes)
	}
	// Two days more, as it says, and one is too few.
	for more, want := range map[int]int{7 + 2: 0, 7 + 1: 1} {
		q := r
		q.Calendar = schoolYear(more, 60)
		if got := len(mustPlan(t, q).Plan.Shortfalls); got != want {
			t.Errorf("a year of %d days falls short of %d books, want %d", more, got, want)
		}
	}
}

func TestReserveIsSpread(t *testing.T) {
	reading := make([]int, 40)
	for i := range reading {
		reading[i] = 25
	}
	r := request(schoolYear(300, 60), novel("a", false, reading...))
	r.Wish.Reserve = 20
	res := mustPlan(t, r)
	var free []int
	for i, d := range res.Days {
		if len(d.Why) > 0 && strings.Contains(d.Why[0], "reserve") {
			free = append(free, i)
		}
	}
	if len(free) < 8 || len(free) > 12 {
		t.Fatalf("%d free days among %d, want about ten: %v", len(free), len(res.Days), free)
	}
	for i := 1; i < len(free); i++ {
		if gap := free[i] - free[i-1]; gap < 2 || gap > 9 {
			t.Errorf("free days are not spread: %v", free)
			break
		}
	}
	// A book that must end first goes before the reserve.
	r.Wish.Books[0].End = monday + 55
	if p := mustPlan(t, r).Plan; len(p.Shortfalls) != 0 {
		t.Errorf("%+v", p.Shortfalls)
	}
	// Spread reaches the end date, and not long before.
	r.Wish.Reserve, r.Wish.Spread = 0, true
	r.Wish.Books[0].End = monday + 7*16 - 3
	if p := mustPlan(t, r).Plan; len(p.Shortfalls) != 0 || p.Last() < monday+7*15 {
		t.Errorf("spread to %s, it ends on %s", r.Wish.Books[0].End, p.Last())
	}
}

func TestPlainYearSaysSo(t *testing.T) {
	p := mustPlan(t, request(calendar.PlainYear(monday, 60), novel("a", false, 20))).Plan
	if len(p.Notes) != 1 || !strings.Contains(p.Notes[0], "No holidays are known yet: from 7 September 2026 on, every Monday to Friday") {
		t.Errorf("%q", p.Notes)
	}
}

// A flu week: what was done stays, the rest moves on, the test stays put.
func TestReplan(t *testing.T) {
	r := request(schoolYear(120, 60), novel("a", true, 20, 20, 20, 20, 20, 20, 20, 20))
	agreed := mustPlan(t, r).Plan
	r.Agreed, r.From = &agreed, monday+2
	if same := mustPlan(t, r).Plan; !reflect.DeepEqual(same, agreed) {
		t.Fatalf("nothing happened, and yet\n%s\nbecame\n%s", show(agreed), show(same))
	}
	// Tuesday was lost: its steps are to be done again.
	for k := range agreed.Days[1].Steps {
		ref, ok := RefOf(agreed, monday+1, k)
		if !ok {
			t.Fatal("no step", k)
		}
		r.Undone = append(r.Undone, ref)
	}
	again := mustPlan(t, r)
	p := again.Plan
	if len(p.Days) == 0 || p.Days[0].Date != monday || !reflect.DeepEqual(p.Days[0], agreed.Days[0]) {
		t.Fatalf("what was done does not stay: %s", show(p))
	}
	if on(p, "a", 1, "") != monday || on(p, "a", 2, "") != monday+2 || p.Sequence != agreed.Sequence+1 {
		t.Errorf("%s", show(p))
	}
	changes := plan.Diff(agreed, p)
	if len(changes) == 0 || changes[0].Lesson != 2 || changes[0].From != monday+1 || changes[0].To != monday+2 {
		t.Errorf("%v", changes)
	}
	if on(p, "a", 8, plan.Test) != on(agreed, "a", 8, plan.Test) {
		t.Logf("the test moved from %s to %s", on(agreed, "a", 8, plan.Test), on(p, "a", 8, plan.Test))
	}
}

func TestBadInput(t *testing.T) {
	good := func() Request { return request(schoolYear(60, 60), novel("a", false, 20, 20)) }
	for _, c := range []struct {
		name   string
		change func(*Request)
		says   string
	}{
		{"zero minutes", func(r *Request) { r.Calendar.Minutes = [7]int{} }, "No day of the school year has time"},
		{"end before start of the year", func(r *Request) { r.Calendar.Last = r.Calendar.First - 1 }, "before it starts"},
		{"holidays all year", func(r *Request) { r.Calendar.DaysOff = []calendar.Range{{First: monday, Last: monday + 400}} }, "No day of the school year"},
		{"no books", func(r *Request) { r.Books, r.Wish.Books = nil, nil }, "nothing to plan"},
		{"a book that is gone", func(r *Request) { r.Wish.Books[0].Kit = "z" }, "not there any more"},
		{"twice the same", func(r *Request) { r.Wish.Books = append(r.Wish.Books, r.Wish.Books[0]) }, "twice"},
		{"ends before it starts", func(r *Request) { r.Wish.Books[0].Start, r.Wish.Books[0].End = monday+9, monday+2 }, "before it may start on 16 September 2026"},
		{"ends before the year", func(r *Request) { r.Wish.Books[0].End = monday - 3 }, "before the school year starts"},
		{"starts after the year", func(r *Request) { r.Wish.Books[0].Start = monday + 300 }, "but no school day lies behind that"},
		{"pinned outside", func(r *Request) { r.Wish.Pins = []plan.Pin{{Kit: "a", Lesson: 1, Date: monday - 1}} }, "Lesson 1 of “The a” was moved to 6 September 2026"},
		{"planned from after the year", func(r *Request) { r.From = monday + 300 }, "No school day is left"},
		{"a step of no sense", func(r *Request) { r.Books[0].Lessons[0].Steps[0].Minutes = -1 }, "has -1 minutes"},
		{"too much reserve", func(r *Request) { r.Wish.Reserve = 100 }, "cannot be left free"},
	} {
		r := good()
		c.change(&r)
		err := Check(r)
		res, planErr := Plan(ctx, r)
		if err == nil {
			err = planErr
		}
		if err == nil || fault.Of(err).Kind == fault.Internal || !strings.Contains(fault.Of(err).Message, c.says) || fault.Of(err).Hint == "" {
			t.Errorf("%s: %v", c.name, err)
		}
		// What only the wish got wrong is said, and there is a plan all the same.
		if planErr == nil && !strings.Contains(strings.Join(res.Plan.Notes, " "), c.says) {
			t.Errorf("%s: %q", c.name, res.Plan.Notes)
		}
	}
	if err := Check(good()); err != nil {
		t.Error(err)
	}
	stopped, stop := context.WithCancel(ctx)
	stop()
	if _, err := Plan(stopped, good()); !fault.Is(err, fault.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// A term that days off swallow is said, and the plan goes on behind it.
func TestSwallowedTerm(t *testing.T) {
	c := schoolYear(60, 60)
	c.Terms = []calendar.Range{{Name: "First", First: monday, Last: monday + 11}, {Name: "Second", First: monday + 14, Last: monday + 59}}
	c.DaysOff = []calendar.Range{{Name: "Flood", First: monday, Last: monday + 13}}
	p := mustPlan(t, request(c, novel("a", false, 20))).Plan
	if p.Days[0].Date != monday+14 || len(p.Notes) != 1 || !strings.Contains(p.Notes[0], "“First” has no school day left") {
		t.Errorf("%s %q", show(p), p.Notes)
	}
}

// A test longer than any day is written on several, and a paragraph longer
// than a day is read on several.
func TestLongerThanADay(t *testing.T) {
	b := novel("a", true, 40)
	b.Lessons[0].Breaks = nil
	p := mustPlan(t, request(schoolYear(90, 20), b)).Plan
	if len(p.Notes) != 1 || !strings.Contains(p.Notes[0], "A test takes 45 minutes, longer than a day of 20") {
		t.Errorf("%q", p.Notes)
	}
	for _, d := range p.Days {
		if d.Minutes() > 20 {
			t.Errorf("%s", show(p))
		}
	}
}

// requests draws a year and its books.
func requests(t *rapid.T) Request {
	c := schoolYear(rapid.IntRange(10, 120).Draw(t, "days"), 0)
	for wd := range c.Minutes {
		c.Minutes[wd] = rapid.SampledFrom([]int{0, 30, 45, 60, 60, 90}).Draw(t, "weekday")
	}
	c.Minutes[time.Monday] = max(20, c.Minutes[time.Monday])
	for range rapid.IntRange(0, 3).Draw(t, "days off") {
		a := c.First + calendar.Date(rapid.IntRange(1, 100).Draw(t, "off"))
		c.DaysOff = append(c.DaysOff, calendar.Range{First: a, Last: a + calendar.Date(rapid.IntRange(0, 9).Draw(t, "off for"))})
	}
	var books []Book
	for i := range rapid.IntRange(1, 3).Draw(t, "books") {
		books = append(books, novel(kit.ID(fmt.Sprint("k", i)), rapid.Bool().Draw(t, "tests"), rapid.SliceOfN(rapid.IntRange(1, 40), 1, 12).Draw(t, "reading")...))
	}
	r := request(c, books...)
	for i := range r.Wish.Books {
		if rapid.IntRange(0, 2).Draw(t, "ends") == 0 {
			r.Wish.Books[i].End = c.First + calendar.Date(rapid.IntRange(0, 100).Draw(t, "end"))
		}
	}
	if rapid.IntRange(0, 2).Draw(t, "pinned") == 0 {
		r.Wish.Pins = []plan.Pin{{Kit: "k0", Lesson: 1 + rapid.IntRange(0, len(books[0].Lessons)-1).Draw(t, "lesson"), Date: c.First + calendar.Date(rapid.IntRange(0, 9).Draw(t, "pin"))}}
	}
	r.Wish.Reserve = rapid.SampledFrom([]int{0, 0, 10, 30}).Draw(t, "reserve")
	r.Wish.Spread = rapid.Bool().Draw(t, "spread")
	return r
}

func TestLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := requests(t)
		res, err := Plan(ctx, r)
		if err != nil {
			if fault.Of(err).Kind == fault.Internal {
				t.Fatal(err)
			}
			t.Skip(err)
		}
		lawful(t, r, res)
		again, _ := Plan(ctx, r)
		if !reflect.DeepEqual(res, again) {
			t.Fatalf("not the same twice")
		}
		// Planning anew from any day, with nothing changed, changes nothing.
		q := r
		q.Agreed, q.From = &res.Plan, r.Calendar.First+calendar.Date(rapid.IntRange(0, 60).Draw(t, "from"))
		if q.From > r.Calendar.Last || len(r.Calendar.SchoolDays(q.From)) == 0 {
			return
		}
		later, err := Plan(ctx, q)
		if err != nil {
			if fault.Is(err, fault.Internal) {
				t.Fatal(err)
			}
			return
		}
		if !reflect.DeepEqual(later.Plan.Days, res.Plan.Days) {
			t.Fatalf("planned anew from %s:\n%s\nwas\n%s", q.From, show(later.Plan), show(res.Plan))
		}
	})
}

// lawful checks the hard rules on a plan.
func lawful(t interface{ Fatalf(string, ...any) }, r Request, res *Result) {
	p := res.Plan
	// Every step once, in order, as far as the year goes; its parts add up.
	var want []plan.Step
	for _, b := range r.Books {
		for _, l := range b.Lessons {
			want = append(want, slices.Concat(l.Steps, l.After)...)
		}
	}
	k, minutes := 0, 0
	var last calendar.Date
	paper := map[plan.StepKind]calendar.Date{}
	for _, d := range p.Days {
		if d.Date <= last || r.Calendar.MinutesOn(d.Date) != d.Available || d.Minutes() > d.Available || len(d.Steps) == 0 {
			t.Fatalf("%s: %d of %d minutes", d.Date, d.Minutes(), d.Available)
		}
		last = d.Date
		for _, s := range d.Steps {
			minutes += s.Minutes
			w := want[k]
			if s.Lesson != w.Lesson || s.Kind != w.Kind || s.From != w.From {
				t.Fatalf("%s: %+v where %+v is next in %s", d.Date, s, w, show(p))
			}
			if s.Kind == plan.Reading && (s.Span.Start < w.Span.Start || s.Span.End > w.Span.End || s.Part > 1 && s.Span.Start == w.Span.Start && len(r.Books) == 0) {
				t.Fatalf("%s: %+v of %+v", d.Date, s, w)
			}
			if (s.Kind == plan.Test && paper[plan.Review] == d.Date) || s.Kind == plan.Corrections && (paper[plan.Quiz] == d.Date || paper[plan.Test] == d.Date) {
				t.Fatalf("%s: %s on the day of what it follows", d.Date, s.Kind)
			}
			paper[s.Kind] = d.Date
			if s.Part == s.Parts {
				least := w.Minutes
				if s.Kind == plan.Discussion {
					least -= w.Minutes / 2
				}
				if s.Parts == 0 && (s.Minutes < least || s.Minutes > w.Minutes) {
					t.Fatalf("%s: %d minutes of %d", d.Date, s.Minutes, w.Minutes)
				}
				k++
			}
		}
	}
	if k < len(want) && len(p.Shortfalls) == 0 {
		t.Fatalf("%d of %d steps lie on days, and nothing is said", k, len(want))
	}
	// The reasons add up to the cost.
	var sum Cost
	for _, d := range res.Days {
		sum.add(d.Cost)
		if d.Cost.Points() > d.Cost.Days && len(d.Why) == 0 {
			t.Fatalf("%s costs %+v without a reason", d.Date, d.Cost)
		}
	}
	if sum != res.Cost {
		t.Fatalf("days cost %+v, the plan %+v", sum, res.Cost)
	}
	for _, s := range p.Shortfalls {
		if s.Days < 1 || s.Minutes < 1 {
			t.Fatalf("%+v", s)
		}
	}
}
