package planner

import (
	"reflect"
	"strings"
	"testing"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/plan"
)

func TestCatchUp(t *testing.T) {
	b := novel("a", false, 20, 24, 9, 8, 5, 20)
	b.Lessons[4].Steps = append(b.Lessons[4].Steps, plan.Step{Kind: plan.Extension, Lesson: 5, Minutes: 20})
	r := request(schoolYear(90, 60), b)
	agreed := mustPlan(t, r).Plan
	r.Agreed, r.From = &agreed, monday+1
	got := map[WayKind]Way{}
	now := mustPlan(t, r)
	ways, err := CatchUp(ctx, r, now, 120)
	if err != nil || len(ways) != 3 {
		t.Fatal(ways, err, show(now.Plan))
	}
	tight := r
	tight.Wish.Books = []plan.BookWish{{Kit: "a", End: monday + 4}}
	later, err := CatchUp(ctx, tight, mustPlan(t, tight), 120)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range later {
		if w.Kind == LaterEnd {
			got[LaterEnd] = w
		}
	}
	for _, w := range ways {
		got[w.Kind] = w
		t.Log(w.Says)
		// What it says is what planning with it gives.
		q := r
		q.Wish = w.Wish
		p := mustPlan(t, q).Plan
		if last := p.Last(); last != w.Ends || w.Days != sooner(adjust(q).Calendar, now.Plan.Last(), last) {
			t.Errorf("%s: ends %s, says %s", w.Kind, last, w.Ends)
		}
	}
	if len(got) != 4 {
		t.Fatalf("%+v", ways)
	}
	// Lesson 2 at 120 words a minute takes 24 minutes, at 183 16.
	if w := got[TeacherReads]; w.Lesson != 2 || w.Minutes != 8 || w.Wish.Steps[0].Mode != class.Teacher || w.Wish.Steps[0].Minutes != 16 {
		t.Errorf("%+v", w)
	}
	if w := got[LeaveOut]; w.Lesson != 5 || w.Minutes != 20 || !w.Wish.Steps[0].Leave {
		t.Errorf("%+v", w)
	}
	if w := got[TwoLessons]; w.Lesson != 3 || w.Days < 1 || !strings.Contains(w.Says, "lessons 3 and 4 together on") || !strings.Contains(w.Says, "earlier") {
		t.Errorf("%+v", w)
	}
	if w := got[LaterEnd]; len(w.Wish.Books) == 0 || w.Wish.Books[0].End != mustPlan(t, tight).Plan.Shortfalls[0].Ends || w.Days != 0 {
		t.Errorf("%+v", w)
	}
	// The wish that came in stays as it was.
	if len(r.Wish.Steps)+len(r.Wish.Days) != 0 || tight.Wish.Books[0].End != monday+4 {
		t.Errorf("%+v", r.Wish)
	}
	if ways, err := CatchUp(ctx, r, &Result{}, 120); err != nil || ways != nil {
		t.Errorf("%v %v", ways, err)
	}
}

// A step's minutes and mode, a day's minutes: the teacher's word counts.
func TestChangedSteps(t *testing.T) {
	r := request(schoolYear(60, 60), novel("k", false, 20, 25))
	before := mustPlan(t, r).Plan
	r.Wish.Steps = []plan.StepWish{{Kit: "k", Lesson: 1, Kind: plan.Reading, Minutes: 30, Mode: class.Silent, With: plan.WithEach},
		{Kit: "k", Lesson: 2, Kind: plan.Discussion, Leave: true}, {Kit: "z", Lesson: 1, Kind: plan.Reading, Leave: true}}
	r.Wish.Days = []calendar.Special{{Date: monday, Minutes: 70}, {Date: monday + 1}}
	p := mustPlan(t, r).Plan
	if got := show(p); got != "07 1b10 1r30 1q15 1d10 | 09 2b10 2r25 2q15" || p.Days[0].Steps[1].Mode != class.Silent || p.Days[0].Steps[1].With != plan.WithEach {
		t.Errorf("%s %+v", got, p.Days[0].Steps[1])
	}
	r.Wish.Steps, r.Wish.Days = nil, nil
	if again := mustPlan(t, r).Plan; !reflect.DeepEqual(again, before) {
		t.Error("changing steps changed the books that were given")
	}
}

