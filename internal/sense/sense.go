// Package sense chooses which meaning a word has where it stands.
//
// [Rank] orders the WordNet senses of a lemma by how usual they are and by how
// many words their definitions, examples and neighbours share with the passage
// (the overlap measure of Lesk 1986, extended to neighbouring synsets as in
// Banerjee & Pedersen 2003, with sense frequency as a prior). Senses that do
// not belong on a child's page come last and are never first.
package sense

import (
	"math"
	"slices"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// Ranked is a sense with its score; higher is likelier.
type Ranked struct {
	lexicon.Sense
	Score float64
}

// POSOf turns a universal part of speech into WordNet's; ok is false for words
// that WordNet does not hold.
func POSOf(upos string) (p lexicon.POS, ok bool) {
	switch upos {
	case "NOUN":
		return lexicon.Noun, true
	case "VERB":
		return lexicon.Verb, true
	case "ADJ":
		return lexicon.Adjective, true
	case "ADV":
		return lexicon.Adverb, true
	}
	return 0, false
}

// Context is the bag of content lemmas around a token: those of its sentence
// count double, those within window tokens once.
type Context map[string]float64

// Around collects the context of token i.
func Around(d *lang.Doc, i, window int) Context {
	c := Context{}
	sent := d.SentenceAt(d.Tokens[i].Start)
	for j := max(0, i-window); j < min(len(d.Tokens), i+window+1); j++ {
		t := d.Tokens[j]
		if _, ok := POSOf(t.UPOS); !ok || j == i {
			continue
		}
		w := 1.0
		if s := d.Sentences[sent]; s.First <= j && j < s.Last {
			w = 2
		}
		l := strings.ToLower(t.Lemma)
		c[l] = max(c[l], w)
	}
	return c
}

// Rank orders the senses of a lemma, the likeliest first. Nil when WordNet does
// not know it.
func Rank(lex *lexicon.Lexicon, lemma string, pos lexicon.POS, c Context) []Ranked {
	senses := lex.Senses(lemma, pos)
	out := make([]Ranked, len(senses))
	for i, s := range senses {
		// The prior is the tagged count with one for each sense, so that a word
		// tagged nowhere still prefers WordNet's order.
		score := math.Log(float64(s.Count)+1) + 1/float64(s.Number)
		score += 0.7 * math.Log1p(overlap(lex, s, c))
		if s.Offensive {
			score -= 100
		}
		out[i] = Ranked{s, score}
	}
	slices.SortStableFunc(out, func(a, b Ranked) int {
		switch {
		case a.Score > b.Score:
			return -1
		case a.Score < b.Score:
			return 1
		}
		return 0
	})
	return out
}

// overlap sums the weights of context words in the sense's definition and
// examples and, at half weight, in its hypernyms'.
func overlap(lex *lexicon.Lexicon, s lexicon.Sense, c Context) float64 {
	sum := 0.0
	seen := map[string]bool{}
	add := func(text string, weight float64) {
		for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r < 'a' || r > 'z' }) {
			if len(w) < 4 || seen[w] || lex.Function(w) {
				continue
			}
			seen[w] = true
			if x, ok := c[w]; ok {
				sum += weight * x
			} else if x, ok := c[strings.TrimSuffix(w, "s")]; ok {
				sum += weight * x
			}
		}
	}
	add(s.Gloss, 1)
	for _, e := range s.Examples {
		add(e, 1)
	}
	for _, y := range s.Synonyms {
		add(y.Lemma, 1)
	}
	for _, h := range lex.Hypernyms(s.Synset) {
		if sy, ok := lex.Synset(h); ok {
			add(sy.Gloss, 0.5)
			for _, y := range sy.Lemmas {
				add(y.Lemma, 0.5)
			}
		}
	}
	return sum
}
