package prepare_test

import (
	"bytes"
	"context"
	"strings"
	"testing"
	"time"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/demo"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
	"bookstead/internal/planner"
	"bookstead/internal/prepare"
	"bookstead/internal/store/sqlite"
)

// school is a workshop with the early reader opened for its class, on a clock
// that tests turn.
type school struct {
	*prepare.Workshop
	t     *testing.T
	now   time.Time
	class class.Class
	kit   kit.ID
}

func openSchool(t *testing.T) *school {
	t.Helper()
	ctx := context.Background()
	s := &school{t: t, now: time.Date(2026, time.September, 4, 15, 0, 0, 0, time.UTC)} // a Friday
	st, err := sqlite.Open(ctx, t.TempDir(), s.now)
	if err != nil {
		t.Fatal(err)
	}
	s.Workshop = prepare.New(st, func() time.Time { return s.now })
	t.Cleanup(func() { s.Close() }) //nolint:errcheck // the folder goes with the test
	monday := calendar.Of(2026, time.August, 31)
	c := class.Class{Name: "Blue table", Grade: 1, Settings: class.Defaults(1), Calendar: calendar.PlainYear(monday, 60),
		Students: []class.Student{{ID: "a", Name: "Asha V."}, {ID: "b", Name: "Benji C."}}}
	if s.class, err = s.NewClass(ctx, c); err != nil {
		t.Fatal(err)
	}
	b, err := s.ImportBook(ctx, demo.ReaderFile, bytes.NewReader(demo.Reader()), int64(len(demo.Reader())), nil)
	if err != nil {
		t.Fatal(err)
	}
	if s.kit, err = s.NewKit(ctx, b.ID, s.class.ID); err != nil {
		t.Fatal(err)
	}
	return s
}

func (s *school) year() *prepare.Year {
	s.t.Helper()
	y, err := s.Year(context.Background(), s.class.ID, nil)
	if err != nil {
		s.t.Fatal(err)
	}
	return y
}

func (s *school) agree() {
	s.t.Helper()
	if err := s.Agree(context.Background(), s.class.ID); err != nil {
		s.t.Fatal(err)
	}
}

func (s *school) note(h plan.Happened) error {
	return s.NoteDay(context.Background(), s.class.ID, s.year().WishRevision(), h, nil)
}

func (s *school) calendarFile() string {
	s.t.Helper()
	data, err := s.CalendarFile(context.Background(), s.class.ID)
	if err != nil {
		s.t.Fatal(err)
	}
	return string(data)
}

// starts is the day on which each lesson begins, by its number.
func starts(p plan.Plan) map[int]calendar.Date {
	out := map[int]calendar.Date{}
	for _, d := range p.Days {
		for _, s := range d.Steps {
			if _, ok := out[s.Lesson]; !ok {
				out[s.Lesson] = d.Date
			}
		}
	}
	return out
}

func september(day int) calendar.Date { return calendar.Of(2026, time.September, day) }

func TestBookBeginsWhenOpened(t *testing.T) {
	s := openSchool(t)
	if got := s.year().Plan.Days[0].Date; got != september(4) {
		t.Errorf("opened on 4 September, the plan begins on %s", got)
	}
	early := []plan.BookWish{{Kit: s.kit, Start: calendar.Of(2026, time.August, 31)}}
	if err := s.SetBooks(context.Background(), s.class.ID, s.year().WishRevision(), early, prepare.Pace{}); err != nil {
		t.Fatal(err)
	}
	if got := s.year().Plan.Days[0].Date; got != calendar.Of(2026, time.August, 31) {
		t.Errorf("asked for 31 August, the plan begins on %s", got)
	}
}

