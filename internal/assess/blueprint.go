package assess

import (
	"math"
	"slices"

	"bookstead/internal/kit"
)

// Way is one line of a blueprint: so many entries asked in one way from a run of
// lessons.
type Way struct {
	Kind  SectionKind
	Count int
	// First and Last lesson that they come from; 0 for all that the paper covers.
	First, Last int
}

// Blueprint says of what a paper is made. Of an Order line each count is one
// list of events to put in order.
type Blueprint []Way

// minutes that an entry takes a child, by the way it is asked (our estimate from
// common practice, no source).
var minutes = map[SectionKind]float64{Match: 0.5, Fill: 0.6, Choose: 0.6, WhoSaid: 0.7, Explain: 1, Order: 2, Short: 1.7}

// Minutes is about how long a paper takes.
func (p Paper) Minutes() float64 {
	n := 0.0
	for _, s := range p.Sections {
		if s.Kind == Order {
			n += minutes[Order]
			continue
		}
		n += minutes[s.Kind] * float64(len(s.Entries))
	}
	return n
}

// Default is the blueprint of a paper that nobody has set: every marked item in
// the way that suits it, and a few things more where the time allows.
func Default(r Request) Blueprint {
	n := map[kit.Kind]int{}
	for _, l := range Marked(r.Kind, r.Lessons, r.Hold) {
		for _, it := range l.Items {
			n[it.Kind]++
		}
	}
	match := n[kit.Vocabulary]
	fill := 0
	switch { // at most two lists to match; the rest are filled in
	case match > 2*mostPairs:
		match, fill = 2*mostPairs, match-2*mostPairs
	case match > mostPairs+mostBlanks:
		match, fill = match-mostBlanks, mostBlanks
	case match > mostPairs:
		match, fill = mostPairs, match-mostPairs
	}
	if match < leastPairs {
		match, fill = 0, match
	}
	b := Blueprint{{Kind: Match, Count: match}, {Kind: Fill, Count: fill}, {Kind: WhoSaid, Count: n[kit.Quotation]},
		{Kind: Short, Count: n[kit.Question]}, {Kind: Explain, Count: n[kit.Figure]}}
	total := 0.0
	for _, w := range b {
		total += minutes[w.Kind] * float64(w.Count)
	}
	if total > 0 && r.Minutes > 0 {
		room := float64(r.Minutes) - total
		if room >= minutes[Order] {
			b = append(b, Way{Kind: Order, Count: 1})
			room -= minutes[Order]
		}
		if k := int(math.Floor(room / minutes[Choose])); k > 0 {
			b = append(b, Way{Kind: Choose, Count: min(k, 3)})
		}
	}
	return slices.DeleteFunc(b, func(w Way) bool { return w.Count == 0 })
}

// leastPairs make a matching list: with fewer the last is no choice.
const leastPairs = 3

// order in which the ways stand on a paper and in which they choose: the
// questions first, because they must not be given away.
var (
	chooseOrder = []SectionKind{Short, WhoSaid, Explain, Match, Fill, Choose, Order}
	paperOrder  = []SectionKind{Match, Fill, Choose, WhoSaid, Order, Short, Explain}
)

// merged gives the lines of a blueprint of one way.
func (b Blueprint) of(k SectionKind) []Way {
	var out []Way
	for _, w := range b {
		if w.Kind == k && w.Count > 0 {
			out = append(out, w)
		}
	}
	return out
}
