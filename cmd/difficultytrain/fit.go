package main

import (
	"math"
	"slices"
	"strings"
)

// matrix is sparse: the features of each word, by number. Feature 0 is the
// constant; features that are measured and not only there or not come next and
// are brought to mean 0 and spread 1.
type matrix struct {
	names      []string
	measured   int // features 1..measured
	mean, size []float64
	penalty    []float64
	rows       [][]cell
}

type cell struct {
	at    int
	value float64
}

// How much a weight costs: measured features little, the many small ones more,
// so that few words do not make a rule; those of fewer than seldom words are left out.
const (
	costMeasured = 3
	costSmall    = 20
	seldom       = 10
)

func newMatrix(words []map[string]float64) *matrix {
	count := map[string]int{}
	for _, f := range words {
		for name := range f {
			count[name]++
		}
	}
	var measured, small []string
	for name, n := range count {
		switch {
		case !strings.Contains(name, ":"):
			measured = append(measured, name)
		case n >= seldom:
			small = append(small, name)
		}
	}
	slices.Sort(measured)
	slices.Sort(small)
	m := &matrix{names: slices.Concat([]string{"one"}, measured, small), measured: len(measured)}
	at := map[string]int{}
	for i, n := range m.names {
		at[n] = i
	}
	m.mean, m.size, m.penalty = make([]float64, len(m.names)), make([]float64, len(m.names)), make([]float64, len(m.names))
	for k := range m.names {
		m.size[k] = 1
		switch {
		case k == 0:
		case k <= m.measured:
			m.penalty[k] = costMeasured
			column := make([]float64, len(words))
			for i, f := range words {
				column[i] = f[m.names[k]]
				m.mean[k] += column[i] / float64(len(words))
			}
			m.size[k] = math.Max(spread(column), 1e-9)
		default:
			m.penalty[k] = costSmall
		}
	}
	for _, f := range words {
		row := []cell{{0, 1}}
		for k := 1; k <= m.measured; k++ {
			row = append(row, cell{k, (f[m.names[k]] - m.mean[k]) / m.size[k]})
		}
		var rest []cell
		for name, v := range f {
			if k, ok := at[name]; ok && k > m.measured {
				rest = append(rest, cell{k, v})
			}
		}
		slices.SortFunc(rest, func(a, b cell) int { return a.at - b.at })
		m.rows = append(m.rows, append(row, rest...))
	}
	return m
}

// unscale turns weights into those of the features as they are.
func (m *matrix) unscale(w []float64) []float64 {
	out := slices.Clone(w)
	for k := 1; k <= m.measured; k++ {
		out[k] = w[k] / m.size[k]
		out[0] -= out[k] * m.mean[k]
	}
	return out
}

func (m *matrix) only(rows []int) *matrix {
	o := *m
	o.rows = nil
	for _, i := range rows {
		o.rows = append(o.rows, m.rows[i])
	}
	return &o
}

func (m *matrix) times(w []float64) []float64 {
	out := make([]float64, len(m.rows))
	for i, r := range m.rows {
		for _, c := range r {
			out[i] += c.value * w[c.at]
		}
	}
	return out
}

func (m *matrix) back(x []float64) []float64 {
	out := make([]float64, len(m.names))
	for i, r := range m.rows {
		for _, c := range r {
			out[c.at] += c.value * x[i]
		}
	}
	return out
}

// solve finds w with (MᵀDM + penalty) w = g by conjugate gradients.
func (m *matrix) solve(d, g []float64) []float64 {
	w := make([]float64, len(g))
	r, p := slices.Clone(g), slices.Clone(g)
	rr := dot(r, r)
	for end := rr * 1e-12; rr > end; {
		x := m.times(p)
		for i := range x {
			x[i] *= d[i]
		}
		q := m.back(x)
		for k := range q {
			q[k] += (m.penalty[k] + 1e-6) * p[k]
		}
		step := rr / dot(p, q)
		for k := range w {
			w[k] += step * p[k]
			r[k] -= step * q[k]
		}
		next := dot(r, r)
		for k := range p {
			p[k] = r[k] + next/rr*p[k]
		}
		rr = next
	}
	return w
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// ridge is linear regression.
func (m *matrix) ridge(y []float64) []float64 {
	d := make([]float64, len(y))
	for i := range d {
		d[i] = 1
	}
	half := *m // a linear target of spread .1 weighs less than a yes or no
	half.penalty = make([]float64, len(m.penalty))
	for k, p := range m.penalty {
		half.penalty[k] = p / 2
	}
	return half.solve(d, m.back(y))
}

// logistic is logistic regression by Newton's method.
func (m *matrix) logistic(y []float64) []float64 {
	w := make([]float64, len(m.names))
	for range 25 {
		s := m.times(w)
		d, e := make([]float64, len(s)), make([]float64, len(s))
		for i, v := range s {
			p := 1 / (1 + math.Exp(-v))
			d[i], e[i] = math.Max(p*(1-p), 1e-6), y[i]-p
		}
		g := m.back(e)
		for k := range g {
			g[k] -= m.penalty[k] * w[k]
		}
		step := m.solve(d, g)
		far := 0.0
		for k := range w {
			w[k] += step[k]
			far = math.Max(far, math.Abs(step[k]))
		}
		if far < 1e-4 {
			break
		}
	}
	return w
}
