package g2p

import (
	"cmp"
	"encoding/binary"
	"math"
	"slices"
	"strings"
)

// Settings of a training run, with what the shipped model used.
type Settings struct {
	Order int // longest row of chunks that is counted: 7
	// Prune is the loss in log likelihood, over all training words, below which
	// a row is left out: 1.
	Prune float64
}

// Stats tells what a training run did.
type Stats struct {
	Aligned, Left, Chunks, Grams, Kept int
}

// start and end stand around every word.
const (
	end   = 0
	start = 1
	first = 2 // the first id of a chunk
)

// gram is a row of ids, two bytes each, big-endian so that rows sort by id.
type gram string

func pack(ids []uint16) gram {
	b := make([]byte, 0, 2*len(ids))
	for _, id := range ids {
		b = binary.BigEndian.AppendUint16(b, id)
	}
	return gram(b)
}

func (g gram) history() gram { return g[:len(g)-2] }
func (g gram) shorter() gram { return g[2:] }

// Train aligns the examples and counts a joint n-gram model, smoothed after
// Kneser and Ney with the discounts of Chen and Goodman (1998). Rows that hardly
// help are left out and their counts given to the shorter rows before the final
// estimate (Siivola et al. 2007). The same examples and settings give the same
// model.
func Train(examples []Example, o Settings) (*Model, Stats) {
	rows := alignAll(examples)
	st := Stats{Aligned: len(rows), Left: len(examples) - len(rows)}
	chunks, ids := name(rows)
	st.Chunks = len(chunks)
	var words [][]uint16
	for _, r := range rows {
		w := []uint16{start}
		for _, c := range r {
			w = append(w, ids[c])
		}
		words = append(words, append(w, end))
	}
	raw := countRows(words, o.Order)
	for _, m := range raw {
		st.Grams += len(m)
	}
	all := func(int, gram) bool { return true }
	full := estimate(continued(raw, all), all, len(chunks)+first)
	kept := prune(raw, full, o.Prune)
	keep := func(n int, g gram) bool { return n == 1 || kept[n-1][g] }
	pruned := estimate(continued(raw, keep), keep, len(chunks)+first)
	for _, m := range pruned {
		st.Kept += len(m)
	}
	return newModel(chunks, pruned), st
}

// name gives every chunk an id, the most frequent the smallest.
func name(rows [][]chunk) ([]chunk, map[chunk]uint16) {
	n := map[chunk]int{}
	for _, r := range rows {
		for _, c := range r {
			n[c]++
		}
	}
	chunks := make([]chunk, 0, len(n))
	for c := range n {
		chunks = append(chunks, c)
	}
	slices.SortFunc(chunks, func(a, b chunk) int {
		return cmp.Or(cmp.Compare(n[b], n[a]), strings.Compare(a.letters, b.letters), strings.Compare(a.phones, b.phones))
	})
	ids := make(map[chunk]uint16, len(chunks))
	for i, c := range chunks {
		ids[c] = uint16(i + first)
	}
	return chunks, ids
}

// countRows counts all rows of 1 to order ids; [n-1] holds those of n.
func countRows(words [][]uint16, order int) []map[gram]float64 {
	out := make([]map[gram]float64, order)
	for i := range out {
		out[i] = map[gram]float64{}
	}
	for _, w := range words {
		whole := pack(w)
		for i := range w {
			for n := 1; n <= order && i+n <= len(w); n++ {
				if n == 1 && i == 0 {
					continue // the start is given, not foretold
				}
				out[n-1][whole[2*i:2*(i+n)]]++
			}
		}
	}
	return out
}

