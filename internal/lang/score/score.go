// Package score measures an analysis against a gold one, from raw text, by the
// definitions of the CoNLL 2018 shared task: F1 of sentences, tokens, words,
// tags, lemmas and trees, whatever the two tokenisations are.
//
// Both sides are [lang.Doc]s of the same characters (white space aside). Tokens
// and sentences count as right when they cover the same characters. Words are
// matched by their characters too, but around multiword tokens by the longest
// common subsequence of their forms; everything else is counted on matched
// words. Start with [Compare].
//
// Source: the task's conll18_ud_eval.py, version 1.2 of 25 June 2018 (Straka
// and Popel), and http://universaldependencies.org/conll18/evaluation.html.
package score

import (
	"fmt"
	"strings"
	"unicode"

	"bookstead/internal/lang"
)

// F is one measure: how many the gold has, how many the system gave and how
// many of these are right.
type F struct{ Gold, System, Correct int }

// F1 is the harmonic mean of precision and recall, 0 when there is nothing.
func (f F) F1() float64 {
	if f.Gold+f.System == 0 {
		return 0
	}
	return 2 * float64(f.Correct) / float64(f.Gold+f.System)
}

// Add sums two counts, for a score over several documents.
func (f F) Add(g F) F { return F{f.Gold + g.Gold, f.System + g.System, f.Correct + g.Correct} }

// Result holds the measures of the task. Feats compares universal features
// alone; UAS and LAS count punctuation; LAS, CLAS and MLAS cut relations to
// their universal part ("nsubj" for "nsubj:pass").
type Result struct {
	Tokens, Sentences, Words           F
	UPOS, XPOS, Feats, AllTags, Lemmas F
	UAS, LAS, CLAS, MLAS, BLEX         F
}

// Compare scores a system's Doc against the gold one. It fails when their
// characters differ: then one of them lost or changed text.
func Compare(gold, system *lang.Doc) (Result, error) {
	g, s := newSide(gold), newSide(system)
	if g.chars != s.chars {
		i := 0
		for i < len(g.chars) && i < len(s.chars) && g.chars[i] == s.chars[i] {
			i++
		}
		return Result{}, fmt.Errorf("comparing analyses: the texts differ at byte %d: %.20q in the gold, %.20q in the system", i, g.chars[i:], s.chars[i:])
	}
	pairs := align(g.words, s.words)
	c := counter{pairs: pairs, gold: g.words, system: s.words, goldOf: make(map[*word]*word, len(pairs))}
	for _, p := range pairs {
		c.goldOf[p.system] = p.gold
	}
	r := Result{Tokens: spans(g.tokens, s.tokens), Sentences: spans(g.sentences, s.sentences)}
	all := func(*word) bool { return true }
	content := func(w *word) bool { return contentRels[w.rel] }
	r.Words = c.count(all, func(a, b *word) bool { return true })
	upos := func(a, b *word) bool { return a.UPOS == b.UPOS }
	xpos := func(a, b *word) bool { return a.XPOS == b.XPOS }
	feats := func(a, b *word) bool { return a.feats == b.feats }
	// A gold lemma that was left open is right whatever the system says.
	lemma := func(a, b *word) bool { return a.Lemma == "" || a.Lemma == "_" || a.Lemma == b.Lemma }
	head := func(a, b *word) bool { return c.sameGold(a.head, b.head) }
	rel := func(a, b *word) bool { return a.rel == b.rel }
	r.UPOS = c.count(all, upos)
	r.XPOS = c.count(all, xpos)
	r.Feats = c.count(all, feats)
	r.AllTags = c.count(all, upos, xpos, feats)
	r.Lemmas = c.count(all, lemma)
	r.UAS = c.count(all, head)
	r.LAS = c.count(all, head, rel)
	r.CLAS = c.count(content, head, rel)
	r.MLAS = c.count(content, head, rel, upos, feats, c.sameFunction)
	r.BLEX = c.count(content, head, rel, lemma)
	return r, nil
}

// word is one syntactic word with its place among the characters.
type word struct {
	*lang.Token
	form       string // lower case, without blanks
	start, end int    // of its surface token
	multi      bool
	head       *word
	rel        string
	feats      string
	function   []*word // children with a functional relation
}

type span struct{ start, end int }

type side struct {
	chars             string
	tokens, sentences []span
	words             []*word
}

func newSide(d *lang.Doc) *side {
	s := &side{}
	var chars strings.Builder
	for i := 0; i < len(d.Tokens); {
		last := i + max(1, int(d.Tokens[i].Multi))
		surface := d.Tokens[i].Form
		if last > i+1 {
			surface = d.Text[d.Tokens[i].Start:d.Tokens[last-1].End]
		}
		start := chars.Len()
		chars.WriteString(noBlanks(surface))
		s.tokens = append(s.tokens, span{start, chars.Len()})
		for ; i < last; i++ {
			t := &d.Tokens[i]
			rel, _, _ := strings.Cut(t.Deprel, ":")
			s.words = append(s.words, &word{Token: t, form: strings.ToLower(noBlanks(t.Form)), start: start, end: chars.Len(),
				multi: t.Multi != 0, rel: rel, feats: universal(t.Feats)})
		}
	}
	s.chars = chars.String()
	for _, w := range s.words {
		if w.Head >= 0 {
			w.head = s.words[w.Head]
			if functionRels[w.rel] {
				w.head.function = append(w.head.function, w)
			}
		}
	}
	for _, st := range d.Sentences {
		s.sentences = append(s.sentences, span{s.words[st.First].start, s.words[st.Last-1].end})
	}
	return s
}

func noBlanks(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Zs, r) {
			return -1
		}
		return r
	}, s)
}

func spans(gold, system []span) F {
	f := F{Gold: len(gold), System: len(system)}
	for g, s := 0, 0; g < len(gold) && s < len(system); {
		switch {
		case system[s].start < gold[g].start:
			s++
		case gold[g].start < system[s].start:
			g++
		default:
			if gold[g].end == system[s].end {
				f.Correct++
			}
			g, s = g+1, s+1
		}
	}
	return f
}

type counter struct {
	pairs        []pair
	gold, system []*word
	goldOf       map[*word]*word
}

func (c *counter) count(keep func(*word) bool, tests ...func(gold, system *word) bool) F {
	var f F
	for _, w := range c.gold {
		if keep(w) {
			f.Gold++
		}
	}
	for _, w := range c.system {
		if keep(w) {
			f.System++
		}
	}
pairs:
	for _, p := range c.pairs {
		if !keep(p.gold) {
			continue
		}
		for _, same := range tests {
			if !same(p.gold, p.system) {
				continue pairs
			}
		}
		f.Correct++
	}
	return f
}

// sameGold reports whether a system word is matched to this gold word; two
// roots (nil) are the same.
func (c *counter) sameGold(gold, system *word) bool {
	if gold == nil || system == nil {
		return gold == system
	}
	return c.goldOf[system] == gold
}

func (c *counter) sameFunction(gold, system *word) bool {
	if len(gold.function) != len(system.function) {
		return false
	}
	for i, a := range gold.function {
		b := system.function[i]
		if c.goldOf[b] != a || a.rel != b.rel || a.UPOS != b.UPOS || a.feats != b.feats {
			return false
		}
	}
	return true
}
