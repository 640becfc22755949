package planner

import "bookstead/internal/plan"

// problem is a plan to be made, in plain numbers: atoms in a fixed order, each
// to lie on one day, days in order. Solutions are groups: the atoms of day d
// are [at[d], at[d+1]).
type problem struct {
	days  []slot
	atoms []atom
	ends  []end
	w     Weights
	// line, when there is one, is the minutes of work that an even course has
	// behind it at the end of each day, and band the distance from it that is free.
	line []int
	band int
}

// slot is a school day.
type slot struct {
	cap   int // minutes
	gap   gap // what lies between this day and the next
	edge  bool
	light bool
}

// gap is what lies between a school day and the next.
type gap uint8

const (
	overnight gap = iota
	weekend
	daysOff
)

// atom is a piece of work that is not divided.
type atom struct {
	minutes int
	give    int // minutes by which it may be shortened
	cut     int // price of a day ending before it
	// fresh is true when it must not lie on the day of the atom before it.
	fresh bool
	// inside is true when the same lesson goes on from the atom before it.
	inside bool
	test   int // price on a day beside days off
	first  int // the first day on which it may lie; never before that of the atom before it
	agreed int // the day on which it lay in the plan agreed before, -1 for none
	moved  int // price of a day's distance from agreed
}

// end is a day by which all atoms up to last should be done: an end date, or a
// pin, whose atom may not lie before its day either.
type end struct{ last, day int }

// big stands for one late day in sums: more than all wishes together can cost.
const big = 1 << 40

func (p *problem) thin(cap, load int) int {
	if load == 0 {
		return 0
	}
	return p.w.Thin * (max(0, cap*3/4-load) + max(0, cap/2-load))
}

// open reports whether work can be done on day d when atoms before i are done.
func (p *problem) open(d, i int) bool {
	return i < len(p.atoms) && p.atoms[i].first <= d
}

// late counts the end dates and pins that lie before day d and are still open
// at its beginning, when the atoms before i are done.
func (p *problem) late(d, i int) int {
	n := 0
	for _, e := range p.ends {
		if e.day < d && i <= e.last {
			n++
		}
	}
	return n
}

// price is what it costs that day d takes the atoms [i, j), by wish. It is the
// objective: the price of a plan is the sum over its days. The search adds the
// same prices up faster in [problem.expand].
func (p *problem) price(d, i, j int) Cost {
	var c Cost
	if i == len(p.atoms) {
		return c
	}
	day := p.days[d]
	c.Late = p.late(d, i)
	if p.open(d, i) {
		c.Days = p.w.Day
	}
	load := 0
	for _, a := range p.atoms[i:j] {
		load += a.minutes
		if day.edge {
			c.Tests += a.test
		}
		if a.agreed >= 0 {
			c.Moved += a.moved * distance(d, a.agreed)
		}
	}
	if j < len(p.atoms) {
		c.Thin = p.thin(day.cap, load)
	}
	c.Short = p.w.Short * max(0, load-day.cap)
	if day.light {
		c.Light = p.w.Light * max(0, load-day.cap*3/4)
	}
	if j > i && j < len(p.atoms) {
		c.Cuts = p.atoms[j].cut
	}
	if j < len(p.atoms) && p.atoms[j].inside {
		switch day.gap {
		case weekend:
			c.Weekends = p.w.Weekend
		case daysOff:
			c.Weekends = p.w.Break
		}
	}
	c.Reserve = p.offLine(d, j)
	return c
}

// offLine is the price of the distance from an even course at the end of day d.
func (p *problem) offLine(d, j int) int {
	if p.line == nil {
		return 0
	}
	return p.w.Reserve * max(0, distance(p.done(j), p.line[d])-p.band)
}

// done is the minutes of the atoms before j.
func (p *problem) done(j int) int {
	n := 0
	for _, a := range p.atoms[:j] {
		n += a.minutes
	}
	return n
}

// fits reports whether day d may take the atoms [i, j).
func (p *problem) fits(d, i, j int) bool {
	load, give := 0, 0
	for k, a := range p.atoms[i:j] {
		if a.first > d || k > 0 && a.fresh {
			return false
		}
		load, give = load+a.minutes, give+a.give
	}
	return load-give <= p.days[d].cap
}

func distance(a, b int) int {
	if a < b {
		return b - a
	}
	return a - b
}

// breaksDay reports whether a step must lie on a later day than the one before
// it: a test after its review, going over what was written.
func breaksDay(k plan.StepKind) bool { return k == plan.Test || k == plan.Corrections }
