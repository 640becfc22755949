// Package english runs the annotators of English prose in order and keeps them
// within bounds: what a text holds too much of is left out and said so.
//
// [Annotate] takes a text and its paragraphs and returns a [lang.Doc];
// paragraphs are worked on in parallel, and the result is the same for any
// number of workers. [Fill] takes a Doc that already has tokens and sentences
// (a CoNLL-U file) and runs the rest on it.
package english

import (
	"context"
	"fmt"
	"runtime"
	"sync"
	"sync/atomic"

	"bookstead/internal/fault"
	"bookstead/internal/lang"
	"bookstead/internal/lang/sentence"
	"bookstead/internal/lang/tokenize"
)

// Options choose what is run and how.
type Options struct {
	// Workers is how many paragraphs are worked on at once; 0 is one for each core.
	Workers int
	// Progress, if not nil, is told after each stretch of work how many bytes of
	// the text are done. It may be called from several goroutines, one at a time.
	Progress func(done, total int)
}

// maxTokens bounds the memory of one Doc to about 400 MB; the longest novels
// have a quarter of it.
const maxTokens = 2_000_000

// Annotate analyses a text. Paragraphs must lie in order, without overlap,
// inside the text; nil takes the text's own (see [Paragraphs]). When ctx ends
// it returns a fault of the kind Canceled.
func Annotate(ctx context.Context, text string, paragraphs []lang.Paragraph, o Options) (*lang.Doc, error) {
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
	d := &lang.Doc{Text: text, Paragraphs: paragraphs}
	if err := cut(ctx, d, o); err != nil {
		return nil, err
	}
	return d, nil
}

// The models are read once, when first needed, and never change.
var sentenceModel = sync.OnceValues(sentence.Load)

// piece is what a worker makes of a run of paragraphs.
type piece struct {
	tokens    []lang.Token
	sentences []lang.Sentence
}

// cut fills tokens and sentences.
func cut(ctx context.Context, d *lang.Doc, o Options) error {
	ends, err := sentenceModel()
	if err != nil {
		return err
	}
	runs := stretches(d.Paragraphs)
	pieces := make([]piece, len(runs))
	err = each(ctx, o, len(d.Text), len(runs), func(i int) int {
		p := &pieces[i]
		var cuts []int
		for n := runs[i].Start; n < runs[i].End; n++ {
			par := d.Paragraphs[n]
			from := len(p.tokens)
			p.tokens = tokenize.Append(p.tokens, d.Text, par.Start, par.End)
			cuts = ends.Ends(cuts[:0], d.Text, p.tokens[from:])
			first := from
			for _, e := range cuts {
				p.sentences = append(p.sentences, lang.Sentence{First: first, Last: from + e, Paragraph: n})
				first = from + e
			}
		}
		return d.Paragraphs[runs[i].End-1].End - d.Paragraphs[runs[i].Start].Start
	})
	if err != nil {
		return err
	}
	join(d, pieces)
	d.Done(lang.LayerTokens | lang.LayerSentences)
	return nil
}

func join(d *lang.Doc, pieces []piece) {
	tokens, sentences := 0, 0
	for _, p := range pieces {
		tokens += len(p.tokens)
		sentences += len(p.sentences)
	}
	d.Tokens = make([]lang.Token, 0, tokens)
	d.Sentences = make([]lang.Sentence, 0, sentences)
	for _, p := range pieces {
		base := len(d.Tokens)
		d.Tokens = append(d.Tokens, p.tokens...)
		for _, s := range p.sentences {
			s.First += base
			s.Last += base
			d.Sentences = append(d.Sentences, s)
		}
	}
}

// stretches groups paragraphs into runs of about 16 kB, the unit of parallel
// work; their bounds do not depend on the number of workers.
func stretches(ps []lang.Paragraph) []lang.Span {
	var out []lang.Span
	for i := 0; i < len(ps); {
		j, start := i+1, ps[i].Start
		for j < len(ps) && ps[j].End-start < 16<<10 {
			j++
		}
		out = append(out, lang.Span{Start: i, End: j})
		i = j
	}
	return out
}

// each calls do for 0..n-1 on several goroutines; do returns how many bytes it
// worked on.
func each(ctx context.Context, o Options, total, n int, do func(int) int) error {
	workers := o.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var next atomic.Int64
	var wait sync.WaitGroup
	var lock sync.Mutex
	done := 0
	for range min(workers, n) {
		wait.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= n || ctx.Err() != nil {
					return
				}
				n := do(i)
				if o.Progress != nil {
					lock.Lock()
					done += n
					o.Progress(done, total)
					lock.Unlock()
				}
			}
		})
	}
	wait.Wait()
	if err := ctx.Err(); err != nil {
		return fault.Wrap(fault.Canceled, err, "The analysis was stopped.", "")
	}
	return nil
}