// continued turns counts into those of Kneser and Ney: a row that is the end of
// longer rows counts once for each of them that is kept and wholly for those
// that are not. Rows at the start of a word have nothing before them and keep
// their counts.
func continued(raw []map[gram]float64, keep func(n int, g gram) bool) []map[gram]float64 {
	out := make([]map[gram]float64, len(raw))
	top := len(raw) - 1
	out[top] = raw[top]
	for n := top; n >= 1; n-- {
		low := make(map[gram]float64, len(raw[n-1]))
		for g, c := range raw[n-1] {
			if isStart(g) {
				low[g] = c
			}
		}
		for g, c := range out[n] {
			s := g.shorter()
			if keep(n+1, g) {
				low[s]++
			} else {
				low[s] += c
			}
		}
		out[n-1] = low
	}
	return out
}

func isStart(g gram) bool { return g[0] == 0 && g[1] == start }

// entry is what the model says of a row: the log probability of its last id
// after the others, and the log weight with which shorter rows are asked when
// it is a history itself.
type entry struct{ prob, back float64 }

// estimate smooths the counts; it returns the kept rows.
func estimate(counts []map[gram]float64, keep func(n int, g gram) bool, vocab int) []map[gram]*entry {
	out := make([]map[gram]*entry, len(counts))
	for n := 1; n <= len(counts); n++ {
		d := discounts(counts[n-1])
		total := map[gram]float64{}
		held := map[gram]float64{} // mass that the kept rows hold
		out[n-1] = make(map[gram]*entry, len(counts[n-1]))
		for g, c := range counts[n-1] {
			h := g.history()
			total[h] += c
			if keep(n, g) {
				held[h] += c - d[min(int(c), 3)]
			}
		}
		for g, c := range counts[n-1] {
			if !keep(n, g) {
				continue
			}
			h := g.history()
			own := (c - d[min(int(c), 3)]) / total[h]
			rest := 1 - held[h]/total[h]
			low := 1 / float64(vocab)
			if n > 1 {
				low = math.Exp(probability(out[:n-1], g.shorter()))
			}
			out[n-1][g] = &entry{prob: math.Log(own + rest*low)}
		}
		if n == 1 {
			for id := range vocab { // ids never seen as the last of a row
				g := pack([]uint16{uint16(id)})
				if out[0][g] == nil {
					out[0][g] = &entry{prob: math.Log((1 - held[""]/total[""]) / float64(vocab))}
				}
			}
			continue
		}
		for h, t := range total {
			if e := out[n-2][h]; e != nil {
				e.back = math.Log(max(1-held[h]/t, 1e-6))
			}
		}
	}
	return out
}

// probability asks a model in the form of maps.
func probability(m []map[gram]*entry, g gram) float64 {
	back := 0.0
	for {
		n := len(g) / 2
		if e := m[n-1][g]; e != nil {
			return back + e.prob
		}
		if h := m[n-2][g.history()]; h != nil {
			back += h.back
		}
		g = g.shorter()
	}
}

// discounts are those of Chen and Goodman for counts of 1, 2 and more.
func discounts(counts map[gram]float64) [4]float64 {
	var n [5]float64
	for _, c := range counts {
		if c < 5 {
			n[int(c)]++
		}
	}
	for i := 1; i < 5; i++ {
		n[i] = max(n[i], 1)
	}
	y := n[1] / (n[1] + 2*n[2])
	var d [4]float64
	for i := 1; i <= 3; i++ {
		d[i] = min(max(float64(i)-float64(i+1)*y*n[i+1]/n[i], 0.05), float64(i)-0.05)
	}
	return d
}

// prune says which rows are kept: those without which the training words would
// be less likely by more than least, and the beginnings of kept rows.
func prune(raw []map[gram]float64, full []map[gram]*entry, least float64) []map[gram]bool {
	kept := make([]map[gram]bool, len(full))
	for n := len(full); n >= 2; n-- {
		kept[n-1] = map[gram]bool{}
		for g, e := range full[n-1] {
			back := 0.0
			if h := full[n-2][g.history()]; h != nil {
				back = h.back
			}
			loss := raw[n-1][g] * (e.prob - back - probability(full[:n-1], g.shorter()))
			if loss > least {
				kept[n-1][g] = true
			}
		}
		if n < len(full) {
			for g := range kept[n] {
				kept[n-1][g.history()] = true
			}
		}
	}
	return kept
}
