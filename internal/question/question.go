// Package question proposes what a lesson asks: questions on what happened and
// why, each with a full answer and the sentences that prove it; quotations to
// identify; figures of speech, key passages, prompts to talk over and further
// tasks made from what the passage holds.
//
// [Draft] reads an analysed book. Every finite clause (clause.go) is asked for
// its parts (ask.go) and for what it has to do with those around it
// (happen.go); pronouns become names where it is clear whom they mean (refer.go,
// say.go). What is doubtful is dropped (sound.go); the rest is weighed by a
// ranking learned from the questions of experts (rank.go), and a set is chosen
// over the whole passage (choose.go). [Ask] does the same for a text alone.
// Where an annotator was not run, what stands on it is not drafted.
package question

import (
	"context"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/kit"
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
	r, err := readRanking(rankText)
	if err != nil {
		return nil, err
	}
	e := newEngine(lex, passages[0].Doc, passages[0].Book.Title)
	for i, p := range passages {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		d := e.questions(p, r, o.Questions)
		d = append(d, e.quotations(p, o.Quotations)...)
		d = append(d, e.figures(p)...)
		d = append(d, e.passages(p)...)
		d = append(d, e.discussion(p)...)
		d = append(d, e.extension(p)...)
		for k := range d {
			c := d[k].Content
			if d[k].Warning = lex.Warning(c.Head, c.Sentence, c.Answer, c.Note); d[k].Warning != "" {
				d[k].Spare = true
			}
		}
		out[i] = d
	}
	return out, nil
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
