package assess

import (
	"math/rand/v2"
	"slices"
	"strings"

	"bookstead/internal/kit"
)

// Request is what a paper is made of.
type Request struct {
	Kind        Kind
	Number      int // of quizzes in the book, from 1
	First, Last int // lessons covered, as the title says them; 0 for those of Lessons
	Lessons     []Lesson
	// Book is all lessons, from which wrong choices are taken; Lessons when nil.
	Book []Lesson
	Hold bool // undecided drafts stay off the paper
	// Blueprint; nil for [Default].
	Blueprint Blueprint
	Minutes   int // for the paper; 0 leaves it at the marked items
	Seed      uint64
	// Points names what counts in an answer; it may be nil.
	Points func(question, answer string) []string
	// Near reports two meanings that may say the same; it may be nil. A choice
	// that is near to the right one is never offered as wrong.
	Near func(a, b string) bool
	// Clash reports two vocabulary words of which the meaning of one fits the other
	// too, as their senses lie; it may be nil.
	Clash func(a, b kit.Content) bool
}

// Make makes forms A and B. It returns nil when there is nothing to ask.
func Make(r Request) []Paper {
	if r.Book == nil {
		r.Book = r.Lessons
	}
	if len(r.Lessons) > 0 && r.First == 0 {
		r.First, r.Last = r.Lessons[0].Number, r.Lessons[len(r.Lessons)-1].Number
	}
	unset := r.Blueprint == nil
	if unset {
		r.Blueprint = Default(r)
	}
	m := &maker{Request: r, used: map[kit.ItemID]bool{}, meanings: map[string]bool{}}
	for i := range m.form {
		m.form[i] = map[SectionKind][]Entry{}
	}
	for _, k := range chooseOrder {
		for _, w := range r.Blueprint.of(k) {
			m.choose(w)
		}
	}
	if unset {
		m.rest()
	}
	var papers []Paper
	for f, form := range []string{"A", "B"} {
		p := Paper{Kind: r.Kind, Form: form, Number: r.Number, First: r.First, Last: r.Last}
		rng := rand.New(rand.NewPCG(r.Seed, uint64(f)+1))
		p.Sections = m.sections(f, rng)
		if len(p.Sections) == 0 {
			return nil
		}
		papers = append(papers, p)
	}
	return papers
}

// Build makes both forms of marked items alone.
func Build(kind Kind, number int, marked []Lesson, seed uint64) []Paper {
	return Make(Request{Kind: kind, Number: number, Lessons: marked, Seed: seed})
}

type maker struct {
	Request
	used     map[kit.ItemID]bool
	meanings map[string]bool // of the words asked
	form     [2]map[SectionKind][]Entry
	entries  []Entry // of both forms
}

// candidate is an item that may be asked.
type candidate struct {
	item   kit.Item
	lesson int
	marked bool
}

// pool are the items of a kind that a line of the blueprint may take: the marked
// first, then the better, and of equals the earlier.
func (m *maker) pool(w Way, kinds ...kit.Kind) []candidate {
	var out []candidate
	for _, l := range m.Lessons {
		if w.First > 0 && (l.Number < w.First || l.Number > max(w.First, w.Last)) {
			continue
		}
		for _, it := range l.Items {
			if !slices.Contains(kinds, it.Kind) || m.used[it.ID] || !it.Printed(m.Hold) {
				continue
			}
			marked := it.Marks.Quiz
			if m.Kind == Test {
				marked = it.Marks.Test
			}
			out = append(out, candidate{it, l.Number, marked})
		}
	}
	slices.SortStableFunc(out, func(a, b candidate) int {
		switch {
		case a.marked != b.marked:
			if a.marked {
				return -1
			}
			return 1
		case a.item.Score > b.item.Score:
			return -1
		case a.item.Score < b.item.Score:
			return 1
		}
		return a.item.Place.Start - b.item.Place.Start
	})
	return out
}

// choose fills one line of the blueprint. Marked items stand in both forms; of
// what is added twice as much is taken, where there is so much, and dealt.
func (m *maker) choose(w Way) {
	if w.Kind == Order {
		m.order(w)
		return
	}
	var both, added []Entry
	spread := map[int]int{} // lessons that gave something unmarked
	pool := m.pool(w, kindsOf[w.Kind]...)
	for pass := range 2 { // in the second, a lesson may give again
		for _, c := range pool {
			if m.used[c.item.ID] {
				continue
			}
			room := w.Count - len(both)
			if c.marked && room <= 0 || !c.marked && len(added) >= 2*room {
				continue
			}
			if !c.marked && pass == 0 && spread[c.lesson] > 2*room/max(1, len(m.Lessons)) {
				continue
			}
			e, ok := m.entry(w.Kind, c)
			if !ok || m.givesAway(e) || w.Kind == Match && m.fitsTwo(c.item) {
				continue
			}
			m.take(w.Kind, e)
			if c.marked {
				both = append(both, e)
			} else {
				spread[c.lesson]++
				added = append(added, e)
			}
		}
	}
	m.deal(w, both, added)
}

