package timetable

import (
	"cmp"
	"context"
	"slices"

	"bookstead/internal/fault"
)

// The search. A task that needs nothing but its own rows is plain: nothing
// competes with it, and prices never fall when a task ends later, so it begins
// as soon as its rows are there, and a day is told by the others. A state is a
// number of these begun, in the order of their beginnings, the last at the time
// last; a way on from it begins the rest at last or later, each as early as what
// stands before it allows. Every day can be told so, or one that is no later in
// anything. The followers of a state are the tasks that may begin next, each at
// its earliest time (expand). Left out are
//
//   - followers that begin at or behind the end that another task t ready now
//     would have: the way on that begins t first, and all else as it does, is
//     no dearer, for t gets out of nobody's way by waiting;
//   - states in which the time of a pinned task is past: no way on keeps it;
//   - states whose bound (bound.go) is no better than the best day known;
//   - states that another one dominates (front): one with the same tasks done,
//     in which every row, the teacher and every copy is free no later and the
//     last beginning is no later, so that it can go on at the same times; of
//     two that are equal the older stays.
//
// Why no cheapest day is lost: for each state left out, another is named whose
// best way on is no dearer: in the first case one that has more tasks begun, in
// the last one with as many, which is earlier in something and later in nothing,
// or equal and older. So whoever goes from a state to the one that stands for it
// comes to an end: the tasks that are left never grow more, and among states with
// equally many nothing comes back.
// There the state was expanded, and the same holds of its followers, with one
// task less. At the end stands a whole day.
//
// States are taken by their bounds, so when the search is stopped by its limit,
// the least bound among those waiting is one for the whole day. A beam, which
// keeps only a few states of each length, gives a good day to begin with.

const (
	maxRows  = MostGroups
	maxSlots = 24
)

type node struct {
	free     [maxRows]int16
	slots    [maxSlots]int16
	pos      [maxRows]uint8
	teacher  int16
	last     int16 // beginning of the last task
	at       int16 // the same; -1 at the root
	task     int16 // the last task
	depth    int16
	bound    int32
	parent   int32
	needless bool // another state dominates it
}

func (n *node) done(t *task) bool { return int(n.pos[t.rows[0]]) > t.at[0] }

type search struct {
	m     *model
	limit int
	nodes []node
	h     heads
	mix   *mixture
	ready []int
	seen  map[[maxRows]uint8][]front
	queue []int32
	now   front // of the state at hand
	count int
	best  []int // beginnings of all tasks
	price int
	least int  // what no day can be cheaper than
	open  bool // states were left
	all   bool // keep dominated states, to test that nothing is lost with them
}

func (s *search) run(ctx context.Context) error {
	m := s.m
	if m.slots > maxSlots {
		return fault.New(fault.TooLarge, "The day has too many copies of novels that could run short.", "Name only the novels of which there are fewer copies than children.")
	}
	s.h, s.mix = newHeads(m), newMixture(m)
	root := m.start()
	m.advance(&root, nil)
	if err := stopped(ctx); err != nil {
		return err
	}
	b := s.bound(&root)
	if b < 0 {
		return nil
	}
	s.mix.fit(&root, &s.h, parts/2, 24)
	b = s.bound(&root)
	root.bound, s.least = int32(b), b
	s.before()
	s.nodes = append(make([]node, 0, 4096), root)
	if m.hard == 0 {
		s.keep(0)
	}
	s.beam(12)
	s.nodes = s.nodes[:1]
	s.seen = map[[maxRows]uint8][]front{}
	s.queue = append(s.queue, 0)
	for len(s.queue) > 0 {
		if s.count%1024 == 0 {
			if err := stopped(ctx); err != nil {
				return err
			}
		}
		top := int(s.nodes[s.queue[0]].bound)
		if s.best != nil && top >= s.price {
			break
		}
		s.least = top
		if s.count >= s.limit {
			s.open = true
			return nil
		}
		id := s.pop()
		if s.nodes[id].needless {
			continue
		}
		s.expand(id, func(n node) {
			if s.best != nil && int(n.bound) >= s.price {
				return
			}
			if !s.all {
				s.note(&n)
			}
			s.nodes = append(s.nodes, n)
			if int(n.depth) == m.hard {
				s.keep(int32(len(s.nodes) - 1))
				return
			}
			s.push(int32(len(s.nodes) - 1))
		})
	}
	if s.best != nil {
		s.least = s.price
	}
	return nil
}

