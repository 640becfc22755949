// Package question proposes what a lesson asks: questions on what happened and
// why, each with a full answer and the sentences that prove it; quotations to
// identify; figures of speech, key passages, prompts to talk over and further
// tasks made from what the passage holds.
//
// [Draft] reads the trees, the cast and the quotations of an analysed book. A
// question is made from one clause (clause.go) by asking for one of its parts
// (ask.go); a set is then chosen over the whole passage (choose.go). Where an
// annotator was not run, what stands on it is not drafted.
package question

import (
	"context"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
	"bookstead/internal/passage"
)

// Options say how much to draft for each lesson.
type Options struct {
	Questions  int
	Quotations int
}

// Draft returns the drafts of every passage, in the order of the passages.
func Draft(ctx context.Context, lex *lexicon.Lexicon, passages []passage.Passage, o Options) ([][]kit.Draft, error) {
	out := make([][]kit.Draft, len(passages))
	if len(passages) == 0 {
		return out, nil
	}
	e := newEngine(lex, passages[0].Doc)
	for i, p := range passages {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		var d []kit.Draft
		d = append(d, choose(e.questions(p), o.Questions)...)
		quotations := e.quotations(p, o.Quotations)
		d = append(d, quotations...)
		d = append(d, e.figures(p)...)
		d = append(d, e.passages(p)...)
		d = append(d, e.discussion(p)...)
		d = append(d, e.extension(p)...)
		for k := range d {
			if d[k].Warning = lex.Warning(d[k].Content.Head, d[k].Content.Sentence, d[k].Content.Answer); d[k].Warning != "" {
				d[k].Spare = true
			}
		}
		out[i] = d
	}
	return out, nil
}

type engine struct {
	lex *lexicon.Lexicon
	d   *lang.Doc
	// who is the cast entry of a token that is the head of a mention.
	who map[int]*lang.Member
	// quoted marks tokens inside direct speech.
	quoted []bool
	main   map[string]int // mentions by cast id
}

func newEngine(lex *lexicon.Lexicon, d *lang.Doc) *engine {
	e := &engine{lex: lex, d: d, who: map[int]*lang.Member{}, quoted: make([]bool, len(d.Tokens)), main: map[string]int{}}
	for i := range d.Cast {
		m := &d.Cast[i]
		e.main[m.ID] = len(m.Mentions)
		for _, mn := range m.Mentions {
			if mn.Confidence < 0.5 {
				continue
			}
			for t := d.TokenAt(mn.Start); t < len(d.Tokens) && d.Tokens[t].Start < mn.End; t++ {
				e.who[t] = m
			}
		}
	}
	for _, q := range d.Quotations {
		parts := q.Parts
		if len(parts) == 0 {
			parts = []lang.Span{{Start: q.Start, End: q.End}}
		}
		for _, s := range parts {
			for t := d.TokenAt(s.Start); t < len(d.Tokens) && d.Tokens[t].Start < s.End; t++ {
				e.quoted[t] = true
			}
		}
	}
	return e
}

// draft makes a draft that is proved by sentences first..last.
func draft(k kit.Kind, p passage.Passage, first, last int, c kit.Content, score float64, why string) kit.Draft {
	place := p.SentencePlace(first, last)
	return kit.Draft{ID: kit.NewItemID(k, place, c.Head+c.Sentence), Kind: k, Place: place, Content: c, Score: score, Why: why}
}

// text is the text of a byte span in one line.
func (e *engine) text(s book.Span) string {
	return strings.Join(strings.Fields(e.d.Text[s.Start:s.End]), " ")
}
