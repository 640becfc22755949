package score

import (
	"math"
	"strings"
	"testing"

	"bookstead/internal/lang"
)

// words builds a Doc of one sentence from tokens; "abc a b c" is a multiword
// token and its words. Each word hangs on the first one, which is the root.
func words(tokens ...string) *lang.Doc {
	d := &lang.Doc{}
	var text strings.Builder
	for _, tok := range tokens {
		parts := strings.Split(tok, " ")
		start := text.Len()
		text.WriteString(parts[0])
		end := text.Len()
		text.WriteByte(' ')
		add := func(form string, start, end int, multi int8) {
			head := 0
			if len(d.Tokens) == 0 {
				head = -1
			}
			d.Tokens = append(d.Tokens, lang.Token{Start: start, End: end, Form: form, Head: head, Multi: multi})
		}
		if len(parts) == 1 {
			add(parts[0], start, end, 0)
			continue
		}
		for i, p := range parts[1:] {
			if i == 0 {
				add(p, start, end, int8(len(parts)-1))
			} else {
				add(p, end, end, -1)
			}
		}
	}
	d.Text = text.String()
	d.Sentences = []lang.Sentence{{First: 0, Last: len(d.Tokens)}}
	return d
}

// TestAlignment holds the worked examples that stand in the unit test of
// conll18_ud_eval.py (TestAlignment), version 1.2.
func TestAlignment(t *testing.T) {
	list := func(s ...string) []string { return s }
	for _, c := range []struct {
		gold, system []string
		correct      int
	}{
		{list("a"), list("a"), 1},
		{list("a", "b", "c"), list("a", "b", "c"), 3},
		{list("abc a b c"), list("a", "b", "c"), 3},
		{list("a", "bc b c", "d"), list("a", "b", "c", "d"), 4},
		{list("abcd a b c d"), list("ab a b", "cd c d"), 4},
		{list("abc a b c", "de d e"), list("a", "bcd b c d", "e"), 5},
		{list("abcd"), list("a", "b", "c", "d"), 0},
		{list("abc", "d"), list("a", "b", "c", "d"), 1},
		{list("a", "bc", "d"), list("a", "b", "c", "d"), 2},
		{list("a", "bc b c", "d"), list("a", "b", "cd"), 2},
		{list("abc a BX c", "def d EX f"), list("ab a b", "cd c d", "ef e f"), 4},
		{list("ab a b", "cd bc d"), list("a", "bc", "d"), 2},
		{list("a", "bc b c", "d"), list("ab AX BX", "cd CX a"), 1},
	} {
		g, s := words(c.gold...), words(c.system...)
		r, err := Compare(g, s)
		if err != nil {
			t.Errorf("%v %v: %v", c.gold, c.system, err)
			continue
		}
		if want := (F{len(g.Tokens), len(s.Tokens), c.correct}); r.Words != want {
			t.Errorf("%v %v: words %v, want %v", c.gold, c.system, r.Words, want)
		}
	}
	if _, err := Compare(words("a"), words("b")); err == nil {
		t.Error("different texts were compared")
	}
}

// TestCounts is worked by hand: seven gold words in two sentences against a
// system that joins the sentences, splits one token and errs in one head.
func TestCounts(t *testing.T) {
	gold := words("Dogs", "bark", ".", "Cats", "don't do n't", "purr")
	gold.Sentences = []lang.Sentence{{First: 0, Last: 3}, {First: 3, Last: 7}}
	set := func(d *lang.Doc, i int, upos, feats, lemma string, head int, rel string) {
		k := &d.Tokens[i]
		k.UPOS, k.Feats, k.Lemma, k.Head, k.Deprel = upos, feats, lemma, head, rel
	}
	set(gold, 0, "NOUN", "Number=Plur", "dog", 1, "nsubj")
	set(gold, 1, "VERB", "Mood=Ind|Tense=Pres", "bark", -1, "root")
	set(gold, 2, "PUNCT", "", ".", 1, "punct")
	set(gold, 3, "NOUN", "Number=Plur", "cat", 6, "nsubj:outer")
	set(gold, 4, "AUX", "", "do", 6, "aux")
	set(gold, 5, "PART", "", "_", 6, "advmod")
	set(gold, 6, "VERB", "VerbForm=Inf", "purr", -1, "root")
	sys := words("Dogs", "bark", ".", "Cats", "don't do n't", "pu", "rr")
	set(sys, 0, "NOUN", "Number=Plur|NumForm=Word", "dog", 1, "nsubj")
	set(sys, 1, "NOUN", "Tense=Pres|Mood=Ind", "bark", -1, "root")
	set(sys, 2, "PUNCT", "", ".", 0, "punct")
	set(sys, 3, "NOUN", "Number=Sing", "cats", 1, "nsubj")
	set(sys, 4, "AUX", "", "do", 1, "aux")
	set(sys, 5, "PART", "", "not", 4, "advmod")
	set(sys, 6, "VERB", "", "pu", 1, "dep")
	set(sys, 7, "VERB", "", "rr", 1, "dep")
	r, err := Compare(gold, sys)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name    string
		f       F
		correct int
		gold    int
		system  int
	}{
		{"tokens", r.Tokens, 5, 6, 7},
		{"sentences", r.Sentences, 0, 2, 1},
		{"words", r.Words, 6, 7, 8},
		{"UPOS", r.UPOS, 5, 7, 8},
		{"feats", r.Feats, 5, 7, 8},   // language-specific NumForm does not count
		{"lemmas", r.Lemmas, 5, 7, 8}, // an open gold lemma counts as right
		{"UAS", r.UAS, 2, 7, 8},       // Dogs and bark: "don't" hangs on an unmatched word in the gold
		{"LAS", r.LAS, 2, 7, 8},
		{"CLAS", r.CLAS, 2, 5, 6}, // all but punct and aux
	} {
		if c.f != (F{c.gold, c.system, c.correct}) {
			t.Errorf("%s: %+v, want %d right of %d, %d given", c.name, c.f, c.correct, c.gold, c.system)
		}
	}
	if f := r.UPOS.F1(); math.Abs(f-10.0/15) > 1e-12 {
		t.Errorf("F1 %v", f)
	}
}

func TestPerfect(t *testing.T) {
	d := words("a", "bc b c", "d")
	r, err := Compare(d, words("a", "bc b c", "d"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range []F{r.Tokens, r.Words, r.UPOS, r.UAS, r.LAS, r.Lemmas} {
		if f.F1() != 1 {
			t.Errorf("%+v", r)
		}
	}
	if (F{}).F1() != 0 {
		t.Error("F1 of nothing")
	}
}
