package pace

import "fmt"

// Took is one step that was done: the minutes planned and the minutes that it
// really took. Both are above 0; others are left out of account.
type Took struct {
	Planned, Took float64
}

// trust is how many steps it takes until the class's own minutes weigh as much
// as the plan's (our choice, no source).
const trust = 5

// Bounds of what is learned, and how far one step may count: one that took more
// than three times its minutes, or less than a third, counts as three times or a
// third, for something else happened in it (our choices).
const (
	leastFactor, mostFactor = 0.5, 2
	wildly                  = 3
)

// Learn returns the factor by which the minutes of a kind of step should be
// multiplied, from the steps done so far, and says how it came about. It is a
// shrunken mean: the ratio of all minutes taken to all planned, drawn towards 1
// as if five more steps of the average length had taken exactly their time; so
// a single slow day changes little, and the estimate nears the class's own ratio
// as steps are noted. Without steps it is 1 and says so. The factor lies between
// a half and two.
func Learn(steps []Took) (factor float64, why string) {
	var planned, took float64
	n := 0
	for _, s := range steps {
		if s.Planned > 0 && s.Took > 0 {
			planned, took, n = planned+s.Planned, took+min(wildly*s.Planned, max(s.Planned/wildly, s.Took)), n+1
		}
	}
	if n == 0 {
		return 1, "No minutes were noted yet, so the plan's own stand."
	}
	prior := trust * planned / float64(n)
	raw := took / planned
	factor = min(mostFactor, max(leastFactor, (took+prior)/(planned+prior)))
	steady := fmt.Sprintf(", between the plan's own and the %.2f times of the steps noted", raw)
	switch {
	case factor == mostFactor || factor == leastFactor:
		steady = fmt.Sprintf(", the furthest that it goes; the steps noted took %.2f times theirs", raw)
	case n >= 4*trust:
		steady = ""
	}
	what := fmt.Sprintf("%d steps", n)
	if n == 1 {
		what = "one step"
	}
	return factor, fmt.Sprintf("%.0f minutes were planned and %.0f taken over %s; the plan now counts with %.2f times its minutes, an estimate%s.", planned, took, what, factor, steady)
}
