package people

import (
	"context"
	"math"
	"slices"
)

// lattice holds the states of all turns: who speaks, and who spoke before.
type lattice struct {
	states [][]state
}

type state struct {
	c           int // index of the candidate
	who, other  int
	in          []edge
	alpha, beta float64
	best        float64
	from        int
}

type edge struct {
	from  int
	score float64
}

func (s *story) lattice(ctx context.Context, ts []turn, w []float64, width int) (*lattice, error) {
	l := &lattice{states: make([][]state, len(ts))}
	var buf []feature
	for i := range ts {
		if i%128 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		x := &ts[i]
		for k := range x.candidates {
			c := &x.candidates[k]
			c.base = 0
			for _, f := range c.f {
				c.base += w[f.name] * f.value
			}
		}
		if i == 0 {
			for k, c := range x.candidates {
				l.states[0] = append(l.states[0], state{c: k, who: c.entity, other: -2, in: []edge{{-1, c.base}}})
			}
			continue
		}
		at := map[[2]int]int{}
		var out []state
		for pi := range l.states[i-1] {
			p := &l.states[i-1][pi]
			for k := range x.candidates {
				c := &x.candidates[k]
				other := p.other
				if c.entity != p.who && p.who >= 0 {
					other = p.who
				}
				if x.gap > 8 {
					other = -2
				}
				buf = s.step(buf, &ts[i-1], x, c.entity, p.who, p.other, c.recent)
				score := c.base
				for _, f := range buf {
					score += w[f.name] * f.value
				}
				key := [2]int{k, other}
				n, ok := at[key]
				if !ok {
					n = len(out)
					at[key] = n
					out = append(out, state{c: k, who: c.entity, other: other})
				}
				out[n].in = append(out[n].in, edge{pi, score})
			}
		}
		l.states[i] = prune(out, l.states[i-1], width)
	}
	return l, nil
}

// beam is how many states of a turn are followed.
const beam = 48

// prune keeps the best states; best is filled on the way.
func prune(out []state, before []state, width int) []state {
	for i := range out {
		st := &out[i]
		st.best = math.Inf(-1)
		for _, e := range st.in {
			v := e.score
			if e.from >= 0 {
				v += before[e.from].best
			}
			if v > st.best {
				st.best, st.from = v, e.from
			}
		}
	}
	if len(out) <= width {
		return out
	}
	slices.SortStableFunc(out, func(a, b state) int {
		switch {
		case a.best > b.best:
			return -1
		case a.best < b.best:
			return 1
		}
		return 0
	})
	return out[:width]
}

func logSum(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	if math.IsInf(b, -1) {
		return a
	}
	return a + math.Log1p(math.Exp(b-a))
}

func (l *lattice) forward() {
	for i := range l.states {
		for k := range l.states[i] {
			st := &l.states[i][k]
			st.alpha = math.Inf(-1)
			st.best = math.Inf(-1)
			for _, e := range st.in {
				a, b := e.score, e.score
				if e.from >= 0 {
					a += l.states[i-1][e.from].alpha
					b += l.states[i-1][e.from].best
				}
				st.alpha = logSum(st.alpha, a)
				if b > st.best {
					st.best, st.from = b, e.from
				}
			}
		}
	}
}

func (l *lattice) backward() {
	for i := len(l.states) - 1; i >= 0; i-- {
		for k := range l.states[i] {
			if i == len(l.states)-1 {
				l.states[i][k].beta = 0
			} else {
				l.states[i][k].beta = math.Inf(-1)
			}
		}
		if i == len(l.states)-1 {
			continue
		}
		for k := range l.states[i+1] {
			st := &l.states[i+1][k]
			for _, e := range st.in {
				b := &l.states[i][e.from].beta
				*b = logSum(*b, st.beta+e.score)
			}
		}
	}
}

func (l *lattice) total() float64 {
	z := math.Inf(-1)
	for _, st := range l.states[len(l.states)-1] {
		z = logSum(z, st.alpha)
	}
	return z
}

// posteriors are how likely each candidate of each turn is.
func (l *lattice) posteriors(ts []turn) [][]float64 {
	z := l.total()
	out := make([][]float64, len(ts))
	for i := range ts {
		out[i] = make([]float64, len(ts[i].candidates))
		for _, st := range l.states[i] {
			out[i][st.c] += math.Exp(st.alpha + st.beta - z)
		}
	}
	return out
}

// path is the best state of each turn.
func (l *lattice) path() []int {
	n := len(l.states)
	out := make([]int, n)
	best := math.Inf(-1)
	for k, st := range l.states[n-1] {
		if st.best > best {
			best, out[n-1] = st.best, k
		}
	}
	for i := n - 1; i > 0; i-- {
		out[i-1] = l.states[i][out[i]].from
	}
	return out
}
