package vocabulary

import (
	"math"
	"slices"
)

// The choice of words as a problem of numbers. Each lesson has seats; each offer
// is a word in a lesson with its value there. A choice takes offers so that no
// lesson has more than its seats and of no family more than one is taken in the
// whole book. What is made as large as can be is
//
//	the values of the taken
//	- variety · Σ crowd(words of one part of speech in one lesson)
//	- spread  · Σ crowd(words of one stretch of one lesson)
//
// where crowd(n) = n(n-1)/2: the second of a kind costs 1, the third 2 more.
//
// One lesson alone is a flow problem (part of speech, word, stretch) that
// [lessonProblem.solve] solves exactly by best augmenting paths. Families bind
// lessons together: [problem.solve] puts a price on each family (Lagrange
// multipliers, moved by subgradients), which gives an upper bound on any choice,
// and mends the lessons' answers to a choice that keeps the families apart. The
// bound says how far from the best the choice can be at most.

const (
	kinds     = 4 // parts of speech
	stretches = 3 // of a lesson: beginning, middle, end
)

// offer is a word in a lesson. Offers of one family in one lesson are one offer,
// the best.
type offer struct {
	lesson, family, kind, stretch int
	value                         float64
}

type problem struct {
	offers          []offer
	families        int
	seats           []int // per lesson
	variety, spread float64
	// kindsTaken and stretchesTaken count what the teacher's own words take
	// already; nil means nothing.
	kindsTaken     [][kinds]int
	stretchesTaken [][stretches]int
	// price of each family to begin with, moved by solve; nil means nothing.
	price []float64
	// clash are pairs of offers of one lesson that must not be taken both.
	clash [][2]int
}

// choice is what [problem.solve] found.
type choice struct {
	taken []int // indices of offers, by lesson
	value float64
	// bound is a proven upper bound on the value of any choice.
	bound float64
}

// lessonProblem is one lesson of a problem.
type lessonProblem struct {
	p      *problem
	lesson int
	offers []int // sorted by value, the largest first
}

// solve takes the best offers by worth; a worth of -Inf forbids an offer. It
// returns them with the sum of their worths less the crowd.
func (l lessonProblem) solve(worth func(offer int) float64) (taken []int, value float64) {
	seats := l.p.seats[l.lesson]
	if seats <= 0 {
		return nil, 0
	}
	// For each pair of kind and stretch the best few that are free, and those taken.
	var free, used [kinds][stretches][]priced
	for _, o := range l.offers {
		w := worth(o)
		if math.IsInf(w, -1) {
			continue
		}
		k, s := l.p.offers[o].kind, l.p.offers[o].stretch
		free[k][s] = insert(free[k][s], priced{o, w}, seats)
	}
	var kindCount [kinds]int
	var stretchCount [stretches]int
	if l.p.kindsTaken != nil {
		kindCount = l.p.kindsTaken[l.lesson]
	}
	if l.p.stretchesTaken != nil {
		stretchCount = l.p.stretchesTaken[l.lesson]
	}
	for range seats {
		gain, path := bestPath(l.p, &free, &used, kindCount, stretchCount)
		if gain <= 1e-12 {
			break
		}
		value += gain
		kindCount[path[0].kind]++
		stretchCount[path[len(path)-1].stretch]++
		for _, st := range path {
			if st.forward {
				cell := free[st.kind][st.stretch]
				used[st.kind][st.stretch] = insert(used[st.kind][st.stretch], cell[0], seats)
				free[st.kind][st.stretch] = cell[1:]
			} else {
				cell := used[st.kind][st.stretch]
				last := cell[len(cell)-1]
				used[st.kind][st.stretch] = cell[:len(cell)-1]
				free[st.kind][st.stretch] = insert(free[st.kind][st.stretch], last, seats+1)
			}
		}
	}
	for k := range used {
		for s := range used[k] {
			for _, x := range used[k][s] {
				taken = append(taken, x.offer)
			}
		}
	}
	slices.Sort(taken)
	return taken, value
}

type priced struct {
	offer int
	worth float64
}

// insert keeps a list of at most n sorted by worth, ties by offer.
func insert(list []priced, x priced, n int) []priced {
	at := len(list)
	for at > 0 && (list[at-1].worth < x.worth || list[at-1].worth == x.worth && list[at-1].offer > x.offer) {
		at--
	}
	if at >= n {
		return list
	}
	if len(list) >= n {
		list = list[:n-1]
	}
	return slices.Insert(list, at, x)
}

// step is an edge of an augmenting path: an offer taken, or one given up.
type step struct {
	kind, stretch int
	forward       bool
}

// bestPath finds the path of largest gain from nothing to one more word: through
// a kind, by offers taken and given up in turn, to a stretch (Bellman and Ford's
// method on the few nodes there are; no circle gains, since each path was best).
func bestPath(p *problem, free, used *[kinds][stretches][]priced, kindCount [kinds]int, stretchCount [stretches]int) (float64, []step) {
	var atKind [kinds]float64
	var atStretch [stretches]float64
	var kindBy [kinds]int        // the stretch by which a kind was reached, -1 for the start
	var stretchBy [stretches]int // the kind by which a stretch was reached
	for k := range atKind {
		atKind[k], kindBy[k] = -p.variety*float64(kindCount[k]), -1
	}
	for s := range atStretch {
		atStretch[s], stretchBy[s] = math.Inf(-1), -1
	}
	const better = 1e-12
	for range kinds + stretches {
		changed := false
		for k := range free {
			for s := range free[k] {
				if f := free[k][s]; len(f) > 0 && atKind[k]+f[0].worth > atStretch[s]+better {
					atStretch[s], stretchBy[s], changed = atKind[k]+f[0].worth, k, true
				}
				if u := used[k][s]; len(u) > 0 && atStretch[s]-u[len(u)-1].worth > atKind[k]+better {
					atKind[k], kindBy[k], changed = atStretch[s]-u[len(u)-1].worth, s, true
				}
			}
		}
		if !changed {
			break
		}
	}
	best, end := math.Inf(-1), -1
	for s, v := range atStretch {
		if v -= p.spread * float64(stretchCount[s]); v > best+better {
			best, end = v, s
		}
	}
	if end < 0 || math.IsInf(best, -1) {
		return math.Inf(-1), nil
	}
	var path []step
	for s := end; ; {
		k := stretchBy[s]
		path = append(path, step{k, s, true})
		if kindBy[k] < 0 || len(path) > 2*(kinds+stretches) {
			break
		}
		s = kindBy[k]
		path = append(path, step{k, s, false})
	}
	slices.Reverse(path)
	return best, path
}
