package timetable

import "slices"

const (
	parts = 64      // weights are whole parts of this many
	fine  = 1 << 20 // weights of a minute are whole parts of this many
)

// mixture holds the weights of the bounds of all rows, and the machines.
type mixture struct {
	m        *model
	machines []machine
	// path is the weight of each row's path.
	path []int
}

type machine struct {
	needs  func(*task) bool
	away   []stretch
	free   func(*node) int
	rows   [][]share    // by row, its tasks on the machine in order
	bounds [][]interval // by row
	jobs   []job        // scratch
}

// share is a row's part of a task: its minutes, and the row's own minutes
// behind the task.
type share struct{ task, minutes, behind int }

// interval is the bound from a row's shares first to last.
type interval struct{ first, last, weight int }

// job is a share to be worked on.
type job struct {
	row, at    int // the share
	from, left int
	weight     int // of a minute, in parts of parts*fine
	dates      int // twice the sum of the dates of its minutes
}

func newMixture(m *model) *mixture {
	x := &mixture{m: m, path: make([]int, len(m.rows))}
	x.machines = append(x.machines, machine{
		needs: func(t *task) bool { return t.teacher },
		away:  slices.DeleteFunc(slices.Clone(m.away[m.teacher]), func(s stretch) bool { return s.task >= 0 }), // a pinned task is work
		free:  func(n *node) int { return int(n.teacher) },
	})
	for k, kit := range m.kits {
		if kit.count == 1 {
			x.machines = append(x.machines, machine{
				needs: func(t *task) bool { return t.kit == k },
				free:  func(n *node) int { return int(n.slots[kit.first]) },
			})
		}
	}
	for k := range x.machines {
		c := &x.machines[k]
		c.rows, c.bounds = make([][]share, len(m.rows)), make([][]interval, len(m.rows))
		dealt := make([]int, len(m.tasks))
		for r, row := range m.rows {
			for i, id := range row.tasks {
				t := &m.tasks[id]
				if !c.needs(t) {
					continue
				}
				// The nth of k rows gets n/k of the minutes less what the others got.
				dealt[id]++
				n := len(t.rows)
				s := share{task: id, minutes: t.minutes*dealt[id]/n - t.minutes*(dealt[id]-1)/n}
				for _, b := range row.tasks[i+1:] {
					s.behind += m.tasks[b].minutes
				}
				c.rows[r] = append(c.rows[r], s)
			}
			for i := range c.rows[r] {
				for k := i; k < len(c.rows[r]); k++ {
					c.bounds[r] = append(c.bounds[r], interval{i, k, 0})
				}
			}
		}
	}
	for r := range x.path {
		x.path[r] = parts
	}
	return x
}

// sum is the mixture's bound on the sum of the ends of all children, and one on
// the end of the day.
func (x *mixture) sum(n *node, h *heads) (sum, end int) {
	const unit = parts * fine * 2
	total := 0
	for r, row := range x.m.rows {
		total += len(row.children) * x.path[r] * h.ends[r] * fine * 2
	}
	for k := range x.machines {
		c := &x.machines[k]
		v, e := c.sum(x.m, n, h)
		total, end = total+v, max(end, e)
	}
	return (total + unit - 1) / unit, end
}

// sum is the machine's part of the sum, in parts of parts*fine*2.
func (c *machine) sum(m *model, n *node, h *heads) (sum, end int) {
	c.jobs = c.jobs[:0]
	tail := 1 << 30
	for r, list := range c.rows {
		first := 0
		for first < len(list) && n.done(&m.tasks[list[first].task]) {
			first++
		}
		jobs := len(c.jobs)
		children := len(m.rows[r].children)
		for i := first; i < len(list); i++ {
			from := h.heads[list[i].task]
			if p := m.tasks[list[i].task].pin; p >= 0 {
				from = p
			}
			c.jobs = append(c.jobs, job{row: r, at: i, from: from, left: list[i].minutes})
		}
		if first < len(list) {
			tail = min(tail, list[len(list)-1].behind)
		}
		mine := c.jobs[jobs:]
		sum += children * c.weigh(list, c.bounds[r], first, mine, h.ends[r])
		if children > 1 {
			for i := range mine {
				mine[i].weight *= children
			}
		}
	}
	if len(c.jobs) == 0 {
		return sum, 0
	}
	c.sort()
	end = c.work(c.free(n))
	for i := range c.jobs {
		sum += c.jobs[i].weight * c.jobs[i].dates
	}
	return sum, end + tail
}

