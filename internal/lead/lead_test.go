package lead_test

import (
	"context"
	"reflect"
	"strings"
	"testing"

	"bookstead/internal/answer"
	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/lang/english"
	"bookstead/internal/lead"
	"bookstead/internal/lexicon"
)

const text = `The men who had waited beside the gate began to sing, and when the carriage turned into the lane they cheered because the master had come home.

Ida was sad. She hid the letter under a loose stone in the wall, and nobody saw her.`

func input(t *testing.T) lead.Input {
	t.Helper()
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	j, err := answer.New(lex)
	if err != nil {
		t.Fatal(err)
	}
	d, err := english.Cut(context.Background(), text, nil, english.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := english.Understand(context.Background(), d, english.Options{}); err != nil {
		t.Fatal(err)
	}
	item := func(id string, k kit.Kind, c kit.Content, spare bool, m kit.Marks) kit.Item {
		return kit.Item{ID: kit.ItemID(id), Kind: k, State: kit.Drafted, Content: c, Spare: spare, Marks: m}
	}
	quiz := kit.Marks{Quiz: true}
	return lead.Input{Doc: d, Judge: j, Grade: 3, Lesson: kit.Prepared{Lesson: kit.Lesson{Number: 2, Title: "The Gate", Span: book.Span{Start: 0, End: len(text)}}, Items: []kit.Item{
		item("v1", kit.Vocabulary, kit.Content{Head: "lane", Meaning: "a narrow road", Note: "Clue: the carriage turns into it."}, false, kit.Marks{}),
		item("v2", kit.Vocabulary, kit.Content{Head: "joyful", Build: "joy + -ful (full of)"}, false, kit.Marks{}),
		item("v3", kit.Vocabulary, kit.Content{Head: "tare", Meaning: "the weight of the box"}, false, quiz),
		item("v4", kit.Vocabulary, kit.Content{Head: "spare", Meaning: "never shown"}, true, kit.Marks{}),
		item("q1", kit.Question, kit.Content{Head: "Where did Ida hide the letter?", Answer: "Ida hid the letter under a loose stone in the wall."}, false, kit.Marks{}),
		item("q2", kit.Question, kit.Content{Head: "Why did the men throw their caps into the air?", Answer: "The men threw their caps into the air because the master had come home."}, false, quiz),
		item("q3", kit.Question, kit.Content{Head: "What did Ida hide?", Answer: "Ida hid the letter."}, false, kit.Marks{}),
		item("q4", kit.Question, kit.Content{Head: "Who saw her?", Answer: "Nobody saw her."}, false, kit.Marks{}),
		item("q5", kit.Question, kit.Content{Head: "Why was Ida sad?", Answer: "Ida was sad because of the letter."}, true, kit.Marks{}),
		item("q6", kit.Question, kit.Content{Head: "What was loose?", Answer: "The stone was loose."}, true, kit.Marks{}),
		item("s1", kit.Quotation, kit.Content{Sentence: "“He has come home at last!”", Speaker: "the porter"}, false, kit.Marks{}),
		item("s2", kit.Quotation, kit.Content{Sentence: "“Who told you that?”", Speaker: "Ida"}, false, kit.Marks{}),
		item("e1", kit.Extension, kit.Content{Head: "Draw the wall."}, false, kit.Marks{}),
		item("e2", kit.Extension, kit.Content{Head: "Write the letter."}, true, kit.Marks{}),
	}}}
}

func TestNotes(t *testing.T) {
	n, err := lead.For(context.Background(), input(t))
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []lead.Word{
		{Word: "lane", Advice: "Read its sentence; let them guess. The carriage turns into it."},
		{Word: "joyful", Advice: "Take it apart with them. Joy + -ful (full of)."},
		{Word: "tare", Tell: true, Advice: "Say at once what it means, for its sentence does not show it: the weight of the box."},
	} {
		if i >= len(n.Words) || n.Words[i] != want {
			t.Errorf("word %d: %+v, want %+v", i, n.Words, want)
		}
	}
	if len(n.Words) != 3 {
		t.Errorf("%d words, want 3: a spare one is not taught", len(n.Words))
	}
	if len(n.Aloud) != 2 || !strings.Contains(n.Aloud[1].Why, "the porter") {
		t.Fatalf("read aloud: %+v", n.Aloud)
	}
	first := n.Aloud[0].Text
	if strings.ReplaceAll(first, " / ", " ") != strings.Split(text, "\n")[0] {
		t.Errorf("the strokes changed the words: %q", first)
	}
	for _, part := range strings.Split(first, " / ") {
		if k := len(strings.Fields(part)); k < 3 || k > 14 {
			t.Errorf("a part of %d words: %q", k, part)
		}
	}
	for _, pause := range []string{"/ and when the carriage", "/ because the master"} {
		if !strings.Contains(first, pause) {
			t.Errorf("no pause at %q in %q", pause, first)
		}
	}
	want := &lead.Together{Number: 2, Question: "Why did the men throw their caps into the air?", Spoken: "because the master had come home",
		Starter: "The men threw their caps into the air because", Written: n.Answers[1].Written, Steps: []string{
			"Ask: Why did the men throw their caps into the air?", "Take the short answer: “because the master had come home”.",
			"Give the beginning, and let them finish it aloud: “The men threw their caps into the air because …”",
			"Write on the board, and let them copy: " + n.Answers[1].Written}}
	if !reflect.DeepEqual(n.Together, want) {
		t.Errorf("together: %+v\nwant %+v", n.Together, want)
	}
	if len(n.Answers) != 4 {
		t.Errorf("%d model answers, want 4", len(n.Answers))
	}
	for _, part := range []string{"On the quiz: the word tare; question 2.", "does not show what tare means", "proves each marked question"} {
		if !strings.Contains(n.Marked, part) {
			t.Errorf("no %q in %q", part, n.Marked)
		}
	}
}

func TestNotesKeepOut(t *testing.T) {
	in := input(t)
	in.Keep = func(s string) bool { return strings.Contains(s, "master") || strings.Contains(s, "home") }
	n, err := lead.For(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	if len(n.Aloud) != 0 && strings.Contains(n.Aloud[0].Text, "master") {
		t.Errorf("a sentence that is kept from children is read to them: %+v", n.Aloud)
	}
}

func TestNotesOfAnEmptyLesson(t *testing.T) {
	in := input(t)
	in.Lesson.Items = nil
	n, err := lead.For(context.Background(), in)
	if err != nil || n.Together != nil || n.Marked != "" || len(n.Words) != 0 {
		t.Errorf("%+v, %v", n, err)
	}
}

func ids(p kit.Prepared) string {
	var out []string
	for _, it := range p.Items {
		if it.Printed(false) {
			out = append(out, string(it.ID))
		}
	}
	return strings.Join(out, " ")
}

func TestLevels(t *testing.T) {
	p := input(t).Lesson
	before := ids(p)
	for _, c := range []struct {
		level lead.Level
		hold  bool
		want  string
	}{
		{lead.Standard, false, "v1 v2 v3 q1 q2 q3 q4 s1 s2 e1"},
		{lead.Support, false, "v1 v2 v3 q2 q4 s1"},                   // the marked question and the easiest; no further task
		{lead.Further, false, "v1 v2 v3 q1 q2 q3 q4 q5 s1 s2 e1 e2"}, // the spare question that asks why, and a task
		{lead.Further, true, "v1 v2 v3 q1 q2 q3 q4 s1 s2 e1"},        // drafts held back stay back
	} {
		if got := ids(c.level.At(p, c.hold)); got != c.want {
			t.Errorf("%s, hold %v: %s, want %s", c.level, c.hold, got, c.want)
		}
	}
	if ids(p) != before {
		t.Error("the standard lesson was changed")
	}
}
