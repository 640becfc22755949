//go:build bench

package question_test

import (
	"context"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bookstead/internal/book"
	"bookstead/internal/book/importer"
	"bookstead/internal/kit"
	"bookstead/internal/lang/english"
	"bookstead/internal/passage"
	"bookstead/internal/question"
)

var (
	update = flag.Bool("update", false, "write the golden drafts anew")
	sample = flag.String("sample", "", "write 300 drafts, drawn by a fixed seed, to this file, to be judged")
)

// golden are the books with the chapter, counted from 1, whose drafts are kept.
var golden = []struct {
	file    string
	chapter int
}{
	{"the-secret-garden.epub", 4},
	{"the-wonderful-wizard-of-oz.epub", 5},
	{"black-beauty.epub", 6},
	{"alices_adventures_in_wonderland.txt", 7},
	{"the_adventures_of_tom_sawyer.txt", 2},
	{"little_women.txt", 5},
}

// TestSharedGoldenDrafts holds the drafts of one chapter of each novel to those
// that were read and found good enough: places and questions, no text of the book.
// A change here is to be read before it is kept (-update).
func TestSharedGoldenDrafts(t *testing.T) {
	var got, drawn []string
	lex := opened(t)
	for _, g := range golden {
		f := shared(t, "books/"+g.file)
		st, err := f.Stat()
		if err != nil {
			t.Fatal(err)
		}
		b, err := importer.Import(context.Background(), g.file, f, st.Size(), nil)
		if err != nil {
			t.Fatal(err)
		}
		d, err := english.Cut(context.Background(), b.Text, passage.Paragraphs(b), english.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if err := english.Understand(context.Background(), d, english.Options{}); err != nil {
			t.Fatal(err)
		}
		var lessons []kit.Lesson
		for _, c := range b.Chapters {
			if c.Kind == book.Body {
				lessons = append(lessons, kit.Lesson{Number: len(lessons) + 1, Span: c.Span})
			}
		}
		drafts, err := question.Draft(context.Background(), lex, passage.Split(b, d, lessons, 4), question.Options{Questions: 6, Quotations: 2})
		if err != nil {
			t.Fatal(err)
		}
		for i, ds := range drafts {
			for _, x := range ds {
				if x.Kind != kit.Question || x.Spare {
					continue
				}
				if x.Place.Start < lessons[i].Start || x.Place.End > lessons[i].End {
					t.Errorf("%s: %q is proved outside its chapter", g.file, x.Content.Head)
				}
				drawn = append(drawn, strings.Join([]string{g.file, x.Content.Note, x.Content.Head, x.Content.Answer, strings.Join(strings.Fields(x.Place.Exact), " ")}, "\t"))
				if i+1 == g.chapter {
					got = append(got, fmt.Sprintf("%s\t%d\t%d\t%s\t%s", g.file, x.Place.Start, x.Place.End, x.Content.Note, x.Content.Head))
				}
			}
		}
	}
	if *sample != "" {
		rand.New(rand.NewPCG(300, 1)).Shuffle(len(drawn), func(i, j int) { drawn[i], drawn[j] = drawn[j], drawn[i] })
		if err := os.WriteFile(*sample, []byte(strings.Join(drawn[:min(300, len(drawn))], "\n")+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	path := filepath.Join("testdata", "golden.tsv")
	if *update {
		if err := os.WriteFile(path, []byte(strings.Join(got, "\n")+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(want)), "\n")
	for i := 0; i < max(len(lines), len(got)); i++ {
		a, z := "", ""
		if i < len(lines) {
			a = lines[i]
		}
		if i < len(got) {
			z = got[i]
		}
		if a != z {
			t.Errorf("line %d:\n was %s\n now %s", i+1, a, z)
		}
	}
}
