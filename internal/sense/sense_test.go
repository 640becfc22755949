package sense_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"bookstead/internal/lang"
	"bookstead/internal/lang/english"
	"bookstead/internal/lexicon"
	"bookstead/internal/sense"
)

func lex(t testing.TB) *lexicon.Lexicon {
	t.Helper()
	l, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func read(t testing.TB, text string) *lang.Doc {
	t.Helper()
	d, err := english.Cut(context.Background(), text, nil, english.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	if err := english.Understand(context.Background(), d, english.Options{}); err != nil {
		t.Fatal(err)
	}
	return d
}

// token finds the form, the first or, behind a number, a later one: "bank 2".
func token(t testing.TB, d *lang.Doc, form string) int {
	t.Helper()
	for i, tk := range d.Tokens {
		if tk.Form == form {
			return i
		}
	}
	t.Fatalf("no token %q", form)
	return 0
}

// What the word means is plain to any reader; keys are WordNet 3.1's, their
// beginning is enough.
func TestSenseInContext(t *testing.T) {
	l := lex(t)
	for _, c := range []struct{ text, word, key string }{
		{"They sat on the grassy bank of the river and watched the water.", "bank", "bank%1:17:01"},
		{"He put all his money in the bank and got a receipt from the clerk.", "bank", "bank%1:14:00"},
		{"The dog began to bark at the strangers by the gate.", "bark", "bark%2:32:0"},
		{"She peeled a strip of bark from the trunk of the old birch tree.", "bark", "bark%1:20:00"},
		{"He spoke in a low husky voice, for he had a cold in his throat.", "husky", "husky%5:00:00:cacophonous"},
		{"How much would a spade cost, a little one to dig the garden with?", "spade", "spade%1:06:00"},
	} {
		d := read(t, c.text)
		j := sense.New(l, d)
		u, ok := j.UnitAt(token(t, d, c.word))
		if !ok {
			t.Errorf("%q: no unit", c.text)
			continue
		}
		if r := j.Rank(u); !strings.HasPrefix(r[0].Key, c.key) {
			t.Errorf("%q: %s is taken for %s (%s), not %s", c.text, c.word, r[0].Key, r[0].Gloss, c.key)
		}
	}
}

func TestUnits(t *testing.T) {
	l := lex(t)
	for _, c := range []struct {
		text, word, lemma string
		parted            bool
	}{
		{"They set out before dawn.", "set", "set out", false},
		{"They set out before dawn.", "out", "set out", false},
		{"By and by the rain stopped.", "and", "by and by", false},
		{"She took her wet coat off at once.", "took", "take off", true},
		{"The garden was full of roses.", "garden", "garden", false},
		{"He wandered along the road.", "wandered", "wander", false},
	} {
		d := read(t, c.text)
		u, ok := sense.New(l, d).UnitAt(token(t, d, c.word))
		if !ok || u.Lemma != c.lemma || u.Parted() != c.parted {
			t.Errorf("%q: %s belongs to %+v, want %q", c.text, c.word, u, c.lemma)
		}
	}
	d := read(t, "Of the the.")
	if u, ok := sense.New(l, d).UnitAt(1); ok {
		t.Errorf("an article is the unit %+v", u)
	}
}

// Scores add up to 1, reasons are given, and asking again gives the same.
func TestRankLaws(t *testing.T) {
	l := lex(t)
	d := read(t, "The queer old man set a light by the spring, and was gay. The spring was cold.")
	j := sense.New(l, d)
	asked := 0
	for i := range d.Tokens {
		u, ok := j.UnitAt(i)
		if !ok {
			continue
		}
		asked++
		a, b := j.Rank(u), sense.New(l, d).Rank(u)
		sum, barred := 0.0, false
		for k, r := range a {
			sum += r.Score
			if r.Why == "" || r.Score < 0 || r.Key != b[k].Key || r.Score != b[k].Score || r.Why != b[k].Why {
				t.Errorf("%s: %+v against %+v", u.Lemma, r, b[k])
			}
			if barred && !r.Offensive {
				t.Errorf("%s: an offensive sense stands before %s", u.Lemma, r.Key)
			}
			barred = barred || r.Offensive
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("%s: scores add up to %v", u.Lemma, sum)
		}
	}
	if asked < 8 {
		t.Errorf("only %d units", asked)
	}
}

// Innocent meanings of words that older books use freely come first.
func TestInnocentFirst(t *testing.T) {
	l := lex(t)
	d := read(t, "It was a queer thing, and they were all very gay. The ass brayed at the donkey in the field.")
	j := sense.New(l, d)
	for _, w := range []string{"queer", "gay", "ass"} {
		u, ok := j.UnitAt(token(t, d, w))
		if !ok {
			t.Fatalf("no unit %s", w)
		}
		if r := j.Rank(u); r[0].Offensive {
			t.Errorf("%s: %s comes first", w, r[0].Gloss)
		}
	}
}

// Without a network the dictionary alone decides.
func TestWithoutReader(t *testing.T) {
	l := lex(t)
	d := read(t, "The dog ran.")
	d.Meanings = nil
	r := sense.New(l, d).Rank(sense.Unit{First: 1, Last: 2, Head: 1, Lemma: "dog", POS: lexicon.Noun})
	if len(r) == 0 || r[0].Number != 1 {
		t.Errorf("%+v", r)
	}
	if r := sense.New(l, d).Rank(sense.Unit{First: 1, Last: 2, Head: 1, Lemma: "zzxq", POS: lexicon.Noun}); r != nil {
		t.Errorf("an unknown word has senses: %+v", r)
	}
}

func BenchmarkRank(b *testing.B) {
	l := lex(b)
	d := read(b, "He spoke in a low husky voice. The spring was cold, and they set out along the bank of the river before dawn.")
	var units []sense.Unit
	j := sense.New(l, d)
	for i := range d.Tokens {
		if u, ok := j.UnitAt(i); ok {
			units = append(units, u)
		}
	}
	for i := 0; b.Loop(); i++ {
		sense.New(l, d).Rank(units[i%len(units)])
	}
}
