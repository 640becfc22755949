// Package forest is a small model of yes or no: boosted regression trees on a
// row of numbers, the sum of whose leaves is the log odds of yes.
//
// [Train] grows it, [Forest.Log] asks it, [Forest.Write] and [Read] keep it as
// text that says in its first lines which columns it was trained on. Trees and
// thresholds depend on the rows and the seed alone.
package forest

import (
	"math"
	"math/rand/v2"
	"slices"
)

// node of a tree. A leaf has Column -1.
type node struct {
	Column      int
	Threshold   float64 // rows with a value up to it go left
	Left, Right int
	Value       float64 // of a leaf
}

// Forest is a trained model.
type Forest struct {
	Columns []string
	Base    float64
	trees   [][]node
}

// Trees is how many trees there are.
func (f *Forest) Trees() int { return len(f.trees) }

// Log returns the log odds of yes.
func (f *Forest) Log(row []float64) float64 {
	s := f.Base
	for _, t := range f.trees {
		n := 0
		for t[n].Column >= 0 {
			if row[t[n].Column] <= t[n].Threshold {
				n = t[n].Left
			} else {
				n = t[n].Right
			}
		}
		s += t[n].Value
	}
	return s
}

// Chance is the probability of yes.
func (f *Forest) Chance(row []float64) float64 { return 1 / (1 + math.Exp(-f.Log(row))) }

// Options of training.
type Options struct {
	Trees   int
	Depth   int
	Rate    float64 // of each tree, 0..1
	Least   float64 // weight of the rows of a leaf, at least
	Shrink  float64 // L2 on a leaf's value
	Rows    float64 // share of the rows that a tree sees
	Columns float64 // share of the columns that a tree sees
	Bins    int
	// Groups, if not nil, names the group of each row; a tree sees whole groups.
	Groups []int
	Seed   uint64
	// Signs says of each column whether the answer may only rise (1) or fall (-1) with it.
	Signs []int8
}

type trainer struct {
	o         Options
	rows      [][]float64
	binned    [][]uint8 // by column, then row
	cuts      [][]float64
	grad, hes []float64
}

// Train grows a forest.
func Train(columns []string, rows [][]float64, yes []bool, o Options) *Forest {
	t := &trainer{o: o, rows: rows, grad: make([]float64, len(rows)), hes: make([]float64, len(rows))}
	t.bin(len(columns))
	p, n := 0.0, float64(len(yes))
	for _, y := range yes {
		if y {
			p++
		}
	}
	f := &Forest{Columns: slices.Clone(columns), Base: math.Log(p / (n - p))}
	score := make([]float64, len(rows))
	for i := range score {
		score[i] = f.Base
	}
	rng := rand.New(rand.NewPCG(o.Seed, 1))
	for range o.Trees {
		for i := range rows {
			q := 1 / (1 + math.Exp(-score[i]))
			y := 0.0
			if yes[i] {
				y = 1
			}
			t.grad[i], t.hes[i] = q-y, q*(1-q)
		}
		var seen []int
		if o.Groups == nil {
			for i := range rows {
				if rng.Float64() < o.Rows {
					seen = append(seen, i)
				}
			}
		} else {
			in := map[int]bool{}
			for i := range rows {
				g := o.Groups[i]
				on, known := in[g]
				if !known {
					on = rng.Float64() < o.Rows
					in[g] = on
				}
				if on {
					seen = append(seen, i)
				}
			}
		}
		var cols []int
		for c := range columns {
			if rng.Float64() < o.Columns {
				cols = append(cols, c)
			}
		}
		tree := t.grow(seen, cols)
		for i := range rows {
			n := 0
			for tree[n].Column >= 0 {
				if rows[i][tree[n].Column] <= tree[n].Threshold {
					n = tree[n].Left
				} else {
					n = tree[n].Right
				}
			}
			score[i] += tree[n].Value
		}
		f.trees = append(f.trees, tree)
	}
	return f
}