func stopped(ctx context.Context) error {
	return fault.Wrap(fault.Canceled, ctx.Err(), "The timetable was stopped.", "Nothing has changed.")
}

// expand gives the followers of a state, with their bounds.
func (s *search) expand(id int32, yield func(node)) {
	m, n := s.m, s.nodes[id] // no plain task is next: advance has done them
	s.count++
	s.ready = s.ready[:0]
	soonest := 1 << 30 // end of a task ready now
	for r := range m.rows {
		row := &m.rows[r]
		if int(n.pos[r]) == len(row.tasks) {
			continue
		}
		i := row.tasks[n.pos[r]]
		t := &m.tasks[i]
		if t.rows[0] != r || !m.next(&n, t) {
			continue
		}
		at := m.earliest(&n, i)
		if at < 0 {
			return // a pin is past
		}
		soonest = min(soonest, at+t.minutes)
		s.ready = append(s.ready, i, at)
	}
	for k := 0; k < len(s.ready); k += 2 {
		i, at := s.ready[k], s.ready[k+1]
		if at >= soonest {
			continue
		}
		f := n
		m.do(&f, i, at)
		f.parent = id
		if s.seen != nil && !s.all && s.dominated(&f) {
			continue
		}
		b := s.bound(&f)
		if b < 0 {
			continue
		}
		f.bound = max(n.bound, int32(b))
		yield(f)
	}
}

// next reports whether a task is the next of all its rows.
func (m *model) next(n *node, t *task) bool {
	for k, r := range t.rows {
		if int(n.pos[r]) != t.at[k] {
			return false
		}
	}
	return true
}

// earliest is when a task that is next can begin, not before the last beginning;
// -1 when its pin is past.
func (m *model) earliest(n *node, i int) int {
	t := &m.tasks[i]
	at := int(n.last)
	for _, r := range t.rows {
		at = max(at, int(n.free[r]))
	}
	if t.teacher {
		at = max(at, int(n.teacher))
	}
	if t.pin >= 0 {
		if at > t.pin || t.kit >= 0 && m.copiesFrom(n, i, t.pin) != t.pin {
			return -1
		}
		return t.pin
	}
	for {
		x := m.clear(i, at)
		if t.kit >= 0 {
			x = m.copiesFrom(n, i, x)
		}
		if x == at {
			return at
		}
		at = x
	}
}

// copiesFrom is the first time from at on at which there are copies enough for
// a task while it lasts: those that are in use now and, once they are needed,
// those of pinned tasks.
func (m *model) copiesFrom(n *node, i, at int) int {
	t := &m.tasks[i]
	k := &m.kits[t.kit]
	used := func(when int) int {
		u := 0
		for _, f := range n.slots[k.first : k.first+k.count] {
			if int(f) > when {
				u++
			}
		}
		for _, p := range k.pinned {
			if p.task != i && p.from <= when && when < p.to && !n.done(&m.tasks[p.task]) {
				u += p.copies
			}
		}
		return u
	}
	for {
		next := at
		if used(at)+t.copies > k.count {
			next = 1 << 30 // the next time at which one comes free
			for _, f := range n.slots[k.first : k.first+k.count] {
				if int(f) > at {
					next = min(next, int(f))
				}
			}
			for _, p := range k.pinned {
				if p.to > at {
					next = min(next, p.to)
				}
			}
		}
		for _, p := range k.pinned {
			if next == at && p.task != i && at < p.from && p.from < at+t.minutes && used(p.from)+t.copies > k.count {
				next = p.to
			}
		}
		if next == at {
			return at
		}
		at = next
	}
}

// start is the state in which nothing is begun.
func (m *model) start() node {
	n := node{task: -1, parent: -1, at: -1}
	for r, row := range m.rows {
		n.free[r] = int16(row.from)
	}
	return n
}