// sort puts the jobs of which a minute weighs most first; equal ones stay in
// their order. They are few, and come nearly in order.
func (c *machine) sort() {
	for i := 1; i < len(c.jobs); i++ {
		j := c.jobs[i]
		k := i
		for ; k > 0 && c.jobs[k-1].weight < j.weight; k-- {
			c.jobs[k] = c.jobs[k-1]
		}
		c.jobs[k] = j
	}
}

// weigh deals a row's bounds out to its jobs, those from share first on, and
// returns the constant. A bound that is used up passes its weight to the next
// task, and behind the last to the path.
func (c *machine) weigh(list []share, bounds []interval, first int, jobs []job, path int) (constant int) {
	for _, b := range bounds {
		if b.weight == 0 {
			continue
		}
		i, k := max(b.first, first), max(b.last, first)
		minutes := 0
		for x := i; x <= k && x < len(list); x++ {
			minutes += list[x].minutes
		}
		if minutes == 0 { // all done, or none of it was dealt to this row
			constant += b.weight * fine * 2 * path
			continue
		}
		constant += b.weight * fine * (minutes + 2*list[k].behind)
		for x := i; x <= k; x++ {
			jobs[x-first].weight += b.weight * fine / minutes
		}
	}
	return constant
}

// work does the jobs, at each minute the first that is ready, and returns when
// it is done.
func (c *machine) work(now int) int {
	left := 0
	for i := range c.jobs {
		if c.jobs[i].left > 0 {
			left++
		}
	}
	done := 0 // the jobs before it are done
	for left > 0 {
		next := 1 << 30
		for _, s := range c.away {
			if s.from <= now && now < s.to {
				now = s.to
			} else if s.from > now {
				next = min(next, s.from)
			}
		}
		var do *job
		for k := done; k < len(c.jobs); k++ {
			j := &c.jobs[k]
			if j.left == 0 {
				if k == done {
					done++
				}
				continue
			}
			if j.from <= now {
				do = j
				break
			}
			next = min(next, j.from)
		}
		if do == nil {
			now = next
			continue
		}
		d := min(do.left, next-now)
		do.dates += (2*now + d) * d
		now, do.left = now+d, do.left-d
		if do.left == 0 {
			left--
		}
	}
	return now
}

// fit looks for weights that make the bound of a state large: in each round
// every row moves some of its weight to the largest of its bounds, in the
// schedule that its weights make. The best weights met are kept.
func (x *mixture) fit(n *node, h *heads, step, rounds int) {
	best, _ := x.sum(n, h)
	kept := x.weights(nil)
	for ; step >= 1; step /= 2 {
		for range rounds {
			x.move(step, h)
			if v, _ := x.sum(n, h); v > best {
				best, kept = v, x.weights(kept[:0])
			}
		}
		x.set(kept)
		x.sum(n, h)
	}
	x.set(kept)
	for k := range x.machines { // what has no weight is of no use to the states
		for r, list := range x.machines[k].bounds {
			x.machines[k].bounds[r] = slices.DeleteFunc(list, func(b interval) bool { return b.weight == 0 })
		}
	}
}

// move takes so much weight from the smallest bound of each row that has some
// to the largest.
func (x *mixture) move(step int, h *heads) {
	for r := range x.m.rows {
		most, least := &x.path[r], &x.path[r]
		mostAt, leastAt := 2*h.ends[r], 2*h.ends[r]
		if *least == 0 {
			leastAt = 1 << 30
		}
		for k := range x.machines {
			c := &x.machines[k]
			list := c.rows[r]
			for i := range c.bounds[r] {
				b := &c.bounds[r][i]
				dates, minutes := 0, 0
				for _, j := range c.jobs {
					if j.row == r && b.first <= j.at && j.at <= b.last {
						dates += j.dates
						minutes += list[j.at].minutes
					}
				}
				if minutes == 0 { // used up: its weight is better elsewhere
					if b.weight > 0 && leastAt > 0 {
						least, leastAt = &b.weight, 0
					}
					continue
				}
				size := dates/minutes + minutes + 2*list[b.last].behind
				if size > mostAt {
					most, mostAt = &b.weight, size
				}
				if b.weight > 0 && size < leastAt {
					least, leastAt = &b.weight, size
				}
			}
		}
		if leastAt < mostAt {
			d := min(step, *least)
			*least -= d
			*most += d
		}
	}
}

func (x *mixture) weights(out []int) []int {
	out = append(out, x.path...)
	for _, c := range x.machines {
		for _, list := range c.bounds {
			for _, b := range list {
				out = append(out, b.weight)
			}
		}
	}
	return out
}

func (x *mixture) set(w []int) {
	k := copy(x.path, w)
	for _, c := range x.machines {
		for _, list := range c.bounds {
			for i := range list {
				list[i].weight = w[k]
				k++
			}
		}
	}
}
