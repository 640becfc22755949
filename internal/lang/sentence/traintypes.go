package sentence

import (
	"math"
	"math/rand/v2"

	"bookstead/internal/lang"
)

// TypeExample is a tagged sentence with its gold type.
type TypeExample struct {
	Tokens []lang.Token
	Type   lang.SentenceType
}

// TrainTypes fits a multinomial logistic regression by AdaGrad and rounds the
// weights to a byte each. The same examples, passes and seed give the same model.
func TrainTypes(examples []TypeExample, epochs int, seed uint64) *Types {
	w := make([]float64, typeSlots*typeCount)
	sum := make([]float64, len(w))
	for i := range sum {
		sum[i] = 1e-2
	}
	rng := rand.New(rand.NewPCG(seed, seed))
	order := rng.Perm(len(examples))
	const rate, decay, drop = 0.1, 1e-5, 0.3
	var room [96]uint32
	for range epochs {
		rng.Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
		for _, k := range order {
			fs := typeFeatures(room[:0], examples[k].Tokens)
			kept := fs[:0]
			for _, f := range fs {
				if rng.Float64() >= drop {
					kept = append(kept, f)
				}
			}
			var p [typeCount]float64
			total := 0.0
			for t := range p {
				for _, f := range kept {
					p[t] += w[int(f)*typeCount+t]
				}
				p[t] = math.Exp(p[t])
				total += p[t]
			}
			for t := range p {
				g := p[t] / total
				if typeOrder[t] == examples[k].Type {
					g--
				}
				for _, f := range kept {
					x := int(f)*typeCount + t
					gx := g + decay*w[x]
					sum[x] += gx * gx
					w[x] -= rate * gx / math.Sqrt(sum[x])
				}
			}
		}
	}
	m := &Types{}
	for i, v := range w {
		m.weights[i] = int8(max(-127, min(127, math.Round(v*scale))))
	}
	return m
}
