package english

import (
	"context"
	"fmt"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lang/sentence"
	"bookstead/internal/lang/tokenize"
)

const (
	// stretch is about how many bytes are worked on at a time, so that the cores
	// share the work evenly.
	stretch = 16 << 10
	// maxTokens bounds the memory of one Doc to some 300 MB; the longest novels
	// have two thirds of it.
	maxTokens = 1_000_000
	// longestParagraph in bytes is twice what 50,000 words take; of a longer one
	// only so much is read.
	longestParagraph = 1 << 19
)

// piece is what is made of a run of paragraphs.
type piece struct {
	tokens    []lang.Token
	sentences []lang.Sentence
	reasons   []reason // by paragraph of the run
	forced    int
	unread    []int // where what is too long of a paragraph begins
}

// cut fills tokens and sentences and finds the paragraphs to skip.
func cut(ctx context.Context, d *lang.Doc, o Options) error {
	m, err := models()
	if err != nil {
		return err
	}
	o.Progress = nil // the greater part of the work is still to come
	runs := paragraphRuns(d.Paragraphs)
	// Texts are cut in batches, so that one beyond all bounds stops early.
	tokens := 0
	var pieces []piece
	for from := 0; from < len(runs) && tokens < maxTokens; from += 256 {
		batch := runs[from:min(len(runs), from+256)]
		done := make([]piece, len(batch))
		err := each(ctx, o, len(d.Text), len(batch), func(i int) int {
			done[i] = cutRun(m.ends, d, batch[i])
			return 0
		})
		if err != nil {
			return err
		}
		for _, p := range done {
			tokens += len(p.tokens)
		}
		pieces = append(pieces, done...)
	}
	join(d, runs, pieces)
	d.Done(lang.LayerTokens | lang.LayerSentences)
	return nil
}

func cutRun(m *sentence.Model, d *lang.Doc, run lang.Span) piece {
	var p piece
	bytes := d.Paragraphs[run.End-1].End - d.Paragraphs[run.Start].Start
	p.tokens = make([]lang.Token, 0, min(bytes/4, 1<<16)+16)
	var ends []int
	for n := run.Start; n < run.End; n++ {
		par := &d.Paragraphs[n]
		from := len(p.tokens)
		end := par.End
		if end-par.Start > longestParagraph {
			end = par.Start + longestParagraph
			if k := strings.LastIndexByte(d.Text[par.Start:end], ' '); k > 0 {
				end = par.Start + k
			}
			p.unread = append(p.unread, end)
		}
		p.tokens = tokenize.Append(p.tokens, d.Text, par.Start, end)
		ts := p.tokens[from:]
		p.reasons = append(p.reasons, judge(d.Text[par.Start:end], ts))
		var forced int
		ends, forced = m.Ends(ends[:0], d.Text, ts)
		p.forced += forced
		first := from
		for _, e := range ends {
			p.sentences = append(p.sentences, lang.Sentence{First: first, Last: from + e, Paragraph: n})
			first = from + e
		}
	}
	return p
}

// join puts the pieces together and says what was left out.
func join(d *lang.Doc, runs []lang.Span, pieces []piece) {
	tokens, sentences, forced := 0, 0, 0
	for i, p := range pieces {
		if tokens+len(p.tokens) > maxTokens && i > 0 {
			pieces = pieces[:i]
			break
		}
		tokens += len(p.tokens)
		sentences += len(p.sentences)
		forced += p.forced
	}
	d.Tokens = make([]lang.Token, 0, tokens)
	d.Sentences = make([]lang.Sentence, 0, sentences)
	var reasons []reason
	for _, p := range pieces {
		base := len(d.Tokens)
		d.Tokens = append(d.Tokens, p.tokens...)
		for _, s := range p.sentences {
			s.First += base
			s.Last += base
			d.Sentences = append(d.Sentences, s)
		}
		reasons = append(reasons, p.reasons...)
	}
	for i, r := range reasons {
		d.Paragraphs[i].Skip = r != prose
	}
	for i := len(reasons); i < len(d.Paragraphs); i++ {
		d.Paragraphs[i].Skip = true
	}
	d.Skipped = append(d.Skipped, remarks(d, reasons)...)
	for _, p := range pieces {
		for _, at := range p.unread {
			d.Skipped = append(d.Skipped, fmt.Sprintf("A paragraph is longer than half a million letters: its rest, from byte %d on, was not analysed.", at))
		}
	}
	switch {
	case forced == 1:
		d.Skipped = append(d.Skipped, fmt.Sprintf("A stretch of text without a full stop was cut after at most %d words.", sentence.MaxLength))
	case forced > 1:
		d.Skipped = append(d.Skipped, fmt.Sprintf("%d stretches of text without a full stop were cut after at most %d words.", forced, sentence.MaxLength))
	}
	if n := len(reasons); n < len(d.Paragraphs) {
		d.Skipped = append(d.Skipped, fmt.Sprintf("The text is too long: nothing from byte %d on was analysed.", d.Paragraphs[n].Start))
	}
}

// paragraphRuns groups paragraphs; where runs begin and end does not depend on
// the number of workers.
func paragraphRuns(ps []lang.Paragraph) []lang.Span {
	var out []lang.Span
	for i := 0; i < len(ps); {
		j, start := i+1, ps[i].Start
		for j < len(ps) && ps[j].End-start < stretch {
			j++
		}
		out = append(out, lang.Span{Start: i, End: j})
		i = j
	}
	return out
}