func TestLostDayMovesWhatIsLeft(t *testing.T) {
	s := openSchool(t)
	before := s.year().Plan
	if n := len(before.Days); n < 3 {
		t.Fatalf("the reader takes %d days; this test needs three", n)
	}
	s.agree()
	s.now = s.now.AddDate(0, 0, 4) // Tuesday 8 September: Friday and Monday are done
	if y := s.year(); !y.Fresh || len(y.Changes) > 0 {
		t.Fatalf("nothing happened, yet the plan is another: %v", y.Changes)
	}
	if err := s.note(plan.Happened{Date: september(8), Lost: true, Why: "Flu"}); err != nil {
		t.Fatal(err)
	}
	y := s.year()
	if y.Fresh {
		t.Fatal("a lost day changed nothing")
	}
	was, is := starts(before), starts(y.Plan)
	for lesson, day := range was {
		switch {
		case day < september(8) && is[lesson] != day:
			t.Errorf("lesson %d was done on %s and moved to %s", lesson, day, is[lesson])
		case is[lesson] == september(8):
			t.Errorf("lesson %d lies on the lost day", lesson)
		}
	}
	if is[3] != september(9) {
		t.Errorf("lesson 3 moved to %s, not to the next day", is[3])
	}
	if off := y.Class.Calendar.Off(september(8)); off != "Flu" {
		t.Errorf("the lost day says %q", off)
	}
	if s.class.Calendar.Off(september(8)) != "" {
		t.Error("the class's own calendar was changed")
	}
	if err := s.UndoPlan(context.Background(), s.class.ID); err != nil {
		t.Fatal(err)
	}
	if !s.year().Fresh {
		t.Error("undo does not bring the agreed plan back")
	}
}

func TestDayLostBehindIsTaughtAgain(t *testing.T) {
	s := openSchool(t)
	s.agree()
	agreed := s.year().Plan
	s.now = s.now.AddDate(0, 0, 5) // Wednesday: Tuesday's lesson 3 did not happen after all
	if err := s.note(plan.Happened{Date: september(8), Lost: true}); err != nil {
		t.Fatal(err)
	}
	y := s.year()
	if is := starts(y.Plan); is[3] != september(9) || is[1] != starts(agreed)[1] {
		t.Errorf("lessons begin on %v", is)
	}
	s.agree()
	if y := s.year(); !y.Fresh {
		t.Errorf("the plan agreed to is another: %v", y.Changes)
	}
}

func TestUnfinishedStepComesAgain(t *testing.T) {
	s := openSchool(t)
	ctx := context.Background()
	day, err := s.SchoolDay(ctx, s.class.ID, september(4))
	if err != nil {
		t.Fatal(err)
	}
	unfinished := plan.Happened{Date: september(4), Undone: []plan.Ref{day.Refs[len(day.Refs)-1]}}
	if err := s.note(unfinished); !fault.Is(err, fault.Invalid) {
		t.Errorf("a step of a plan not agreed was noted: %v", err)
	}
	s.agree()
	if err := s.note(unfinished); err != nil {
		t.Fatal(err)
	}
	y := s.year()
	ref, found := unfinished.Undone[0], false
	for _, d := range y.Plan.Days {
		for _, st := range d.Steps {
			if st.Lesson == ref.Lesson && st.Kind == ref.Kind {
				found = true
				if d.Date <= september(4) {
					t.Errorf("the step not finished on Friday is planned for %s", d.Date)
				}
			}
		}
	}
	if !found {
		t.Error("the step not finished is not planned again")
	}
	tomorrow := plan.Happened{Date: september(8), Undone: unfinished.Undone}
	if err := s.note(tomorrow); !fault.Is(err, fault.Invalid) {
		t.Errorf("a step was noted as not finished on a day to come: %v", err)
	}
}

func TestAbsentStudentMissesTheDaysWork(t *testing.T) {
	s := openSchool(t)
	s.agree()
	if err := s.note(plan.Happened{Date: september(7), Absent: []string{"b"}}); err != nil {
		t.Fatal(err)
	}
	y := s.year()
	m := y.Missed()
	if len(m) != 1 || m[0].Student.Name != "Benji C." || len(m[0].Days) != 1 || m[0].Days[0].Date != september(7) {
		t.Fatalf("missed: %+v", m)
	}
	if !y.Fresh {
		t.Error("one absent student moved the class")
	}
	if err := s.note(plan.Happened{Date: september(7), Absent: []string{"nobody"}}); err == nil {
		t.Error("a student who is not in the class was noted as away")
	}
}

