//go:build bench

package digest

import (
	"compress/gzip"
	"context"
	"encoding/csv"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bookstead/internal/book"
	"bookstead/internal/lang/english"
	"bookstead/internal/passage"
)

// rows reads a table of FairytaleQA (Xu et al. 2022): questions that teachers
// asked about children's stories, and the stories.
func rows(t *testing.T, name string) []map[string]string {
	t.Helper()
	dir := "../../../shared"
	if d := os.Getenv("BOOKSTEAD_SHARED"); d != "" {
		dir = d
	}
	f, err := os.Open(filepath.Join(dir, "bench/fairytaleqa", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	all, err := csv.NewReader(z).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range all[1:] {
		m := map[string]string{}
		for i, k := range all[0] {
			m[k] = r[i]
		}
		out = append(out, m)
	}
	return out
}

func content(s string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r != '\'' && (r < 'a' || r > 'z') }) {
		if len(w) > 3 {
			out = append(out, w)
		}
	}
	return out
}

// covers reports whether one of the sentences has at least three fifths of the
// words of an answer.
func covers(sentences []map[string]bool, answer string) (is, asked bool) {
	words := content(answer)
	for _, text := range sentences {
		n := 0
		for _, w := range words {
			if text[w] {
				n++
			}
		}
		is = is || 5*n >= 3*len(words)
	}
	return is, len(words) >= 2
}

// What teachers asked about actions, causes and outcomes of whole stories is
// answered in a digest more often than in as many sentences taken at even
// distances, at random, or from the beginning.
func TestSharedCoverage(t *testing.T) {
	stories := map[string]string{}
	var names []string
	for _, r := range rows(t, "val_sections.csv.gz") {
		if _, ok := stories[r["story"]]; !ok {
			names = append(names, r["story"])
		}
		stories[r["story"]] += strings.Join(strings.Fields(r["text"]), " ") + "\n"
	}
	questions := rows(t, "val_questions.csv.gz")
	rnd := rand.New(rand.NewPCG(1, 2))
	hits := map[string]int{}
	asked, lines := 0, 0
	for _, name := range names {
		var w book.Builder
		w.Chapter(book.Chapter{Kind: book.Body, Number: 1, Label: "Chapter 1", Part: -1})
		for _, p := range strings.Split(strings.TrimSpace(stories[name]), "\n") {
			w.Add(book.Paragraph, p)
		}
		b := w.Book()
		d, err := english.Cut(context.Background(), b.Text, passage.Paragraphs(b), english.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if err := english.Understand(context.Background(), d, english.Options{}); err != nil {
			t.Fatal(err)
		}
		g := Of(b, d, 0)
		lines += len(g.Happens)
		sets := map[string][]map[string]bool{"digest": nil, "even": nil, "random": nil, "first": nil}
		put := func(set, text string) {
			words := map[string]bool{}
			for _, w := range content(text) {
				words[w] = true
			}
			sets[set] = append(sets[set], words)
		}
		size := 0
		for _, l := range g.Happens {
			put("digest", b.Text[l.Place.Start:l.Place.End])
			size += l.Place.End - l.Place.Start
		}
		sentence := func(i int) string { s := d.SentenceSpan(i); return d.Text[s.Start:s.End] }
		// The others may take as many bytes as the digest does.
		fill := func(set string, order []int) {
			left := size
			for _, i := range order {
				s := sentence(i)
				if left -= len(s); left < 0 {
					return
				}
				put(set, s)
			}
		}
		n := len(d.Sentences)
		var first, spaced []int
		for i := range n {
			first = append(first, i)
		}
		for k := range len(g.Happens) * 2 {
			spaced = append(spaced, (k*n)/(len(g.Happens)*2))
		}
		fill("first", first)
		fill("even", spaced)
		fill("random", rnd.Perm(n))
		for _, q := range questions {
			if q["story"] != name || q["attribute1"] != "action" && q["attribute1"] != "causal relationship" && q["attribute1"] != "outcome resolution" {
				continue
			}
			if _, ok := covers(sets["digest"], q["answer1"]); !ok {
				continue
			}
			asked++
			for set, words := range sets {
				if is, _ := covers(words, q["answer1"]); is {
					hits[set]++
				}
			}
		}
	}
	share := func(set string) float64 { return 100 * float64(hits[set]) / float64(asked) }
	t.Logf("%d stories, %d lines, %d questions: answered in the digest %.1f %%, in as many words at even distances %.1f %%, at random %.1f %%, from the beginning %.1f %%",
		len(names), lines, asked, share("digest"), share("even"), share("random"), share("first"))
	for _, other := range []string{"even", "random", "first"} {
		if share("digest") <= share(other) {
			t.Errorf("the digest answers %.1f %%, %s sentences %.1f %%", share("digest"), other, share(other))
		}
	}
}