// rest asks for marked words that could not be asked in the way that was planned,
// such as one whose sentence holds it twice, in another way.
func (m *maker) rest() {
	for _, k := range []SectionKind{Match, Fill, Choose} {
		for _, c := range m.pool(Way{}, kit.Vocabulary) {
			if !c.marked {
				continue
			}
			if e, ok := m.entry(k, c); ok && !m.givesAway(e) && !(k == Match && m.fitsTwo(c.item)) {
				m.take(k, e)
				m.deal(Way{Kind: k, Count: 1}, []Entry{e}, nil)
			}
		}
	}
}

func (m *maker) take(k SectionKind, e Entry) {
	m.used[e.Item] = true
	if k == Match {
		m.meanings[e.Key] = true
	}
	m.entries = append(m.entries, e)
}

// fitsTwo reports a word whose meaning might be taken for that of another word to
// be matched.
func (m *maker) fitsTwo(it kit.Item) bool {
	for _, e := range m.entries {
		if m.meanings[e.Key] && (m.near(e.Key+" "+e.Prompt, meaning(it)) || m.near(meaning(it)+" "+headword(it), e.Key)) {
			return true
		}
		if other, _, ok := find(m.Book, e.Item); ok && m.meanings[e.Key] && m.clash(it, other) {
			return true
		}
	}
	return false
}

func (m *maker) clash(a, b kit.Item) bool {
	return m.Clash != nil && a.Kind == kit.Vocabulary && b.Kind == kit.Vocabulary && m.Clash(a.Content, b.Content)
}

func (m *maker) near(a, b string) bool { return m.Near != nil && m.Near(a, b) }

// deal gives each form its entries: the common ones, and of the added ones turn
// and turn about by difficulty (A, B, B, A), so that the sums stay level. When
// there are too few for two forms both get the same.
func (m *maker) deal(w Way, both, added []Entry) {
	need := w.Count - len(both)
	for f := range m.form {
		m.form[f][w.Kind] = append(m.form[f][w.Kind], both...)
	}
	if len(added) < 2*need {
		same := added[:min(len(added), max(0, need))]
		for f := range m.form {
			m.form[f][w.Kind] = append(m.form[f][w.Kind], same...)
		}
		return
	}
	slices.SortStableFunc(added, func(a, b Entry) int {
		switch x, y := Difficulty(w.Kind, a), Difficulty(w.Kind, b); {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	for i, e := range added {
		f := []int{0, 1, 1, 0}[i%4]
		m.form[f][w.Kind] = append(m.form[f][w.Kind], e)
	}
}

// sections are those of a form, in the order of the paper.
func (m *maker) sections(f int, rng *rand.Rand) []Section {
	var out []Section
	for _, k := range paperOrder {
		entries := m.form[f][k]
		if len(entries) == 0 {
			continue
		}
		slices.SortStableFunc(entries, func(a, b Entry) int { return a.Lesson - b.Lesson })
		for _, s := range m.group(k, entries) {
			shuffle(rng, &s, f == 1)
			out = append(out, s)
		}
	}
	return out
}

// Difficulty is about how hard an entry is, 0 to 1: the way it is asked, a long
// answer, a question that asks for a reason or a feeling. It is a first estimate
// of ours, good enough to deal two forms; what children scored is better.
func Difficulty(k SectionKind, e Entry) float64 {
	d := map[SectionKind]float64{Choose: 0.25, Match: 0.3, WhoSaid: 0.35, Fill: 0.4, Order: 0.4, Explain: 0.5, Short: 0.45}[k]
	words := len(strings.Fields(e.Key))
	d += 0.01 * float64(min(words, 20))
	if q := strings.ToLower(e.Prompt); k == Short && (strings.HasPrefix(q, "why") || strings.HasPrefix(q, "how")) {
		d += 0.1
	}
	return min(1, d)
}

// Difficulty of a paper is the sum over its points.
func (p Paper) Difficulty() float64 {
	d := 0.0
	for _, s := range p.Sections {
		for _, e := range s.Entries {
			d += Difficulty(s.Kind, e) * float64(e.Points)
		}
	}
	return d
}
