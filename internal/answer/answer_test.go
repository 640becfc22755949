package answer_test

import (
	"context"
	"strings"
	"testing"

	"bookstead/internal/answer"
	"bookstead/internal/lexicon"
)

func newJudge(t testing.TB) *answer.Judge {
	t.Helper()
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	j, err := answer.New(lex)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

const (
	why  = "Why did Mary cry?"
	full = "Mary cried because she was lonely and nobody came."
)

func judged(t *testing.T, j *answer.Judge, question, reference, ans string) answer.Result {
	t.Helper()
	k, err := j.Key(context.Background(), question, []string{reference})
	if err != nil {
		t.Fatal(err)
	}
	r, err := k.Judge(context.Background(), ans, 4)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestVerdicts(t *testing.T) {
	j := newJudge(t)
	for _, c := range []struct {
		answer string
		want   answer.Verdict
		advice string // a part of it
	}{
		{"Mary cried because nobody came and she felt lonely.", answer.Correct, "well written"},
		{full, answer.Correct, "your own words"},
		{"becuase she was lonely and nobody came", answer.Correct, "whole sentence"},
		{"She was happy.", answer.Incorrect, "look for the reason"},
		{"Why did Mary cry?", answer.Incorrect, "words of the question"},
		{"", answer.Incorrect, "nothing here yet"},
		{"  \n\t ", answer.Incorrect, "nothing here yet"},
		{"?!", answer.Incorrect, "nothing here yet"},
		{"i dont know", answer.Incorrect, "honest"},
		{"Mary", answer.Incorrect, "look for the reason"},
		{"porque estaba muy triste y sola", answer.Unsure, "in English"},
		{"她很孤独", answer.Unsure, "in English"},
		{strings.Repeat("She was lonely and nobody came. ", 800), answer.Unsure, "too long"},
		{"She did not cry because she was not lonely.", answer.Unsure, "teacher"},
	} {
		r := judged(t, j, why, full, c.answer)
		if r.Verdict != c.want || !strings.Contains(r.Advice, c.advice) {
			t.Errorf("%.60q: %s, %q; want %s, %q", c.answer, r.Verdict, r.Advice, c.want, c.advice)
		}
		if r.Score < 0 || r.Score > 1 || r.Evidence == "" {
			t.Errorf("%.60q: score %v, evidence %q", c.answer, r.Score, r.Evidence)
		}
		if c.want == answer.Correct && r.Score < 0.5 || c.want == answer.Incorrect && r.Score >= 0.5 {
			t.Errorf("%.60q: score %v does not fit %s", c.answer, r.Score, c.want)
		}
	}
}

func TestYesAndNo(t *testing.T) {
	j := newJudge(t)
	q, ref := "Did the wizard give the Lion courage?", "Yes, the wizard gave him something to drink."
	for a, want := range map[string]answer.Verdict{"yes": answer.Partly, "No, he did not.": answer.Incorrect, "Yes, he gave him something to drink.": answer.Correct} {
		if r := judged(t, j, q, ref, a); r.Verdict != want {
			t.Errorf("%q: %s, want %s", a, r.Verdict, want)
		}
	}
	if r := judged(t, j, "Why did Toto bark?", "Toto barked because he did not like the wind.", "because of the wind"); r.Points[0].State == answer.Contradicted {
		t.Errorf("the wind is not denied: %+v", r.Points)
	}
}

func TestNoReference(t *testing.T) {
	k, err := newJudge(t).Key(context.Background(), why, nil)
	if err != nil {
		t.Fatal(err)
	}
	r, err := k.Judge(context.Background(), "She was lonely.", 3)
	if err != nil || r.Verdict != answer.Unsure {
		t.Errorf("%+v, %v: want unsure", r, err)
	}
}

func TestPoints(t *testing.T) {
	r := judged(t, newJudge(t), why, full, "She was lonely.")
	var got []string
	for _, p := range r.Points {
		got = append(got, p.Text+" "+string(p.State))
	}
	want := "she was lonely present; nobody came missing"
	if s := strings.Join(got, "; "); s != want {
		t.Errorf("points %q, want %q", s, want)
	}
	if len(r.Points) > 0 && strings.Join(r.Points[0].Words, " ") != "lonely" {
		t.Errorf("%q stand for the first point, want lonely", r.Points[0].Words)
	}
	r = judged(t, newJudge(t), "Was the water hot or cold?", "The water was cold.", "The water was hot.")
	if len(r.Points) != 1 || r.Points[0].State != answer.Contradicted {
		t.Errorf("hot for cold: %+v", r.Points)
	}
}

func TestOffensiveWordsAreNotWrittenAgain(t *testing.T) {
	r := judged(t, newJudge(t), why, full, "she was damn lonely")
	if !strings.Contains(r.Advice, "aloud in class") || !strings.Contains(r.Evidence, "does not belong") {
		t.Errorf("advice %q, evidence %q", r.Advice, r.Evidence)
	}
	for _, m := range r.Mechanics {
		if strings.Contains(m.Text, "damn") {
			t.Errorf("it is written again: %+v", m)
		}
	}
}

func TestSentence(t *testing.T) {
	j := newJudge(t)
	for _, c := range []struct {
		answer                    string
		whole, alone, capital, ok bool
	}{
		{"Mary cried because she was lonely.", true, true, true, true},
		{"mary cried because she was lonely", true, true, false, false},
		{"Because she was lonely.", false, false, true, true},
		{"It was because she was lonely.", true, true, true, true},
		{"In the garden.", false, true, true, true},
		{"She crying.", false, true, true, true},
	} {
		s := judged(t, j, why, full, c.answer).Sentence
		if s.Whole != c.whole || s.Alone != c.alone || s.Capital != c.capital || s.End != c.ok {
			t.Errorf("%q: %+v", c.answer, s)
		}
	}
}

func TestMechanics(t *testing.T) {
	j := newJudge(t)
	for _, c := range []struct {
		answer, slips string
	}{
		{"Mary cried because she was lonely.", ""},
		{"mary cried becuase she was lonley.", "capital mary>Mary; spelling becuase>because; spelling lonley>lonely"},
		{"Mary cried because i dont like like it.", "capital i>I; apostrophe dont>don’t; twice like>"},
		{"Mary ate a apple and an banana.", "article a>an; article an>a"},
		{"She could of gone then she was bigger then me.", "mixed up of>have; mixed up then>than"},
		{"Mary cried", "end mark >."},
		{"  Mary Lennox’s maid Martha came from Yorkshire.", ""},
		{"The old-fashioned wardrobe wasn’t his.", ""},
	} {
		var got []string
		for _, m := range judged(t, j, why, full, c.answer).Mechanics {
			meant := ""
			if len(m.Meant) > 0 {
				meant = m.Meant[0]
			}
			got = append(got, string(m.Kind)+" "+m.Text+">"+meant)
			if c.answer[m.Start:m.End] != m.Text {
				t.Errorf("%q: bytes %d to %d are not %q", c.answer, m.Start, m.End, m.Text)
			}
		}
		if s := strings.Join(got, "; "); s != c.slips {
			t.Errorf("%q: %q, want %q", c.answer, s, c.slips)
		}
	}
}

func TestJudgeIsDeterministic(t *testing.T) {
	a, b := newJudge(t), newJudge(t)
	for _, s := range []string{"She was lonley and no one came to see her.", "Mary cryed in the nihgt."} {
		x, y := judged(t, a, why, full, s), judged(t, b, why, full, s)
		if x.Score != y.Score || x.Advice != y.Advice || x.Evidence != y.Evidence {
			t.Errorf("%q: %+v and %+v", s, x, y)
		}
	}
}

func FuzzJudge(f *testing.F) {
	for _, s := range []string{"", "Mary", "\x00\xff", "a’b—c", "“", "1,000.", strings.Repeat("x", 300)} {
		f.Add(s, s)
	}
	lex, err := lexicon.Open()
	if err != nil {
		f.Fatal(err)
	}
	j, err := answer.New(lex)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, ref, ans string) {
		k, err := j.Key(context.Background(), why, []string{ref, full})
		if err != nil {
			t.Fatal(err)
		}
		r, err := k.Judge(context.Background(), ans, 4)
		if err != nil {
			t.Fatal(err)
		}
		if r.Advice == "" || r.Score < 0 || r.Score > 1 || r.Score != r.Score {
			t.Errorf("%q: %+v", ans, r)
		}
		for _, m := range r.Mechanics {
			if m.Start < 0 || m.End > len(ans) || m.Start > m.End {
				t.Errorf("%q: a slip at %d to %d", ans, m.Start, m.End)
			}
		}
	})
}

func BenchmarkJudge(b *testing.B) {
	j := newJudge(b)
	k, err := j.Key(context.Background(), why, []string{full})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := k.Judge(context.Background(), "mary cried becuase she was lonley and no one had come to see her", 4); err != nil {
			b.Fatal(err)
		}
	}
}