func TestCalendarFileHoldsWhatWasAgreed(t *testing.T) {
	s := openSchool(t)
	s.agree()
	first := s.calendarFile()
	if !strings.Contains(first, "SEQUENCE:1\r\n") {
		t.Fatal("the first agreed plan is not SEQUENCE 1")
	}
	if err := s.note(plan.Happened{Date: september(8), Lost: true}); err != nil {
		t.Fatal(err)
	}
	if s.calendarFile() != first {
		t.Error("a plan not agreed got into the calendar file")
	}
	s.agree()
	second := s.calendarFile()
	if !strings.Contains(second, "SEQUENCE:2\r\n") || strings.Contains(second, "SEQUENCE:1\r\n") {
		t.Error("the second agreed plan is not SEQUENCE 2 throughout")
	}
	if strings.Contains(second, "DTSTART;VALUE=DATE:20260908") {
		t.Error("the lost day is still in the calendar file")
	}
}

func TestEarlierPlanComesBack(t *testing.T) {
	s := openSchool(t)
	ctx := context.Background()
	s.agree()
	first := s.year().Plan
	if err := s.note(plan.Happened{Date: september(8), Lost: true}); err != nil {
		t.Fatal(err)
	}
	s.agree()
	old, err := s.EarlierPlan(ctx, s.class.ID, 1)
	if err != nil {
		t.Fatal(err)
	}
	if len(old.Changes) == 0 || old.Plan.Last() != first.Last() {
		t.Errorf("version 1 ends on %s and differs by %v", old.Plan.Last(), old.Changes)
	}
	if err := s.UndoPlan(ctx, s.class.ID); err != nil {
		t.Fatal(err)
	}
	if err := s.BringBack(ctx, s.class.ID, 1); err != nil {
		t.Fatal(err)
	}
	y := s.year()
	if y.Agreed.Sequence != 3 || !y.Fresh || y.Plan.Last() != first.Last() {
		t.Errorf("version %d, fresh %v, ends on %s, not %s", y.Agreed.Sequence, y.Fresh, y.Plan.Last(), first.Last())
	}
}

func TestMinutesThatThingsTookAreLearned(t *testing.T) {
	s := openSchool(t)
	ctx := context.Background()
	s.agree()
	day, err := s.SchoolDay(ctx, s.class.ID, september(4))
	if err != nil {
		t.Fatal(err)
	}
	before := map[plan.StepKind]int{}
	reading := -1
	for i, st := range day.Day.Steps {
		before[st.Kind] = st.Minutes
		if st.Kind == plan.Reading {
			reading = i
		}
	}
	st := day.Day.Steps[reading]
	noted := plan.Happened{Date: september(4), Took: []plan.Took{{Ref: day.Refs[reading], Planned: st.Minutes, Minutes: st.Minutes + 6}}}
	if err := s.note(noted); err != nil {
		t.Fatal(err)
	}
	y := s.year()
	if len(y.Learned) != 1 || !strings.HasPrefix(y.Learned[0], "Read: ") {
		t.Fatalf("learned: %q", y.Learned)
	}
	next, err := s.SchoolDay(ctx, s.class.ID, september(7))
	if err != nil {
		t.Fatal(err)
	}
	first := starts(y.Agreed)
	for _, x := range y.Agreed.Days[1].Steps {
		for _, now := range next.Day.Steps {
			if now.Kind == x.Kind && now.Lesson == x.Lesson && first[x.Lesson] == september(7) {
				if longer := now.Minutes > x.Minutes; longer != (x.Kind == plan.Reading) {
					t.Errorf("%s of lesson %d went from %d to %d minutes", x.Kind, x.Lesson, x.Minutes, now.Minutes)
				}
			}
		}
	}
}

func TestMinutesOfAStepAreTheTeachers(t *testing.T) {
	s := openSchool(t)
	ctx := context.Background()
	day, err := s.SchoolDay(ctx, s.class.ID, september(4))
	if err != nil {
		t.Fatal(err)
	}
	ref := day.Refs[len(day.Refs)-1]
	change := []plan.StepWish{{Kit: ref.Kit, Lesson: ref.Lesson, Kind: ref.Kind, Minutes: 7}}
	if err := s.NoteDay(ctx, s.class.ID, day.WishRevision(), plan.Happened{Date: september(4)}, change); err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, d := range s.year().Plan.Days {
		for _, st := range d.Steps {
			if st.Lesson == ref.Lesson && st.Kind == ref.Kind {
				found += st.Minutes
			}
		}
	}
	if found != 7 {
		t.Errorf("the step has %d minutes, not 7", found)
	}
	change[0].Minutes = 900
	if err := s.NoteDay(ctx, s.class.ID, s.year().WishRevision(), plan.Happened{Date: september(4)}, change); !fault.Is(err, fault.Invalid) {
		t.Errorf("900 minutes were taken: %v", err)
	}
}

