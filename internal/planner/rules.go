package planner

import (
	"fmt"
	"slices"
	"time"

	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/plan"
)

// Reader is a child with its rules.
type Reader struct {
	ID    string       `json:"id"`
	Name  string       `json:"name"`
	Rules []class.Rule `json:"rules,omitempty"`
	// Ticks are the days on which something a rule asks for happened in another
	// subject.
	Ticks []Tick `json:"ticks,omitempty"`
}

// Tick says that a child read in another subject.
type Tick struct {
	Date    calendar.Date `json:"date"`
	Habit   class.Habit   `json:"habit"`
	Minutes int           `json:"minutes"`
}

// Added is a stretch of reading that a rule needs besides the plan's steps.
type Added struct {
	Child   string        `json:"child"`
	Date    calendar.Date `json:"date"`
	Habit   class.Habit   `json:"habit"`
	Minutes int           `json:"minutes"`
}

// Unkept is a rule that a week does not keep.
type Unkept struct {
	Child string        `json:"child"`
	Rule  class.Rule    `json:"rule"`
	Week  calendar.Date `json:"week"` // its first day
	Want  int           `json:"want"` // days
	Have  int           `json:"have"`
	Why   string        `json:"why"` // a sentence for the teacher
}

// Habits says which stretches of reading must be added to a plan so that the
// children's rules are kept, and which rules cannot be. Additions lie on school
// days from the plan's first to its last and take no more than the minutes that
// the plan leaves free on them; of all ways to add, a week keeps as many days of
// rules as can be, with the fewest minutes. In turns each child reads aloud its
// share of the minutes; when the teacher reads, all hear a good reader. Weeks
// start on the given weekday; a rule of so many times asks for no more than a
// week has school days.
func Habits(c calendar.Calendar, p plan.Plan, children []Reader, start time.Weekday) (added []Added, unkept []Unkept) {
	if len(p.Days) == 0 || len(children) == 0 {
		return nil, nil
	}
	byDate := map[calendar.Date]plan.Day{}
	for _, d := range p.Days {
		byDate[d.Date] = d
	}
	var weeks [][]calendar.Date
	for d := p.Days[0].Date; d <= p.Last(); d++ {
		if c.MinutesOn(d) == 0 {
			continue
		}
		if n := len(weeks); n == 0 || weeks[n-1][0].Week(start) != d.Week(start) {
			weeks = append(weeks, nil)
		}
		weeks[len(weeks)-1] = append(weeks[len(weeks)-1], d)
	}
	for _, child := range children {
		for _, week := range weeks {
			w := newRuleWeek(c, byDate, child, week, len(children))
			a, u := w.keep(week[0].Week(start))
			added, unkept = append(added, a...), append(unkept, u...)
		}
	}
	slices.SortStableFunc(added, func(a, b Added) int { return int(a.Date - b.Date) })
	return added, unkept
}

// ruleWeek is one child's week: by rule and day the minutes still missing, and
// by day the minutes that are free.
type ruleWeek struct {
	child   Reader
	days    []calendar.Date
	missing [][]int
	need    []int // days on which each rule should be kept
	room    []int
	// pick is which missing minutes are added, best the best way found.
	pick, best   []bool
	bestKept     int
	bestMinutes  int
	pairs        []pair
	already, top []int
}

type pair struct{ rule, day int }

func newRuleWeek(c calendar.Calendar, byDate map[calendar.Date]plan.Day, child Reader, days []calendar.Date, class int) *ruleWeek {
	w := &ruleWeek{child: child, days: days, bestKept: -1}
	for _, d := range days {
		w.room = append(w.room, max(0, c.MinutesOn(d)-byDate[d].Minutes()))
	}
	for _, r := range child.Rules {
		need := len(days)
		if r.Times > 0 {
			need = min(r.Times, len(days))
		}
		need = max(0, need-r.Elsewhere)
		missing := make([]int, len(days))
		for k, d := range days {
			have := given(byDate[d], r.Habit, class)
			for _, t := range child.Ticks {
				if t.Date == d && t.Habit == r.Habit {
					have += t.Minutes
				}
			}
			missing[k] = max(0, r.Minutes-have)
		}
		w.missing, w.need = append(w.missing, missing), append(w.need, need)
	}
	return w
}

