//go:build bench

package vocabulary

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"bookstead/internal/book/importer"
	"bookstead/internal/class"
	"bookstead/internal/divide"
	"bookstead/internal/kit"
	"bookstead/internal/lang/english"
	"bookstead/internal/lexicon"
	"bookstead/internal/passage"
)

// TestSharedWordsAreNearTheBest chooses the words of a long and of a short novel
// and holds the choice to its proven bound; it prints how far it is and how long
// choosing and explaining took.
func TestSharedWordsAreNearTheBest(t *testing.T) {
	dir := os.Getenv("BOOKSTEAD_SHARED")
	if dir == "" {
		dir = "../../../shared"
	}
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	fmt.Printf("%-38s %8s %8s %8s %10s %8s\n", "book, grade 4", "words", "lessons", "chosen", "below best", "seconds")
	for _, name := range []string{"alices_adventures_in_wonderland.txt", "the-secret-garden.epub", "the_adventures_of_tom_sawyer.txt"} {
		f, err := os.Open(filepath.Join(dir, "books", name))
		if err != nil {
			t.Fatalf("the novels are missing: %v", err)
		}
		st, _ := f.Stat()
		b, err := importer.Import(context.Background(), name, f, st.Size(), nil)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		d, err := english.Cut(context.Background(), b.Text, passage.Paragraphs(b), english.Options{})
		if err == nil {
			err = english.Understand(context.Background(), d, english.Options{})
		}
		if err != nil {
			t.Fatal(err)
		}
		lessons, _, err := divide.Divide(b, divide.For(class.Class{Grade: 4, Settings: class.Defaults(4)}, kit.Kit{}))
		if err != nil {
			t.Fatal(err)
		}
		start := time.Now()
		e := newEngine(lex, passage.Split(b, d, lessons, 4), Options{Words: 6, Backgrounds: 3})
		_, terms := e.background()
		all, err := e.candidates(context.Background(), terms)
		if err != nil {
			t.Fatal(err)
		}
		sel, err := e.choose(context.Background(), all, e.own(all))
		if err != nil {
			t.Fatal(err)
		}
		seconds := time.Since(start).Seconds()
		words, chosen, seen := 0, 0, map[string]bool{}
		for _, l := range lessons {
			words += l.Words
		}
		for _, cs := range sel.chosen {
			for _, c := range cs {
				chosen++
				if seen[c.lemma] {
					t.Errorf("%s: %q is chosen twice", name, c.lemma)
				}
				seen[c.lemma] = true
			}
		}
		gap := (sel.bound - sel.value) / sel.bound
		fmt.Printf("%-38s %8d %8d %8d %9.3f%% %8.2f\n", name, words, len(lessons), chosen, 100*gap, seconds)
		if gap > 0.005 || gap < -1e-9 {
			t.Errorf("%s: the choice is %.2f%% below its bound", name, 100*gap)
		}
		if chosen < 5*len(lessons) {
			t.Errorf("%s: only %d words for %d lessons", name, chosen, len(lessons))
		}
	}
}
