package phonics

import (
	"bufio"
	"os"
	"strings"
	"testing"

	"bookstead/internal/lexicon"
)

// frequentWords are words of the spelling dictionary's size at hand to a test:
// those of the data folder's list of novels' words that the pronouncing
// dictionary has, with at least this frequency.
func frequentWords(lex *lexicon.Lexicon, zipf float64) []string {
	var out []string
	for _, w := range bookWords() {
		if z, ok := lex.BookZipf(w); ok && z >= zipf && lex.Pronunciations(w) != nil && !strings.ContainsAny(w, "-'.") {
			out = append(out, w)
		}
	}
	return out
}

func bookWords() []string {
	f, err := os.Open("../../data/book-counts.tsv.gz")
	if err != nil {
		panic(err)
	}
	defer f.Close()
	z, err := gunzip(f)
	if err != nil {
		panic(err)
	}
	var out []string
	s := bufio.NewScanner(z)
	for s.Scan() {
		if w, _, ok := strings.Cut(s.Text(), "\t"); ok && !strings.HasPrefix(w, "#") {
			out = append(out, w)
		}
	}
	return out
}

// The laws of alignment: every letter and every phone comes back once, in order.
func TestAlignGivesEverythingBack(t *testing.T) {
	s := speaker(t)
	words, regular := 0, 0
	for _, w := range frequentWords(s.lex, 2) {
		for _, p := range s.lex.Pronunciations(w) {
			a := Align(w, p)
			words++
			if a.Regular() {
				regular++
			}
			var letters [64]int
			next := 0
			for _, l := range a {
				for i := l.Start; i < l.End; i++ {
					letters[i]++
				}
				if l.E >= 0 {
					letters[l.E]++
				}
				if len(l.Phones) > 0 && l.First != next {
					t.Fatalf("%s: %v: the sounds are out of order", w, a)
				}
				next += len(l.Phones)
			}
			for i := range w {
				if letters[i] != 1 {
					t.Fatalf("%s: %v: letter %d comes %d times", w, a, i, letters[i])
				}
			}
			if next != len(p) {
				t.Fatalf("%s: %v: %d of %d sounds", w, a, next, len(p))
			}
			back := ""
			for _, sy := range Syllables(w, a) {
				back += sy.Text
			}
			if back != w {
				t.Fatalf("%s comes back as %q", w, back)
			}
		}
	}
	share := float64(regular) / float64(words)
	t.Logf("%.2f%% of %d pronunciations are aligned by known spellings alone", 100*share, words)
	if words < 15000 || share < 0.97 {
		t.Errorf("%.2f%% of %d pronunciations are aligned by known spellings alone", 100*share, words)
	}
}
