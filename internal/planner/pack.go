package planner

// pack answers how far work can come at all: it does on each day as much as
// fits. No plan is ahead of it on any day, so it says whether a date can be kept.
type pack struct {
	p *problem
	// more minutes on every day.
	more int
	// skip leaves atoms out; nil for none.
	skip []bool
}

func newPack(p *problem) pack { return pack{p: p} }

// by is the first atom that is not done at the end of day last, when those
// before from are done on the morning of the first day.
func (k pack) by(last, from int) int {
	i := from
	for d := 0; d <= last && i < len(k.p.atoms); d++ {
		i = k.day(d, k.p.days[d].cap, i)
	}
	return i
}

// day is the first atom not done when day d, of so many minutes, began at i.
func (k pack) day(d, cap, i int) int {
	load, any := 0, false
	for ; i < len(k.p.atoms); i++ {
		a := k.p.atoms[i]
		if k.skip != nil && k.skip[i] {
			continue
		}
		if load += a.minutes - a.give; a.first > d || any && a.fresh || load > cap+k.more {
			break
		}
		any = true
	}
	return i
}
