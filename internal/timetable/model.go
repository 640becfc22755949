package timetable

import (
	"fmt"
	"slices"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
)

// A model is the problem in plain numbers. Times are minutes since the day
// begins. A row is a group of children whose whole day is the same; a task is a
// block; each row does its tasks in order.
type model struct {
	Problem
	w     Weights
	rows  []row
	tasks []task
	// away holds the stretches of each row, then those of the teacher, in which
	// nothing may lie; the teacher's pinned tasks are among them.
	away    [][]stretch
	teacher int // index of the teacher in away
	// kits whose copies can run short: their slots are [first, first+count).
	kits  []kitSlots
	slots int
	hard  int  // how many tasks are not plain
	apart bool // no two rows share a task
}

type row struct {
	children []int // indices
	from     int
	tasks    []int
	work     int // minutes of all its tasks
}

type task struct {
	rows    []int
	minutes int
	teacher bool
	kit     int // index in model.kits, -1 for none
	copies  int
	pin     int // minute, -1 when free
	before  int // where it lay, for ties; -1 when not known
	at      []int
}

type stretch struct{ from, to, task int } // task -1 for time away

type kitSlots struct {
	id           kit.ID
	first, count int
	pinned       []pinnedUse
}

type pinnedUse struct{ from, to, copies, task int }

const longestDay = 24 * 60

func compile(p Problem) (*model, error) {
	m := &model{Problem: p, w: Usual()}
	if p.Weights != nil {
		m.w = *p.Weights
	}
	if m.w.Wait < 0 || m.w.End < 0 || m.w.Wait > 1000 || m.w.End > 1000 {
		return nil, invalid("Give weights between 0 and 1000.", "A weight of the timetable is out of bounds.")
	}
	if p.Begins < 0 || p.Begins >= longestDay || p.Ends != 0 && p.Ends <= p.Begins {
		return nil, invalid("Check the two times.", "The day ends at %s, before it begins at %s.", p.Ends, p.Begins)
	}
	if len(p.Blocks) > MostBlocks {
		return nil, fault.New(fault.TooLarge, fmt.Sprintf("The day has %d blocks; a timetable holds %d.", len(p.Blocks), MostBlocks), "Lay out fewer children at once.")
	}
	child, err := m.children()
	if err != nil {
		return nil, err
	}
	if err := m.blocks(child); err != nil {
		return nil, err
	}
	if err := m.pins(); err != nil {
		return nil, err
	}
	m.apart = true
	for i := range m.tasks {
		if !m.tasks[i].plain() {
			m.hard++
		}
		m.apart = m.apart && len(m.tasks[i].rows) == 1
	}
	return m, nil
}

func (m *model) children() (map[string]int, error) {
	child := map[string]int{}
	for i, c := range m.Children {
		if _, twice := child[c.ID]; twice || c.ID == "" {
			return nil, invalid("Give each child an id of its own.", "Two children have the same id, or one has none: %q.", c.ID)
		}
		child[c.ID] = i
		if err := checkAway(c.Name, c.Away); err != nil {
			return nil, err
		}
	}
	return child, checkAway("The teacher", m.Teacher)
}

func checkAway(who string, list []Away) error {
	for _, a := range list {
		if a.To <= a.From {
			return invalid("Check the two times.", "%s: %q ends at %s, before it begins at %s.", who, a.Name, a.To, a.From)
		}
	}
	return nil
}

