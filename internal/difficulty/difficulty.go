// Package difficulty measures how hard a word is for a child who reads.
//
// There is one measure, a number of school grades: the grade in which four
// fifths of a class know the word ([Measure.Word]), and in one of its meanings
// ([Measure.Sense]). Below 1 lie the words that children bring to school, above
// 9 those that many grown-ups do not know. [Known] turns it into the share of a
// class that knows the word.
//
// The number is a weighted sum of what can be told of the word: how often it is
// heard, read in novels and in stories for children, and used to explain other
// words; its length, its beginning and its end; whether a word that it is made
// of is common; what kind of thing it means and how general that is. The weights
// (weights.tsv) are learned by cmd/difficultytrain from lists of the words that
// children know, Spache's and Dale and Chall's, and from openly licensed ratings
// of the difficulty of words in sentences (CompLex); features.go tells what is
// looked at. Norms of the age at which words are learned only measured it: it
// agrees with them at .68 to .70 (docs/words.md).
package difficulty

import (
	"math"
	"strings"
	"sync"

	"bookstead/internal/lexicon"
)

// Measure tells how hard words are. It is safe for concurrent use.
type Measure struct {
	lex     *lexicon.Lexicon
	weights map[string]float64
	known   sync.Map // word -> float64
}

// New returns the measure.
func New(lex *lexicon.Lexicon) *Measure { return &Measure{lex: lex, weights: weights()} }

const (
	easiest = 0
	hardest = 14
)

// Word returns the grade in which four fifths of a class know a lemma (or a form
// of it), from 0 to 14.
func (m *Measure) Word(word string) float64 {
	word = strings.ToLower(word)
	if d, ok := m.known.Load(word); ok {
		return d.(float64)
	}
	d := m.word(word)
	m.known.Store(word, d)
	return d
}

func (m *Measure) word(word string) float64 {
	if strings.Contains(word, " ") { // as hard as its hardest part, and a little for being an idiom
		d := 0.0
		for _, part := range strings.Fields(word) {
			d = max(d, m.Word(part))
		}
		return min(hardest, d+0.5)
	}
	if m.lex.Function(word) {
		return easiest
	}
	sum, met := m.weights[interceptName], false
	features(m.lex, word, func(name string, value float64) {
		sum += m.weights[name] * value
		met = met || evidence[name] && value > 0
	})
	if !met && !m.heard(word) {
		return unmet
	}
	return min(hardest, max(easiest, sum))
}

// unmet is the difficulty of what no list, book or dictionary of ours has: names,
// slips and inventions.
const unmet = 12

// evidence are the features that tell that a word is one.
var evidence = map[string]bool{"senses": true, "root": true, "parts": true, "spread": true, "tales": true}

func (m *Measure) heard(word string) bool {
	_, ok := m.lex.Zipf(word)
	return ok
}

// rare is how many grades a meaning gains for each e-fold by which it is rarer
// than the word's most usual one. Our choice.
const (
	rare     = 0.45
	rareMost = 3
)

// Sense returns the grade in which four fifths of a class know this meaning of
// a word: that of the word, more when the meaning is a rare one.
func (m *Measure) Sense(s lexicon.Sense) float64 {
	d := m.Word(s.Lemma)
	if s.Number <= 1 {
		return d
	}
	most := 0
	for _, other := range m.lex.Senses(s.Lemma, s.POS) {
		most = max(most, other.Count)
	}
	// Where nothing is tagged only the order tells.
	fold := math.Log((float64(most)+1)/(float64(s.Count)+1)) + 0.3*math.Log(float64(s.Number))
	return min(hardest, d+min(rareMost, rare*max(0, fold)))
}

// steepness is how many times the odds of knowing a word change in a grade, as a
// logarithm. Our choice; what is taught of growth in vocabulary (some 3,000 words
// a year among tens of thousands) is common practice without a source.
const steepness = 0.8

// Known is the share of a class of this grade, at its start, that knows a word of
// this difficulty.
func Known(difficulty float64, grade int) float64 {
	return 1 / (1 + math.Exp(-(math.Log(4) + steepness*(float64(grade)-difficulty))))
}
