// Package events finds what happens: who did what to whom, where, when and with
// what, as each clause tells it, and the links between events that the text
// itself states.
//
// [Finder] fills Doc.Events and Doc.Links from the trees. Every clause with a
// verb, or with somebody or something that "is" so, is one [lang.Event]. Its
// roles are taken by meaning: a passive is turned round, what one clause leaves
// out is taken from the clause it hangs on ("Mary ran and hid": both are
// Mary's), "who" and "which" are what they stand for, "I" and "you" in speech
// are speaker and hearer. Roles carry cast ids where Doc.Cast knows them
// (clause.go, roles.go). [lang.Modality] says whether an event is told as fact,
// said, wished, ordered, asked, supposed or conditional, and Saying in whose
// speech (modality.go). Links are stated by words ("because", "so that", "to
// find", "after") within a sentence, or at the head of the next ("So …",
// "That was why …"); nothing is guessed (links.go).
//
// Each event has an Importance from 0 to 1 with its Reasons (weight.go):
// whether people of the book act in it and on one another, whether something
// is changed, caused or intended by it, whether words of turning ("suddenly",
// "at last") stand by it, whether what it speaks of returns later in the book,
// and whether the teller tells it as fact. It orders events within a lesson;
// it is no probability.
//
// A reader of the result who wants the story alone takes events with Saying
// -1 and Modality Told; [Story] yields these. [InSpan] cuts out a lesson's.
// It needs trees, cast and quotations.
package events

import (
	"context"
	"fmt"
	"sort"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// Finder is the annotator of LayerEvents.
type Finder struct{}

// Needs says what must have been run.
func (Finder) Needs() lang.Layer {
	return lang.LayerTokens | lang.LayerSentences | lang.LayerTags | lang.LayerLemmas | lang.LayerTrees | lang.LayerTypes | lang.LayerCast | lang.LayerQuotations
}

// Gives says what is run.
func (Finder) Gives() lang.Layer { return lang.LayerEvents }

// Annotate fills Doc.Events and Doc.Links.
func (Finder) Annotate(ctx context.Context, d *lang.Doc) error {
	lex, err := lexicon.Open()
	if err != nil {
		return fmt.Errorf("finding events: %w", err)
	}
	f := &finder{
		d: d, lex: lex, tree: lang.NewTree(d), refs: d.Refs(), saying: d.Sayings(),
		event: make([]int32, len(d.Tokens)), classes: map[string]string{},
	}
	for i := range f.event {
		f.event[i] = -1
	}
	for si := range d.Sentences {
		if si%512 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if f.told(si) {
			f.sentence(si)
		}
	}
	f.links()
	if err := ctx.Err(); err != nil {
		return err
	}
	f.weigh()
	d.Events, d.Links = f.out, f.linked
	d.Done(lang.LayerEvents)
	return nil
}

type finder struct {
	d      *lang.Doc
	lex    *lexicon.Lexicon
	tree   *lang.Tree
	refs   []lang.Ref
	saying []int
	event  []int32 // of the token that is its predicate, -1

	out     []lang.Event
	linked  []lang.Link
	classes map[string]string // of lemmas, as "n:garden"
}

// told reports whether a sentence is prose or verse that tells something: no
// heading, caption, note or text that was passed over.
func (f *finder) told(si int) bool {
	p := &f.d.Paragraphs[f.d.Sentences[si].Paragraph]
	if p.Skip {
		return false
	}
	switch p.Kind {
	case "heading", "caption", "note", "scenebreak", "contents":
		return false
	}
	return true
}

// class is the WordNet class of a lemma, looked up once.
func (f *finder) class(lemma string, pos lexicon.POS) string {
	key := string(pos) + ":" + lemma
	c, ok := f.classes[key]
	if !ok {
		c = f.lex.Class(lemma, pos)
		f.classes[key] = c
	}
	return c
}

// Story yields the events that the teller tells as facts that happened, with
// their indices: not what is said, wished or supposed, what did not happen, or
// how things merely are.
func Story(d *lang.Doc) func(yield func(int, *lang.Event) bool) {
	return func(yield func(int, *lang.Event) bool) {
		for i := range d.Events {
			e := &d.Events[i]
			if e.Saying < 0 && e.Modality == lang.Told && !e.Negated && !e.Stative && !yield(i, e) {
				return
			}
		}
	}
}

// InSpan returns the range of Doc.Events whose predicates stand in a span of
// bytes: [first, last).
func InSpan(d *lang.Doc, s lang.Span) (first, last int) {
	at := func(offset int) int {
		return sort.Search(len(d.Events), func(i int) bool { return d.Tokens[d.Events[i].Verb].Start >= offset })
	}
	return at(s.Start), at(s.End)
}