// A test that was announced stays though the week before it was lost in part;
// told otherwise, it moves.
func TestAnnouncedTestStays(t *testing.T) {
	r := request(schoolYear(120, 60), novel("a", true, 14, 14, 14, 14, 14, 14, 14, 14), novel("b", false, 20, 20, 20))
	r.Wish.Books[0].Start = monday
	agreed := mustPlan(t, r).Plan
	test := on(agreed, "a", 8, plan.Test)
	r.Agreed, r.From = &agreed, monday+1
	// Less to do: the test does not come earlier.
	r.Wish.Steps = []plan.StepWish{{Kit: "a", Lesson: 7, Kind: plan.Discussion, Leave: true}, {Kit: "a", Lesson: 7, Kind: plan.Questions, Leave: true}, {Kit: "a", Lesson: 8, Kind: plan.Questions, Leave: true}}
	if got := on(mustPlan(t, r).Plan, "a", 8, plan.Test); got != test {
		t.Errorf("the test was announced for %s and is on %s", test, got)
	}
	// A lost day: it stays, whatever it costs, or is late by as few days as can be.
	r.Wish.Steps = nil
	r.Wish.Days = []calendar.Special{{Name: "Flu", Date: monday + 1}}
	res := mustPlan(t, r)
	late := on(res.Plan, "a", 8, plan.Test)
	if late < test || late > test+3 {
		t.Errorf("the test was announced for %s and is on %s", test, late)
	}
	if says := strings.Contains(strings.Join(res.Unmet, " "), "The test after lesson 8 of “The a” was agreed for"); says != (late > test) {
		t.Errorf("the test is on %s, agreed was %s: %q", late, test, res.Unmet)
	}
	// Days lost to the last before the test: it cannot stay, and that is said.
	for d := monday + 1; d <= test; d++ {
		r.Wish.Days = append(r.Wish.Days, calendar.Special{Name: "Flu", Date: d})
	}
	r.Wish.Days = r.Wish.Days[1:]
	if p := mustPlan(t, r); on(p.Plan, "a", 8, plan.Test) <= test || !strings.Contains(strings.Join(p.Unmet, " "), "was agreed for "+test.Words()+" and moves to") {
		t.Errorf("%q", p.Unmet)
	}
	r.Wish.Days = r.Wish.Days[:1]
	r.Wish.TestsMove = true
	free := mustPlan(t, r)
	if res.Cost.Late > free.Cost.Late+1 || free.Cost.Points() > res.Cost.Points() {
		t.Errorf("free to move it costs %+v, held %+v", free.Cost, res.Cost)
	}
}

// What a teacher cares about twice as much counts twice; what not at all, not.
func TestCare(t *testing.T) {
	r := request(schoolYear(60, 60), novel("k", true, 20, 25, 20, 22))
	r.Wish.Care = map[plan.Concern]float64{}
	same := mustPlan(t, r)
	if want := mustPlan(t, request(schoolYear(60, 60), novel("k", true, 20, 25, 20, 22))); !reflect.DeepEqual(same, want) {
		t.Error("no care is another plan")
	}
	r.Wish.Care = map[plan.Concern]float64{plan.Soon: 2, plan.EvenDays: 0, plan.TalkLong: 10}
	w := Usual().care(r.Wish.Care)
	if w.Day != 2*Usual().Day || w.Thin != 0 || w.Short != 10*Usual().Short || w.Moved != Usual().Moved {
		t.Errorf("%+v", w)
	}
	if got := mustPlan(t, r); got.Cost.Thin != 0 || got.Cost.Short != 0 && same.Cost.Short == 0 {
		t.Errorf("%+v, before %+v", got.Cost, same.Cost)
	}
	r.Wish.Care[plan.Soon] = 11
	if err := Check(r); err == nil || !strings.Contains(err.Error(), "11 times is no measure") {
		t.Error(err)
	}
	for _, k := range plan.Concerns { // each of them changes some price
		if Usual().care(map[plan.Concern]float64{k: 3}) == Usual() {
			t.Errorf("%q changes nothing", k)
		}
	}
}

// A test that could stay at the price of cut lessons and shorter talks stays,
// even where a moved test costs nothing; free to move it would move.
func TestAnnouncedTestComesFirst(t *testing.T) {
	r := request(schoolYear(120, 60), novel("a", true, 20, 20, 20))
	agreed := mustPlan(t, r).Plan
	test := on(agreed, "a", 3, plan.Test)
	w := Usual()
	w.Announced, w.CutStep, w.CutScene, w.CutParagraph = 0, 500, 500, 500
	r.Weights, r.Agreed, r.From = &w, &agreed, monday+1
	r.Wish.Days = []calendar.Special{{Name: "Half day", Date: monday + 1, Minutes: 40}}
	held := mustPlan(t, r)
	r.Wish.TestsMove = true
	free := mustPlan(t, r)
	if a, b := on(held.Plan, "a", 3, plan.Test), on(free.Plan, "a", 3, plan.Test); a != test || b <= test {
		t.Errorf("agreed for %s: held it is on %s, free on %s\n%s\n%s", test, a, b, show(held.Plan), show(free.Plan))
	}
}
