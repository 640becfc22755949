// Package people finds the cast of a book, its characters and places with all
// the names they go by and where they are meant, and who speaks each quotation
// and to whom, without being told the cast.
//
// [Caster] goes in five steps. It collects mentions: what the reader of
// sentences took for names, corrected by what the whole text takes them for,
// and whoever says something (find.go). It joins names to entities by titles,
// first and last names and short forms, and keeps apart what is named side by
// side (entity.go). It reads gender, kind and age off the text (story.go,
// age.go). It ties pronouns and descriptions to entities by who was in the
// mind last (resolve.go), or leaves them open. It names the speakers: a chain of
// turns in which each turn has candidates, features say how well each fits
// (the cue, the turn before, who is called by name), and the best path wins
// (speakers.go, candidates.go, lattice.go); weights.go holds what the features
// weigh, learned by [Train]. What speech made clear (that "the Jew" is called
// Fagin, who "he" is in "said he") then goes into a second round (unmask.go,
// roles.go).
//
// Everything carries a confidence; at 0.8 and more, eight of ten pronouns are
// right, at 0.9 nine of ten. It needs tokens, sentences, tags, trees and the
// quotations of lang/quotes. Start at [Caster.Annotate].
package people

import (
	"context"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// Caster is the annotator of LayerCast.
type Caster struct {
	Seen []Seen
}

// Needs says what must have been run.
func (Caster) Needs() lang.Layer {
	return lang.LayerTokens | lang.LayerSentences | lang.LayerTags | lang.LayerTrees | lang.LayerQuotations
}

// Gives says what is run.
func (Caster) Gives() lang.Layer { return lang.LayerCast }

// Annotate fills Doc.Cast and names speakers and those spoken to in
// Doc.Quotations.
func (c Caster) Annotate(ctx context.Context, d *lang.Doc) error {
	lex, err := lexicon.Open()
	if err != nil {
		return err
	}
	s, err := read(ctx, d, lex, c.Seen)
	if err != nil {
		return err
	}
	if err := s.speakers(ctx); err != nil {
		return err
	}
	// Who speaks tells who "he" is beside the speech, and that who is meant
	// behind it; then it is asked once more who speaks.
	s.unmask()
	s.findRoles()
	s.settleAges()
	if err := s.resolve(ctx, s.cues()); err != nil {
		return err
	}
	if err := s.speakers(ctx); err != nil {
		return err
	}
	s.publish()
	d.Done(lang.LayerCast)
	return nil
}

// read finds who is meant where, before it is asked who speaks.
func read(ctx context.Context, d *lang.Doc, lex *lexicon.Lexicon, seen []Seen) (*story, error) {
	s := newStory(d, lex, seen)
	s.findNarrator()
	s.evidence()
	s.settleAges()
	return s, s.resolve(ctx, nil)
}
