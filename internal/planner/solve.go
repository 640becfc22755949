package planner

import (
	"cmp"
	"context"
	"math"
	"slices"

	"bookstead/internal/fault"
)

// solve returns the cheapest plan: at[d] is the first atom of day d, and at has
// one more entry than there are days. Among plans of the same price it is the
// one that does more work on the first day on which they differ.
//
// A state (d, i) says that on the morning of day d the atoms before i are done;
// every price depends on a day's state and what the day takes, so that
//
//	cheapest(d, i) = min over j of price(d, i, j) + cheapest(d+1, j).
//
// Of the some hundred thousand states only few can lie on a cheapest plan. With
// g the price of the cheapest way into a state, a lower bound for the way out
// of it ([search.bound]) and the price U of some plan, a state where g plus the
// bound exceeds U lies on no plan as cheap as U and is left out. Days may hold
// thousands of plans of the same price; a backward pass marks the states on
// any of them.
func (p *problem) solve(ctx context.Context) ([]int, error) {
	s := newSearch(p)
	limit := s.some()
	if limit == none {
		return nil, fault.New(fault.Internal, "No plan was found, although there is room for one.", "Please report this.")
	}
	levels := make([]level, len(p.days)+1)
	levels[0] = level{g: []int64{0}}
	next := make([]int64, len(p.atoms)+1)
	for i := range next {
		next[i] = none
	}
	for d := range p.days {
		if err := ctx.Err(); err != nil {
			return nil, fault.Wrap(fault.Canceled, err, "The plan was stopped.", "Nothing has changed.")
		}
		lo, hi := len(p.atoms)+1, -1
		levels[d].each(func(i int, g int64) {
			s.expand(d, i, func(j int, c int64) {
				if c += g; c < next[j] {
					next[j] = c
					lo, hi = min(lo, j), max(hi, j)
				}
			})
		})
		l := level{lo: lo}
		for j := lo; j <= hi; j++ {
			g := next[j]
			next[j] = none
			if g != none {
				if b := s.bound(d+1, j); b == none || g+b > limit {
					g = none
				}
			}
			l.g = append(l.g, g)
		}
		levels[d+1] = l
	}
	return s.first(levels), nil
}

// none is the price of what cannot be.
const none = math.MaxInt64

// level is the states of one morning: the prices of the cheapest ways into
// (d, lo), (d, lo+1) and so on, none for those left out, and, once marked, which
// of them lie on a cheapest plan.
type level struct {
	lo int
	g  []int64
	on []bool
}

func (l *level) each(visit func(i int, g int64)) {
	for k, g := range l.g {
		if g != none {
			visit(l.lo+k, g)
		}
	}
}

// leads reports whether a way of price g into state i is the cheapest one, and
// the state lies on a cheapest plan.
func (l *level) leads(i int, g int64) bool {
	k := i - l.lo
	return k >= 0 && k < len(l.g) && l.g[k] == g && l.on[k]
}

// first marks, from the end back, the states that lie on a cheapest plan, and
// walks through them, taking on each day the most work that such a plan allows.
func (s *search) first(levels []level) []int {
	last := len(levels) - 1
	end := &levels[last]
	end.on = make([]bool, len(end.g))
	end.on[len(s.p.atoms)-end.lo] = true
	for d := last - 1; d >= 0; d-- {
		l := &levels[d]
		l.on = make([]bool, len(l.g))
		l.each(func(i int, g int64) {
			s.expand(d, i, func(j int, c int64) {
				l.on[i-l.lo] = l.on[i-l.lo] || levels[d+1].leads(j, g+c)
			})
		})
	}
	at := []int{0}
	for d := range last {
		i, best := at[d], -1
		s.expand(d, i, func(j int, c int64) {
			if levels[d+1].leads(j, levels[d].g[i-levels[d].lo]+c) {
				best = max(best, j)
			}
		})
		at = append(at, best)
	}
	return at
}

// state is a state of a day in the rough search, with the price of the cheapest
// way into it that was found.
type state struct {
	i int
	g int64
}

