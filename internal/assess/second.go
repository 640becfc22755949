package assess

import (
	"math/rand/v2"
	"slices"

	"bookstead/internal/kit"
)

// SecondChance is the form of a paper for what was missed.
const SecondChance = "second chance"

// Second makes a paper for a child who missed some items of a paper: for each,
// another item on the same passage, of the same kind if there is one, that was on
// neither form. A word without a neighbour is asked again in another way. It
// returns nil when nothing was missed or nothing is left to ask.
func Second(r Request, papers []Paper, missed []kit.ItemID) *Paper {
	if r.Book == nil {
		r.Book = r.Lessons
	}
	m := &maker{Request: r, used: map[kit.ItemID]bool{}, meanings: map[string]bool{}}
	m.form[0] = map[SectionKind][]Entry{}
	way := map[kit.ItemID]SectionKind{}
	for _, p := range papers {
		for _, s := range p.Sections {
			for _, e := range s.Entries {
				m.used[e.Item] = true
				way[e.Item] = s.Kind
			}
		}
	}
	p := Paper{Kind: r.Kind, Form: SecondChance, Number: r.Number, First: r.First, Last: r.Last}
	if len(papers) > 0 && p.First == 0 {
		p.First, p.Last = papers[0].First, papers[0].Last
	}
	for _, id := range missed {
		it, lesson, ok := find(r.Lessons, id)
		if !ok {
			continue
		}
		k, e, ok := m.instead(it, lesson, way[id])
		if !ok {
			continue
		}
		m.take(k, e)
		m.form[0][k] = append(m.form[0][k], e)
	}
	p.Sections = m.sections(0, rand.New(rand.NewPCG(r.Seed, 3)))
	if len(p.Sections) == 0 {
		return nil
	}
	return &p
}

func find(lessons []Lesson, id kit.ItemID) (kit.Item, int, bool) {
	for _, l := range lessons {
		for _, it := range l.Items {
			if it.ID == id {
				return it, l.Number, true
			}
		}
	}
	return kit.Item{}, 0, false
}

// instead finds what is asked for a missed item.
func (m *maker) instead(missed kit.Item, lesson int, k SectionKind) (SectionKind, Entry, bool) {
	if k == Order || k == Match || k == "" { // a list of one pair or one event asks nothing
		k = wayOf[missed.Kind]
	}
	var near []candidate
	for _, l := range m.Lessons {
		if l.Number != lesson {
			continue
		}
		for _, it := range l.Items {
			if it.Kind == missed.Kind && !m.used[it.ID] && it.State != kit.Dropped && it.Warning == "" && (it.Printed(m.Hold) || it.Spare && !m.Hold) {
				near = append(near, candidate{item: it, lesson: lesson})
			}
		}
	}
	slices.SortStableFunc(near, func(a, b candidate) int { return gap(a.item, missed) - gap(b.item, missed) })
	for _, c := range near {
		if e, ok := m.entry(k, c); ok && !m.givesAway(e) {
			return k, e, true
		}
	}
	for _, other := range again[k] { // the same item, asked in another way
		if e, ok := m.entry(other, candidate{item: missed, lesson: lesson}); ok && !m.givesAway(e) {
			return other, e, true
		}
	}
	return "", Entry{}, false
}

var wayOf = map[kit.Kind]SectionKind{kit.Vocabulary: Fill, kit.Quotation: WhoSaid, kit.Question: Short, kit.Figure: Explain}

var again = map[SectionKind][]SectionKind{Fill: {Fill, Choose}, Choose: {Fill, Short, WhoSaid}, WhoSaid: {Choose}}
