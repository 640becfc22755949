//go:build bench

package english_test

import (
	"compress/gzip"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"bookstead/internal/lang"
	"bookstead/internal/lang/conllu"
	"bookstead/internal/lang/english"
	"bookstead/internal/lang/score"
)

// TestDevGate reads the development parts of two treebanks from raw text and
// scores them by the CoNLL 2018 shared task's definitions. Gates in percent:
// sentences, universal tags, attachment, labelled attachment, lemmas (0: none).
// Fiction, never learned from, may not fall under the treebank that has it by
// more than 1.
func TestDevGate(t *testing.T) {
	shared := os.Getenv("BOOKSTEAD_SHARED")
	if shared == "" {
		shared = "../../../../shared"
	}
	before := map[string]float64{}
	for _, c := range []struct {
		file                              string
		sentences, upos, uas, las, lemmas float64
	}{
		{"ud-en-ewt/en_ewt-ud-dev.conllu.gz", 86, 95.5, 87.5, 85, 0},
		{"ud-en-gum/en_gum-ud-dev.conllu.gz", 94, 97, 89, 86.5, 97},
		{"ud-en-gum/en_gum-ud-train.nc.conllu.gz", 0, 0, 0, 0, 0}, // fiction and wikiHow: held against the file before
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
			err = english.Understand(context.Background(), d, english.Options{})
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
			if c.sentences == 0 && x.name != "lemmas" {
				x.gate = before[x.name] - 1
			}
			before[x.name] = x.got
			if x.got < x.gate {
				t.Errorf("%s: %s %.2f is under its gate of %.1f", c.file, x.name, x.got, x.gate)
			}
		}
		fmt.Println()
	}
}

// TestFragmentGate scores sentence types on gold sentences: fragments among them.
func TestFragmentGate(t *testing.T) {
	shared := os.Getenv("BOOKSTEAD_SHARED")
	if shared == "" {
		shared = "../../../../shared"
	}
	f, err := os.Open(filepath.Join(shared, "bench", "ud-en-gum", "en_gum-ud-dev.conllu.gz"))
	if err != nil {
		t.Fatalf("the treebank is missing: %v", err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := conllu.Read(z)
	if err != nil {
		t.Fatal(err)
	}
	gold := conllu.ToDoc(rows)
	d := &lang.Doc{Text: gold.Text, Paragraphs: gold.Paragraphs, Sentences: slices.Clone(gold.Sentences)}
	for _, t := range gold.Tokens {
		d.Tokens = append(d.Tokens, lang.Token{Start: t.Start, End: t.End, Form: t.Form, Multi: t.Multi, Head: -1})
	}
	d.Done(lang.LayerTokens | lang.LayerSentences)
	if err := english.Understand(context.Background(), d, english.Options{}); err != nil {
		t.Fatal(err)
	}
	var both, got, want int
	for i, s := range gold.Sentences {
		a, b := s.Type == lang.Fragment, d.Sentences[i].Type == lang.Fragment
		if a {
			want++
		}
		if b {
			got++
		}
		if a && b {
			both++
		}
	}
	f1 := 2 * float64(both) / float64(got+want)
	fmt.Printf("GUM dev, gold sentences: fragments F1 %.3f\n", f1)
	if f1 < 0.75 {
		t.Errorf("fragments %.3f, under .75", f1)
	}
}