// search holds what the bounds need.
type search struct {
	p *problem
	// sum and give are minutes before each atom, fresh the next atom behind it
	// that needs a new day.
	sum, give, fresh []int
	// free is, for each day, the first atom that may not lie on it yet.
	free []int
	// holds is, for each length of day, how far it reaches from each atom.
	holds map[int][]int
	// rest is a bound on the points of the way from each atom to the end,
	// whatever the days; late one on the late days from a state on, plus one,
	// 0 where it was not asked for yet.
	rest []int64
	late [][]int32
}

const never = math.MaxInt32 - 1

func newSearch(p *problem) *search {
	n := len(p.atoms)
	s := &search{p: p, sum: make([]int, n+1), give: make([]int, n+1), fresh: make([]int, n+1), free: make([]int, len(p.days)), rest: make([]int64, n+1)}
	for i, a := range p.atoms {
		s.sum[i+1], s.give[i+1] = s.sum[i]+a.minutes, s.give[i]+a.give
	}
	s.fresh[n] = n
	for i := n - 1; i >= 0; i-- {
		s.fresh[i] = n
		if i+1 < n {
			if s.fresh[i] = s.fresh[i+1]; p.atoms[i+1].fresh {
				s.fresh[i] = i + 1
			}
		}
	}
	for d := range p.days {
		for s.free[d] < n && p.atoms[s.free[d]].first <= d {
			s.free[d]++
		}
		if d+1 < len(p.days) {
			s.free[d+1] = s.free[d]
		}
	}
	s.holds = map[int][]int{}
	for _, d := range p.days {
		if s.holds[d.cap] == nil {
			s.holds[d.cap] = s.holding(d.cap)
		}
	}
	s.late = make([][]int32, len(p.days))
	s.boundRest()
	return s
}

// reach is the furthest j such that day d may take the atoms [i, j). It never
// falls when i rises.
func (s *search) reach(d, i int) int {
	return max(i, min(s.holds[s.p.days[d].cap][i], s.free[d]))
}

// holding is reach for a day of so many minutes on which every atom may lie.
func (s *search) holding(cap int) []int {
	n := len(s.p.atoms)
	out := make([]int, n+1)
	out[n] = n
	j := 0
	for i := range n {
		j = max(i, j)
		for j < s.fresh[i] && s.sum[j+1]-s.give[j+1]-(s.sum[i]-s.give[i]) <= cap {
			j++
		}
		out[i] = j
	}
	return out
}

// lateDays is the number of late days, from a state on, of the plan that does
// each day as much as fits; never when the days do not suffice. No other plan
// is late on fewer: by induction its morning states are never behind those of
// another, and what is late depends only on which atoms are not done.
func (s *search) lateDays(d, i int) int32 {
	n, last := len(s.p.atoms), len(s.p.days)
	var way []*int32
	var own []int32
	rest := int32(0)
	for ; i < n; d, i = d+1, s.reach(d, i) {
		if d == last {
			rest = never
			break
		}
		if s.late[d] == nil {
			s.late[d] = make([]int32, n)
		}
		known := &s.late[d][i]
		if *known != 0 {
			rest = *known - 1
			break
		}
		way, own = append(way, known), append(own, int32(s.p.late(d, i)))
	}
	for k := len(way) - 1; k >= 0; k-- {
		if rest != never {
			rest += own[k]
		}
		*way[k] = rest + 1
	}
	return rest
}