// given is how many minutes of a habit a day's steps give one of the children.
func given(d plan.Day, h class.Habit, children int) int {
	n := 0
	for _, s := range d.Steps {
		switch {
		case s.Kind == plan.Again, s.Kind == plan.Reading && s.Mode == class.Silent:
			if h == class.ReadsSilent {
				n += s.Minutes
			}
		case s.Kind == plan.Reading && s.Mode == class.Teacher:
			if h == class.HearsReader {
				n += s.Minutes
			}
		case s.Kind == plan.Reading && h == class.ReadsAloud:
			n += s.Minutes / children
		}
	}
	return n
}

func (w *ruleWeek) keep(week calendar.Date) (added []Added, unkept []Unkept) {
	for r := range w.missing {
		have := 0
		for k, m := range w.missing[r] {
			if m == 0 {
				have++
			} else {
				w.pairs = append(w.pairs, pair{r, k})
			}
		}
		w.already = append(w.already, min(have, w.need[r]))
	}
	w.top = slices.Clone(w.already)
	w.pick = make([]bool, len(w.pairs))
	w.search(0, 0)
	have := slices.Clone(w.already)
	for i, x := range w.pairs {
		if w.best[i] {
			have[x.rule]++
			added = append(added, Added{w.child.ID, w.days[x.day], w.child.Rules[x.rule].Habit, w.missing[x.rule][x.day]})
		}
	}
	for r, rule := range w.child.Rules {
		if have[r] < w.need[r] {
			unkept = append(unkept, Unkept{w.child.ID, rule, week, w.need[r], have[r], w.why(rule, week, w.need[r], have[r])})
		}
	}
	return added, unkept
}

// search looks at all ways to add from pair i on, taking before leaving, and
// turning back where no more days could be kept than the best way keeps.
func (w *ruleWeek) search(i, minutes int) {
	kept, can := 0, 0
	for r := range w.need {
		kept += w.top[r]
		left := 0
		for _, x := range w.pairs[i:] {
			if x.rule == r {
				left++
			}
		}
		can += min(w.need[r], w.top[r]+left)
	}
	if can < w.bestKept || can == w.bestKept && minutes >= w.bestMinutes {
		return
	}
	if i == len(w.pairs) || can == kept {
		if kept > w.bestKept || minutes < w.bestMinutes {
			w.best, w.bestKept, w.bestMinutes = slices.Clone(w.pick), kept, minutes
			for k := i; k < len(w.best); k++ {
				w.best[k] = false
			}
		}
		return
	}
	x := w.pairs[i]
	m := w.missing[x.rule][x.day]
	if w.top[x.rule] < w.need[x.rule] && m <= w.room[x.day] {
		w.top[x.rule], w.room[x.day], w.pick[i] = w.top[x.rule]+1, w.room[x.day]-m, true
		w.search(i+1, minutes+m)
		w.top[x.rule], w.room[x.day], w.pick[i] = w.top[x.rule]-1, w.room[x.day]+m, false
	}
	w.search(i+1, minutes)
}

// habitWords is a rule in a sentence.
func habitWords(h class.Habit) string {
	switch h {
	case class.ReadsAloud:
		return "should read aloud"
	case class.HearsReader:
		return "should hear a good reader"
	}
	return "should read silently"
}

func (w *ruleWeek) why(r class.Rule, week calendar.Date, want, have int) string {
	name := w.child.Name
	if name == "" {
		name = w.child.ID
	}
	on := "none"
	if have > 0 {
		on = fmt.Sprint(have)
	}
	return fmt.Sprintf("%s %s for %s on %s in the week of %s, but the plan has room for it on %s. What would help: a longer day, or doing it in another subject and ticking it off.",
		name, habitWords(r.Habit), minutes(r.Minutes), many(want, "day"), week.Time().Format("2 January"), on)
}
