package timetable

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"bookstead/internal/class"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
)

// family is a day of so many children in their own books, as grades 1 to 6 have
// it: some steps with the teacher, some alone; sometimes two share a book and
// its steps, or one copy.
func family(rnd *rand.Rand, children int) Problem {
	p := Problem{Begins: 9 * 60}
	for c := range children {
		id := fmt.Sprint("c", c)
		p.Children = append(p.Children, Child{ID: id, Name: "Child " + fmt.Sprint(c+1)})
		add := func(kind plan.StepKind, minutes int, teacher, reads bool) {
			b := Block{ID: fmt.Sprint(id, kind), Children: []string{id}, Minutes: minutes, Teacher: teacher, Kind: kind}
			if reads {
				b.Kit, b.Copies = kit.ID(fmt.Sprint("k", c/2)), 1
			}
			p.Blocks = append(p.Blocks, b)
		}
		young := rnd.IntN(2) == 0
		add(plan.Background, 5+rnd.IntN(6), true, false)
		if young {
			add(plan.Practice, 5, true, false)
		}
		add(plan.Reading, 12+rnd.IntN(14), young && rnd.IntN(2) == 0, true)
		add(plan.Questions, 10+rnd.IntN(8), false, false)
		if rnd.IntN(3) > 0 {
			add(plan.Discussion, 5+rnd.IntN(6), true, false)
		}
		if rnd.IntN(4) == 0 {
			add(plan.Quiz, 15, false, false)
		}
	}
	for c := 0; c+1 < children; c += 2 {
		if rnd.IntN(3) == 0 {
			p.Copies = append(p.Copies, Copies{kit.ID(fmt.Sprint("k", c/2)), 1})
		}
	}
	return p
}

// classes is a day of so many classes of two children each, every class in a
// book of its own, at a place of its plan where another kind of step may come up.
func classes(rnd *rand.Rand, n int) Problem {
	var groups []Group
	var copies []Copies
	for c := range n {
		k := fmt.Sprint("k", c)
		l := []plan.Step{step(k, 1, plan.Background, 8+rnd.IntN(4)), step(k, 1, plan.Reading, 15+rnd.IntN(10)),
			step(k, 1, plan.Questions, 10+rnd.IntN(8)), step(k, 1, plan.Discussion, 6+rnd.IntN(5))}
		l[1].Mode = []class.Mode{class.Turns, class.Silent}[rnd.IntN(2)]
		switch rnd.IntN(6) {
		case 0:
			l = append(l, step(k, 1, plan.Quiz, 15))
		case 1:
			l = append([]plan.Step{step(k, 0, plan.Corrections, 5)}, l...)
		case 2:
			l = []plan.Step{step(k, 1, plan.Test, 45)}
		case 3:
			copies = append(copies, Copies{kit.ID(k), 1})
		}
		groups = append(groups, Group{Class: class.ID(k), Grade: 1 + rnd.IntN(6), Steps: l,
			Children: []Child{{ID: fmt.Sprint(k, "a")}, {ID: fmt.Sprint(k, "b")}}})
	}
	p, err := Day(Hours{Begins: 9 * 60, Copies: copies}, groups)
	if err != nil {
		panic(err)
	}
	return p
}

func BenchmarkSolve(b *testing.B) {
	benchDays(b, "eight children in four classes", func(rnd *rand.Rand) Problem { return classes(rnd, 4) })
	for _, n := range []int{2, 4, 6, 8} {
		benchDays(b, fmt.Sprint(n, " children, each in a book of its own"), func(rnd *rand.Rand) Problem { return family(rnd, n) })
	}
}

func benchDays(b *testing.B, name string, draw func(*rand.Rand) Problem) {
	b.Run(name, func(b *testing.B) {
		var took []time.Duration
		exact, gap, states := 0, 0, 0
		days := 40
		for b.Loop() {
			took = took[:0]
			exact, gap = 0, 0
			rnd := rand.New(rand.NewPCG(8, 7))
			for range days {
				p := draw(rnd)
				start := time.Now()
				r, err := Solve(context.Background(), p)
				if err != nil {
					b.Fatal(err)
				}
				took = append(took, time.Since(start))
				states += r.States
				if r.Exact {
					exact++
				}
				gap += r.Gap
			}
		}
		slices.Sort(took)
		b.ReportMetric(float64(took[days/2].Microseconds())/1000, "ms-median")
		b.ReportMetric(float64(took[days-1].Microseconds())/1000, "ms-worst")
		b.ReportMetric(100*float64(exact)/float64(days), "%exact")
		b.ReportMetric(float64(states)/float64(days*b.N), "states")
		b.ReportMetric(float64(gap)/float64(days), "gap")
	})
}
