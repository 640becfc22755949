package neural

import (
	"context"
	"fmt"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"unicode"

	"bookstead/internal/lang"
)

// Reader holds the network. It is safe for concurrent use.
type Reader struct {
	m        *model
	workers  int
	progress func(done, total int)
}

// Telling is the reader that tells after each batch how many pieces of all
// (sentences, long ones in several) are read; tell is never called by two goroutines at once.
func (r *Reader) Telling(tell func(done, total int)) *Reader {
	own := *r
	own.progress = tell
	return &own
}

// Load unpacks the weights that the program carries. It takes some tens of milliseconds.
func Load() (*Reader, error) { return loadReader(hasVector()) }

func loadReader(vector bool) (*Reader, error) {
	m, err := load(weights, vector)
	if err != nil {
		return nil, err
	}
	return &Reader{m: m, workers: max(1, runtime.GOMAXPROCS(0))}, nil
}

// Needs are tokens and sentences.
func (r *Reader) Needs() lang.Layer { return lang.LayerTokens | lang.LayerSentences }

// Gives are tags, trees and sentence types.
func (r *Reader) Gives() lang.Layer {
	return lang.LayerTags | lang.LayerTrees | lang.LayerTypes
}

// Annotate fills the layers of [Reader.Gives] and forgets the rest of what
// [Reader.Read] returns.
func (r *Reader) Annotate(ctx context.Context, d *lang.Doc) error {
	_, err := r.Read(ctx, d)
	return err
}

// Reading is what was read beside the layers of the Doc: names, and word
// vectors that senses are judged by. Its indices are those of Doc.Tokens.
type Reading struct {
	// Names are the people, places and other things named or described ("Mary",
	// "the old man", "Mary's father"), in order; of two that start together the
	// longer comes first. The mentions of one proper name agree on its kind.
	Names []Name

	m      *model
	vector []int8    // [tokens × dim]
	scale  []float32 // of each token
}

// Name is a mention of a person, place or thing, as LitBank defines them.
type Name struct {
	First, Last int     // tokens, half-open
	Kind        string  // "PER", "LOC", "GPE" (has a government), "FAC" (built), "VEH", "ORG"
	Confidence  float64 // 0..1
}

func (r *Reading) query(token int) []float32 {
	n := r.m.senses.dim
	q := make([]float32, n)
	for i, v := range r.vector[token*n : (token+1)*n] {
		q[i] = float32(float32(v) * r.scale[token])
	}
	return q
}

const (
	batchRows = 320 // places in a batch, unless one sentence has more
	partWords = 200 // words of a sentence that are read at once
)

// Read fills the layers of [Reader.Gives] and returns what else was found. It
// stops between batches when ctx ends, leaving the layers not done. The result
// does not depend on the number of workers.
//
// A sentence of more than 200 tokens is read in pieces; the roots of the later
// ones hang on the first as "parataxis".
func (r *Reader) Read(ctx context.Context, d *lang.Doc) (*Reading, error) {
	if !d.Has(r.Needs()) {
		return nil, fmt.Errorf("reading sentences: no tokens and sentences")
	}
	vectors, ids := r.m.words(d)
	batches, rows := batch(d)
	out := &Reading{m: r.m, vector: make([]int8, len(d.Tokens)*r.m.senses.dim), scale: make([]float32, len(d.Tokens))}
	names := make([][]Name, len(batches))
	var next atomic.Int64
	var wg sync.WaitGroup
	var mu sync.Mutex
	done, total := 0, 0
	for _, b := range batches {
		total += len(b)
	}
	tell := func(pieces int) {
		if r.progress != nil {
			mu.Lock()
			done += pieces
			r.progress(done, total)
			mu.Unlock()
		}
	}
	for range min(r.workers, len(batches)) {
		wg.Go(func() {
			s := &scratch{}
			for {
				i := int(next.Add(1)) - 1
				if i >= len(batches) || ctx.Err() != nil {
					return
				}
				names[i] = r.m.read(s, d, batches[i], rows[i], vectors, ids, out)
				tell(len(batches[i]))
			}
		})
	}
	wg.Wait()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	for _, n := range names {
		out.Names = append(out.Names, n...)
	}
	agree(d, out.Names)
	join(d)
	for i := range d.Sentences {
		d.Sentences[i].Type = settle(d, i)
	}
	d.Done(r.Gives())
	return out, nil
}

// words returns a vector for each different word, and which each token is.
func (m *model) words(d *lang.Doc) (vectors []float32, ids []int32) {
	known := map[string]int32{}
	ids = make([]int32, len(d.Tokens))
	vectors = m.vectorOf(nil, []int{rowStart})
	for i := range d.Tokens {
		f := d.Tokens[i].Form
		id, ok := known[f]
		if !ok {
			id = int32(len(vectors) / m.Dim)
			known[strings.Clone(f)] = id
			vectors = m.vectorOf(vectors, m.rows(normalise(f)))
		}
		ids[i] = id
	}
	return vectors, ids
}

// vectorOf appends the normalised sum of rows.
func (m *model) vectorOf(dst []float32, rows []int) []float32 {
	d := m.Dim
	at := len(dst)
	dst = append(dst, make([]float32, d)...)
	x := dst[at:]
	for _, r := range rows {
		s := m.embScale[r]
		for i, v := range m.emb[r*d : (r+1)*d] {
			x[i] += float32(float32(v) * s)
		}
	}
	f := normFactor(x)
	for i := range x {
		x[i] = float32(x[i]*f) * m.g0[i]
	}
	return dst
}

// batch groups the sentences, in order, and counts the places of each group.
func batch(d *lang.Doc) (batches [][]part, rows []int) {
	var cur []part
	n := 0
	flush := func() {
		if len(cur) > 0 {
			batches, rows = append(batches, cur), append(rows, n)
		}
		cur, n = nil, 0
	}
	for _, s := range d.Sentences {
		for t := s.First; t < s.Last; t += partWords {
			words := min(partWords, s.Last-t)
			if n > 0 && n+words+1 > batchRows {
				flush()
			}
			cur = append(cur, part{token: t, n: words, row: n})
			n += words + 1
		}
	}
	flush()
	return batches, rows
}

// join hangs the later pieces of long sentences on the first.
func join(d *lang.Doc) {
	for _, s := range d.Sentences {
		if s.Last-s.First <= partWords {
			continue
		}
		root := -1
		for t := s.First; t < s.Last; t++ {
			if d.Tokens[t].Head >= 0 {
				continue
			}
			if root < 0 {
				root = t
				continue
			}
			d.Tokens[t].Head, d.Tokens[t].Deprel = root, "parataxis"
		}
	}
}

// settle makes one of five types of what the network found and the last mark.
func settle(d *lang.Doc, i int) lang.SentenceType {
	s := d.Sentences[i]
	mark := ""
	for t := s.Last - 1; t >= s.First; t-- {
		f := d.Tokens[t].Form
		if strings.ContainsAny(f, ".!?") {
			mark = f
			break
		}
		if strings.IndexFunc(f, func(c rune) bool { return unicode.IsLetter(c) || unicode.IsDigit(c) }) >= 0 {
			break
		}
	}
	cry, ask := strings.Contains(mark, "!"), strings.Contains(mark, "?")
	switch s.Type {
	case "frag":
		return lang.Fragment
	case "imp":
		return lang.Command
	case "q", "wh":
		return lang.Question
	case "intj":
		return lang.Exclamation
	}
	switch {
	case ask:
		return lang.Question
	case cry:
		return lang.Exclamation
	}
	return lang.Statement
}
