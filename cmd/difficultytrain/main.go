// Command difficultytrain learns the weights by which package difficulty tells
// how hard a word is, and writes them beside it:
//
//	go run ./cmd/difficultytrain -rated lcp_single_train.tsv.gz
//
// Three questions are learned from what can be said of a word: does it stand on
// Spache's list, on Dale and Chall's (both logistic, over all lemmas of one word
// that are heard or read), and how hard did readers find it in a sentence (the
// training part of CompLex, CC BY 4.0; linear). The three answers, each scaled to
// the same spread, are added; what comes out is moved and stretched so that the
// border of Spache's list lies at grade 2 and that of Dale and Chall's at grade
// 4. The same input gives the same bytes.
package main

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"

	"bookstead/internal/difficulty"
	"bookstead/internal/lexicon"
)

func main() {
	rated := flag.String("rated", "../shared/bench/complexity/lcp_single_train.tsv.gz", "words in sentences with their difficulty (CompLex)")
	out := flag.String("out", "internal/difficulty/weights.tsv", "file to write")
	flag.Parse()
	if err := run(*rated, *out); err != nil {
		fmt.Fprintln(os.Stderr, "difficultytrain:", err)
		os.Exit(1)
	}
}

func run(rated, out string) error {
	lex, err := lexicon.Open()
	if err != nil {
		return err
	}
	ratings, err := readRatings(rated)
	if err != nil {
		return fmt.Errorf("reading the ratings: %w", err)
	}
	words, rows := wordsOf(lex, ratings)
	m := newMatrix(rows)
	n := len(words)
	first, listed := make([]float64, n), make([]float64, n)
	var ratedRows []int
	var hard []float64
	mean := 0.0
	for i, w := range words {
		if lex.Familiar(lexicon.Spache, w) {
			first[i] = 1
		}
		if lex.Familiar(lexicon.DaleChall, w) {
			listed[i] = 1
		}
		if r, ok := ratings[w]; ok {
			ratedRows = append(ratedRows, i)
			hard = append(hard, -r)
			mean -= r
		}
	}
	for i := range hard {
		hard[i] -= mean / float64(len(hard))
	}
	toFirst, toListed, toRated := m.logistic(first), m.logistic(listed), m.only(ratedRows).ridge(hard)
	a, b, c := m.times(toFirst), m.times(toListed), m.times(toRated)
	sum := make([]float64, n)
	for i := range sum {
		sum[i] = a[i]/spread(a) + b[i]/spread(b) + c[i]/spread(c)
	}
	weights := make([]float64, len(toFirst))
	for k := range weights {
		weights[k] = toFirst[k]/spread(a) + toListed[k]/spread(b) + toRated[k]/spread(c)
	}
	// half a unit for standing on a list, as a list is surer than what is guessed
	for i := range sum {
		sum[i] += member * (first[i] + listed[i])
	}
	at2, at4 := border(sum, first), border(sum, listed)
	fmt.Printf("%d words, %d rated, %d features; borders of the lists at %.2f and %.2f\n", n, len(hard), len(weights), at2, at4)
	scale := 2 / (at4 - at2) // negative: who scores more is easier
	return write(out, m, weights, scale, 2-scale*at2)
}

// member is what a list adds to the sum of three scores of spread 1.
const member = 0.5

// border is the score below which as many words of the list lie as others above.
func border(score, on []float64) float64 {
	sorted := slices.Clone(score)
	slices.Sort(sorted)
	n := 0.0
	for _, x := range on {
		n += x
	}
	return sorted[len(sorted)-int(n)]
}

func spread(x []float64) float64 {
	mean, sum := 0.0, 0.0
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		sum += (v - mean) * (v - mean)
	}
	return math.Sqrt(sum / float64(len(x)))
}

func readRatings(path string) (map[string]float64, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		return nil, err
	}
	sum, times := map[string]float64{}, map[string]float64{}
	in := bufio.NewScanner(z)
	in.Buffer(nil, 1<<20)
	for in.Scan() {
		c := strings.Split(in.Text(), "\t")
		if len(c) != 5 || c[0] == "id" {
			continue
		}
		v, err := strconv.ParseFloat(c[4], 64)
		if err != nil {
			return nil, err
		}
		w := strings.ToLower(c[3])
		sum[w] += v
		times[w]++
	}
	for w := range sum {
		sum[w] /= times[w]
	}
	return sum, in.Err()
}

// wordsOf are the lemmas that are heard or read, and the rated words, with their features.
func wordsOf(lex *lexicon.Lexicon, ratings map[string]float64) (words []string, rows []map[string]float64) {
	take := map[string]bool{}
	for w := range lex.Words() {
		_, heard := lex.Zipf(w)
		_, read := lex.BookZipf(w)
		if (heard || read) && plain(w) && !lex.Function(w) {
			take[w] = true
		}
	}
	for w := range ratings {
		if plain(w) {
			take[w] = true
		}
	}
	for w := range take {
		words = append(words, w)
	}
	slices.Sort(words)
	for _, w := range words {
		rows = append(rows, difficulty.Describe(lex, w))
	}
	return words, rows
}

func plain(w string) bool {
	return len(w) > 1 && strings.IndexFunc(w, func(r rune) bool { return (r < 'a' || r > 'z') && r != '-' && r != '\'' }) < 0
}

func write(path string, m *matrix, weights []float64, scale, shift float64) error {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# written by cmd/difficultytrain; learned from Spache's and Dale and Chall's lists (npm packages spache and dale-chall, MIT) and CompLex, train (CC BY 4.0)\n")
	raw := m.unscale(weights)
	raw[0] = raw[0]*scale + shift
	fmt.Fprintf(&b, "%s\t%.4g\n", m.names[0], raw[0])
	fmt.Fprintf(&b, "listed-first\t%.4g\nlisted\t%.4g\n", member*scale, member*scale)
	for k := 1; k < len(raw); k++ {
		if v := raw[k] * scale; math.Abs(v) >= 0.005 {
			fmt.Fprintf(&b, "%s\t%.4g\n", m.names[k], v)
		}
	}
	return os.WriteFile(path, b.Bytes(), 0o666)
}
