//go:build bench

package sense

import (
	"context"
	"encoding/xml"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bookstead/internal/lang"
	"bookstead/internal/lang/neural"
	"bookstead/internal/lexicon"
)

func shared() string {
	if d := os.Getenv("BOOKSTEAD_SHARED"); d != "" {
		return d
	}
	return "../../../shared"
}

// instance is a word to judge, with the keys of WordNet 3.0 that are right.
type instance struct {
	unit Unit
	gold map[string]bool
}

// evaluation is a text of a set of the unified evaluation framework (Raganato,
// Camacho-Collados and Navigli 2017), with its own tokens, lemmas and tags.
type evaluation struct {
	d         *lang.Doc
	instances []instance
}

func evaluations(t *testing.T, set string) []evaluation {
	t.Helper()
	read := func(name string) []byte {
		raw, err := os.ReadFile(filepath.Join(shared(), "bench/wsd", name))
		if err != nil {
			t.Fatalf("the data is missing: %v", err)
		}
		return raw
	}
	gold := map[string]map[string]bool{}
	for _, line := range strings.Split(string(read(set+".gold.key.txt")), "\n") {
		if f := strings.Fields(line); len(f) > 1 {
			gold[f[0]] = map[string]bool{}
			for _, key := range f[1:] {
				gold[f[0]][key] = true
			}
		}
	}
	var corpus struct {
		Texts []struct {
			Sentences []struct {
				Words []struct {
					ID    string `xml:"id,attr"`
					Lemma string `xml:"lemma,attr"`
					POS   string `xml:"pos,attr"`
					Form  string `xml:",chardata"`
				} `xml:",any"`
			} `xml:"sentence"`
		} `xml:"text"`
	}
	if err := xml.Unmarshal(read(set+".data.xml"), &corpus); err != nil {
		t.Fatal(err)
	}
	var out []evaluation
	for _, text := range corpus.Texts {
		e := evaluation{d: &lang.Doc{}}
		var b strings.Builder
		for _, s := range text.Sentences {
			first := len(e.d.Tokens)
			for _, w := range s.Words {
				at := len(e.d.Tokens)
				forms := strings.Fields(w.Form)
				for _, f := range forms {
					lemma := w.Lemma
					if len(forms) > 1 {
						lemma = strings.ToLower(f)
					}
					e.d.Tokens = append(e.d.Tokens, lang.Token{Start: b.Len(), End: b.Len() + len(f), Form: f, Lemma: lemma, UPOS: w.POS})
					b.WriteString(f + " ")
				}
				if w.ID == "" {
					continue
				}
				pos, ok := POSOf(w.POS)
				if !ok {
					t.Fatalf("%s is tagged %q", w.ID, w.POS)
				}
				u := Unit{First: at, Last: len(e.d.Tokens), Head: len(e.d.Tokens) - 1, Lemma: strings.ReplaceAll(w.Lemma, "_", " "), POS: pos}
				if pos == lexicon.Verb {
					u.Head = at
				}
				e.instances = append(e.instances, instance{u, gold[w.ID]})
			}
			e.d.Sentences = append(e.d.Sentences, lang.Sentence{First: first, Last: len(e.d.Tokens)})
		}
		e.d.Text = b.String()
		e.d.Done(lang.LayerTokens | lang.LayerSentences)
		out = append(out, e)
	}
	return out
}

// TestGateSenses scores the three sets that are here. Only semeval2007 served to
// build; the other two are run once a release (-run Gate/semeval2007 for the rest).
func TestGateSenses(t *testing.T) {
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	reader, err := neural.Load()
	if err != nil {
		t.Fatal(err)
	}
	sets := []struct {
		name string
		size int
	}{{"semeval2007", 455}, {"senseval2", 2282}, {"senseval3", 1850}}
	right, first, total := 0, 0, 0
	for _, set := range sets {
		t.Run(set.name, func(t *testing.T) {
			r, f, n := 0, 0, 0
			for _, e := range evaluations(t, set.name) {
				given := append([]lang.Token(nil), e.d.Tokens...)
				read, err := reader.Read(context.Background(), e.d)
				if err != nil {
					t.Fatal(err)
				}
				for i := range given {
					e.d.Tokens[i].Lemma, e.d.Tokens[i].UPOS = given[i].Lemma, given[i].UPOS
				}
				e.d.Meanings = read
				j := New(lex, e.d)
				for _, in := range e.instances {
					n++
					ranked := j.Rank(in.unit)
					if len(ranked) == 0 {
						continue
					}
					if in.gold[lex.Key30(ranked[0].Key)] {
						r++
					}
					if in.gold[lex.Key30(lex.Senses(in.unit.Lemma, in.unit.POS)[0].Key)] {
						f++
					}
				}
			}
			if n != set.size {
				t.Fatalf("%d words to judge, not %d", n, set.size)
			}
			t.Logf("%s: F1 %.2f (first sense %.2f) of %d", set.name, 100*float64(r)/float64(n), 100*float64(f)/float64(n), n)
			right, first, total = right+r, first+f, total+n
		})
	}
	if total == 455+2282+1850 {
		f1 := 100 * float64(right) / float64(total)
		t.Logf("together: F1 %.2f (first sense %.2f)", f1, 100*float64(first)/float64(total))
		if f1 < 70 {
			t.Errorf("F1 %.2f is less than 70", f1)
		}
	}
}
