package question

import (
	"slices"
	"strings"

	"bookstead/internal/kit"
)

// spares is how many more questions than asked are offered.
const spares = 8

// choose takes n questions spread over the passage: the passage is cut into n
// stretches by place, and each gives its best; kinds that were taken often
// count for less, and no two ask nearly the same. What is left over is spare.
func choose(all []kit.Draft, n int) []kit.Draft {
	if len(all) == 0 || n <= 0 {
		return nil
	}
	first, last := all[0].Place.Start, all[len(all)-1].Place.Start+1
	taken := map[string]int{}
	used := make([]bool, len(all))
	var out []kit.Draft
	take := func(lo, hi int) bool {
		best, bestScore := -1, 0.0
		for i, d := range all {
			if used[i] || d.Place.Start < lo || d.Place.Start >= hi || alike(out, d) {
				continue
			}
			if s := d.Score - 0.6*float64(taken[d.Content.Note]); best < 0 || s > bestScore {
				best, bestScore = i, s
			}
		}
		if best < 0 {
			return false
		}
		used[best] = true
		taken[all[best].Content.Note]++
		out = append(out, all[best])
		return true
	}
	for k := range n {
		take(first+k*(last-first)/n, first+(k+1)*(last-first)/n)
	}
	for len(out) < n && take(first, last) {
	}
	asked := len(out)
	for len(out) < asked+spares && take(first, last) {
		out[len(out)-1].Spare = true
	}
	slices.SortStableFunc(out, func(a, b kit.Draft) int { return a.Place.Start - b.Place.Start })
	return out
}

// alike reports whether a question shares its sentence or most of its words
// with one that was taken.
func alike(taken []kit.Draft, d kit.Draft) bool {
	words := strings.Fields(strings.ToLower(d.Content.Head))
	for _, t := range taken {
		if t.Place.Start == d.Place.Start {
			return true
		}
		other := strings.Fields(strings.ToLower(t.Content.Head))
		same := 0
		for _, w := range words {
			if slices.Contains(other, w) {
				same++
			}
		}
		if 10*same >= 8*min(len(words), len(other)) {
			return true
		}
	}
	return false
}
