package vocabulary

import (
	"fmt"
	"slices"

	"bookstead/internal/kit"
	"bookstead/internal/sense"
)

// mostReviewSpares is how many words that the class had before are offered in a
// lesson beyond those asked for.
const mostReviewSpares = 2

// review brings words back that the class had in an earlier book, where the
// text has them again: Options.Review of them in each lesson, and a few more to
// choose from. Each comes back once in a book, at its first place.
func (e *engine) review(pi int) []kit.Draft {
	if len(e.o.Known) == 0 {
		return nil
	}
	p := e.passages[pi]
	var cs []candidate
	for si := p.First; si < p.Last; si++ {
		if !p.Prose(si) {
			continue
		}
		for i := p.Doc.Sentences[si].First; i < p.Doc.Sentences[si].Last; i++ {
			t := &p.Doc.Tokens[i]
			lemma := fold(t.Lemma)
			pos, ok := sense.POSOf(t.UPOS)
			if _, had := e.o.Known[lemma]; !had || !ok || e.reviewed[lemma] || !plain(t.Form) || t.Multi != 0 || !e.teachable(lemma, t.Form, pos) {
				continue
			}
			e.reviewed[lemma] = true
			c := candidate{passage: pi, sentence: si, token: i, lemma: lemma, pos: pos, hard: e.hard(lemma, t.Form)}
			e.weigh(&c)
			if e.tell(c).ok {
				cs = append(cs, c)
			}
		}
	}
	slices.SortStableFunc(cs, func(a, b candidate) int { return cmp(b.value, a.value) })
	var out []kit.Draft
	for n, c := range cs[:min(len(cs), e.o.Review+mostReviewSpares)] {
		d := e.draft(c, n >= e.o.Review)
		d.Why = fmt.Sprintf("For review: your class had it in %s, and here it comes again.", e.o.Known[c.lemma])
		out = append(out, d)
	}
	return out
}
