package planner

import (
	"math/bits"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
)

// reading is a plan of one week: each day so many minutes of reading in a mode.
func reading(mode class.Mode, minutes ...int) plan.Plan {
	var p plan.Plan
	for i, m := range minutes {
		p.Days = append(p.Days, plan.Day{Date: monday + calendar.Date(i), Available: 60,
			Steps: []plan.Step{{Kit: kit.ID("k"), Lesson: i + 1, Kind: plan.Reading, Mode: mode, Minutes: m}}})
	}
	return p
}

func TestHabits(t *testing.T) {
	c := schoolYear(30, 60)
	ann := Reader{ID: "a", Name: "Ann", Rules: []class.Rule{{Habit: class.ReadsAloud, Minutes: 10, Times: 3}}}
	// In turns two children share the minutes: 30 give each 15, 10 only 5.
	added, un := Habits(c, reading(class.Turns, 30, 10, 10, 30, 10), []Reader{ann, {ID: "b"}}, time.Monday)
	if len(added) != 1 || added[0] != (Added{"a", monday + 1, class.ReadsAloud, 5}) || len(un) != 0 {
		t.Errorf("%v, %v", added, un)
	}
	// What happens elsewhere is not asked of books, by rule or by tick.
	ann.Rules[0].Elsewhere = 1
	if added, un = Habits(c, reading(class.Turns, 30, 10, 10, 30, 10), []Reader{ann, {ID: "b"}}, time.Monday); len(added)+len(un) != 0 {
		t.Errorf("%v, %v", added, un)
	}
	ann.Rules[0].Elsewhere, ann.Ticks = 0, []Tick{{monday + 2, class.ReadsAloud, 5}}
	if added, un = Habits(c, reading(class.Turns, 30, 10, 10, 30, 10), []Reader{ann, {ID: "b"}}, time.Monday); len(added)+len(un) != 0 {
		t.Errorf("%v, %v", added, un)
	}
	// The teacher reads the whole hour: nobody reads silently, and it is said where.
	ann = Reader{ID: "a", Name: "Ann", Rules: []class.Rule{{Habit: class.ReadsSilent, Minutes: 10}, {Habit: class.HearsReader, Minutes: 20, Times: 5}}}
	added, un = Habits(c, reading(class.Teacher, 60, 50, 60, 60, 45), []Reader{ann}, time.Monday)
	if len(added) != 2 || len(un) != 1 || un[0].Want != 5 || un[0].Have != 2 ||
		!strings.HasPrefix(un[0].Why, "Ann should read silently for 10 minutes on 5 days in the week of 7 September, but the plan has room for it on 2.") {
		t.Errorf("%v, %v", added, un)
	}
	// A week that starts on Sunday, and one cut short by days off.
	c.DaysOff = []calendar.Range{{First: monday + 2, Last: monday + 6}}
	p := plan.Plan{Days: []plan.Day{{Date: monday}, {Date: monday + 8}}}
	if _, un = Habits(c, p, []Reader{{ID: "a", Rules: []class.Rule{{Habit: class.ReadsSilent, Minutes: 70, Times: 3}}}}, time.Sunday); len(un) != 2 || un[0].Want != 2 || un[0].Week != monday-1 {
		t.Errorf("%v", un)
	}
	if a, u := Habits(c, plan.Plan{}, []Reader{ann}, time.Monday); a != nil || u != nil {
		t.Error("an empty plan")
	}
}

// No way to add keeps more, and none that keeps as much takes fewer minutes,
// by trying every way.
func TestHabitsAreBest(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 1))
	for range 300 {
		w := &ruleWeek{bestKept: -1}
		days := 2 + rnd.IntN(4)
		for range days {
			w.days, w.room = append(w.days, monday), append(w.room, rnd.IntN(25))
		}
		for range 1 + rnd.IntN(3) {
			var miss []int
			for range days {
				miss = append(miss, max(0, rnd.IntN(20)-4))
			}
			w.missing, w.need = append(w.missing, miss), append(w.need, rnd.IntN(days+1))
			w.child.Rules = append(w.child.Rules, class.Rule{})
		}
		room := append([]int(nil), w.room...)
		added, _ := w.keep(monday)
		minutes := 0
		for _, a := range added {
			minutes += a.Minutes
		}
		best, cheapest := -1, 0
		for set := range 1 << len(w.pairs) {
			left := append([]int(nil), room...)
			have := append([]int(nil), w.already...)
			cost, ok := 0, true
			for i, x := range w.pairs {
				if set>>i&1 == 1 {
					m := w.missing[x.rule][x.day]
					left[x.day] -= m
					cost += m
					have[x.rule]++
					ok = ok && left[x.day] >= 0 && have[x.rule] <= w.need[x.rule]
				}
			}
			kept := 0
			for r := range have {
				kept += have[r]
			}
			if ok && (kept > best || kept == best && cost < cheapest) {
				best, cheapest = kept, cost
			}
		}
		if w.bestKept != best || minutes != cheapest {
			t.Fatalf("keeps %d with %d minutes, could %d with %d (%d pairs)", w.bestKept, minutes, best, cheapest, bits.Len(uint(len(w.pairs))))
		}
	}
}