func TestWayToCatchUpIsTaken(t *testing.T) {
	s := openSchool(t)
	ctx := context.Background()
	s.agree()
	y := s.year()
	ways, err := s.CatchUp(ctx, y)
	if err != nil || len(ways) == 0 {
		t.Fatalf("%d ways: %v", len(ways), err)
	}
	for _, w := range ways {
		if w.Kind == planner.LaterEnd {
			continue
		}
		if err := s.TakeWay(ctx, s.class.ID, y.WishRevision(), string(w.Kind)); err != nil {
			t.Fatal(err)
		}
		if got := minutes(s.year().Plan); got > minutes(y.Plan) {
			t.Errorf("%q makes the plan longer: %d minutes, not %d", w.Says, got, minutes(y.Plan))
		}
		if err := s.UndoPlan(ctx, s.class.ID); err != nil {
			t.Fatal(err)
		}
		y = s.year()
	}
	if err := s.TakeWay(ctx, s.class.ID, y.WishRevision(), "magic"); err == nil {
		t.Error("a way that was not offered was taken")
	}
}

func minutes(p plan.Plan) (n int) {
	for _, d := range p.Days {
		n += d.Minutes()
	}
	return n
}

func TestRulesOfAChild(t *testing.T) {
	s := openSchool(t)
	ctx := context.Background()
	c, err := s.Class(ctx, s.class.ID)
	if err != nil {
		t.Fatal(err)
	}
	c.Students[0].Rules = []class.Rule{{Habit: class.ReadsSilent, Minutes: 10}}
	if err := s.SaveClass(ctx, c.Class, prepare.ClassRevision(c)); err != nil {
		t.Fatal(err)
	}
	y := s.year()
	added, unkept := y.Habits()
	if len(added)+len(unkept) == 0 {
		t.Fatal("a class that reads aloud keeps a rule of silent reading by itself")
	}
	for _, d := range y.Plan.Days {
		if err := s.note(plan.Happened{Date: d.Date, Elsewhere: []plan.Elsewhere{{Student: "a", Habit: class.ReadsSilent, Minutes: 10}}}); err != nil {
			t.Fatal(err)
		}
	}
	if added, unkept := s.year().Habits(); len(added)+len(unkept) > 0 {
		t.Errorf("all of it happened elsewhere, yet %v and %v are left", added, unkept)
	}
}

func TestTimetableOfADay(t *testing.T) {
	s := openSchool(t)
	ctx := context.Background()
	d := september(4)
	table, err := s.DayTable(ctx, d, nil)
	if err != nil || len(table.Blocks) == 0 {
		t.Fatalf("%d blocks: %v", len(table.Blocks), err)
	}
	if table.Blocks[0].From != 9*60 || len(table.Tracks) != 1 {
		t.Errorf("the day begins at %s in %d tracks", table.Blocks[0].From, len(table.Tracks))
	}
	last := table.Blocks[len(table.Blocks)-1]
	if err := s.HoldBlock(ctx, d, last.ID, 13*60); err != nil {
		t.Fatal(err)
	}
	if table, err = s.DayTable(ctx, d, nil); err != nil {
		t.Fatal(err)
	}
	if b := table.Blocks[len(table.Blocks)-1]; b.ID != last.ID || b.From != 13*60 || !b.Held {
		t.Errorf("%s is at %s (held: %v)", b.ID, b.From, b.Held)
	}
	if err := s.HoldBlock(ctx, d, last.ID, 8*60); !fault.Is(err, fault.Invalid) {
		t.Errorf("the last block was put before the first: %v", err)
	}
	if err := s.FreeBlock(ctx, d, last.ID); err != nil {
		t.Fatal(err)
	}
	if table, err = s.DayTable(ctx, d, nil); err != nil || table.Blocks[len(table.Blocks)-1].Held {
		t.Errorf("the block is still held (%v)", err)
	}
}
