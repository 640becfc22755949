package planner

import (
	"context"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// problems draws a small problem that has a solution, with at least half as many
// days and atoms as it may have (of the atoms only those that fit stay).
func problems(maxDays, maxAtoms int) *rapid.Generator[*problem] {
	return rapid.Custom(func(t *rapid.T) *problem {
		small := func(max int, name string) int { return rapid.IntRange(0, max).Draw(t, name) }
		p := &problem{w: Weights{Day: small(60, "day"), Weekend: small(20, "weekend"), Break: small(40, "break"),
			Thin: small(2, "thin"), Light: small(2, "light"), Short: small(3, "short"), Reserve: small(2, "reserve")}}
		days := rapid.IntRange((maxDays+1)/2, maxDays).Draw(t, "days")
		for range days {
			p.days = append(p.days, slot{cap: rapid.SampledFrom([]int{20, 30, 45, 60}).Draw(t, "cap"),
				gap:  gap(rapid.SampledFrom([]int{0, 0, 0, 1, 2}).Draw(t, "gap")),
				edge: rapid.IntRange(0, 3).Draw(t, "edge") == 0, light: rapid.IntRange(0, 3).Draw(t, "light") == 0})
		}
		for k := range rapid.IntRange((maxAtoms+1)/2, maxAtoms).Draw(t, "atoms") {
			a := atom{minutes: rapid.IntRange(1, 20).Draw(t, "minutes"), agreed: -1}
			a.cut, a.inside = small(60, "cut"), k > 0 && rapid.Bool().Draw(t, "inside")
			if rapid.IntRange(0, 3).Draw(t, "gives") == 0 {
				a.give = a.minutes / 2
			}
			a.fresh = k > 0 && rapid.IntRange(0, 7).Draw(t, "fresh") == 0
			if rapid.IntRange(0, 5).Draw(t, "test") == 0 {
				a.test = small(80, "test price")
			}
			if rapid.IntRange(0, 7).Draw(t, "waits") == 0 {
				a.first = small(days-1, "first")
			}
			if k > 0 {
				a.first = max(a.first, p.atoms[k-1].first)
			}
			if rapid.IntRange(0, 4).Draw(t, "agreed") == 0 {
				a.agreed, a.moved = small(days-1, "agreed day"), small(20, "moved")
			}
			p.atoms = append(p.atoms, a)
		}
		for range small(2, "ends") {
			p.ends = append(p.ends, end{last: small(len(p.atoms)-1, "last"), day: small(days, "end day") - 1})
		}
		if rapid.Bool().Draw(t, "line") {
			at := 0
			for range days {
				at += small(40, "line")
				p.line = append(p.line, at)
			}
			p.band = small(30, "band")
		}
		p.atoms = p.atoms[:newPack(p).by(days-1, 0)]
		kept := p.ends[:0]
		for _, e := range p.ends {
			if e.last < len(p.atoms) {
				kept = append(kept, e)
			}
		}
		p.ends = kept
		return p
	}).Filter(func(p *problem) bool { return len(p.atoms) > 0 })
}

// total is the price of a solution as one number.
func (p *problem) total(at []int) (c Cost) {
	for d := range p.days {
		c.add(p.price(d, at[d], at[d+1]))
	}
	return c
}

func number(c Cost) int64 { return int64(c.Late)*big + int64(c.Points()) }

// all calls visit with every solution.
func (p *problem) all(at []int, visit func([]int)) {
	d := len(at) - 1
	if d == len(p.days) {
		if at[d] == len(p.atoms) {
			visit(at)
		}
		return
	}
	for j := at[d]; j <= len(p.atoms) && p.fits(d, at[d], j); j++ {
		p.all(append(at[:d+1:d+1], j), visit)
	}
}

func TestCheapestOfAllPlans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := problems(5, 9).Draw(t, "problem")
		at, err := p.solve(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		best, first := int64(math.MaxInt64), []int(nil)
		p.all([]int{0}, func(x []int) {
			c := number(p.total(x))
			// Of the cheapest plans, the one that does more on the first day
			// on which they differ.
			if c < best || c == best && later(x, first) {
				best, first = c, append([]int(nil), x...)
			}
		})
		if got := number(p.total(at)); got != best {
			t.Fatalf("the plan %v costs %d, the cheapest %v costs %d", at, got, first, best)
		}
		if fmt.Sprint(at) != fmt.Sprint(first) {
			t.Fatalf("among equals %v was taken, not %v", at, first)
		}
		for d := range p.days {
			if !p.fits(d, at[d], at[d+1]) {
				t.Fatalf("day %d of %v does not hold its work", d, at)
			}
		}
	})
}

func later(a, b []int) bool {
	for i := range a {
		if a[i] != b[i] {
			return a[i] > b[i]
		}
	}
	return false
}

// The search adds prices up in its own way; they are the objective's.
func TestExpandIsThePrice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := problems(6, 14).Draw(t, "problem")
		s := newSearch(p)
		for d := range p.days {
			for i := range len(p.atoms) + 1 {
				seen := i - 1
				s.expand(d, i, func(j int, c int64) {
					if want := number(p.price(d, i, j)); c != want || !p.fits(d, i, j) {
						t.Fatalf("day %d, atoms %d to %d: %d, the objective says %d", d, i, j, c, want)
					}
					if j > i && j != seen+1 && i < len(p.atoms) {
						t.Fatalf("day %d, atoms %d: %d comes after %d", d, i, j, seen)
					}
					seen = j
				})
				if seen < len(p.atoms) && p.fits(d, i, seen+1) {
					t.Fatalf("day %d, atoms %d: %d was left out", d, i, seen+1)
				}
			}
		}
	})
}

// No way out of a state is cheaper than its bound.
func TestBoundsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := problems(5, 8).Draw(t, "problem")
		s := newSearch(p)
		n := len(p.days)
		cheapest := make([][]int64, n+1)
		for d := n; d >= 0; d-- {
			cheapest[d] = make([]int64, len(p.atoms)+1)
			for i := range cheapest[d] {
				cheapest[d][i] = math.MaxInt64
				if d == n {
					if i == len(p.atoms) {
						cheapest[d][i] = 0
					}
					continue
				}
				for j := i; j <= len(p.atoms) && p.fits(d, i, j); j++ {
					if rest := cheapest[d+1][j]; rest != math.MaxInt64 {
						cheapest[d][i] = min(cheapest[d][i], rest+number(p.price(d, i, j)))
					}
				}
				if b := s.bound(d, i); b > cheapest[d][i] || b == math.MaxInt64 && cheapest[d][i] != math.MaxInt64 {
					t.Fatalf("from day %d, atom %d on: %d, but the bound says %d", d, i, cheapest[d][i], b)
				}
			}
		}
	})
}
