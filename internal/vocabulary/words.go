package vocabulary

import (
	"context"
	"runtime"
	"slices"
	"sync"

	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/lexicon"
	"bookstead/internal/sense"
)

// told is a candidate with the meaning that it has in its sentence.
type told struct {
	sense lexicon.Sense
	sure  float64 // of the sense, 0 to 1
	gloss gloss
	ok    bool
}

// tell finds what a candidate means and how to say it; it is asked once for each
// place.
func (e *engine) tell(c candidate) told {
	if t, ok := e.tells[c.token]; ok {
		return t
	}
	t := tellBy(e.glosserOf(), c)
	e.tells[c.token] = t
	return t
}

// sensesAsked of a word must one have an easier way of saying it, or the place
// is not looked at: that would take a thousand times longer.
const sensesAsked = 4

func tellBy(g *Glosser, c candidate) told {
	senses := g.lex.Senses(c.lemma, c.pos)
	if !slices.ContainsFunc(senses[:min(len(senses), sensesAsked)], func(s lexicon.Sense) bool {
		_, _, ok := g.OfSense(c.lemma, g.d.Tokens[c.token].XPOS, s)
		return ok
	}) {
		return told{}
	}
	u := sense.Unit{First: c.token, Last: c.token + 1, Head: c.token, Lemma: c.lemma, POS: c.pos}
	if whole, ok := g.Unit(c.token); ok && whole.Lemma == c.lemma {
		u = whole
	}
	if m, ok := g.Gloss(u); ok {
		return told{sense: m.Sense, sure: m.Sure, gloss: gloss{meaning: m.Meaning, synonym: m.Synonym, next: m.Next}, ok: true}
	}
	return told{}
}

// mostTellers work side by side; each has a memory of its own to fill.
const mostTellers = 4

// tellAll tells many candidates at once.
func (e *engine) tellAll(ctx context.Context, cs []candidate) error {
	cs = slices.DeleteFunc(cs, func(c candidate) bool { _, have := e.tells[c.token]; return have })
	n := max(1, min(mostTellers, runtime.GOMAXPROCS(0), len(cs)/8))
	for len(e.tellers) < n {
		g := e.glosserOf()
		if len(e.tellers) > 0 {
			g = NewGlosser(e.lex, e.passages[0].Doc)
		}
		e.tellers = append(e.tellers, g)
	}
	out := make([]told, len(cs))
	var wg sync.WaitGroup
	for w := range n { // neighbours together: they share what is looked up
		wg.Go(func() {
			for i := w * len(cs) / n; i < (w+1)*len(cs)/n && ctx.Err() == nil; i++ {
				out[i] = tellBy(e.tellers[w], cs[i])
			}
		})
	}
	wg.Wait()
	if err := ctx.Err(); err != nil {
		return err
	}
	for i, c := range cs {
		e.tells[c.token] = out[i]
	}
	return nil
}

// explainedFirst is how many candidates of a lesson beyond those wanted are
// explained before the choice; others only when they are chosen.
const explainedFirst = 2

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
	}
	if err := e.settleFirst(ctx, by, e.o.Words+explainedFirst); err != nil {
		return selection{}, err
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
		var untold []candidate
		for _, o := range c.taken {
			x := at[o]
			if t, before := e.tells[x.token]; !before {
				untold = append(untold, *x)
			} else if t.ok {
				sel.chosen[x.passage] = append(sel.chosen[x.passage], *x)
			}
		}
		if len(untold) == 0 {
			break
		}
		if err := e.tellAll(ctx, untold); err != nil { // the next problem knows what they mean
			return sel, err
		}
		for _, o := range c.taken {
			e.settle(at[o])
		}
	}
	sel.spare = e.spares(by, families, sel)
	for pi := range sel.chosen {
		slices.SortStableFunc(sel.chosen[pi], func(a, b candidate) int { return a.token - b.token })
	}
	return sel, nil
}

// mostBatches bounds how often more candidates of a lesson are asked for.
const mostBatches = 3

// settleFirst explains the best of each lesson until so many can be taught, or
// it has asked often enough.
func (e *engine) settleFirst(ctx context.Context, by [][]candidate, wanted int) error {
	next := make([]int, len(by)) // the first of each lesson that was not looked at
	good := make([]int, len(by))
	for range mostBatches {
		var batch []candidate
		to := slices.Clone(next)
		for pi, cs := range by {
			to[pi] = min(len(cs), next[pi]+max(0, wanted-good[pi]))
			batch = append(batch, cs[next[pi]:to[pi]]...)
		}
		if len(batch) == 0 {
			return nil
		}
		if err := e.tellAll(ctx, batch); err != nil {
			return err
		}
		for pi, cs := range by {
			for i := next[pi]; i < to[pi]; i++ {
				if e.settle(&cs[i]) {
					good[pi]++
				}
			}
		}
		next = to
	}
	return nil
}

// settle explains a candidate and judges it anew by the meaning that it has: a
// rare meaning of a common word is harder than the word. It reports whether it
// can be taught.
func (e *engine) settle(c *candidate) bool {
	m := e.tell(*c)
	if m.ok && !c.settled {
		c.settled = true
		c.hard += max(0, e.measure.Sense(m.sense)-e.measure.Word(m.sense.Lemma))
		c.parts.fit = fit(c.hard, e.grade)
		c.parts.told = 0.7 * m.sure
		if m.gloss.synonym != "" {
			c.parts.told += 0.3
		}
		c.value = e.weights.of(c.parts)
	}
	return m.ok && m.sure >= leastSure
}

// leastSure is how likely a meaning must be for its word to be chosen: a wrong
// meaning costs more trust than one word less (our choice, by reading).
const leastSure = 0.45

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

// spares are the next best of each lesson among those that were explained, for
// the teacher to choose from.
func (e *engine) spares(by [][]candidate, families map[string]int, sel selection) [][]candidate {
	taken := map[int]bool{}
	for _, cs := range sel.chosen {
		for _, c := range cs {
			taken[families[c.lemma]] = true
		}
	}
	out := make([][]candidate, len(by))
	for pi, cs := range by {
		for i := range cs {
			if t, told := e.tells[cs[i].token]; told && t.ok && len(out[pi]) < spares && !taken[families[cs[i].lemma]] {
				out[pi] = append(out[pi], cs[i])
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
	for _, other := range m.gloss.next {
		d.Content.Others = append(d.Content.Others, other.Meaning)
	}
	e.exercise(&d.Content, c)
	d.Warning = e.lex.Warning(d.Content.Sentence, d.Content.Meaning, d.Content.Synonym)
	return d
}
