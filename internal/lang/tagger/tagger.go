// Package tagger gives words their part of speech (universal and Penn) and
// their features (number, tense, person, degree …), fast.
//
// A [Model] is an averaged perceptron that reads a sentence from left to right
// and chooses for each word one of about a hundred labels: a pair of tags and
// the features that only context can tell (a command from an infinitive, "you"
// the subject from "you" the object). It sees the words around, their beginnings
// and ends, the labels that it knows a word can have, the company that a word
// keeps in novels, and the labels that it chose before. The remaining features
// follow from label and word. Weights are whole numbers of one byte, so every
// machine gives the same tags; see MODEL.md. Start with [Load] and [Model.Tag].
package tagger

import (
	_ "embed"

	"bookstead/internal/lang"
)

//go:embed model.bin
var packed []byte

// Load returns the model that is built in.
func Load() (*Model, error) { return Read(packed) }

// Label is what the perceptron chooses between.
type Label struct {
	UPOS, XPOS string
	Feats      string // usual features, in CoNLL-U form, "" for none
}

// Model holds labels, lexicon and weights. It does not change once loaded and
// may be used from several goroutines, each with a [Tagger] of its own.
type Model struct {
	labels  []Label
	feats   map[featKey]string // of words whose features are not their label's
	words   map[uint32]entry   // by hash of the form in small letters
	weights table
}

// entry is what is known of a word.
type entry struct {
	class   uint8 // which labels it can have, hashed; 0 unknown
	cluster uint8 // the company that it keeps, 0 unknown
	sure    uint8 // the label that it always has, +1; 0 when there is none
	common  bool  // seen often: its letters tell nothing more
}

type featKey struct {
	word  uint32
	label uint8
}

// Tagger tags sentences with a model. It keeps what it worked out about words,
// and is not safe for concurrent use.
type Tagger struct {
	m     *Model
	seen  map[string]*word
	words []*word
	chose []uint8
	score []int32
}

// NewTagger returns a tagger on the model.
func (m *Model) NewTagger() *Tagger {
	return &Tagger{m: m, seen: make(map[string]*word, 4096), score: make([]int32, len(m.labels))}
}

// Tag fills UPOS, XPOS and Feats of a sentence's tokens.
func (t *Tagger) Tag(tokens []lang.Token) {
	t.read(tokens)
	for i := range tokens {
		label := t.choose(i)
		t.chose[i+2] = label
		l := &t.m.labels[label]
		tokens[i].UPOS, tokens[i].XPOS, tokens[i].Feats = l.UPOS, l.XPOS, t.m.featsOf(t.words[i+2], label)
	}
}

// read looks the sentence's words up; two empty places stand before and behind.
func (t *Tagger) read(tokens []lang.Token) {
	n := len(tokens) + 4
	if cap(t.words) < n {
		t.words, t.chose = make([]*word, n), make([]uint8, n)
	}
	t.words, t.chose = t.words[:n], t.chose[:n]
	t.words[0], t.words[1], t.words[n-2], t.words[n-1] = &before, &before, &behind, &behind
	t.chose[0], t.chose[1] = noLabel, noLabel
	for i := range tokens {
		t.words[i+2] = t.look(tokens[i].Form)
	}
}

// look returns what is known of a form, from memory if it was seen before.
func (t *Tagger) look(form string) *word {
	if w, ok := t.seen[form]; ok {
		return w
	}
	w := t.m.newWord(form)
	if len(t.seen) >= maxSeen {
		clear(t.seen)
	}
	t.seen[form] = w
	return w
}

// maxSeen bounds a tagger's memory; a novel has about 10,000 different words.
const maxSeen = 1 << 16

// choose returns the best label of word i.
func (t *Tagger) choose(i int) uint8 {
	if s := t.words[i+2].entry.sure; s > 0 {
		return s - 1
	}
	clear(t.score)
	c := context{t.words, t.chose, i + 2}
	var keys [maxFeatures]uint32
	for _, k := range c.features(keys[:0]) {
		for _, w := range t.m.weights.row(k) {
			t.score[w.label] += int32(w.value)
		}
	}
	best := 0
	for l, s := range t.score {
		if s > t.score[best] {
			best = l
		}
	}
	return uint8(best)
}
