// Package lang is the model of analysed English: one immutable text and layers
// of annotation that lie on it, as an annotator found them.
//
// A [Doc] is built by the tokenizer and the sentence splitter, and filled by
// annotators (tags, trees, names, quotations) that each declare the [Layer]s
// they need and give. A layer that was not run is told apart from one that
// found nothing: ask [Doc.Has]. Annotators live in child packages; their order
// is plain code in lang/english. Names and values follow Universal
// Dependencies (https://universaldependencies.org).
package lang

import (
	"context"
	"unicode"
)

// Span is a half-open range: of bytes in Doc.Text where it is named Start/End,
// of token or sentence indices where a field says so.
type Span struct {
	Start int `json:"start"`
	End   int `json:"end"`
}

// Token is one syntactic word. "don't" is two tokens, "do" and "n't", that
// share a surface token (see Multi).
type Token struct {
	Start, End int    // bytes in Doc.Text
	Form       string // as printed, a substring of the text
	Lemma      string // dictionary form, LayerLemmas
	UPOS       string // universal part of speech, LayerTags
	XPOS       string // Penn Treebank tag, LayerTags
	Feats      string // UD features as in CoNLL-U ("Number=Plur|..."), LayerTags
	Head       int    // index in Doc.Tokens of the head, -1 for the root, LayerTrees
	Deprel     string // UD relation, LayerTrees
	// Multi is 0 for a word alone, else the number of tokens in its surface
	// token, on the first of them; the others carry -1.
	Multi int8
}

// SentenceType is what a sentence does.
type SentenceType string

const (
	Statement   SentenceType = "statement"
	Question    SentenceType = "question"
	Command     SentenceType = "command"
	Exclamation SentenceType = "exclamation"
	Fragment    SentenceType = "fragment"
)

// Sentence is a range of tokens. Sentences tile Doc.Tokens and never cross a
// paragraph.
type Sentence struct {
	First, Last int // token indices, half-open [First, Last)
	Paragraph   int // index into Doc.Paragraphs
	Type        SentenceType
}

// Paragraph is a stretch of text that sentences do not cross: a paragraph, a
// heading, a stanza (whose lines are separated by \n).
type Paragraph struct {
	Start, End int    // bytes
	Kind       string // book.BlockKind, "paragraph" when unknown
	// Skip marks what is no English prose (another language, a table of
	// figures): it has tokens and sentences, but its words are tagged X and no
	// annotator need look further. Doc.Skipped tells why.
	Skip bool
}

// CastKind says what a member of the cast is.
type CastKind string

const (
	Person CastKind = "person"
	Animal CastKind = "animal"
	Group  CastKind = "group"
	Place  CastKind = "place"
)

// Mention is one naming of a member of the cast.
type Mention struct {
	Start, End int // bytes
	// Form is how it is named: "name", "nominal" ("the old man") or "pronoun".
	Form       string
	Confidence float64 // 0..1
}

// Member is one entry of the cast: a character or a place with all its names.
type Member struct {
	ID       string // stable in one analysis: "c1", "c2", … by first appearance
	Name     string // the fullest name that the book uses
	Aliases  []string
	Kind     CastKind
	Gender   string    // "female", "male" or "" when not known
	Title    string    // "Mrs.", "Captain", …
	Mentions []Mention // in order
}

// Quotation is one direct quotation.
type Quotation struct {
	Start, End int    // bytes, quotation marks included, from the first to the last part
	Parts      []Span // the quoted stretches, when broken by "said he"
	Speaker    string // Member.ID, "" when not known
	Addressee  string // Member.ID, "" when not known
	// Cue is the span of the words that tell who speaks ("said Mary"), empty when none.
	Cue        Span
	Confidence float64 // of the speaker, 0..1
}

// Scene is a stretch with one time, place and company.
type Scene struct {
	Start, End int
	Break      string   // why it starts: "chapter", "mark", "time", "place", "cast"
	Place      string   // Member.ID or ""
	Present    []string // Member.IDs, most mentioned first
}

