package vocabulary

import (
	"context"
	"slices"

	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/lexicon"
	"bookstead/internal/sense"
)

// told is a candidate with the meaning that it has in its sentence.
type told struct {
	sense lexicon.Sense
	gloss gloss
	ok    bool
}

// tell finds what a candidate means and how to say it; it is asked once for each
// place.
func (e *engine) tell(c candidate) told {
	if t, ok := e.tells[c.token]; ok {
		return t
	}
	var t told
	u := sense.Unit{First: c.token, Last: c.token + 1, Head: c.token, Lemma: c.lemma, POS: c.pos}
	if whole, ok := e.glosserOf().Unit(c.token); ok && whole.Lemma == c.lemma {
		u = whole
	}
	if g, ok := e.glosserOf().Gloss(u); ok {
		t = told{sense: g.Sense, gloss: gloss{meaning: g.Meaning, synonym: g.Synonym, next: g.Next}, ok: true}
	}
	e.tells[c.token] = t
	return t
}

// explainedFirst is how many candidates of a lesson are explained before the
// choice, for each word wanted; others only when they are chosen.
const explainedFirst = 4

// mostChoices bounds how often the choice is made again because a chosen word
// could not be explained.
const mostChoices = 8

// selection is the choice for the book.
type selection struct {
	chosen, spare [][]candidate // by passage
	value, bound  float64
}

// words chooses the vocabulary of every lesson.
func (e *engine) words(ctx context.Context, terms map[string]bool) ([][]kit.Draft, error) {
	all, err := e.candidates(ctx, terms)
	if err != nil {
		return nil, err
	}
	own := e.own(all)
	sel, err := e.choose(ctx, all, own)
	if err != nil {
		return nil, err
	}
	out := make([][]kit.Draft, len(e.passages))
	for pi := range e.passages {
		out[pi] = append(out[pi], own.drafts[pi]...)
		for _, c := range sel.chosen[pi] {
			out[pi] = append(out[pi], e.draft(c, false))
		}
		for _, c := range sel.spare[pi] {
			out[pi] = append(out[pi], e.draft(c, true))
		}
		out[pi] = append(out[pi], e.review(pi)...)
	}
	return out, nil
}

// choose solves the choice for the whole book. Words that cannot be explained
// are found out on the way and never taken.
func (e *engine) choose(ctx context.Context, all []candidate, own ownWords) (selection, error) {
	lemmas := make([]string, 0, len(all))
	for _, c := range all {
		lemmas = append(lemmas, c.lemma)
	}
	for l := range own.lemmas {
		lemmas = append(lemmas, l)
	}
	slices.Sort(lemmas)
	families := e.families(slices.Compact(lemmas))
	barred := map[int]bool{}
	for l := range own.lemmas {
		barred[families[l]] = true
	}
	by := make([][]candidate, len(e.passages))
	for _, c := range all {
		if !barred[families[c.lemma]] {
			by[c.passage] = append(by[c.passage], c)
		}
	}
	for pi := range by {
		slices.SortStableFunc(by[pi], func(a, b candidate) int { return cmp(b.value, a.value) })
		by[pi] = firstOfFamily(by[pi], families)
		n := 0
		for i := range by[pi] {
			if n >= explainedFirst*e.o.Words {
				break
			}
			if e.settle(&by[pi][i]) {
				n++
			}
		}
	}
	var sel selection
	var price []float64
	for range mostChoices {
		if err := ctx.Err(); err != nil {
			return sel, err
		}
		p, at := e.problem(by, families, own)
		p.price = price
		c := p.solve()
		price = p.price
		sel = selection{chosen: make([][]candidate, len(by)), value: c.value, bound: c.bound}
		again := false
		for _, o := range c.taken {
			x := at[o]
			if t, before := e.tells[x.token]; !before {
				again = true // it is explained now; the next problem knows
				e.settle(x)
			} else if t.ok {
				sel.chosen[x.passage] = append(sel.chosen[x.passage], *x)
			}
		}
		if !again {
			break
		}
	}
	sel.spare = e.spares(by, families, sel)
	for pi := range sel.chosen {
		slices.SortStableFunc(sel.chosen[pi], func(a, b candidate) int { return a.token - b.token })
	}
	return sel, nil
}

