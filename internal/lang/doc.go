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
	// Form is how it is named: "name", "nominal" ("the old man"), "pronoun", or
	// "title" for the "Mrs." inside the name "Mrs. Hall".
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
	Cue Span
	// Verb, Who and To are the tokens in it that tell of speaking, head the words
	// for who does, and for whom it is said to; -1 when there is none.
	Verb, Who, To int
	Confidence    float64 // of the speaker, 0..1
}

// Scene is a stretch with one time, place and company. Scenes lie in order,
// without overlap; headings stand outside them.
type Scene struct {
	Start, End int
	Break      string // why it starts: "chapter", "mark", "time", "place", "cast"
	// Cue are the words that tell of the break ("The next morning"), empty when
	// none does.
	Cue   Span
	Place string // Member.ID of the place, "" when it has no name or is not told
	Where Span   // the words that tell where, empty when none do
	When  Span   // the words that tell when, empty when none do
	// Present are the Member.IDs of those who act or speak in it, most mentioned
	// first; who is only spoken of is not among them.
	Present []string
}

// Role is a participant or a circumstance of an event: its words and, where the
// cast knows it, whom or what they name.
type Role struct {
	Start, End int    // bytes; empty when the event has no such role
	Head       int    // token index of the head of the words
	Member     string // Member.ID or ""
	Confidence float64
}

// None reports that the event has no such role.
func (r Role) None() bool { return r.End <= r.Start }

// Modality says how an event is told.
type Modality string

const (
	Told        Modality = ""            // as fact
	Said        Modality = "said"        // somebody says or thinks so
	Wished      Modality = "wished"      // wanted, tried or meant
	Ordered     Modality = "ordered"     // commanded or begged for
	Asked       Modality = "asked"       // part of a question
	Supposed    Modality = "supposed"    // possible, needed, to come, seeming
	Conditional Modality = "conditional" // depends on an "if", or is one
)

// Event is who did what to whom, where, when and with what: one clause.
type Event struct {
	Start, End int // bytes of the clause without the clauses that hang on it
	Sentence   int
	Verb       int    // token index of the predicate: a verb, or what somebody is
	Lemma      string // "pick up", "be afraid"
	// Subject acts, or is what the clause says it is; Object undergoes, Recipient
	// receives. They are by meaning: the subject of "was bitten by a dog" is the dog.
	Subject, Object, Recipient Role
	// Their words are without a preposition; "look at" is a verb with an Object.
	// Place, Time and With (an instrument or company) are told with theirs.
	Place, Time, With Role
	Agent, Patient    string // Member.ID of Subject and Object, or ""
	Negated           bool
	Modality          Modality
	// Saying is the index of the quotation that the event is told in, -1 when it
	// is told by the teller.
	Saying int
	Main   bool // the main clause of its sentence, or joined to it by "and"
	// Earlier marks what is told as past already then ("had gone").
	Earlier bool
	// Stative marks what is so, rather than what happens.
	Stative bool
	// Cause and Purpose are spans of the words that state them, empty when none.
	Cause, Purpose Span
	// Importance is how much the story hangs on it, 0..1; Reasons tell why.
	Importance float64
	Reasons    []string
}

// Link is a relation between two events that the text states.
type Link struct {
	Kind     LinkKind
	From, To int // indices of Doc.Events
	// Cue are the words that state it ("because", "so that").
	Cue Span
}

// LinkKind says how From stands to To.
type LinkKind string

const (
	Causes    LinkKind = "cause"     // From is why To happens
	Serves    LinkKind = "purpose"   // From is done so that To may happen
	Precedes  LinkKind = "before"    // From happens before To
	Overlaps  LinkKind = "while"     // From happens while To does
	IfThen    LinkKind = "condition" // To happens if From does
	Although  LinkKind = "although"  // To happens in spite of From
	Reporting LinkKind = "says"      // From says, thinks, wants or orders To
)

// Figure is a turn of phrase.
type Figure struct {
	Start, End int
	Kind       string  // "simile", "idiom", "proverb", "personification", "hyperbole"
	Note       string  // the parts that make it one, or the idiom's meaning
	Score      float64 // how surely it is one, 0..1
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
	Events     []Event // in order of the text
	Links      []Link  // between Events, in order of To
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
	// Word returns the vector of a form by itself, of length 1: forms that are used
	// alike have vectors with a great product.
	Word(form string) []float32
	// Fits reads a place, the tokens [first, last) of one sentence, without the words
	// that stand there, and returns how well a form would stand in it: a logarithm,
	// comparable in one place, that leaves out how frequent the form is. Nil where
	// that cannot be told.
	Fits(d *Doc, first, last int) func(form string) float64
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
