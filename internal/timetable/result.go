package timetable

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/calendar"
)

// result turns the best day found into times and sentences.
func (m *model) result(s *search) *Result {
	out := &Result{Cost: s.price - m.arrivals(), Bound: s.least - m.arrivals(), Gap: s.price - s.least, States: s.count}
	out.Exact = out.Gap == 0
	end := 0
	for i, b := range m.Blocks {
		out.Placed = append(out.Placed, Placed{b.ID, m.Begins + calendar.Clock(s.best[i])})
		end = max(end, s.best[i]+m.tasks[i].minutes)
	}
	slices.SortStableFunc(out.Placed, func(a, b Placed) int { return cmp.Compare(a.At, b.At) })
	out.Ends = m.Begins + calendar.Clock(end)
	for _, row := range m.rows {
		m.waits(row, s.best, func(from, to int) {
			for _, c := range row.children {
				out.Waits = append(out.Waits, Waiting{m.Children[c].ID, m.Begins + calendar.Clock(from), m.Begins + calendar.Clock(to)})
			}
		})
	}
	slices.SortStableFunc(out.Waits, func(a, b Waiting) int { return cmp.Compare(a.From, b.From) })
	m.notes(out)
	return out
}

// arrivals is what every day costs: the work of each child, its arrival and its
// time away are no waiting. The cost that is shown is without it.
func (m *model) arrivals() int {
	n := 0
	for _, row := range m.rows {
		n += (row.from + row.work) * len(row.children)
	}
	return m.w.Wait * n
}

// waits visits the stretches between a row's arrival and its last task in which
// it has nothing to do and is not away.
func (m *model) waits(r row, at []int, visit func(from, to int)) {
	now := r.from
	away := m.stretches(m.Children[r.children[0]].Away)
	for _, i := range r.tasks {
		for now < at[i] {
			to := at[i]
			in := slices.IndexFunc(away, func(s stretch) bool { return s.from <= now && now < s.to })
			if in >= 0 {
				now = min(to, away[in].to)
				continue
			}
			for _, s := range away {
				if s.from > now {
					to = min(to, s.from)
				}
			}
			visit(now, to)
			now = to
		}
		now = at[i] + m.tasks[i].minutes
	}
}

func (m *model) notes(r *Result) {
	say := func(format string, args ...any) { r.Notes = append(r.Notes, fmt.Sprintf(format, args...)) }
	if m.Ends > 0 && r.Ends > m.Ends {
		say("The day lasts until %s, %s past its end.", r.Ends, many(int(r.Ends-m.Ends), "minute"))
		teacher, room := 0, int(m.Ends-m.Begins)
		for _, s := range m.stretches(m.Teacher) {
			room -= max(0, min(s.to, int(m.Ends-m.Begins))-s.from)
		}
		for _, t := range m.tasks {
			if t.teacher {
				teacher += t.minutes
			}
		}
		if teacher > room {
			say("You alone are needed for %s, and have %d. What would help: %s fewer with you, a part of the work done together, or a longer day.",
				many(teacher, "minute"), room, many(teacher-room, "minute"))
		}
	}
	longest := Waiting{}
	for _, w := range r.Waits {
		if w.To-w.From > longest.To-longest.From {
			longest = w
		}
	}
	if n := int(longest.To - longest.From); n >= longWait {
		say("The longest wait is %s: %s from %s to %s.", many(n, "minute"), m.childName(longest.Child), longest.From, longest.To)
	}
	if r.Exact {
		say("No other order of the day is better.")
	} else {
		say("This is the best day found; a better one, if there is one, saves at most %s of waiting.", many((r.Gap+m.w.Wait-1)/max(1, m.w.Wait), "minute"))
	}
}

// longWait is a wait worth a sentence, in minutes (our choice).
const longWait = 10

func (m *model) childName(id string) string {
	for _, c := range m.Children {
		if c.ID == id && strings.TrimSpace(c.Name) != "" {
			return c.Name
		}
	}
	return id
}

func many(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
