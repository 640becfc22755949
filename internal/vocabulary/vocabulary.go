// Package vocabulary proposes the words of a lesson: vocabulary with the
// meaning it has on the page, background notes, and practice words for the
// early grades.
//
// [Draft] looks at the whole book at once, so that no word is taught twice and
// each stands where its sentence helps most. Every draft says why it was
// chosen. What a word means is asked of package sense, how hard it is of
// package difficulty; what cannot stand on a child's page never gets in.
package vocabulary

import (
	"context"

	"bookstead/internal/difficulty"
	"bookstead/internal/kit"
	"bookstead/internal/lexicon"
	"bookstead/internal/passage"
	"bookstead/internal/phonics"
)

// Options say how much to draft for each lesson.
type Options struct {
	Words       int
	Backgrounds int
	Practice    bool
	// Steps is the order in which the class is taught spellings, nil for the usual
	// one; Step is the one it has reached, 0 for what is usual in the grade.
	Steps *phonics.Sequence
	Step  int
	// Weights of the parts of the choice; the zero value is as usual.
	Weights Weights
	// Own are words that the teacher typed for the book.
	Own []Own
	// Known are lemmas that the class had before, with where ("Heidi, lesson 3").
	// They are not chosen; Review of them come back in each lesson where the text
	// has them again.
	Known  map[string]string
	Review int
}

// spares is how many more drafts than asked are offered for the teacher to
// choose from.
const spares = 4

// Draft returns the drafts of every passage, in the order of the passages.
func Draft(ctx context.Context, lex *lexicon.Lexicon, passages []passage.Passage, o Options) ([][]kit.Draft, error) {
	out := make([][]kit.Draft, len(passages))
	if len(passages) == 0 {
		return out, nil
	}
	e := newEngine(lex, passages, o)
	if o.Practice { // what knows sounds takes a while to load
		if err := e.readyToPractise(); err != nil {
			return nil, err
		}
	}
	background, terms := e.background()
	words, err := e.words(ctx, terms)
	if err != nil {
		return nil, err
	}
	for i := range passages {
		out[i] = append(out[i], background[i]...)
		if o.Practice {
			out[i] = append(out[i], e.practice(i)...)
		}
		out[i] = append(out[i], words[i]...)
	}
	return out, nil
}

type engine struct {
	lex      *lexicon.Lexicon
	glosser  *Glosser
	passages []passage.Passage
	o        Options
	weights  Weights
	grade    int
	measure  *difficulty.Measure
	seen     seen
	// What was found out once is kept: by word, by lemma, by sentence, by token.
	taught    map[string]bool
	kins      map[string]kin
	sentences map[int]float64
	tells     map[int]told
	spots     map[string][]spot
	reviewed  map[string]bool
	castNames map[string]bool
	tellers   []*Glosser
	zipfs     map[string]float64
	parted    map[string]float64 // difficulty by the parts of a lemma
	warned    map[int]bool
	// names are words that the book writes with a capital inside sentences more
	// often than not.
	names map[string]bool

	decoder *Decoder // for practice
	reached int
	// practised counts the lessons that had a word to practise.
	practised map[string]int
}

func newEngine(lex *lexicon.Lexicon, passages []passage.Passage, o Options) *engine {
	e := &engine{lex: lex, passages: passages, o: o, weights: o.Weights, grade: passages[0].Grade, measure: difficulty.New(lex),
		taught: map[string]bool{}, kins: map[string]kin{}, sentences: map[int]float64{}, tells: map[int]told{}, reviewed: map[string]bool{}, zipfs: map[string]float64{}, parted: map[string]float64{}, practised: map[string]int{}, warned: map[int]bool{}}
	if e.weights == (Weights{}) {
		e.weights = UsualWeights()
	}
	e.findNames()
	return e
}

// findNames counts capitals inside sentences, so that a name that the tagger
// missed is not taught as a word.
func (e *engine) findNames() {
	upper, lower := map[string]int{}, map[string]int{}
	d := e.passages[0].Doc
	for _, s := range d.Sentences {
		for i := s.First + 1; i < s.Last; i++ {
			t := d.Tokens[i]
			if c := t.Form[0]; c >= 'A' && c <= 'Z' {
				upper[fold(t.Form)]++
			} else if c >= 'a' && c <= 'z' {
				lower[t.Form]++
			}
		}
	}
	e.names = map[string]bool{}
	for w, n := range upper {
		if n > lower[w] {
			e.names[w] = true
		}
	}
}
