package divide

import (
	"math"
	"slices"

	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/pace"
)

// table is the book as the dynamic program sees it: units of text between
// boundaries. A lesson is a range of units [i, j).
type table struct {
	b            *book.Book
	bs           []Boundary
	words        []int  // words before unit i; one more than units
	chapters     []int  // chapters begun before unit i; one more than units
	joins        []int  // price of the chapter starts before unit i; one more than units
	gap          []bool // between unit i-1 and i stands text that is not told, or a new part begins
	end          []int  // where unit i's text ends in the book
	target, most int
}

func newTable(b *book.Book, bs []Boundary, words []int, target, most int) *table {
	n := len(bs)
	t := &table{b: b, bs: bs, target: target, most: most,
		words: make([]int, n+1), chapters: make([]int, n+1), joins: make([]int, n+1), gap: make([]bool, n+1), end: make([]int, n)}
	for i, x := range bs {
		t.words[i+1] = t.words[i] + words[i]
		t.chapters[i+1], t.joins[i+1] = t.chapters[i], t.joins[i]
		if !x.Kind.Inside() {
			t.chapters[i+1]++
			t.joins[i+1] += joinCost
			if b.Chapters[x.Chapter].Kind == book.Story {
				t.joins[i+1] += storyCost - joinCost
			}
		}
		if i > 0 {
			t.gap[i] = x.Kind == Part || x.Chapter > bs[i-1].Chapter+1
		}
		t.end[i] = b.Chapters[x.Chapter].End
		if i+1 < n && bs[i+1].Chapter == x.Chapter {
			t.end[i] = bs[i+1].Offset
		}
	}
	// The blank line before the next block belongs to no lesson.
	for i := range t.end {
		k, _ := slices.BinarySearchFunc(b.Blocks, t.end[i], func(bl book.Block, o int) int { return bl.Start - o })
		if k > 0 {
			t.end[i] = b.Blocks[k-1].End
		}
	}
	return t
}

// at is the last boundary at or before an offset.
func (t *table) at(offset int) int {
	i, found := slices.BinarySearchFunc(t.bs, offset, func(b Boundary, o int) int { return b.Offset - o })
	if found {
		return i
	}
	return max(0, i-1)
}

// cost is the price of a lesson of the units [i, j).
func (t *table) cost(i, j int) Cost {
	w := t.words[j] - t.words[i]
	c := Cost{Length: lengthCost(w, t.target), Split: splitCost[t.bs[i].Kind]}
	if inner := t.chapters[j] - t.chapters[i+1]; inner > 0 {
		c.Join = t.joins[j] - t.joins[i+1]
		if t.bs[i].Kind.Inside() || j < len(t.bs) && t.bs[j].Kind.Inside() {
			c.Mixed = mixedCost
		}
	}
	if w > t.most {
		c.Over = overCost + 10*(w-t.most)
	}
	return c
}

// best returns the lesson starts of the cheapest division in which a lesson
// begins at each of the fixed boundaries. A lesson longer than the most is
// only tried when it is a single unit; among equals the earlier lessons are
// the longer ones.
//
// togo[i] is the price of the cheapest division of the units from i on, so that
// togo[i] = min over j of cost(i, j) + togo[j].
func (t *table) best(fixed []int) []int {
	n := len(t.bs)
	must := make([]bool, n+1)
	for _, i := range fixed {
		must[i] = true
	}
	togo, next := make([]int, n+1), make([]int, n+1)
	for i := n - 1; i >= 0; i-- {
		togo[i] = math.MaxInt
		for j := i + 1; j <= n; j++ {
			if j > i+1 && t.words[j]-t.words[i] > t.most {
				break
			}
			if c := t.cost(i, j).Total() + togo[j]; c <= togo[i] {
				togo[i], next[i] = c, j
			}
			if must[j] {
				break
			}
			// Length alone only grows from here on: once it costs more than
			// the best found, no longer lesson can be cheaper.
			if w := t.words[j] - t.words[i]; w > t.target && lengthCost(w, t.target) > togo[i] {
				break
			}
		}
	}
	var starts []int
	for i := 0; i < n; i = next[i] {
		starts = append(starts, i)
	}
	return starts
}

// lessons turns lesson starts into lessons.
func (t *table) lessons(starts []int, titles map[int]string, rate pace.Rate) []kit.Lesson {
	names := t.titles(starts)
	out := make([]kit.Lesson, len(starts))
	for k, i := range starts {
		j := t.stop(starts, k)
		w := t.words[j] - t.words[i]
		title := titles[i]
		if title == "" {
			title = names[k]
		}
		out[k] = kit.Lesson{Number: k + 1, Title: title, Span: book.Span{Start: t.bs[i].Offset, End: t.end[j-1]},
			First: t.bs[i].Chapter, Last: t.bs[j-1].Chapter, Words: w, Minutes: rate.Minutes(w)}
	}
	return out
}

// stop is the unit behind the last one of lesson k.
func (t *table) stop(starts []int, k int) int {
	if k+1 < len(starts) {
		return starts[k+1]
	}
	return len(t.bs)
}