// bin cuts each column at its quantiles.
func (t *trainer) bin(columns int) {
	t.cuts, t.binned = make([][]float64, columns), make([][]uint8, columns)
	for c := range columns {
		values := make([]float64, len(t.rows))
		for i := range t.rows {
			values[i] = t.rows[i][c]
		}
		slices.Sort(values)
		var cuts []float64
		for b := 1; b < t.o.Bins; b++ {
			v := values[b*(len(values)-1)/t.o.Bins]
			if len(cuts) == 0 || v > cuts[len(cuts)-1] {
				cuts = append(cuts, v)
			}
		}
		if n := len(cuts); n > 0 && cuts[n-1] >= values[len(values)-1] {
			cuts = cuts[:n-1]
		}
		t.cuts[c], t.binned[c] = cuts, make([]uint8, len(t.rows))
		for i := range t.rows {
			b, _ := slices.BinarySearch(cuts, t.rows[i][c])
			t.binned[c][i] = uint8(b)
		}
	}
}

// span bounds the values of the leaves below a node: what a sign demands of the
// two sides of a question holds for all that is asked further down.
type span struct{ low, high float64 }

// value of a leaf with these sums, before the rate.
func (t *trainer) value(g, h float64, in span) float64 {
	return min(in.high, max(in.low, -g/(h+t.o.Shrink)))
}

func (t *trainer) grow(rows, cols []int) []node {
	var tree []node
	var split func(rows []int, depth int, in span) int
	split = func(rows []int, depth int, in span) int {
		at := len(tree)
		g, h := 0.0, 0.0
		for _, i := range rows {
			g += t.grad[i]
			h += t.hes[i]
		}
		tree = append(tree, node{Column: -1, Value: t.o.Rate * t.value(g, h, in)})
		if depth == 0 || h < 2*t.o.Least {
			return at
		}
		q := t.best(rows, cols, g, h, in)
		if q.gain <= 1e-9 {
			return at
		}
		var left, right []int
		for _, i := range rows {
			if int(t.binned[q.column][i]) <= q.cut {
				left = append(left, i)
			} else {
				right = append(right, i)
			}
		}
		tree[at].Column, tree[at].Threshold = q.column, t.cuts[q.column][q.cut]
		inLeft, inRight := in, in
		switch mid := (q.left + q.right) / 2; t.sign(q.column) {
		case 1:
			inLeft.high, inRight.low = mid, mid
		case -1:
			inLeft.low, inRight.high = mid, mid
		}
		l := split(left, depth-1, inLeft)
		r := split(right, depth-1, inRight)
		tree[at].Left, tree[at].Right = l, r
		return at
	}
	split(rows, t.o.Depth, span{math.Inf(-1), math.Inf(1)})
	return tree
}

func (t *trainer) sign(column int) int8 {
	if t.o.Signs == nil {
		return 0
	}
	return t.o.Signs[column]
}

// question is where the rows of a node part, and the values of both sides.
type question struct {
	column, cut       int
	gain, left, right float64
}

func (t *trainer) best(rows, cols []int, g, h float64, in span) (best question) {
	// worth is what the loss falls by when rows with these sums get a value.
	worth := func(g, h, v float64) float64 { return -(2*g*v + (h+t.o.Shrink)*v*v) }
	parent := worth(g, h, t.value(g, h, in))
	var gs, hs [256]float64
	for _, c := range cols {
		n := len(t.cuts[c]) + 1
		if n == 1 {
			continue
		}
		clear(gs[:n])
		clear(hs[:n])
		b := t.binned[c]
		for _, i := range rows {
			gs[b[i]] += t.grad[i]
			hs[b[i]] += t.hes[i]
		}
		gl, hl := 0.0, 0.0
		for k := range n - 1 {
			gl += gs[k]
			hl += hs[k]
			if hl < t.o.Least || h-hl < t.o.Least {
				continue
			}
			l, r := t.value(gl, hl, in), t.value(g-gl, h-hl, in)
			if (r-l)*float64(t.sign(c)) < 0 {
				continue
			}
			if s := worth(gl, hl, l) + worth(g-gl, h-hl, r) - parent; s > best.gain {
				best = question{c, k, s, l, r}
			}
		}
	}
	return best
}
