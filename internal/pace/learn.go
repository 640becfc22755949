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

// Learn returns the factor by which the minutes of a kind of step should be
// multiplied, from the steps done so far, and says how it came about. It is a
// shrunken mean: the ratio of all minutes taken to all planned, drawn towards 1
// as if five more steps of the average length had taken exactly their time; so
// a single slow day changes little. Without steps it is 1 and says so. The
// factor lies between a half and two.
func Learn(steps []Took) (factor float64, why string) {
	var planned, took float64
	n := 0
	for _, s := range steps {
		if s.Planned > 0 && s.Took > 0 {
			planned, took, n = planned+s.Planned, took+s.Took, n+1
		}
	}
	if n == 0 {
		return 1, "No minutes were noted yet, so the plan's own stand."
	}
	prior := trust * planned / float64(n)
	factor = min(2, max(0.5, (took+prior)/(planned+prior)))
	return factor, fmt.Sprintf("%.0f minutes were planned and %.0f taken over %d steps; the plan now counts with %.2f times its minutes.", planned, took, n, factor)
}
