package timetable

// Bounds. Every state of the search gets a number that no day which follows
// from it can undercut.
//
// The path. A task begins no earlier than its rows are free, its teacher is, and
// everything before it is done; followed through all tasks in order this gives
// each row an end that it cannot beat, and the whole day one ([model.follow]).
//
// The machines: the teacher, and each novel of which there is one copy. A
// machine works on one task at a time, so in any day the minutes of its tasks
// do not overlap. Take the tasks of a row on a machine from some one on to some
// other; let p be their minutes, and q the row's own minutes behind the last of
// them. They are all done before the end C of that last, so the mean M of the
// dates of their minutes is at most C - p/2, and the row ends no earlier than
// M + p/2 + q. Every mixture of such bounds and of the row's path, with weights
// that add up to 1, is a bound on its end, too. Summed over the rows, with the
// number of children in each, the mixture is a constant plus, for each machine,
// the sum over its tasks of (weight of a minute) x (dates of its minutes), and
// no less than the constant plus the least that this sum can be for any work on
// the tasks that may be interrupted and begins none before its earliest time:
// that is, at each minute, the work on the ready task of which a minute weighs
// most, because to exchange two minutes in the wrong order never raises the
// sum. Minutes when the machine is away change nothing in this. The minutes of
// a task that several rows share are dealt out among them, so that none counts
// twice. [mixture.sum] computes it for the weights at hand.
//
// All mixtures are valid, so the weights may come from anywhere: [mixture.fit]
// looks for good ones at the beginning, moving weight to the bounds that are
// largest; the states inherit them, a bound that is used up passing its weight
// to the next. Weights are whole 64ths, and what is rounded is rounded down, so
// that all is computed in whole numbers.
//
// The day's end is no earlier than the last path, and than the last minute of a
// machine's work with the least q of its rows behind it.

// heads are the earliest times of all tasks that are not begun, and the
// earliest ends of all rows, in a state.
type heads struct {
	heads []int
	ends  []int
}

func (m *model) root() heads {
	n := m.start()
	h := newHeads(m)
	m.follow(&n, &h)
	return h
}

func newHeads(m *model) heads {
	return heads{make([]int, len(m.tasks)), make([]int, len(m.rows))}
}

// follow fills h for a state; ok is false when a pinned task cannot begin in time.
func (m *model) follow(n *node, h *heads) (ok bool) {
	ok = true
	for r := range m.rows {
		h.ends[r] = int(n.free[r])
	}
	if m.apart {
		return m.followRows(n, h)
	}
	for i := range m.tasks {
		t := &m.tasks[i]
		if n.done(t) {
			continue
		}
		at := 0
		if !t.plain() {
			at = int(n.last)
		}
		for _, r := range t.rows {
			at = max(at, h.ends[r])
		}
		if t.teacher {
			at = max(at, int(n.teacher))
		}
		if t.pin >= 0 {
			ok = ok && at <= t.pin
			h.heads[i] = at
			at = max(at, t.pin)
		} else {
			at = m.clear(i, at)
			h.heads[i] = at
		}
		for _, r := range t.rows {
			h.ends[r] = at + t.minutes
		}
	}
	return ok
}

// followRows is follow for a day on which no two rows share a task.
func (m *model) followRows(n *node, h *heads) (ok bool) {
	ok = true
	for r := range m.rows {
		end := h.ends[r]
		for _, i := range m.rows[r].tasks[n.pos[r]:] {
			t := &m.tasks[i]
			at := end
			if !t.plain() {
				at = max(at, int(n.last))
			}
			if t.teacher {
				at = max(at, int(n.teacher))
			}
			if t.pin >= 0 {
				ok = ok && at <= t.pin
				h.heads[i] = at
				at = max(at, t.pin)
			} else {
				at = m.clear(i, at)
				h.heads[i] = at
			}
			end = at + t.minutes
		}
		h.ends[r] = end
	}
	return ok
}

// clear is the first time from at on at which all who do a task are there
// throughout.
func (m *model) clear(i, at int) int {
	t := &m.tasks[i]
	for again := true; again; {
		again = false
		for _, r := range t.rows {
			if x := past(m.away[r], at, t.minutes, i); x > at {
				at, again = x, true
			}
		}
		if t.teacher {
			if x := past(m.away[m.teacher], at, t.minutes, i); x > at {
				at, again = x, true
			}
		}
	}
	return at
}

// past moves a time behind the stretches that it would overlap.
func past(list []stretch, at, minutes, task int) int {
	for _, s := range list {
		if s.task != task && s.from < at+minutes && at < s.to {
			at = s.to
		}
	}
	return at
}

// bound is the lower bound of a state in points; -1 when no day follows from it.
func (s *search) bound(n *node) int {
	if !s.m.follow(n, &s.h) {
		return -1
	}
	sum, end := s.mix.sum(n, &s.h)
	for _, e := range s.h.ends {
		end = max(end, e)
	}
	return s.m.w.Wait*sum + s.m.w.End*end
}
