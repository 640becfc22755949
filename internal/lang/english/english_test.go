package english

import (
	"context"
	"strings"
	"testing"

	"bookstead/internal/lang"
)

func understand(t *testing.T, text string) *lang.Doc {
	t.Helper()
	d, err := Cut(context.Background(), text, nil, Options{})
	if err == nil {
		err = Understand(context.Background(), d, Options{})
	}
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func lemmas(d *lang.Doc) string {
	var out []string
	for _, t := range d.Tokens {
		if t.UPOS != "PUNCT" {
			out = append(out, t.Lemma)
		}
	}
	return strings.Join(out, " ")
}

// Dialect is read as the word that it is; the text keeps its own letters. The
// sentences are ours; the dictionary forms are those of any dictionary.
func TestDialect(t *testing.T) {
	for text, want := range map[string]string{
		"He went into th' garden.":       "he go into the garden",
		"She was singin' all the while.": "she be sing all the while",
	} {
		d := understand(t, text)
		if got := lemmas(d); got != want {
			t.Errorf("lemmas of %q: %s, want %s", text, got, want)
		}
		for _, tok := range d.Tokens {
			if d.Text[tok.Start:tok.End] != tok.Form {
				t.Errorf("%q: the form %q is not what stands in the text, %q", text, tok.Form, d.Text[tok.Start:tok.End])
			}
		}
	}
}

// In the Penn Treebank an opening quotation mark is “ and a closing one ”
// (Santorini 1990, Part-of-Speech Tagging Guidelines), whatever a tagger says.
func TestSettle(t *testing.T) {
	ts := []lang.Token{{Form: "“", UPOS: "PUNCT", XPOS: "''"}, {Form: "’", UPOS: "PUNCT", XPOS: "``"}, {Form: "’", UPOS: "PART", XPOS: "POS"}}
	settle(ts)
	if ts[0].XPOS != "``" || ts[1].XPOS != "''" || ts[2].XPOS != "POS" {
		t.Errorf("settled as %+v", ts)
	}
}

// What is no English prose is passed over: it gets a flat tree with one root,
// so that every sentence of a Doc has one.
func TestEverySentenceHasOneRoot(t *testing.T) {
	d := understand(t, "The dog ran home.\n\n12 13 14 15 16 17 18 19 20 21 22 23 24 25 26 27 28 29 30\n\nIl était une fois une petite fille qui aimait beaucoup les pommes de son jardin. "+
		"Un jour, elle trouva un petit chien noir derrière la maison, et elle lui donna du pain et du lait avec beaucoup de plaisir.")
	skipped := false
	for _, p := range d.Paragraphs {
		skipped = skipped || p.Skip
	}
	if !skipped {
		t.Fatal("nothing was passed over, so this test would say nothing")
	}
	for i, s := range d.Sentences {
		roots := 0
		for k := s.First; k < s.Last; k++ {
			h := d.Tokens[k].Head
			switch {
			case h < 0:
				roots++
			case h < s.First || h >= s.Last:
				t.Errorf("sentence %d: a head stands outside it", i)
			}
			if d.Tokens[k].UPOS == "" {
				t.Errorf("sentence %d: %q has no tag", i, d.Tokens[k].Form)
			}
		}
		if roots != 1 {
			t.Errorf("sentence %d has %d roots", i, roots)
		}
	}
}