// blocks makes tasks and rows.
func (m *model) blocks(child map[string]int) error {
	seen := map[string]bool{}
	lists := make([][]int, len(m.Children))
	total := 0
	for i, b := range m.Blocks {
		switch {
		case b.ID == "" || seen[b.ID]:
			return invalid("Give each block an id of its own.", "Two blocks of the day have the same id, or one has none: %q.", b.ID)
		case b.Minutes <= 0:
			return invalid("Give it at least one minute, or leave it out.", "The block %q has %d minutes.", b.ID, b.Minutes)
		case len(b.Children) == 0:
			return invalid("Say which children do it, or leave it out.", "The block %q has no children.", b.ID)
		}
		seen[b.ID] = true
		total += b.Minutes
		for _, id := range b.Children {
			c, ok := child[id]
			if !ok {
				return invalid("Add the child to the day, or take it out of the block.", "The block %q is for a child that is not there: %q.", b.ID, id)
			}
			if n := len(lists[c]); n > 0 && lists[c][n-1] == i {
				return invalid("Name each child once.", "The block %q names %q twice.", b.ID, id)
			}
			lists[c] = append(lists[c], i)
		}
		m.tasks = append(m.tasks, task{minutes: b.Minutes, teacher: b.Teacher, kit: -1, pin: -1, before: -1})
	}
	if total > longestDay {
		return invalid("Leave some of it for another day.", "The day's work is %d minutes, more than a day has.", total)
	}
	for _, p := range m.Before {
		if i := m.blockAt(p.Block); i >= 0 {
			m.tasks[i].before = int(p.At - m.Begins)
		}
	}
	if err := m.group(lists); err != nil {
		return err
	}
	m.useCopies()
	return nil
}

// group makes rows of the children whose tasks and times are all the same.
func (m *model) group(lists [][]int) error {
	for c, list := range lists {
		if len(list) == 0 {
			continue
		}
		from := max(0, int(m.Children[c].From-m.Begins))
		if m.Children[c].From == 0 {
			from = 0
		}
		k := slices.IndexFunc(m.rows, func(r row) bool {
			return r.from == from && slices.Equal(r.tasks, list) && sameTimes(m.Children[r.children[0]].Away, m.Children[c].Away)
		})
		if k >= 0 {
			m.rows[k].children = append(m.rows[k].children, c)
			continue
		}
		r := row{children: []int{c}, from: from, tasks: list}
		for _, t := range list {
			r.work += m.tasks[t].minutes
			m.tasks[t].rows = append(m.tasks[t].rows, len(m.rows))
			m.tasks[t].at = append(m.tasks[t].at, 0)
		}
		m.rows = append(m.rows, r)
		m.away = append(m.away, m.stretches(m.Children[c].Away))
	}
	if len(m.rows) > MostGroups {
		return fault.New(fault.TooLarge, fmt.Sprintf("%d children have work of their own that day; a timetable holds %d.", len(m.rows), MostGroups), "Lay out fewer children at once, or let some of them work together.")
	}
	for r, row := range m.rows {
		for k, t := range row.tasks {
			m.tasks[t].at[slices.Index(m.tasks[t].rows, r)] = k
		}
	}
	m.teacher = len(m.away)
	m.away = append(m.away, m.stretches(m.Teacher))
	return nil
}

func sameTimes(a, b []Away) bool {
	return slices.EqualFunc(a, b, func(x, y Away) bool { return x.From == y.From && x.To == y.To })
}

func (m *model) stretches(list []Away) []stretch {
	var out []stretch
	for _, a := range list {
		if to := int(a.To - m.Begins); to > 0 {
			out = append(out, stretch{max(0, int(a.From-m.Begins)), to, -1})
		}
	}
	return out
}

// useCopies keeps the kits of which there are fewer copies than could be needed
// at once.
func (m *model) useCopies() {
	for _, c := range m.Copies {
		most, rows := 0, map[int]int{}
		for i, b := range m.Blocks {
			if b.Kit == c.Kit && b.Copies > 0 {
				r := m.tasks[i].rows[0] // tasks of one row never meet
				rows[r] = max(rows[r], b.Copies)
			}
		}
		for _, n := range rows {
			most += n
		}
		if most <= c.Count || slices.ContainsFunc(m.kits, func(k kitSlots) bool { return k.id == c.Kit }) {
			continue
		}
		k := kitSlots{id: c.Kit, first: m.slots, count: max(1, c.Count)}
		for i, b := range m.Blocks {
			if b.Kit == c.Kit && b.Copies > 0 {
				// More than there are: they are all in use.
				m.tasks[i].kit, m.tasks[i].copies = len(m.kits), min(b.Copies, k.count)
			}
		}
		m.kits, m.slots = append(m.kits, k), m.slots+k.count
	}
}

