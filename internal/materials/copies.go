package materials

import (
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/calendar"
)

// pool is one novel in one hand: the school's or a family's. Uses for which
// marked copies will do are taken apart, since only they can take those.
type pool struct {
	book, family string
	marked       bool
	uses         []stretch
	need, have   int
	clean, worn  int // at hand
	reasons      []string
}

// stretch is so many copies in use from a day to another.
type stretch struct {
	first, last calendar.Date
	count       int
	marks       bool // the copies are marked in it
}

// pools gathers what is needed of each novel in each hand.
func (r Request) pools() []*pool {
	var out []*pool
	at := func(book, family string, marked bool) *pool {
		i := slices.IndexFunc(out, func(p *pool) bool { return p.book == book && p.family == family && p.marked == marked })
		if i < 0 {
			i = len(out)
			out = append(out, &pool{book: book, family: family, marked: marked})
		}
		return out[i]
	}
	for _, u := range r.Uses {
		at(u.Book, "", u.Marked).take(u, 1, false, "one for the teacher")
		n := len(u.Children)
		switch u.Policy {
		case SharedCopy:
			per := u.PerCopy
			if per == 0 {
				per = 2
			}
			at(u.Book, "", u.Marked).take(u, (n+per-1)/per, false, fmt.Sprintf("%s, %d to a copy", many(n, "child", "children"), per))
		case OneEach:
			school := 0
			for _, c := range u.Children {
				if c.Family == "" {
					school++
				} else {
					at(u.Book, c.Family, u.Marked).take(u, 1, true, c.Name)
				}
			}
			if school > 0 {
				at(u.Book, "", u.Marked).take(u, school, true, fmt.Sprintf("%s, one each", many(school, "child", "children")))
			}
		}
	}
	sortPools(out)
	owned := slices.Clone(r.Owned)
	for _, p := range out {
		p.need = fewest(p.uses)
		for i := range owned { // a marked copy first where it will do
			if o := &owned[i]; o.Book == p.book && o.Family == p.family && o.Marked && p.marked {
				p.worn += o.Count
				o.Count = 0
			}
		}
		for i := range owned {
			o := &owned[i]
			if o.Book != p.book || o.Family != p.family || o.Marked {
				continue
			}
			n := o.Count
			if more := slices.ContainsFunc(out, func(q *pool) bool { return q != p && q.book == p.book && q.family == p.family && q.marked != p.marked }); more && !p.marked {
				n = min(n, max(0, p.need-p.clean)) // the rest is for the other uses
			}
			p.clean += n
			o.Count -= n
		}
		p.have = p.clean + p.worn
	}
	return out
}

func (p *pool) take(u Use, n int, marks bool, why string) {
	p.uses = append(p.uses, stretch{u.First, u.Last, n, marks})
	p.reasons = append(p.reasons, fmt.Sprintf("%s: %s", u.Class, why))
}

func (p *pool) why() string {
	s := strings.Join(p.reasons, "; ") + "."
	total := 0
	for _, u := range p.uses {
		total += u.count
	}
	if total > p.need {
		s += fmt.Sprintf(" %s at different times, so %s do.", many(total-p.need, "copy serves more than once", "copies serve more than once"), many(p.need, "copy", "copies"))
	}
	return s
}

// carry is what is left when the year is over: marking uses use up a clean copy
// each, and worn ones stay worn.
func (p *pool) carry() Carry {
	marks := 0
	for _, u := range p.uses {
		if u.marks {
			marks += u.count
		}
	}
	all := max(p.need, p.have)
	worn := min(all, max(p.worn, marks))
	return Carry{Book: p.book, Family: p.family, Clean: all - worn, Marked: worn}
}

// fewest is the fewest copies that serve all stretches: each copy serves some of
// them one behind the other, and a marking one last. Let a copy that passes from
// one stretch to a later one be a link; a stretch of n copies hands on at most n,
// none if it marks, and takes over at most n; the copies are all uses less the
// links, so the most links give the fewest copies. The most links are a largest
// flow from stretches to stretches, found by augmenting paths.
func fewest(uses []stretch) int {
	n := len(uses)
	total := 0
	give, take := make([]int, n), make([]int, n)
	for i, u := range uses {
		total += u.count
		take[i] = u.count
		if !u.marks {
			give[i] = u.count
		}
	}
	flow := make([][]int, n) // links from i to j
	for i := range flow {
		flow[i] = make([]int, n)
	}
	follows := func(i, j int) bool { return uses[i].last < uses[j].first }
	// augment finds one more link, from stretch i, moving others where needed.
	var seen []bool
	var augment func(i int) bool
	augment = func(i int) bool {
		for j := range n {
			if seen[j] || !follows(i, j) {
				continue
			}
			seen[j] = true
			if take[j] > 0 {
				take[j]--
				flow[i][j]++
				return true
			}
			for k := range n {
				if flow[k][j] > 0 && k != i && augment(k) {
					flow[k][j]--
					flow[i][j]++
					return true
				}
			}
		}
		return false
	}
	links := 0
	for i := range n {
		for ; give[i] > 0; give[i]-- {
			seen = make([]bool, n)
			if !augment(i) {
				break
			}
			links++
		}
	}
	return total - links
}