// Event is who did what to whom.
type Event struct {
	Start, End int    // bytes of the clause
	Verb       int    // token index of the predicate
	Agent      string // Member.ID or ""
	Patient    string // Member.ID or ""
	Negated    bool
	// Modality is "" for told as fact, else "wished", "ordered", "asked", "supposed" or "said".
	Modality string
	// Cause and Purpose are spans of the words that state them, empty when none.
	Cause, Purpose Span
	Time, Place    Span
}

// Figure is a turn of phrase.
type Figure struct {
	Start, End int
	Kind       string // "simile", "idiom", "proverb", "personification", "hyperbole", "metaphor"
	Note       string // the parts that make it one, or the idiom's meaning
}

// Layer is a kind of annotation.
type Layer uint16

const (
	LayerTokens Layer = 1 << iota
	LayerSentences
	LayerTags
	LayerLemmas
	LayerTrees
	LayerTypes
	LayerCast
	LayerQuotations
	LayerScenes
	LayerEvents
	LayerFigures
)

// Doc is a text with its layers.
type Doc struct {
	Text       string
	Paragraphs []Paragraph
	Tokens     []Token
	Sentences  []Sentence
	Cast       []Member
	Quotations []Quotation
	Scenes     []Scene
	Events     []Event
	Figures    []Figure
	// Meanings weighs word senses by what was read; nil when nothing did.
	Meanings Meanings
	// Skipped says in words what was not analysed and why.
	Skipped []string
	done    Layer
}

// Meanings says how well the meanings of a word fit where it stands.
type Meanings interface {
	// Senses returns how likely each of the sense keys (of WordNet 3.1) is for
	// the word of this token; what it returns sums to 1. Keys it does not know get
	// 0 beside others that it does; where it knows none all are equally likely.
	Senses(token int, keys []string) []float64
}

// Has reports whether all these layers were run.
func (d *Doc) Has(l Layer) bool { return d.done&l == l }

// Done records that layers were run.
func (d *Doc) Done(l Layer) { d.done |= l }

// SentenceSpan returns the bytes of sentence i, from its first token to its last.
func (d *Doc) SentenceSpan(i int) Span {
	s := d.Sentences[i]
	return Span{d.Tokens[s.First].Start, d.Tokens[s.Last-1].End}
}

// SentenceAt returns the index of the sentence that holds the byte offset or,
// when it lies between two, the one before; -1 before the first.
func (d *Doc) SentenceAt(offset int) int {
	lo, hi := 0, len(d.Sentences)
	for lo < hi {
		m := (lo + hi) / 2
		if d.Tokens[d.Sentences[m].First].Start <= offset {
			lo = m + 1
		} else {
			hi = m
		}
	}
	return lo - 1
}

// TokenAt returns the index of the first token that ends behind the offset;
// len(Tokens) when there is none.
func (d *Doc) TokenAt(offset int) int {
	lo, hi := 0, len(d.Tokens)
	for lo < hi {
		m := (lo + hi) / 2
		if d.Tokens[m].End <= offset {
			lo = m + 1
		} else {
			hi = m
		}
	}
	return lo
}

// SpaceAfter reports whether anything stands between token i and the next.
func (d *Doc) SpaceAfter(i int) bool {
	return i+1 >= len(d.Tokens) || d.Tokens[i].End < d.Tokens[i+1].Start
}

// Member returns the cast entry with this id, nil if there is none.
func (d *Doc) Member(id string) *Member {
	for i := range d.Cast {
		if d.Cast[i].ID == id {
			return &d.Cast[i]
		}
	}
	return nil
}

// Annotator adds layers to a Doc.
type Annotator interface {
	// Needs are the layers that must have been run.
	Needs() Layer
	// Gives are the layers that Annotate runs.
	Gives() Layer
	// Annotate fills its layers in place and marks them done. It stops early,
	// leaving them not done, when ctx ends.
	Annotate(ctx context.Context, d *Doc) error
}

// IsWord reports whether a form starts with a letter, behind at most one
// apostrophe ('tis), rather than a figure or a mark.
func IsWord(form string) bool {
	for i, r := range form {
		if unicode.IsLetter(r) {
			return true
		}
		if i > 0 || r != '\'' && r != '’' && r != '‘' {
			return false
		}
	}
	return false
}
