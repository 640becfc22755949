package sentence

import (
	"math"
	"math/rand/v2"

	"bookstead/internal/lang"
)

// Example is one paragraph with its gold ends, as [Model.Ends] would give them,
// and how much it counts.
type Example struct {
	Text   string
	Tokens []lang.Token
	Ends   []int
	Weight float64
}

// Settings of a training run, with what the shipped model used.
type Settings struct {
	Epochs int     // 8
	Seed   uint64  // 1
	Drop   float64 // 0.5: the share of features left out at each gap
	// Threshold is the sum of weights above which a sentence ends. Below zero it
	// makes up for the training data being better known than new text: -24.
	Threshold int
}

// Train fits a logistic regression by AdaGrad and rounds the weights to a byte
// each. The same examples and settings give the same model.
func Train(examples []Example, o Settings) *Model {
	w := make([]float64, slots)
	sum := make([]float64, slots)
	for i := range sum {
		sum[i] = 1e-2
	}
	rng := rand.New(rand.NewPCG(o.Seed, o.Seed))
	order := rng.Perm(len(examples))
	const rate, decay = 0.1, 2e-6
	var kept []uint32
	for range o.Epochs {
		rng.Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
		for _, k := range order {
			e := &examples[k]
			win := newWindow(e.Text, e.Tokens)
			at := 0
			for win.next() {
				for at < len(e.Ends) && e.Ends[at] < win.gap {
					at++
				}
				y := 0.0
				if at < len(e.Ends) && e.Ends[at] == win.gap {
					y = 1
				}
				fs := win.features()
				kept = kept[:0]
				for _, f := range fs {
					if rng.Float64() >= o.Drop {
						kept = append(kept, f)
					}
				}
				fs = kept
				z := 0.0
				for _, f := range fs {
					z += w[f]
				}
				g := e.Weight * (1/(1+math.Exp(-z)) - y)
				for _, f := range fs {
					gf := g + decay*w[f]
					sum[f] += gf * gf
					w[f] -= rate * gf / math.Sqrt(sum[f])
				}
				if y == 1 {
					win.last = win.gap
				}
			}
		}
	}
	m := &Model{threshold: o.Threshold}
	for i, v := range w {
		m.weights[i] = int8(max(-127, min(127, math.Round(v*scale))))
	}
	return m
}

// scale is what a weight of one becomes.
const scale = 24

// Examples makes an example of each paragraph of a Doc with gold sentences: its
// text is cut by tokens as it will be in use, and a gold end counts where it
// falls between two of them.
func Examples(d *lang.Doc, tokens func(*lang.Doc, lang.Paragraph) []lang.Token, weight float64) []Example {
	var out []Example
	s := 0
	for p, par := range d.Paragraphs {
		e := Example{Text: d.Text, Tokens: tokens(d, par), Weight: weight}
		if len(e.Tokens) == 0 {
			continue
		}
		k := 0
		for ; s < len(d.Sentences) && d.Sentences[s].Paragraph == p; s++ {
			end := d.Tokens[d.Sentences[s].Last-1].End
			for k < len(e.Tokens) && e.Tokens[k].End <= end {
				k++
			}
			if k > 0 && e.Tokens[k-1].End == end && (k == len(e.Tokens) || e.Tokens[k].Multi >= 0) {
				e.Ends = append(e.Ends, k)
			}
		}
		if n := len(e.Ends); n == 0 || e.Ends[n-1] != len(e.Tokens) {
			e.Ends = append(e.Ends, len(e.Tokens))
		}
		out = append(out, e)
	}
	return out
}

// Silver labels the paragraphs of a printed book by rule: a sentence ends
// behind a stop and its closing marks when what follows opens with a capital,
// unless the stop is a shout inside a quotation and a verb of speech follows.
// It keeps a model trained on hasty writing from cutting where books never end.
func Silver(text string, tokens []lang.Token, weight float64) Example {
	e := Example{Text: text, Tokens: tokens, Weight: weight}
	w := newWindow(text, tokens)
	for i := 0; i+1 < len(tokens); i++ {
		k := w.infos[i].kind
		if k != stop && k != shout && k != dots {
			continue
		}
		j := i + 1
		for j < len(tokens) && w.infos[j].kind == closing && w.infos[j].gap == 0 {
			j++
		}
		h := j
		for h < len(tokens) && w.infos[h].kind == opening {
			h++
		}
		if h == len(tokens) || tokens[j].Multi < 0 {
			continue
		}
		switch w.infos[h].kind {
		case title, upper, single, number, abbrev:
		case dash, dots:
			if h == j {
				continue
			}
		default:
			continue
		}
		if k != stop && j > i+1 && h == j && w.spoken(h) {
			continue
		}
		if k == dots && j == i+1 {
			continue // may go either way
		}
		e.Ends = append(e.Ends, j)
	}
	if len(tokens) > 0 {
		e.Ends = append(e.Ends, len(tokens))
	}
	return e
}

// spoken reports whether the clause that starts at h has a verb of speech
// among its first words.
func (w *window) spoken(h int) bool {
	for k := h; k < h+5 && k < len(w.infos); k++ {
		switch {
		case w.infos[k].said:
			return true
		case w.infos[k].kind != lower && w.infos[k].kind != title && w.infos[k].kind != single && w.infos[k].kind != abbrev:
			return false
		}
	}
	return false
}
