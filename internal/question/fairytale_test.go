//go:build bench

package question_test

import (
	"compress/gzip"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"bookstead/internal/lang/english"
	"bookstead/internal/question"
)

// shared is where the test data lies: beside the checkout, or where the
// environment says.
func shared(t *testing.T, name string) *os.File {
	t.Helper()
	d := os.Getenv("BOOKSTEAD_SHARED")
	if d == "" {
		d = "../../../shared"
	}
	f, err := os.Open(filepath.Join(d, name))
	if err != nil {
		t.Fatalf("the data is missing: %v", err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// TestFairytaleGate measures ten drafts a section against the expert questions
// of FairytaleQA's validation split (Xu et al. 2022): how many of them a draft
// asks with the right answer, Rouge-L F1 of question and of answer each at .5 or
// more, and MAP@10 with Rouge-L (Yao et al. 2022), of which ten copied sentences
// get .40. The ranking is fitted on the train split alone.
func TestFairytaleGate(t *testing.T) {
	const floor = 0.08
	read := func(name string) *gzip.Reader {
		z, err := gzip.NewReader(shared(t, "bench/fairytaleqa/"+name))
		if err != nil {
			t.Fatal(err)
		}
		return z
	}
	sections, err := question.ReadFairytale(read("val_sections.csv.gz"), read("val_questions.csv.gz"))
	if err != nil {
		t.Fatal(err)
	}
	lex := opened(t)
	var all, sure question.Measure
	drafts := 0
	for _, s := range sections {
		d, err := english.Cut(context.Background(), s.Text, nil, english.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if err := english.Understand(context.Background(), d, english.Options{}); err != nil {
			t.Fatal(err)
		}
		asked, err := question.Ask(context.Background(), lex, d, 10)
		if err != nil {
			t.Fatal(err)
		}
		drafts += len(asked)
		all.Add(s, asked, 10)
		more, err := question.Ask(context.Background(), lex, d, 1000)
		if err != nil {
			t.Fatal(err)
		}
		var stated []question.Asked
		for _, x := range more {
			if x.Sure {
				stated = append(stated, x)
			}
		}
		sure.Add(s, stated, 10)
	}
	for _, k := range []string{"character", "setting", "action", "feeling", "causal relationship", "outcome resolution", "prediction", ""} {
		f, n, m := all.Count(k)
		fmt.Printf("%-20s %4d of %4d  %.3f  MAP@10 %.3f\n", k, f, n, float64(f)/float64(n), m)
	}
	f, n, m := sure.Count("")
	fmt.Printf("%-20s %4d of %4d  %.3f  MAP@10 %.3f\n", "sure drafts alone", f, n, float64(f)/float64(n), m)
	fmt.Printf("%.1f drafts a section\n", float64(drafts)/float64(len(sections)))
	if f, n, _ := all.Count(""); n != 1025 || float64(f)/float64(n) < floor {
		t.Errorf("%d of %d expert questions found, want %.2f of 1025", f, n, floor)
	}
}
