package english

import (
	"context"
	"fmt"
	"sync"

	"bookstead/internal/lang"
	"bookstead/internal/lang/events"
	"bookstead/internal/lang/figures"
	"bookstead/internal/lang/neural"
	"bookstead/internal/lang/people"
	"bookstead/internal/lang/quotes"
	"bookstead/internal/lang/scenes"
)

// reader is the network that parses, unpacked when it is first used.
var reader = sync.OnceValues(neural.Load)

// Understand goes on where [Cut] ends: the network reads every sentence and
// gives it tags and a tree; then the cast and the speech are found, what
// happens, in which scenes, and turns of phrase. It is the slower way, some
// seconds for a novel, and stops when ctx ends.
func Understand(ctx context.Context, d *lang.Doc, o Options) error {
	r, err := reader()
	if err != nil {
		return fmt.Errorf("unpacking the reader: %w", err)
	}
	n := network{Reader: r.Telling(o.Progress)}
	if err := n.Annotate(ctx, d); err != nil {
		return err
	}
	if err := cast(ctx, d, n.seen); err != nil {
		return err
	}
	return run(ctx, d, events.Finder{}, scenes.Finder{}, figures.Finder{})
}

// cast finds the speech, who is in the text and who speaks, from trees and from
// what the network took for names.
func cast(ctx context.Context, d *lang.Doc, seen []neural.Name) error {
	names := make([]people.Seen, len(seen))
	for i, n := range seen {
		names[i] = people.Seen(n)
	}
	return run(ctx, d, quotes.Finder{}, people.Caster{Seen: names})
}

// run lets annotators work one after another.
func run(ctx context.Context, d *lang.Doc, annotators ...lang.Annotator) error {
	for _, a := range annotators {
		if !d.Has(a.Needs()) {
			return fmt.Errorf("annotating: %T lacks what it needs", a)
		}
		if err := a.Annotate(ctx, d); err != nil {
			return err
		}
	}
	return nil
}

// network reads with usual spellings, passes over what is no English prose, and
// takes dictionary forms by rule from the network's tags, which is better than
// the network's own.
type network struct {
	*neural.Reader
	seen []neural.Name
}

// Annotate fills the layers of [neural.Reader.Gives], lemmas and Doc.Meanings.
func (n *network) Annotate(ctx context.Context, d *lang.Doc) error {
	m, err := models()
	if err != nil {
		return err
	}
	part := *d // d without the sentences that are not read
	part.Sentences = make([]lang.Sentence, 0, len(d.Sentences))
	for _, s := range d.Sentences {
		if !d.Paragraphs[s.Paragraph].Skip {
			part.Sentences = append(part.Sentences, s)
			continue
		}
		tagSkipped(d.Tokens[s.First:s.Last], true)
		for k := s.First; k < s.Last; k++ {
			d.Tokens[k].Head, d.Tokens[k].Deprel = s.First, "dep"
		}
		d.Tokens[s.First].Head, d.Tokens[s.First].Deprel = -1, "root"
	}
	spelled(d.Tokens, func() {
		var read *neural.Reading
		if read, err = n.Reader.Read(ctx, &part); err != nil {
			return
		}
		d.Meanings, n.seen = read, read.Names
		for _, s := range part.Sentences {
			m.lemmas.Fill(d.Tokens[s.First:s.Last])
		}
	})
	if err != nil {
		return err
	}
	for i, k := 0, 0; i < len(d.Sentences); i++ {
		s := &d.Sentences[i]
		if d.Paragraphs[s.Paragraph].Skip {
			continue
		}
		s.Type = part.Sentences[k].Type
		settle(d.Tokens[s.First:s.Last])
		k++
	}
	for i := range d.Tokens {
		if d.Tokens[i].Feats == "_" {
			d.Tokens[i].Feats = ""
		}
	}
	d.Done(n.Gives() | lang.LayerLemmas)
	return nil
}
