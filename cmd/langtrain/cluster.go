package main

import (
	"cmp"
	"math"
	"os"
	"path/filepath"
	"slices"

	"bookstead/internal/lang"
	"bookstead/internal/lang/english"
	"bookstead/internal/lang/tagger"
	"bookstead/internal/lang/tokenize"
)

// The company that words keep: an exchange clustering (after Martin, Liermann
// and Ney, 1998, and Uszkoreit and Brants, 2008) of the words of the novels and
// of the treebanks' training text by their left and right neighbours.
const (
	clusterCount = 255
	clusterMin   = 6     // times that a word must occur
	contextWords = 8_000 // neighbours that are told apart
	clusterRuns  = 6
)

// corpus reads all tokens, as the tagger spells them; sentence ends are not
// marked, paragraphs are.
func corpus(novels string, treebanks ...*lang.Doc) ([][]string, error) {
	var out [][]string
	add := func(ts []lang.Token) {
		p := make([]string, len(ts))
		for i := range ts {
			p[i] = tagger.Spell(ts[i].Form)
		}
		out = append(out, p)
	}
	files, err := filepath.Glob(filepath.Join(novels, "*.txt"))
	if err != nil {
		return nil, err
	}
	var ts []lang.Token
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			return nil, err
		}
		text := string(b)
		for _, p := range english.Paragraphs(text) {
			ts = tokenize.Append(ts[:0], text, p.Start, p.End)
			add(ts)
		}
	}
	for _, d := range treebanks {
		for _, s := range d.Sentences {
			add(d.Tokens[s.First:s.Last])
		}
	}
	return out, nil
}

type neighbour struct {
	context int32
	n       float64
}

// cluster returns the class, 1 to clusterCount, of each word that occurs often
// enough.
func cluster(paragraphs [][]string) map[string]uint8 {
	words, ids := vocabulary(paragraphs)
	near := neighbours(paragraphs, ids)
	class := make([]int, len(words))
	for i := range class {
		class[i] = min(i, clusterCount-1)
		if i >= clusterCount {
			class[i] = i % clusterCount
		}
	}
	contexts := 2 * (contextWords + 1)
	table := make([]float64, contexts*clusterCount) // by context and class
	sums := make([]float64, clusterCount)
	move := func(w int, c int, sign float64) {
		for _, x := range near[w] {
			table[int(x.context)*clusterCount+c] += sign * x.n
			sums[c] += sign * x.n
		}
	}
	for w := range words {
		move(w, class[w], 1)
	}
	gain := make([]float64, clusterCount)
	for range clusterRuns {
		for w := range words {
			move(w, class[w], -1)
			total := 0.0
			clear(gain)
			for _, x := range near[w] {
				row := table[int(x.context)*clusterCount:][:clusterCount]
				alone := xlogx(x.n)
				total += x.n
				for c, v := range row {
					if v > 0 {
						gain[c] += xlogx(v+x.n) - xlogx(v)
					} else {
						gain[c] += alone
					}
				}
			}
			best := 0
			for c := range gain {
				gain[c] -= xlogx(sums[c]+total) - xlogx(sums[c])
				if gain[c] > gain[best] {
					best = c
				}
			}
			class[w] = best
			move(w, best, 1)
		}
	}
	out := make(map[string]uint8, len(words))
	for w, s := range words {
		out[s] = uint8(class[w] + 1)
	}
	return out
}

var logs = func() []float64 {
	t := make([]float64, 1<<16)
	for i := 1; i < len(t); i++ {
		t[i] = float64(i) * math.Log(float64(i))
	}
	return t
}()

func xlogx(x float64) float64 {
	if x < float64(len(logs)) {
		return logs[int(x)]
	}
	return x * math.Log(x)
}

// vocabulary lists the words by falling frequency.
func vocabulary(paragraphs [][]string) ([]string, map[string]int32) {
	counts := map[string]int{}
	for _, p := range paragraphs {
		for _, w := range p {
			counts[w]++
		}
	}
	var words []string
	for w, n := range counts {
		if n >= clusterMin {
			words = append(words, w)
		}
	}
	slices.SortFunc(words, func(a, b string) int { return cmp.Or(counts[b]-counts[a], cmp.Compare(a, b)) })
	ids := make(map[string]int32, len(words))
	for i, w := range words {
		ids[w] = int32(i)
	}
	return words, ids
}

func neighbours(paragraphs [][]string, ids map[string]int32) [][]neighbour {
	counts := make([]map[int32]float64, len(ids))
	context := func(p []string, i int) int32 {
		if i < 0 || i >= len(p) {
			return contextWords
		}
		if id, ok := ids[p[i]]; ok && id < contextWords {
			return id
		}
		return contextWords
	}
	for _, p := range paragraphs {
		for i, w := range p {
			id, ok := ids[w]
			if !ok {
				continue
			}
			if counts[id] == nil {
				counts[id] = map[int32]float64{}
			}
			counts[id][context(p, i-1)]++
			counts[id][context(p, i+1)+contextWords+1]++
		}
	}
	out := make([][]neighbour, len(ids))
	for w, c := range counts {
		for x, n := range c {
			out[w] = append(out[w], neighbour{x, n})
		}
		slices.SortFunc(out[w], func(a, b neighbour) int { return cmp.Compare(a.context, b.context) })
	}
	return out
}
