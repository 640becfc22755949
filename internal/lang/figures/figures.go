// Package figures finds turns of phrase: similes, idioms and proverbs,
// personification and hyperbole, each with its words, what makes it one, and a
// score from 0 to 1 of how surely it is one.
//
// [Finder] fills Doc.Figures. A simile compares unlike things ("as white as
// milk", "ran like a deer", "as if it were alive"); comparisons of like with
// like ("as tall as his father") and turns that only look so ("as well as", "as
// soon as") are passed over (simile.go). Idioms and proverbs are those of our
// lists, idioms.txt and proverbs.txt, matched by dictionary forms, with what
// they mean in plain words (idiom.go). Personification is a thing, not of the
// cast, that does what people do or feels what people feel, by WordNet's
// classes (person.go). Hyperbole is matched by its usual forms (hyperbole.go).
//
// Where two overlap the surer stays. What holds or explains itself by a word
// that the lexicon keeps from a child's page is left out. Figures with a score
// under [Least] are left out too. It needs trees and the cast.
package figures

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// Least is the score under which a candidate is no figure.
const Least = 0.4

// Kinds of figure.
const (
	Simile          = "simile"
	Idiom           = "idiom"
	Proverb         = "proverb"
	Personification = "personification"
	Hyperbole       = "hyperbole"
)

// Finder is the annotator of LayerFigures.
type Finder struct{}

// Needs says what must have been run.
func (Finder) Needs() lang.Layer {
	return lang.LayerTokens | lang.LayerSentences | lang.LayerTags | lang.LayerLemmas | lang.LayerTrees | lang.LayerCast
}

// Gives says what is run.
func (Finder) Gives() lang.Layer { return lang.LayerFigures }

// Annotate fills Doc.Figures.
func (Finder) Annotate(ctx context.Context, d *lang.Doc) error {
	lex, err := lexicon.Open()
	if err != nil {
		return fmt.Errorf("finding figures of speech: %w", err)
	}
	f := &finder{d: d, lex: lex, tree: lang.NewTree(d), refs: d.Refs(), classes: map[string]string{}, idioms: readIdioms(idiomList), proverbs: readProverbs(proverbList)}
	for si := range d.Sentences {
		if si%512 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		p := &d.Paragraphs[d.Sentences[si].Paragraph]
		if p.Skip {
			continue
		}
		switch p.Kind {
		case "heading", "caption", "note", "scenebreak", "contents":
			continue
		}
		f.sentence(d.Sentences[si])
	}
	d.Figures = f.chosen()
	d.Done(lang.LayerFigures)
	return nil
}

type finder struct {
	d        *lang.Doc
	lex      *lexicon.Lexicon
	tree     *lang.Tree
	refs     []lang.Ref
	classes  map[string]string
	idioms   map[string][]idiom
	proverbs map[string][]idiom
	out      []lang.Figure
	s        lang.Sentence // that is looked at
}

func (f *finder) sentence(s lang.Sentence) {
	f.s = s
	for i := s.First; i < s.Last; i++ {
		f.matchProverb(i)
		f.matchIdiom(i)
		f.like(i)
		f.as(i)
		f.asIf(i)
		f.person(i)
		f.exaggerate(i)
	}
}

// add notes the figure of tokens first..last.
func (f *finder) add(kind string, first, last int, score float64, note string) {
	if score < Least {
		return
	}
	f.out = append(f.out, lang.Figure{Start: f.d.Tokens[first].Start, End: f.d.Tokens[last].End, Kind: kind, Note: note, Score: score})
}

// chosen are the figures that are fit for a child's page, the surest where some
// overlap, in order of the text.
func (f *finder) chosen() []lang.Figure {
	slices.SortStableFunc(f.out, func(a, b lang.Figure) int {
		return cmp.Or(cmp.Compare(b.Score, a.Score), a.Start-b.Start, b.End-a.End)
	})
	var taken []lang.Figure
	for _, x := range f.out {
		if f.lex.Warning(f.d.Text[x.Start:x.End], x.Note) == "" {
			taken = append(taken, x)
		}
	}
	slices.SortStableFunc(taken, func(a, b lang.Figure) int { return a.Start - b.Start })
	var out []lang.Figure
	for _, x := range taken {
		// Each overlaps those before it at the end of the list alone.
		for len(out) > 0 && out[len(out)-1].End > x.Start && x.Score > out[len(out)-1].Score {
			out = out[:len(out)-1]
		}
		if len(out) == 0 || out[len(out)-1].End <= x.Start {
			out = append(out, x)
		}
	}
	return out
}

func (f *finder) low(i int) string {
	if i < f.s.First || i >= f.s.Last {
		return ""
	}
	return fold(f.d.Tokens[i].Form)
}

func (f *finder) lemma(i int) string {
	if i < f.s.First || i >= f.s.Last {
		return ""
	}
	return fold(f.d.Tokens[i].Lemma)
}

func fold(s string) string { return strings.ReplaceAll(strings.ToLower(s), "’", "'") }

func (f *finder) rel(i int) string { return lang.Relation(f.d.Tokens[i].Deprel) }

// class is the WordNet class of a lemma, looked up once.
func (f *finder) class(lemma string, pos lexicon.POS) string {
	key := string(pos) + lemma
	c, ok := f.classes[key]
	if !ok {
		c = f.lex.Class(lemma, pos)
		f.classes[key] = c
	}
	return c
}

// text is the text of tokens first..last in one line.
func (f *finder) text(first, last int) string {
	return strings.Join(strings.Fields(f.d.Text[f.d.Tokens[first].Start:f.d.Tokens[last].End]), " ")
}

// phrase returns the first and the last token of the noun phrase of head i:
// without relative clauses and what stands before its determiner.
func (f *finder) phrase(i int) (first, last int) {
	sp := f.tree.Span(i, func(c int) bool {
		switch r := f.rel(c); r {
		case "case", "mark", "cop", "nsubj", "punct", "conj", "cc", "appos", "advcl", "parataxis", "aux", "dep":
			return true
		case "advmod":
			return true
		case "acl":
			return c > i+6 || f.d.Tokens[c].Deprel == "acl:relcl" && c > i+5
		}
		return false
	})
	first, last = f.d.TokenAt(sp.Start), f.d.TokenAt(sp.End-1)
	for k := i + 1; k <= last; k++ { // "sardines, who all rose …", "a snout than a nose"
		if w := f.low(k); f.d.Tokens[k].UPOS == "PUNCT" && w != "-" || w == "than" || w == "off" || w == "when" || w == "while" {
			last = k - 1
			break
		}
	}
	return first, last
}

func words(s string) map[string]bool {
	m := map[string]bool{}
	for w := range strings.FieldsSeq(s) {
		m[w] = true
	}
	return m
}