// do begins a task, and the plain ones behind it.
func (m *model) do(n *node, i, at int) {
	m.begin(n, i, at)
	m.advance(n, nil)
}

func (m *model) begin(n *node, i, at int) {
	t := &m.tasks[i]
	end := int16(at + t.minutes)
	for _, r := range t.rows {
		n.free[r] = end
		n.pos[r]++
	}
	if t.teacher {
		n.teacher = end
	}
	if t.kit >= 0 {
		k := &m.kits[t.kit]
		slots := n.slots[k.first : k.first+k.count]
		slices.Sort(slots)
		left := t.copies
		for s := len(slots) - 1; s >= 0 && left > 0; s-- { // of those free now the one that came free last
			if int(slots[s]) <= at {
				slots[s], left = end, left-1
			}
		}
		slices.Sort(slots)
	}
	n.last, n.at, n.task, n.depth = int16(at), int16(at), int16(i), n.depth+1
}

// advance does the plain tasks that are next; at, when it is not nil, gets
// their beginnings.
func (m *model) advance(n *node, at []int) {
	for again := true; again; {
		again = false
		for r, row := range m.rows {
			for int(n.pos[r]) < len(row.tasks) {
				i := row.tasks[n.pos[r]]
				t := &m.tasks[i]
				if !t.plain() || !m.next(n, t) {
					break
				}
				from := 0
				for _, r := range t.rows {
					from = max(from, int(n.free[r]))
				}
				from = m.clear(i, from)
				if at != nil {
					at[i] = from
				}
				for _, r := range t.rows {
					n.free[r] = int16(from + t.minutes)
					n.pos[r]++
				}
				again = again || len(t.rows) > 1
			}
		}
	}
}

func (t *task) plain() bool { return !t.teacher && t.kit < 0 && t.pin < 0 }

// front is when a state can go on: the last beginning, when the teacher, each
// row and each copy is free. What is free before anything of it can begin counts
// as free at that time: no task begins before the last beginning, none with the
// teacher before the teacher is free.
type front struct {
	id    int32
	count int16 // of v
	v     [2 + maxRows + maxSlots]int16
}

func (s *search) front(n *node, id int32) (f front) {
	f.id = id
	teacher := max(n.teacher, n.last)
	f.v[0], f.v[1] = n.last, teacher
	k := 2
	for r := range s.m.rows {
		x := n.free[r]
		if row := &s.m.rows[r]; int(n.pos[r]) < len(row.tasks) {
			if x = max(x, n.last); s.m.tasks[row.tasks[n.pos[r]]].teacher {
				x = max(x, teacher)
			}
		}
		f.v[k] = x
		k++
	}
	for _, x := range n.slots[:s.m.slots] {
		f.v[k] = max(x, n.last)
		k++
	}
	f.count = int16(k)
	return f
}

// dominates reports whether nothing of a is later than in b.
func (a *front) dominates(b *front) bool {
	for k, x := range a.v[:a.count] {
		if x > b.v[k] {
			return false
		}
	}
	return true
}

// dominated reports whether another state with the same tasks done makes n
// needless.
func (s *search) dominated(n *node) bool {
	s.now = s.front(n, 0)
	list := s.seen[n.pos]
	for i := range list {
		if list[i].dominates(&s.now) {
			return true
		}
	}
	return false
}

// note puts down the state that was last found not to be dominated, as the next
// of the nodes, and drops those that it makes needless.
func (s *search) note(n *node) {
	f := s.now
	f.id = int32(len(s.nodes))
	list := s.seen[n.pos]
	kept := list[:0]
	for i := range list {
		if f.dominates(&list[i]) {
			s.nodes[list[i].id].needless = true
		} else {
			kept = append(kept, list[i])
		}
	}
	s.seen[n.pos] = append(kept, f)
}

// keep takes a whole day as the best.
func (s *search) keep(id int32) {
	at := make([]int, len(s.m.tasks))
	var way []int32
	for k := id; s.nodes[k].task >= 0; k = s.nodes[k].parent {
		way = append(way, k)
	}
	n := s.m.start()
	s.m.advance(&n, at)
	for _, k := range slices.Backward(way) {
		x := &s.nodes[k]
		at[x.task] = int(x.at)
		s.m.begin(&n, int(x.task), int(x.at))
		s.m.advance(&n, at)
	}
	s.take(at)
}

