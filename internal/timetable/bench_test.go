package timetable

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"bookstead/internal/calendar"
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

func BenchmarkSolve(b *testing.B) {
	for _, n := range []int{2, 4, 6, 8} {
		b.Run(fmt.Sprint(n, " children"), func(b *testing.B) {
			var took []time.Duration
			exact, gap, states := 0, 0, 0
			days := 40
			for b.Loop() {
				took = took[:0]
				exact, gap = 0, 0
				rnd := rand.New(rand.NewPCG(uint64(n), 7))
				for range days {
					p := family(rnd, n)
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
			b.ReportMetric(float64(gap)/float64(days), "gap")
		})
	}
}

var _ = calendar.None
