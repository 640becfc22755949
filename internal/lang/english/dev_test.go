//go:build bench

package english_test

import (
	"compress/gzip"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"bookstead/internal/lang/conllu"
	"bookstead/internal/lang/english"
	"bookstead/internal/lang/score"
)

// TestDevGate reads the development parts of two treebanks from raw text and
// scores them by the CoNLL 2018 shared task's definitions. Gates in percent:
// sentences, universal tags, attachment, labelled attachment, lemmas (0: none).
func TestDevGate(t *testing.T) {
	shared := os.Getenv("BOOKSTEAD_SHARED")
	if shared == "" {
		shared = "../../../../shared"
	}
	for _, c := range []struct {
		file                              string
		sentences, upos, uas, las, lemmas float64
	}{
		{"ud-en-ewt/en_ewt-ud-dev.conllu.gz", 86, 95.5, 87.5, 85, 0},
		{"ud-en-gum/en_gum-ud-dev.conllu.gz", 94, 97, 89, 86.5, 97},
		{"ud-en-gum/en_gum-ud-train.nc.conllu.gz", 0, 0, 0, 0, 0}, // fiction and wikiHow, never learned from: reported
	} {
		f, err := os.Open(filepath.Join(shared, "bench", filepath.FromSlash(c.file)))
		if err != nil {
			t.Fatalf("the treebanks are missing: %v", err)
		}
		z, err := gzip.NewReader(f)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := conllu.Read(z)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		gold := conllu.ToDoc(rows)
		d, err := english.Cut(context.Background(), gold.Text, gold.Paragraphs, english.Options{})
		if err == nil {
			err = english.Understand(context.Background(), d)
		}
		if err != nil {
			t.Fatal(err)
		}
		s, err := score.Compare(gold, d)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Printf("%-42s", c.file)
		for _, x := range []struct {
			name      string
			got, gate float64
		}{
			{"sentences", 100 * s.Sentences.F1(), c.sentences}, {"UPOS", 100 * s.UPOS.F1(), c.upos}, {"UAS", 100 * s.UAS.F1(), c.uas},
			{"LAS", 100 * s.LAS.F1(), c.las}, {"lemmas", 100 * s.Lemmas.F1(), c.lemmas},
		} {
			fmt.Printf("  %s %.2f", x.name, x.got)
			if x.got < x.gate {
				t.Errorf("%s: %s %.2f is under its gate of %.1f", c.file, x.name, x.got, x.gate)
			}
		}
		fmt.Println()
	}
}
