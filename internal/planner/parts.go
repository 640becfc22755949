package planner

import (
	"math"

	"bookstead/internal/book"
	"bookstead/internal/plan"
)

// pieceMinutes is about how long a piece of reading is that is not divided
// further (our choice: a reading that stops more often is none).
const pieceMinutes = 5

// part is a piece of a step.
type part struct {
	minutes int
	span    book.Span
	scene   bool // it begins where a scene ends
}

// divideStep cuts a step into its pieces: a reading at the breaks inside it,
// anything else only when it is longer than the usual day.
func divideStep(s plan.Step, l Lesson, usual int) []part {
	pieces := []part{{minutes: s.Minutes, span: s.Span}}
	if s.Kind == plan.Reading {
		pieces = readingParts(s, l.Breaks)
	}
	var out []part
	for _, p := range pieces {
		n := max(1, (p.minutes+usual-1)/usual)
		for k := range n {
			q := p
			q.minutes = p.minutes*(k+1)/n - p.minutes*k/n
			q.scene = p.scene && k == 0
			out = append(out, q)
		}
	}
	return out
}

// readingParts cuts a reading into pieces of about five minutes: near each
// fifth minute at the best break, where a scene counts as two minutes nearer.
// The pieces' minutes add up to the step's.
func readingParts(s plan.Step, breaks []Break) []part {
	n := int(math.Round(float64(s.Minutes) / pieceMinutes))
	whole := float64(s.Minutes)
	out := []part{{span: s.Span}}
	last, shown := 0.0, 0
	for k := 1; k < n; k++ {
		want := whole * float64(k) / float64(n)
		best, bestAt := -1, math.MaxFloat64
		for i, b := range breaks {
			at := math.Abs(b.Minutes - want)
			if b.Scene {
				at -= 2
			}
			if b.Minutes >= last+1.5 && b.Minutes <= whole-1.5 && math.Abs(b.Minutes-want) <= pieceMinutes/2.0+1 && at < bestAt {
				best, bestAt = i, at
			}
		}
		if best < 0 {
			continue
		}
		b := breaks[best]
		end := int(math.Round(b.Minutes))
		if end <= shown || end >= s.Minutes {
			continue
		}
		here := &out[len(out)-1]
		here.minutes = end - shown
		next := part{span: s.Span, scene: b.Scene}
		if b.Offset > 0 {
			here.span.End, next.span.Start = b.Offset, b.Offset
		}
		last, shown = b.Minutes, end
		out = append(out, next)
	}
	out[len(out)-1].minutes = s.Minutes - shown
	return out
}
