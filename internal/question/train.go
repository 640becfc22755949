package question

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// Example is one candidate of a section as the ranking sees it.
type Example struct {
	Features []string
	Right    bool // an expert asks and answers so
}

// Examples are the candidates of a section with what experts make of them.
func Examples(lex *lexicon.Lexicon, d *lang.Doc, s Section) []Example {
	e := newEngine(lex, d, "")
	var out []Example
	for _, x := range e.candidates(0, len(d.Sentences), true) {
		right := false
		for _, a := range s.Asks {
			right = right || a.agrees(x.q, x.a)
		}
		out = append(out, Example{e.features(&x, x.c.sentence, len(d.Sentences)), right})
	}
	return out
}

// Train fits the ranking: logistic regression by stochastic gradient descent
// with AdaGrad's steps, weights drawn to zero. Features that come fewer than
// least times are left out. The same examples and seed give the same weights.
func Train(examples []Example, epochs, least int, decay float64, seed uint64) string {
	count := map[string]int{}
	for _, x := range examples {
		for _, f := range x.Features {
			count[f]++
		}
	}
	r := ranking{"bias": -3}
	sum := map[string]float64{}
	order := rand.New(rand.NewPCG(seed, seed))
	for range epochs {
		order.Shuffle(len(examples), func(i, j int) { examples[i], examples[j] = examples[j], examples[i] })
		for _, x := range examples {
			g := r.chance(x.Features)
			if x.Right {
				g--
			}
			step := func(f string) {
				d := g + decay*r[f]
				sum[f] += d * d
				r[f] -= 0.1 * d / (math.Sqrt(sum[f]) + 1e-6)
			}
			step("bias")
			for _, f := range x.Features {
				if count[f] >= least {
					step(f)
				}
			}
		}
	}
	names := make([]string, 0, len(r))
	for f, w := range r {
		if math.Abs(w) >= 0.02 {
			names = append(names, f)
		}
	}
	slices.SortFunc(names, func(a, b string) int { return cmp.Compare(a, b) })
	var b strings.Builder
	for _, f := range names {
		fmt.Fprintf(&b, "%s\t%.2f\n", f, r[f])
	}
	return b.String()
}