func (m *model) pins() error {
	for _, p := range m.Pins {
		i := m.blockAt(p.Block)
		if i < 0 {
			return invalid("Let it go.", "A block that is not there any more was put at %s.", p.At)
		}
		t := &m.tasks[i]
		if t.pin >= 0 && t.pin == int(p.At-m.Begins) {
			continue
		}
		if t.pin >= 0 {
			return invalid("Keep one of the two times.", "%s was put at %s and at %s.", m.name(i), m.Begins+calendar.Clock(t.pin), p.At)
		}
		if p.At < m.Begins {
			return invalid("Choose a later time, or let the day begin earlier.", "%s was put at %s, before the day begins at %s.", m.name(i), p.At, m.Begins)
		}
		t.pin = int(p.At - m.Begins)
		at := stretch{t.pin, t.pin + t.minutes, i}
		who := slices.Clone(t.rows)
		if t.teacher {
			who = append(who, m.teacher)
		}
		for _, w := range who {
			for _, s := range m.away[w] {
				if s.from < at.to && at.from < s.to {
					if s.task >= 0 {
						return invalid("Move one of the two.", "%s and %s were put at the same time, and both need %s.", m.name(s.task), m.name(i), m.who(w))
					}
					return invalid("Choose another time.", "%s cannot be at %s, because %s is away then.", m.name(i), p.At, m.who(w))
				}
			}
		}
		for _, r := range t.rows {
			for k, o := range m.tasks {
				if k != i && o.pin >= 0 && o.pin < at.to && at.from < o.pin+o.minutes && slices.Contains(o.rows, r) {
					return invalid("Move one of the two.", "%s and %s were put at the same time, and both need %s.", m.name(k), m.name(i), m.who(r))
				}
			}
		}
		// Of its rows nothing behind it can come before it, nor the other way
		// round; other rows' work must leave it the teacher.
		if t.teacher {
			m.away[m.teacher] = append(m.away[m.teacher], at)
		}
		if t.kit >= 0 {
			m.kits[t.kit].pinned = append(m.kits[t.kit].pinned, pinnedUse{at.from, at.to, t.copies, i})
		}
	}
	for _, list := range m.away {
		slices.SortFunc(list, func(a, b stretch) int { return a.from - b.from })
	}
	return nil
}

func (m *model) blockAt(id string) int {
	return slices.IndexFunc(m.Blocks, func(b Block) bool { return b.ID == id })
}

// who names a row, or the teacher.
func (m *model) who(w int) string {
	if w == m.teacher {
		return "the teacher"
	}
	c := m.Children[m.rows[w].children[0]]
	if c.Name != "" {
		return c.Name
	}
	return c.ID
}

// name is what a block is called in a sentence.
func (m *model) name(i int) string {
	b := m.Blocks[i]
	if b.Kind == "" {
		return fmt.Sprintf("The block %q", b.ID)
	}
	who := m.who(m.tasks[i].rows[0])
	if n := len(b.Children); n > 1 {
		who = fmt.Sprintf("%d children", n)
	}
	return fmt.Sprintf("The block “%s” of %s", b.Kind, who)
}

// impossible says why no day keeps all pins: the first pinned block that cannot
// begin in time even if nothing else is in its way, or else that they are too many.
func (m *model) impossible() error {
	heads := m.root().heads
	for i := range m.tasks {
		if t := &m.tasks[i]; t.pin >= 0 && heads[i] > t.pin {
			return invalid("Choose a later time, or move what comes before it.", "%s cannot be at %s: the work before it takes until %s.",
				m.name(i), m.Begins+calendar.Clock(t.pin), m.Begins+calendar.Clock(heads[i]))
		}
	}
	return invalid("Let one of them move again.", "The blocks cannot all stay where they were put: what must be done before them does not find room.")
}