// boundRest fills rest. Every plan cuts the atoms from i on into groups of one
// day each, and a group costs at least its day, its cut, and the least that its
// load costs on any length of day; the cheapest such cutting, by dynamic
// programming over atoms alone, is no dearer than any plan.
func (s *search) boundRest() {
	p, n := s.p, len(s.p.atoms)
	var caps []int
	for _, d := range p.days {
		caps = append(caps, d.cap)
	}
	slices.Sort(caps)
	caps = slices.Compact(caps)
	longest := 0
	if len(caps) > 0 {
		longest = caps[len(caps)-1]
	}
	least := make([]int64, longest+1) // by load, in days that hold it unshortened
	for load := range least {
		least[load] = none
		for _, c := range caps {
			if c >= load {
				least[load] = min(least[load], int64(p.thin(c, load)))
			}
		}
	}
	for i := n - 1; i >= 0; i-- {
		s.rest[i] = none
		for j := i + 1; j <= s.fresh[i]; j++ {
			load := s.sum[j] - s.sum[i]
			if load-(s.give[j]-s.give[i]) > longest {
				break
			}
			c := int64(p.w.Day) + s.rest[j]
			if j < n {
				c += int64(p.atoms[j].cut)
				if load <= longest {
					// A shorter day that takes the load shortened is thin by nothing.
					c += s.leastThin(least, i, j, caps)
				}
			}
			s.rest[i] = min(s.rest[i], c)
		}
	}
}

// leastThin is the least that a load can cost for being thin or shortened, over
// all lengths of day that can hold it.
func (s *search) leastThin(least []int64, i, j int, caps []int) int64 {
	load, give := s.sum[j]-s.sum[i], s.give[j]-s.give[i]
	best := least[load]
	if give > 0 && best > 0 {
		for _, c := range caps {
			if c < load && load-give <= c {
				best = min(best, int64(s.p.w.Short*(load-c)))
			}
		}
	}
	return best
}

// bound is a lower bound on the price from a state to the end.
func (s *search) bound(d, i int) int64 {
	late := s.lateDays(d, i)
	if late == never || s.rest[i] == none {
		return none
	}
	return s.rest[i] + big*int64(late)
}

// expand gives every j that day d may take from state i, with the price. The
// prices are those of [problem.price].
func (s *search) expand(d, i int, yield func(j int, price int64)) {
	p := s.p
	n := len(p.atoms)
	if i == n {
		yield(n, 0)
		return
	}
	day, w := &p.days[d], &p.w
	base := int64(p.late(d, i)) * big
	if s.free[d] > i {
		base += int64(w.Day)
	}
	stop := min(s.fresh[i], s.free[d])
	marks := 0
	for j := i; ; j++ {
		load := s.sum[j] - s.sum[i]
		if load-(s.give[j]-s.give[i]) > day.cap {
			return
		}
		c := marks + w.Short*max(0, load-day.cap)
		if j < n {
			c += p.thin(day.cap, load)
			if j > i {
				c += p.atoms[j].cut
			}
			if p.atoms[j].inside {
				switch day.gap {
				case weekend:
					c += w.Weekend
				case daysOff:
					c += w.Break
				}
			}
		}
		if day.light {
			c += w.Light * max(0, load-day.cap*3/4)
		}
		if p.line != nil {
			c += w.Reserve * max(0, distance(s.sum[j], p.line[d])-p.band)
		}
		yield(j, base+int64(c))
		if j >= stop {
			return
		}
		a := &p.atoms[j]
		if day.edge {
			marks += a.test
		}
		if a.agreed >= 0 {
			marks += a.moved * distance(d, a.agreed)
		}
	}
}

// beam is how many states of a day the first rough search keeps.
const beam = 48

// some is the price of some plan: the best that is found when each day keeps
// only the states that look cheapest.
func (s *search) some() int64 {
	now := []state{{0, 0}}
	next := map[int]int64{}
	for d := range s.p.days {
		clear(next)
		for _, st := range now {
			s.expand(d, st.i, func(j int, c int64) {
				if g, ok := next[j]; !ok || st.g+c < g {
					next[j] = st.g + c
				}
			})
		}
		now = now[:0]
		for j, g := range next {
			if s.bound(d+1, j) != none {
				now = append(now, state{j, g})
			}
		}
		slices.SortFunc(now, func(a, b state) int {
			return cmp.Or(cmp.Compare(a.g+s.bound(d+1, a.i), b.g+s.bound(d+1, b.i)), b.i-a.i)
		})
		now = now[:min(len(now), beam)]
	}
	if len(now) == 0 {
		return none
	}
	return now[0].g
}
