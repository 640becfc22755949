package english

import (
	"context"
	"os"
	"testing"

	"bookstead/internal/lang/conllu"
	"bookstead/internal/lang/score"
)

// TestOwnSentences reads forty sentences of ours (speech within speech, dialect,
// a letter, verse, old forms) from raw text. Their analyses were drafted by the
// program and put right by hand, after the guidelines of the English Universal
// Dependencies; so the scores flatter it, and the floors, a little under what it
// reached, only hold that it does not get worse. The measures from outside stand
// in docs/reading.md.
func TestOwnSentences(t *testing.T) {
	f, err := os.Open("testdata/own.conllu")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := conllu.Read(f)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range conllu.Check(rows) {
		t.Errorf("the gold file: %v", p)
	}
	gold := conllu.ToDoc(rows)
	if len(gold.Sentences) != 40 {
		t.Fatalf("%d sentences were read", len(gold.Sentences))
	}
	d, err := Cut(context.Background(), gold.Text, gold.Paragraphs, Options{})
	if err == nil {
		err = Understand(context.Background(), d, Options{})
	}
	if err != nil {
		t.Fatal(err)
	}
	s, err := score.Compare(gold, d)
	if err != nil {
		t.Fatal(err)
	}
	types := score.F{Gold: len(gold.Sentences), System: len(d.Sentences)}
	for i := range gold.Sentences {
		for k := range d.Sentences {
			if d.SentenceSpan(k) == gold.SentenceSpan(i) && d.Sentences[k].Type == gold.Sentences[i].Type {
				types.Correct++
			}
		}
	}
	for _, m := range []struct {
		name  string
		f     score.F
		floor float64
	}{
		{"words", s.Words, 0.99}, {"sentences", s.Sentences, 0.95}, {"UPOS", s.UPOS, 0.97}, {"XPOS", s.XPOS, 0.96}, {"lemmas", s.Lemmas, 0.97},
		{"UAS", s.UAS, 0.94}, {"LAS", s.LAS, 0.93}, {"types", types, 0.92},
	} {
		t.Logf("%-10s %.4f", m.name, m.f.F1())
		if m.f.F1() < m.floor {
			t.Errorf("%s: %.4f is under its floor of %.2f", m.name, m.f.F1(), m.floor)
		}
	}
}
