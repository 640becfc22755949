// Package divide cuts a book into lessons: by chapters, joining short ones and
// splitting long ones, so that each lesson's reading fits the class's minutes.
//
// The division is the cheapest of all that keep the rules, found by dynamic
// programming over the places where a lesson may begin ([Boundaries]). Rules:
// lessons tile the told text in order; none holds text of two parts of the
// book; none reads longer than it may, unless no place to cut lies inside it.
// Prices are in [Cost]. What the teacher cut stays: see [Options]. Start with
// [For] and [Divide].
package divide

import (
	"math"
	"slices"

	"bookstead/internal/book"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/pace"
)

// Options say what the lessons should be like.
type Options struct {
	Rate pace.Rate
	// Target and Most are minutes of reading in a lesson: what is aimed at and
	// what is not exceeded. Most 0 lets a lesson take more than one day.
	Target, Most float64
	// Introduction makes a preface or an introduction part of the lessons.
	Introduction bool
	// Cuts, when there are any, are the whole division as the teacher made it.
	Cuts []kit.Cut
	// Pins are lesson starts that stay where they are while the rest is chosen.
	Pins []kit.Cut
	// Edition gives lengths to a book whose text is only on paper.
	Edition book.Edition
}

// aim is the share of the longest reading that a lesson aims at, so that a
// slow day still ends in time (our choice).
const aim = 0.9

// For are the options for a class and its kit: the reading rate of the middle
// of the year, so that lessons do not shift when the dates do, and the minutes
// that the day leaves for reading.
func For(c class.Class, k kit.Kit) Options {
	most := float64(pace.For(c.Settings).Reading)
	return Options{Rate: pace.Of(c, "", pace.MidYear), Target: aim * most, Most: most, Cuts: k.Cuts, Edition: k.Edition}
}

// Divide cuts the book into lessons. The faults are Invalid: a book without
// told text, a rate or a target of nothing.
func Divide(b *book.Book, o Options) ([]kit.Lesson, Explanation, error) {
	ex := Explanation{Rate: o.Rate, Target: o.Rate.Words(o.Target), Most: o.Rate.Words(o.Most)}
	if ex.Target < 1 {
		return nil, ex, fault.New(fault.Invalid, "There are no minutes for reading, so the book cannot be divided into lessons.",
			"Give the class more minutes a day, or a reading rate above 0.")
	}
	if o.Most <= 0 {
		ex.Most = math.MaxInt
	}
	bs, words := units(b, o.Introduction)
	if len(bs) == 0 && !o.Introduction { // nothing but an introduction: then that is the book
		o.Introduction = true
		bs, words = units(b, true)
	}
	if len(bs) == 0 {
		return nil, ex, fault.New(fault.Invalid, "This book has no chapter that a class could read.", "Look at the chapters of the book and say which belong to the story.")
	}
	if onPaper(b) {
		bs, words = fromPages(b, o.Edition, bs, words)
		ex.note("The text is on paper, so lengths are reckoned from the pages typed, at about %d words a page.", WordsPerPage)
	}
	t := newTable(b, bs, words, ex.Target, ex.Most)
	var starts []int
	titles := map[int]string{}
	if len(o.Cuts) > 0 {
		starts = t.fixed(o.Cuts, titles, &ex)
		ex.Teacher = true
	} else {
		starts = t.best(t.fixed(o.Pins, titles, &ex))
	}
	lessons := t.lessons(starts, titles, o.Rate)
	ex.explain(t, starts, lessons)
	return lessons, ex, nil
}

// fixed returns the boundaries at which lessons must begin: the first, those
// of the cuts, and the first behind text that is not told. A cut that stands
// inside a block moves to its start; one whose words are gone is noted.
func (t *table) fixed(cuts []kit.Cut, titles map[int]string, ex *Explanation) []int {
	starts := []int{0}
	for i := 1; i < len(t.bs); i++ {
		if t.gap[i] {
			starts = append(starts, i)
		}
	}
	for _, c := range cuts {
		s, ok := t.b.Find(c.Place)
		if !ok {
			ex.note("A lesson that began with “%s” is gone: these words are not in the book any more.", opening(c.Place.Exact))
			continue
		}
		i := t.at(s.Start)
		starts = append(starts, i)
		if c.Title != "" {
			titles[i] = c.Title
		}
	}
	slices.Sort(starts)
	return slices.Compact(starts)
}
