package vocabulary

import (
	"math"
	"slices"
)

// rounds of the prices. Each costs one look at every offer; they end when the
// choice is proven to be within enough of the best.
const (
	rounds = 160
	enough = 1e-4
)

// solve chooses. It is deterministic.
func (p *problem) solve() choice {
	lessons := make([]lessonProblem, len(p.seats))
	for l := range lessons {
		lessons[l] = lessonProblem{p: p, lesson: l}
	}
	for o, x := range p.offers {
		lessons[x.lesson].offers = append(lessons[x.lesson].offers, o)
	}
	if p.price == nil {
		p.price = make([]float64, p.families)
	}
	price := p.price
	best := choice{value: math.Inf(-1), bound: math.Inf(1)}
	scale := 1.0
	stale := 0
	for round := range rounds {
		bound := 0.0
		for _, x := range price {
			bound += x
		}
		count := make([]int, p.families)
		relaxed := make([][]int, len(lessons))
		for l := range lessons {
			taken, v := lessons[l].solve(func(o int) float64 { return p.offers[o].value - price[p.offers[o].family] })
			relaxed[l] = taken
			bound += v
			for _, o := range taken {
				count[p.offers[o].family]++
			}
		}
		if bound < best.bound-1e-9 {
			best.bound, stale = bound, 0
		} else if stale++; stale >= 8 {
			scale, stale = scale/2, 0
		}
		if round%10 == 0 || round < 5 {
			if c := p.mend(lessons, relaxed, price); c.value > best.value+1e-12 {
				best.taken, best.value = c.taken, c.value
			}
		}
		norm := 0.0
		for f, n := range count {
			if g := n - 1; g > 0 || price[f] > 0 {
				norm += float64(g * g)
			}
		}
		if norm == 0 || best.bound-best.value < enough*best.bound {
			if c := p.mend(lessons, relaxed, price); c.value > best.value+1e-12 {
				best.taken, best.value = c.taken, c.value
			}
			break
		}
		stepSize := scale * (bound - best.value) / norm
		for f, n := range count {
			price[f] = max(0, price[f]+stepSize*float64(n-1))
		}
	}
	if best.bound-best.value >= enough*best.bound {
		p.improve(lessons, &best)
	}
	best.bound = max(best.bound, best.value)
	return best
}

// holding is a choice being made: which lesson holds each family.
type holding struct {
	p      *problem
	holder []int // by family the lesson that holds it, -1 for none
	taken  [][]int
	clash  map[int][]int
}

func (p *problem) hold() *holding {
	h := &holding{p: p, holder: make([]int, p.families), taken: make([][]int, len(p.seats)), clash: map[int][]int{}}
	for f := range h.holder {
		h.holder[f] = -1
	}
	for _, c := range p.clash {
		h.clash[c[0]] = append(h.clash[c[0]], c[1])
		h.clash[c[1]] = append(h.clash[c[1]], c[0])
	}
	return h
}

func (h *holding) set(l int, taken []int) {
	for _, o := range h.taken[l] {
		if f := h.p.offers[o].family; h.holder[f] == l {
			h.holder[f] = -1
		}
	}
	h.taken[l] = taken
	for _, o := range taken {
		h.holder[h.p.offers[o].family] = l
	}
}

// mostBranches bounds the ways in which clashes in one lesson are tried.
const mostBranches = 64

// fill solves a lesson among families that no other lesson holds; worth may
// prefer some. Where two clash it tries the lesson without the one and without
// the other.
func (h *holding) fill(l lessonProblem, worth func(o int) float64) []int {
	out := map[int]bool{}
	branches := 0
	var try func() ([]int, float64)
	try = func() ([]int, float64) {
		branches++
		taken, v := l.solve(func(o int) float64 {
			if by := h.holder[h.p.offers[o].family]; out[o] || by >= 0 && by != l.lesson {
				return math.Inf(-1)
			}
			return worth(o)
		})
		for _, a := range taken {
			for _, b := range h.clash[a] {
				if !slices.Contains(taken, b) {
					continue
				}
				out[a] = true
				left, lv := try()
				delete(out, a)
				if branches >= mostBranches {
					return left, lv
				}
				out[b] = true
				right, rv := try()
				delete(out, b)
				if rv > lv {
					return right, rv
				}
				return left, lv
			}
		}
		return taken, v
	}
	taken, _ := try()
	return taken
}