// settle explains a candidate and judges it anew by the meaning that it has: a
// rare meaning of a common word is harder than the word. It reports whether it
// can be taught.
func (e *engine) settle(c *candidate) bool {
	m := e.tell(*c)
	if m.ok {
		c.hard = max(c.hard, e.measure.Sense(m.sense)-e.measure.Word(m.sense.Lemma)+c.hard)
		c.parts.fit = fit(c.hard, e.grade)
		c.value = e.weights.of(c.parts)
	}
	return m.ok
}

// firstOfFamily keeps the best of each family in one lesson.
func firstOfFamily(cs []candidate, families map[string]int) []candidate {
	have := map[int]bool{}
	var out []candidate
	for _, c := range cs {
		if f := families[c.lemma]; !have[f] {
			have[f] = true
			out = append(out, c)
		}
	}
	return out
}

// problem puts the choice into numbers: the offers, and the candidates that they
// stand for.
func (e *engine) problem(by [][]candidate, families map[string]int, own ownWords) (*problem, []*candidate) {
	p := &problem{seats: make([]int, len(by)), variety: e.weights.Variety * varietyCounts, spread: e.weights.Spread * spreadCounts,
		kindsTaken: make([][kinds]int, len(by)), stretchesTaken: make([][stretches]int, len(by))}
	for _, f := range families {
		p.families = max(p.families, f+1)
	}
	var at []*candidate
	for pi, cs := range by {
		p.seats[pi] = max(0, e.o.Words-own.count[pi])
		var explained []int
		for i := range cs {
			c := &cs[i]
			t, before := e.tells[c.token]
			if before && !t.ok {
				continue
			}
			if before {
				for _, o := range explained {
					if e.clash(e.tells[at[o].token], at[o].lemma, t, c.lemma) {
						p.clash = append(p.clash, [2]int{o, len(at)})
					}
				}
				explained = append(explained, len(at))
			}
			p.offers = append(p.offers, offer{lesson: pi, family: families[c.lemma], kind: kindNumber(c.pos), stretch: e.stretchOf(*c), value: c.value})
			at = append(at, c)
		}
	}
	return p, at
}

func kindNumber(pos lexicon.POS) int { return slices.Index(lexicon.PartsOfSpeech(), pos) }

func (e *engine) stretchOf(c candidate) int {
	first, last := e.passages[c.passage].Tokens()
	return min(stretches-1, stretches*(c.token-first)/max(1, last-first))
}

// spares are the next best of each lesson, for the teacher to choose from.
func (e *engine) spares(by [][]candidate, families map[string]int, sel selection) [][]candidate {
	taken := map[int]bool{}
	for _, cs := range sel.chosen {
		for _, c := range cs {
			taken[families[c.lemma]] = true
		}
	}
	out := make([][]candidate, len(by))
	for pi, cs := range by {
		for _, c := range cs {
			if len(out[pi]) >= spares {
				break
			}
			if !taken[families[c.lemma]] && e.settle(&c) {
				out[pi] = append(out[pi], c)
			}
		}
	}
	return out
}

func cmp(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

var partNames = map[lexicon.POS]string{lexicon.Noun: "noun", lexicon.Verb: "verb", lexicon.Adjective: "adjective", lexicon.Adverb: "adverb"}

// draft makes the draft of a candidate that can be told.
func (e *engine) draft(c candidate, spare bool) kit.Draft {
	p := e.passages[c.passage]
	t := p.Doc.Tokens[c.token]
	m := e.tell(c)
	// The clue is looked for again with the one sense in mind.
	c.clue = e.clueAt(p, c.sentence, c.token, e.kinOf(c.lemma, []lexicon.Sense{m.sense}))
	place := p.Book.Place(book.Span{Start: t.Start, End: t.End})
	d := kit.Draft{ID: kit.NewItemID(kit.Vocabulary, place, c.lemma), Kind: kit.Vocabulary, Place: place, Score: c.value, Spare: spare, Why: e.why(c),
		Content: kit.Content{Head: t.Form, Lemma: c.lemma, Sentence: p.Balanced(c.sentence), PartOfSpeech: partNames[c.pos],
			Meaning: m.gloss.meaning, Synonym: m.gloss.synonym, Sense: m.sense.Key, Note: c.clue.note}}
	e.exercise(&d.Content, c)
	d.Warning = e.lex.Warning(d.Content.Sentence, d.Content.Meaning, d.Content.Synonym)
	return d
}
