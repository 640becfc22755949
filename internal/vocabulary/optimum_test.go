package vocabulary

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// every tries all choices of a small problem and returns the largest value.
func (p *problem) every() float64 {
	best := math.Inf(-1)
	used := make([]bool, p.families)
	taken := make([][]int, len(p.seats))
	clashes := func(o int, with []int) bool {
		for _, c := range p.clash {
			if c[0] == o && slices.Contains(with, c[1]) || c[1] == o && slices.Contains(with, c[0]) {
				return true
			}
		}
		return false
	}
	var try func(i int)
	try = func(i int) {
		if i == len(p.offers) {
			v := 0.0
			for l := range taken {
				v += p.lessonValue(l, taken[l])
			}
			best = max(best, v)
			return
		}
		try(i + 1)
		o := p.offers[i]
		if !used[o.family] && len(taken[o.lesson]) < p.seats[o.lesson] && !clashes(i, taken[o.lesson]) {
			used[o.family] = true
			taken[o.lesson] = append(taken[o.lesson], i)
			try(i + 1)
			taken[o.lesson] = taken[o.lesson][:len(taken[o.lesson])-1]
			used[o.family] = false
		}
	}
	try(0)
	return best
}

func randomProblem(rng *rand.Rand, lessons, offers, families int) *problem {
	p := &problem{families: families, variety: 0.3 * rng.Float64(), spread: 0.3 * rng.Float64()}
	for range lessons {
		p.seats = append(p.seats, 1+rng.IntN(3))
	}
	have := map[[2]int]bool{}
	for range offers {
		o := offer{rng.IntN(lessons), rng.IntN(families), rng.IntN(kinds), rng.IntN(stretches), rng.Float64()*2 - 0.2}
		if key := [2]int{o.lesson, o.family}; !have[key] {
			have[key] = true
			p.offers = append(p.offers, o)
		}
	}
	return p
}

func checkLegal(t *testing.T, p *problem, c choice) {
	t.Helper()
	family := map[int]bool{}
	in := map[int]int{}
	byLesson := make([][]int, len(p.seats))
	for _, o := range c.taken {
		x := p.offers[o]
		if family[x.family] {
			t.Errorf("family %d is taken twice", x.family)
		}
		family[x.family] = true
		if in[x.lesson]++; in[x.lesson] > p.seats[x.lesson] {
			t.Errorf("lesson %d has more than %d", x.lesson, p.seats[x.lesson])
		}
		byLesson[x.lesson] = append(byLesson[x.lesson], o)
	}
	for _, cl := range p.clash {
		if slices.Contains(c.taken, cl[0]) && slices.Contains(c.taken, cl[1]) {
			t.Errorf("%v clash and are both taken", cl)
		}
	}
	v := 0.0
	for l := range byLesson {
		v += p.lessonValue(l, byLesson[l])
	}
	if math.Abs(v-c.value) > 1e-9 {
		t.Errorf("the value is %g, told as %g", v, c.value)
	}
}

// One lesson alone is solved exactly.
func TestLessonIsExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for n := range 400 {
		p := randomProblem(rng, 1, 14, 14)
		p.seats[0] = 1 + rng.IntN(6)
		p.kindsTaken = [][kinds]int{{rng.IntN(2), rng.IntN(2)}}
		c := p.solve()
		checkLegal(t, p, c)
		if want := p.every(); math.Abs(c.value-want) > 1e-9 || math.Abs(c.bound-want) > 1e-9 {
			t.Fatalf("problem %d: %g, bound %g; the best is %g", n, c.value, c.bound, want)
		}
	}
}

// Against all choices of small problems in which families are wanted by many
// lessons: never above the best, the bound never below it, and the best itself
// nearly always.
func TestChoiceAgainstEvery(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	exact, worst, gap := 0, 0.0, 0.0
	const n = 300
	for i := range n {
		p := randomProblem(rng, 2+rng.IntN(3), 16, 8)
		if i%3 == 0 {
			for a := range p.offers {
				for b := range a {
					if p.offers[a].lesson == p.offers[b].lesson && rng.IntN(4) == 0 {
						p.clash = append(p.clash, [2]int{a, b})
					}
				}
			}
		}
		c := p.solve()
		checkLegal(t, p, c)
		want := p.every()
		switch {
		case c.value > want+1e-9:
			t.Fatalf("problem %d: %g is more than the best, %g", i, c.value, want)
		case c.bound < want-1e-9:
			t.Fatalf("problem %d: the bound %g is below the best, %g", i, c.bound, want)
		}
		if want-c.value < 1e-9 {
			exact++
		}
		worst = max(worst, (want-c.value)/want)
		gap += (c.bound - want) / want / n
	}
	t.Logf("%d of %d exact, worst %.2f%% below the best, bound %.2f%% above it on average", exact, n, 100*worst, 100*gap)
	if exact < n*95/100 || worst > 0.06 {
		t.Errorf("%d of %d exact, worst %.2f%% below the best", exact, n, 100*worst)
	}
}

// At the size of a long novel the bound proves the choice near the best.
func TestLargeChoiceIsNearItsBound(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	p := randomProblem(rng, 60, 6000, 2500)
	for l := range p.seats {
		p.seats[l] = 6
	}
	c := p.solve()
	checkLegal(t, p, c)
	if gap := (c.bound - c.value) / c.bound; gap > 0.01 {
		t.Errorf("%.3f of %.3f: %.2f%% below the bound", c.value, c.bound, 100*gap)
	} else {
		t.Logf("%.3f of at most %.3f: within %.3f%%", c.value, c.bound, 100*gap)
	}
}

func TestChoiceOfNothing(t *testing.T) {
	if c := (&problem{seats: []int{6, 0}}).solve(); len(c.taken) != 0 || c.value != 0 || c.bound != 0 {
		t.Errorf("of nothing: %+v", c)
	}
}