func (h *holding) choice() choice {
	c := choice{}
	for l, taken := range h.taken {
		c.taken = append(c.taken, taken...)
		c.value += h.p.lessonValue(l, taken)
	}
	return c
}

// lessonValue is what a lesson's offers are worth together.
func (p *problem) lessonValue(l int, taken []int) float64 {
	var k [kinds]int
	var s [stretches]int
	if p.kindsTaken != nil {
		k = p.kindsTaken[l]
	}
	if p.stretchesTaken != nil {
		s = p.stretchesTaken[l]
	}
	v := 0.0
	for _, o := range taken {
		x := p.offers[o]
		v += x.value - p.variety*float64(k[x.kind]) - p.spread*float64(s[x.stretch])
		k[x.kind]++
		s[x.stretch]++
	}
	return v
}

// mend makes a choice of the lessons' own answers: a family that several took
// stays where it is worth most over its price, then every lesson fills up, the
// one with fewest offers first.
func (p *problem) mend(lessons []lessonProblem, relaxed [][]int, price []float64) choice {
	h := p.hold()
	worthAt := make([]float64, p.families)
	for _, taken := range relaxed {
		for _, o := range taken {
			x := p.offers[o]
			if h.holder[x.family] < 0 || x.value > worthAt[x.family] {
				h.holder[x.family], worthAt[x.family] = x.lesson, x.value
			}
		}
	}
	order := make([]int, len(lessons))
	for l := range order {
		order[l] = l
	}
	slices.SortStableFunc(order, func(a, b int) int { return len(lessons[a].offers) - len(lessons[b].offers) })
	for _, l := range order {
		h.set(l, h.fill(lessons[l], func(o int) float64 { return p.offers[o].value - price[p.offers[o].family] }))
	}
	for range 2 { // what is left over is worth its whole value
		for _, l := range order {
			h.set(l, h.fill(lessons[l], func(o int) float64 { return p.offers[o].value }))
		}
	}
	return h.choice()
}

// improve lets each lesson take a family away from another when both together
// gain by it, until none does.
func (p *problem) improve(lessons []lessonProblem, best *choice) {
	if best.taken == nil {
		return
	}
	h := p.hold()
	by := make([][]int, len(lessons))
	for _, o := range best.taken {
		by[p.offers[o].lesson] = append(by[p.offers[o].lesson], o)
	}
	for l := range by {
		h.set(l, by[l])
	}
	value := func(o int) float64 { return p.offers[o].value }
	for range 6 {
		gained := false
		for l := range lessons {
			least := math.Inf(1)
			for _, o := range h.taken[l] {
				least = min(least, p.offers[o].value)
			}
			if len(h.taken[l]) < p.seats[l] {
				least = 0
			}
			for _, o := range lessons[l].offers {
				x := p.offers[o]
				m := h.holder[x.family]
				if m < 0 || m == l || x.value < least-2*(p.variety+p.spread) {
					continue
				}
				mine, theirs := h.taken[l], h.taken[m]
				before := p.lessonValue(l, mine) + p.lessonValue(m, theirs)
				h.set(m, slices.DeleteFunc(slices.Clone(theirs), func(y int) bool { return p.offers[y].family == x.family }))
				h.set(l, h.fill(lessons[l], value))
				h.set(m, h.fill(lessons[m], value))
				if p.lessonValue(l, h.taken[l])+p.lessonValue(m, h.taken[m]) > before+1e-9 {
					gained = true
				} else {
					h.set(l, nil)
					h.set(m, theirs)
					h.set(l, mine)
				}
			}
		}
		if !gained {
			break
		}
	}
	if c := h.choice(); c.value > best.value+1e-12 {
		best.taken, best.value = c.taken, c.value
	}
}
