// Package english runs the annotators of English prose in order and keeps them
// within bounds: what a text holds too much of is left out and said so.
//
// [Cut] takes a text and its paragraphs and returns a [lang.Doc] with tokens and
// sentences. [Understand] reads them: tags, lemmas, trees, cast and speech.
// [Annotate] is the fast way, tags and lemmas without trees. Paragraphs are cut
// in parallel, and the result is the same for any number of workers.
package english

import (
	"context"
	"fmt"
	"strings"
	"sync"

	"bookstead/internal/lang"
	"bookstead/internal/lang/lemma"
	"bookstead/internal/lang/sentence"
	"bookstead/internal/lang/tagger"
)

// Options choose what is run and how.
type Options struct {
	// Workers is how many stretches of text are worked on at once; 0 is one for
	// each core.
	Workers int
	// Progress, if not nil, is told after each stretch how many bytes of the
	// text are done. It is never called by two goroutines at once.
	Progress func(done, total int)
}

// Annotate cuts a text and tags it by rule and table: [Cut], then [Fill]. It is
// the fast way, without trees, cast and speech.
func Annotate(ctx context.Context, text string, paragraphs []lang.Paragraph, o Options) (*lang.Doc, error) {
	d, err := Cut(ctx, text, paragraphs, o)
	if err != nil {
		return nil, err
	}
	return d, Fill(ctx, d, o)
}

// Cut finds the tokens and sentences of a text. Paragraphs must lie in order,
// without overlap, inside the text; nil takes the text's own (see
// [Paragraphs]). It marks those that are no English prose (see
// [lang.Paragraph]). When ctx ends it returns a fault of the kind Canceled.
func Cut(ctx context.Context, text string, paragraphs []lang.Paragraph, o Options) (*lang.Doc, error) {
	if paragraphs == nil {
		paragraphs = Paragraphs(text)
	}
	at := 0
	for i, p := range paragraphs {
		if p.Start < at || p.End < p.Start || p.End > len(text) {
			return nil, fmt.Errorf("annotating: paragraph %d (%d to %d) is out of order or outside the text of %d bytes", i, p.Start, p.End, len(text))
		}
		at = p.End
	}
	d := &lang.Doc{Text: text, Paragraphs: append([]lang.Paragraph{}, paragraphs...)}
	return d, cut(ctx, d, o)
}

// Fill runs the layers that d lacks, tags, lemmas and sentence types, on the
// tokens and sentences that it has.
func Fill(ctx context.Context, d *lang.Doc, o Options) error {
	if !d.Has(lang.LayerTokens | lang.LayerSentences) {
		return fmt.Errorf("annotating: the text has no tokens and sentences yet")
	}
	m, err := models()
	if err != nil {
		return err
	}
	tags, lemmas, types := !d.Has(lang.LayerTags), !d.Has(lang.LayerLemmas), !d.Has(lang.LayerTypes)
	runs := sentenceRuns(d)
	taggers := sync.Pool{New: func() any { return m.tags.NewTagger() }}
	err = each(ctx, o, len(d.Text), len(runs), func(i int) int {
		t := taggers.Get().(*tagger.Tagger)
		defer taggers.Put(t)
		for k := runs[i].Start; k < runs[i].End; k++ {
			s := &d.Sentences[k]
			ts := d.Tokens[s.First:s.Last]
			skip := d.Paragraphs[s.Paragraph].Skip
			if skip {
				if tags {
					tagSkipped(ts, lemmas)
				}
				continue
			}
			spelled(ts, func() {
				if tags {
					t.Tag(ts)
				}
				if lemmas {
					m.lemmas.Fill(ts)
				}
				if types {
					s.Type = m.types.Of(ts)
				}
			})
			if tags {
				settle(ts)
			}
		}
		return d.Tokens[d.Sentences[runs[i].End-1].Last-1].End - d.Tokens[d.Sentences[runs[i].Start].First].Start
	})
	if err != nil {
		return err
	}
	d.Done(lang.LayerTags | lang.LayerLemmas | lang.LayerTypes)
	return nil
}

// settle puts right what is not open to doubt: which way a curly quotation mark
// looks.
func settle(ts []lang.Token) {
	for i := range ts {
		if t := &ts[i]; t.UPOS == "PUNCT" {
			switch t.Form {
			case "“", "‘":
				t.XPOS = "``"
			case "”", "’":
				t.XPOS = "''"
			}
		}
	}
}

// tagSkipped marks the words of what is no English prose as such.
func tagSkipped(ts []lang.Token, lemmas bool) {
	for i := range ts {
		t := &ts[i]
		switch {
		case lang.IsWord(t.Form):
			t.UPOS, t.XPOS = "X", "FW"
		case t.Form[0] >= '0' && t.Form[0] <= '9':
			t.UPOS, t.XPOS = "NUM", "CD"
		default:
			t.UPOS, t.XPOS = "PUNCT", "NFP"
		}
		if lemmas {
			t.Lemma = t.Form
		}
	}
}

type modelSet struct {
	ends   *sentence.Model
	types  *sentence.Types
	tags   *tagger.Model
	lemmas *lemma.Model
}

// models are read once, when first needed, and never change.
var models = sync.OnceValues(func() (*modelSet, error) {
	m := &modelSet{}
	var err error
	if m.ends, err = sentence.Load(); err != nil {
		return nil, err
	}
	if m.types, err = sentence.LoadTypes(); err != nil {
		return nil, err
	}
	if m.tags, err = tagger.Load(); err != nil {
		return nil, err
	}
	if m.lemmas, err = lemma.Load(); err != nil {
		return nil, err
	}
	return m, nil
})

// sentenceRuns groups sentences into runs of about 16 kB.
func sentenceRuns(d *lang.Doc) []lang.Span {
	var out []lang.Span
	for i := 0; i < len(d.Sentences); {
		j, start := i+1, d.Tokens[d.Sentences[i].First].Start
		for j < len(d.Sentences) && d.Tokens[d.Sentences[j].Last-1].End-start < stretch {
			j++
		}
		out = append(out, lang.Span{Start: i, End: j})
		i = j
	}
	return out
}

// list joins at most three items for a sentence of Doc.Skipped.
func list(items []string) string {
	if len(items) > 3 {
		items = append(items[:3:3], fmt.Sprintf("%d more", len(items)-3))
	}
	if len(items) < 2 {
		return strings.Join(items, "")
	}
	return strings.Join(items[:len(items)-1], ", ") + " and " + items[len(items)-1]
}
