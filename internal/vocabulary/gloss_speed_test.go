//go:build bench

package vocabulary

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bookstead/internal/lang/english"
	"bookstead/internal/lexicon"
	"bookstead/internal/sense"
)

// hardFrom is the difficulty from which a word of the novel is explained.
const hardFrom = 4

// TestSharedExplainNovel explains each hard word of a novel once, where it first
// stands, and tells how long it took and how many could be explained.
func TestSharedExplainNovel(t *testing.T) {
	dir := "../../../shared"
	if d := os.Getenv("BOOKSTEAD_SHARED"); d != "" {
		dir = d
	}
	raw, err := os.ReadFile(filepath.Join(dir, "books/the_adventures_of_tom_sawyer.txt"))
	if err != nil {
		t.Fatalf("the novel is missing: %v", err)
	}
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	d, err := english.Cut(context.Background(), string(raw), nil, english.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := english.Understand(context.Background(), d, english.Options{}); err != nil {
		t.Fatal(err)
	}
	start := time.Now()
	g := NewGlosser(lex, d)
	seen := map[string]bool{}
	var hard []int
	for i, tk := range d.Tokens {
		lemma := strings.ToLower(tk.Lemma)
		if _, ok := sense.POSOf(tk.UPOS); !ok || seen[lemma] || !plain(tk.Form) || len(lemma) < 4 || len(lex.Lemmas(lemma, lexicon.Noun))+len(lex.Lemmas(lemma, lexicon.Verb))+len(lex.Lemmas(lemma, lexicon.Adjective))+len(lex.Lemmas(lemma, lexicon.Adverb)) == 0 {
			continue
		}
		seen[lemma] = true
		if g.measure.Word(lemma) < hardFrom {
			continue
		}
		hard = append(hard, i)
	}
	found := time.Since(start)
	if err := g.ReadAhead(context.Background(), hard); err != nil {
		t.Fatal(err)
	}
	told, synonyms := 0, 0
	for _, i := range hard {
		if gl, ok := g.At(i); ok {
			told++
			if gl.Synonym != "" {
				synonyms++
			}
		}
	}
	t.Logf("%d tokens, %d words of difficulty %d and more: %d explained (%.0f %%), %d with a synonym, in %v, of which %v to find them", len(d.Tokens), len(hard), hardFrom, told, 100*float64(told)/float64(len(hard)), synonyms, time.Since(start).Round(10*time.Millisecond), found.Round(10*time.Millisecond))
	if told*3 < len(hard)*2 {
		t.Errorf("only %d of %d hard words can be explained", told, len(hard))
	}
}
