package g2p

import (
	"math"
	"slices"
	"strings"
)

// Example is a spelling in lower case with its phones, without stress.
type Example struct {
	Word   string
	Phones []string
}

// chunk is a graphone: some letters with the phones that they stand for.
type chunk struct{ letters, phones string }

// moves are the sizes (letters, phones) that a chunk may have: silent letters
// ("b" in lamb), one to one, one letter with two phones ("x" as K S) and two
// letters with one ("sh").
var moves = [][2]int{{1, 0}, {1, 1}, {1, 2}}

// aligner finds chunks by expectation and maximisation (Jiampojamarn et al.
// 2007, after Bisani and Ney 2008).
type aligner struct{ p map[chunk]float64 }

const (
	emRounds = 12
	floorP   = 1e-9
	rarest   = 3 // a chunk that is seen less often after training is no chunk
)

func chunkAt(e Example, i, j, a, b int) chunk {
	return chunk{e.Word[i : i+a], strings.Join(e.Phones[j:j+b], " ")}
}

// train runs the rounds and returns the expected counts of the last.
func (al *aligner) train(examples []Example) map[chunk]float64 {
	var counts map[chunk]float64
	for range emRounds {
		counts = map[chunk]float64{}
		for _, e := range examples {
			al.expect(e, counts)
		}
		keys := make([]chunk, 0, len(counts))
		for c := range counts {
			keys = append(keys, c)
		}
		slices.SortFunc(keys, func(a, b chunk) int {
			return strings.Compare(a.letters+" "+a.phones, b.letters+" "+b.phones)
		})
		sum := 0.0
		for _, c := range keys {
			sum += counts[c]
		}
		al.p = make(map[chunk]float64, len(counts))
		for _, c := range keys {
			al.p[c] = counts[c] / sum
		}
	}
	return counts
}

func (al *aligner) prob(c chunk) float64 {
	if al.p == nil { // the first round knows nothing but that two letters for one sound are rarer
		if len(c.letters) == 2 || strings.Contains(c.phones, " ") || c.phones == "" {
			return 0.1
		}
		return 1
	}
	return max(al.p[c], floorP)
}

// expect adds the expected chunks of one example.
func (al *aligner) expect(e Example, counts map[chunk]float64) {
	n, m := len(e.Word), len(e.Phones)
	fwd := grid(n, m)
	bwd := grid(n, m)
	fwd[0][0], bwd[n][m] = 1, 1
	for i := 0; i <= n; i++ {
		for j := 0; j <= m; j++ {
			if fwd[i][j] == 0 {
				continue
			}
			for _, mv := range moves {
				if a, b := i+mv[0], j+mv[1]; a <= n && b <= m {
					fwd[a][b] += fwd[i][j] * al.prob(chunkAt(e, i, j, mv[0], mv[1]))
				}
			}
		}
	}
	total := fwd[n][m]
	if total == 0 {
		return
	}
	for i := n; i >= 0; i-- {
		for j := m; j >= 0; j-- {
			if fwd[i][j] == 0 {
				continue
			}
			for _, mv := range moves {
				a, b := i+mv[0], j+mv[1]
				if a > n || b > m || bwd[a][b] == 0 {
					continue
				}
				c := chunkAt(e, i, j, mv[0], mv[1])
				p := al.prob(c) * bwd[a][b]
				bwd[i][j] += p
				counts[c] += fwd[i][j] * p / total
			}
		}
	}
}

func grid(n, m int) [][]float64 {
	g := make([][]float64, n+1)
	for i := range g {
		g[i] = make([]float64, m+1)
	}
	return g
}

// best is the likeliest row of chunks of an example; nil when it has none or
// only an absurd one (the dictionary's "aaa", said "triple A"). Longer chunks
// pay for their length, else they would always win.
func (al *aligner) best(e Example, known map[chunk]bool) []chunk {
	n, m := len(e.Word), len(e.Phones)
	cost := grid(n, m)
	from := make([][]int, n+1)
	for i := range cost {
		from[i] = make([]int, m+1)
		for j := range cost[i] {
			cost[i][j] = math.Inf(1)
		}
	}
	cost[0][0] = 0
	for i := 0; i <= n; i++ {
		for j := 0; j <= m; j++ {
			for k, mv := range moves {
				a, b := i+mv[0], j+mv[1]
				if a > n || b > m || math.IsInf(cost[i][j], 1) {
					continue
				}
				c := chunkAt(e, i, j, mv[0], mv[1])
				if !known[c] {
					continue
				}
				step := -math.Log(al.prob(c)) * float64(max(mv[0], mv[1]))
				if x := cost[i][j] + step; x < cost[a][b] {
					cost[a][b], from[a][b] = x, k
				}
			}
		}
	}
	if math.IsInf(cost[n][m], 1) {
		return nil
	}
	var out []chunk
	for i, j := n, m; i > 0; {
		mv := moves[from[i][j]]
		i, j = i-mv[0], j-mv[1]
		out = append(out, chunkAt(e, i, j, mv[0], mv[1]))
	}
	slices.Reverse(out)
	return out
}

// alignAll splits every example into chunks and leaves out those that cannot be.
func alignAll(examples []Example) [][]chunk {
	al := &aligner{}
	counts := al.train(examples)
	known := map[chunk]bool{}
	for c, n := range counts {
		if n >= rarest {
			known[c] = true
		}
	}
	var rows [][]chunk
	for _, e := range examples {
		if row := al.best(e, known); row != nil {
			rows = append(rows, row)
		}
	}
	return rows
}

// Letters parts every example that can be parted into the phones of each single
// letter, for a model that goes letter by letter.
func Letters(examples []Example) (words []string, phones [][]string) {
	for _, row := range alignAll(examples) {
		word, said := "", []string(nil)
		for _, c := range row {
			word += c.letters
			said = append(said, c.phones)
		}
		words, phones = append(words, word), append(phones, said)
	}
	return words, phones
}