func (s *search) take(at []int) {
	if c := s.m.cost(at); s.best == nil || c < s.price {
		s.best, s.price = at, c
	}
}

// cost of a day that begins its tasks so.
func (m *model) cost(at []int) int {
	sum, end := 0, 0
	for _, row := range m.rows {
		last := row.tasks[len(row.tasks)-1]
		e := at[last] + m.tasks[last].minutes
		sum += e * len(row.children)
		end = max(end, e)
	}
	return m.w.Wait*sum + m.w.End*end
}

// before begins with the day as it stood: its blocks in the order of their times.
func (s *search) before() {
	m := s.m
	if !slices.ContainsFunc(m.tasks, func(t task) bool { return t.before >= 0 }) {
		return
	}
	n := m.start()
	at := make([]int, len(m.tasks))
	m.advance(&n, at)
	for range m.hard {
		pick, when := -1, 0
		for i := range m.tasks {
			t := &m.tasks[i]
			if !m.next(&n, t) {
				continue
			}
			e := m.earliest(&n, i)
			if e < 0 {
				return // a pin is past
			}
			if pick < 0 || cmp.Or(cmp.Compare(m.soon(t), m.soon(&m.tasks[pick])), cmp.Compare(e, when)) < 0 {
				pick, when = i, e
			}
		}
		if pick < 0 {
			return
		}
		at[pick] = when
		m.begin(&n, pick, when)
		m.advance(&n, at)
	}
	s.take(at)
}

// soon is where a task wants to begin.
func (m *model) soon(t *task) int {
	if t.pin >= 0 {
		return t.pin
	}
	return t.before
}

// beam looks for a good day with a few states of each length.
func (s *search) beam(width int) {
	now := []int32{0}
	for range s.m.hard {
		var found []node
		for _, id := range now {
			s.expand(id, func(n node) {
				if s.best == nil || int(n.bound) < s.price {
					found = append(found, n)
				}
			})
		}
		slices.SortStableFunc(found, func(a, b node) int {
			return cmp.Or(cmp.Compare(a.bound, b.bound), cmp.Compare(a.last, b.last))
		})
		now = now[:0]
		for i := range found {
			if len(now) == width {
				break
			}
			same := slices.ContainsFunc(now, func(id int32) bool {
				if s.nodes[id].pos != found[i].pos {
					return false
				}
				a, b := s.front(&s.nodes[id], 0), s.front(&found[i], 0)
				return a.dominates(&b)
			})
			if !same {
				s.nodes = append(s.nodes, found[i])
				now = append(now, int32(len(s.nodes)-1))
			}
		}
	}
	for _, id := range now {
		s.keep(id)
	}
}

// sooner is the order of the queue: the least bound first; of those the state
// with the most tasks done, then the older one.
func (s *search) sooner(x, y int32) bool {
	a, b := &s.nodes[x], &s.nodes[y]
	if a.bound != b.bound {
		return a.bound < b.bound
	}
	if a.depth != b.depth {
		return a.depth > b.depth
	}
	return x < y
}

// push and pop keep the queue a binary heap.
func (s *search) push(x int32) {
	q := append(s.queue, x)
	k := len(q) - 1
	for k > 0 && s.sooner(x, q[(k-1)/2]) {
		q[k] = q[(k-1)/2]
		k = (k - 1) / 2
	}
	q[k] = x
	s.queue = q
}

func (s *search) pop() int32 {
	q := s.queue
	top, x := q[0], q[len(q)-1]
	q = q[:len(q)-1]
	s.queue = q
	if len(q) == 0 {
		return top
	}
	k := 0
	for {
		c := 2*k + 1
		if c >= len(q) {
			break
		}
		if c+1 < len(q) && s.sooner(q[c+1], q[c]) {
			c++
		}
		if !s.sooner(q[c], x) {
			break
		}
		q[k] = q[c]
		k = c
	}
	q[k] = x
	return top
}
