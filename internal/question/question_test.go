package question_test

import (
	"context"
	"reflect"
	"strings"
	"testing"

	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/lang"
	"bookstead/internal/lang/english"
	"bookstead/internal/lexicon"
	"bookstead/internal/passage"
	"bookstead/internal/question"
)

func read(t testing.TB, text string) *lang.Doc {
	t.Helper()
	d, err := english.Cut(context.Background(), text, nil, english.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := english.Understand(context.Background(), d, english.Options{}); err != nil {
		t.Fatal(err)
	}
	return d
}

func opened(t testing.TB) *lexicon.Lexicon {
	t.Helper()
	lex, err := lexicon.Open()
	if err != nil {
		t.Fatal(err)
	}
	return lex
}

func ask(t testing.TB, text string, n int) []question.Asked {
	t.Helper()
	out, err := question.Ask(context.Background(), opened(t), read(t, text), n)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// tale is ours.
const tale = `Old Tabitha lived in a crooked house beside the mill. One morning her grandson Wilfred climbed the ladder to the loft, because he had heard a scratching there. When he lifted the lid of the chest, a grey owl flew out of it. Wilfred was so frightened that he dropped his lantern into the straw. The straw began to burn. Tabitha seized the bucket and ran to the brook to fetch water. After she had put out the fire, she gave the boy a slice of bread.

"Tell me the truth," said Tabitha to Wilfred. "Who left the chest open?"

Wilfred was ashamed and looked at the floor. Then he told his grandmother about the owl, and she laughed until the tears ran down her cheeks. In the evening they carried the chest into the garden together. The owl sat on the roof and watched them. It never came back to the loft.`

func TestAskOfATale(t *testing.T) {
	want := []struct{ question, answer string }{
		{"Where did Tabitha live?", "in a crooked house beside the mill"},
		{"Why did Wilfred climb the ladder to the loft?", "he had heard a scratching there"},
		{"What happened when Wilfred lifted the lid of the chest?", "the grey owl flew out of the lid of the chest"},
		{"Why did Tabitha run to the brook?", "to fetch water"},
	}
	got := ask(t, tale, 400)
	for _, w := range want {
		found := false
		for _, g := range got {
			found = found || question.RougeL(g.Question, w.question) > 0.85 && question.RougeL(g.Answer, w.answer) > 0.85
		}
		if !found {
			t.Errorf("nobody asks %q with %q", w.question, w.answer)
			for _, g := range got {
				t.Logf("  %s | %s", g.Question, g.Answer)
			}
		}
	}
}

var kinds = map[string]bool{"character": true, "setting": true, "action": true, "feeling": true, "cause": true, "outcome": true, "prediction": true}

// odd holds texts that are no plain tale.
var odd = map[string]string{
	"empty":            "",
	"blank":            " \n\n\t ",
	"one word":         "Yes",
	"marks":            "... --- !!! ??? “ ” ' ( ) * * *",
	"verse":            "The wind blew high,\nThe wind blew low,\nAnd where it went\nNo man may know.\n\nIt took my hat,\nIt took my shoe,\nAnd had I stood\nIt had taken me too.",
	"letter":           "Dear Aunt,\n\nI am well and I hope that you are well. We went to the fair because Father had sold the calf. I won a tin whistle and lost it again. Mother sends her love.\n\nYour loving\nNed",
	"one character":    "Ada sat alone on the rock. She counted the ships. She had counted nine when the sun went down, and she was sorry to go home. She walked over the sand to the lamp, because the tide was rising.",
	"first person":     "I was born on a farm. I remember that my mother told me to be good. I ran in the meadow with six other colts. When the bell rang I went to the gate, because I knew that the master had apples. I was glad to see him. I never kicked and I never bit. I lived there until I was four years old.",
	"animal narrator":  "I am a goose. I lived on the pond behind the church until the fox came. I saw him before the others did. I beat my wings and I screamed until the miller woke up. The miller threw his boot at the fox, and I was proud of my voice. I tell this to every gosling that I meet.",
	"no speech":        strings.Repeat("The road went over the hill and down to the river, where a bridge of stone stood. ", 20),
	"speech alone":     "“Who is there?”\n\n“It is I.”\n\n“Come in, then, because it is cold.”\n\n“I will not.”",
	"another language": "Es war einmal ein König, der hatte drei Töchter. Die jüngste war so schön, dass die Sonne selber sich verwunderte.",
	"broken":           "He said that \xff\xfe she “went (because * of _it_ -- the",
	"no full stop":     strings.Repeat("and then they went on and on ", 200),
	"shouting":         "THE KING OPENED THE DOOR BECAUSE HE WAS ANGRY. THE QUEEN WEPT.",
	"present":          "The cat sits on the wall. Tom calls her because he is lonely. She jumps down and follows him into the house.",
}

// The laws of a draft: it is a question with an answer and a proof inside the
// text, of a known kind; the answer's words stand in the proof or in names; no
// draft comes twice; the best comes first; the same text gives the same drafts.
func TestLawsOfDrafts(t *testing.T) {
	texts := map[string]string{"tale": tale}
	for k, v := range odd {
		texts[k] = v
	}
	for name, text := range texts {
		text = strings.ToValidUTF8(text, "�")
		got := ask(t, text, 50)
		if again := ask(t, text, 50); !reflect.DeepEqual(got, again) {
			t.Errorf("%s: two runs differ", name)
		}
		seen := map[string]bool{}
		for i, g := range got {
			if !strings.HasSuffix(g.Question, "?") || g.Answer == "" || g.Full == "" || !kinds[g.Kind] || g.Score < 0 || g.Score > 1 {
				t.Errorf("%s: not whole: %+v", name, g)
			}
			if g.Start < 0 || g.End > len(text) || g.Start >= g.End {
				t.Fatalf("%s: proof %d to %d of %d bytes", name, g.Start, g.End, len(text))
			}
			key := strings.ToLower(g.Question + "|" + g.Answer)
			if seen[key] {
				t.Errorf("%s: drafted twice: %s", name, key)
			}
			seen[key] = true
			if g.Sure && !holds(opened(t), text, g.Start, g.End, g.Answer) {
				t.Errorf("%s: %q does not prove %q (%s)", name, text[g.Start:g.End], g.Answer, g.Question)
			}
			if strings.Contains(g.Question, "  ") || strings.ContainsAny(g.Question, "\n“”\"*_") {
				t.Errorf("%s: nonsense: %q", name, g.Question)
			}
			_ = i
		}
	}
}

// holds reports whether the content words of an answer stand in the proof or,
// when they are names that a pronoun of the proof stands for, in the text.
func holds(lex *lexicon.Lexicon, text string, start, end int, answer string) bool {
	proof, all := strings.ToLower(text[start:end]), strings.ToLower(text)
	missing := 0
	for _, w := range strings.FieldsFunc(strings.ToLower(answer), func(r rune) bool { return (r < 'a' || r > 'z') && r != '-' }) {
		if lex.Function(w) || len(w) < 4 || w == "narrator" || strings.Contains(proof, w[:4]) {
			continue
		}
		if !strings.Contains(all, w) {
			return false
		}
		missing++
	}
	return missing <= 3
}

// Nothing that cannot be vouched for may be sure in a text without people,
// sense or English.
func TestOddTextsGiveNoNonsense(t *testing.T) {
	for _, name := range []string{"empty", "blank", "one word", "marks", "another language", "no full stop"} {
		for _, g := range ask(t, strings.ToValidUTF8(odd[name], "�"), 50) {
			if g.Sure {
				t.Errorf("%s: asks %q", name, g.Question)
			}
		}
	}
}

// A set is chosen whole: the number asked for, in story order, no two on one
// sentence, and the rest to spare.
func TestDraftChoosesASet(t *testing.T) {
	text := strings.ReplaceAll(tale, "\n\n", "\n")
	b := &book.Book{ID: "t", Title: "The Owl", Text: text}
	at := 0
	for _, line := range strings.Split(text, "\n") {
		b.Blocks = append(b.Blocks, book.Block{Span: book.Span{Start: at, End: at + len(line)}, Kind: book.Paragraph})
		at += len(line) + 1
	}
	d, err := english.Cut(context.Background(), text, passage.Paragraphs(b), english.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := english.Understand(context.Background(), d, english.Options{}); err != nil {
		t.Fatal(err)
	}
	lesson := kit.Lesson{Number: 1, Span: book.Span{Start: 0, End: len(text)}}
	inferential := map[int]int{}
	for _, grade := range []int{3, 6} {
		drafts, err := question.Draft(context.Background(), opened(t), passage.Split(b, d, []kit.Lesson{lesson}, grade), question.Options{Questions: 4, Quotations: 1})
		if err != nil {
			t.Fatal(err)
		}
		printed, last := 0, -1
		for _, x := range drafts[0] {
			if x.Kind != kit.Question || x.Spare {
				continue
			}
			printed++
			if x.Place.Start <= last {
				t.Errorf("grade %d: %q is out of order", grade, x.Content.Head)
			}
			last = x.Place.Start
			switch x.Content.Note {
			case "cause", "feeling", "outcome", "prediction":
				inferential[grade]++
			}
			if !strings.HasSuffix(x.Content.Answer, ".") || x.Why == "" {
				t.Errorf("grade %d: not a whole answer: %+v", grade, x.Content)
			}
		}
		if printed < 3 || printed > 4 {
			t.Errorf("grade %d: %d questions, want 4", grade, printed)
		}
	}
	if inferential[3] > inferential[6] {
		t.Errorf("grade 3 is asked to infer more (%d) than grade 6 (%d)", inferential[3], inferential[6])
	}
}

func TestDraftStopsWhenTold(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	b := &book.Book{Text: tale}
	_, err := question.Draft(ctx, opened(t), []passage.Passage{{Book: b, Doc: read(t, tale)}}, question.Options{Questions: 3})
	if err == nil {
		t.Error("a stopped draft returned no error")
	}
}

// A page of a novel has some 350 words; a chapter of ten pages must be drafted
// in a fifth of a second.
func BenchmarkChapter(b *testing.B) {
	text := strings.Repeat(tale+"\n\n", 18) // 3,500 words
	d, lex := read(b, text), opened(b)
	bk := &book.Book{Text: text}
	p := passage.Passage{Book: bk, Doc: d, Lesson: kit.Lesson{Span: book.Span{End: len(text)}}, Last: len(d.Sentences), Grade: 4}
	b.ResetTimer()
	for range b.N {
		if _, err := question.Draft(context.Background(), lex, []passage.Passage{p}, question.Options{Questions: 6, Quotations: 2}); err != nil {
			b.Fatal(err)
		}
	}
}

// What is wrong with a draft is told apart from what is right in the same tale.
func TestNothingDanglesAndNothingIsTrivial(t *testing.T) {
	const text = `Rupert opened the gate. It had been raining since noon, and this made him cross. He gave a little sigh. "Yes," said Rupert. The miller never saw him as he crossed the yard to steal the plums, for the miller was asleep.`
	for _, g := range ask(t, text, 200) {
		if !g.Sure {
			continue
		}
		low := strings.ToLower(g.Question)
		for _, bad := range []string{"who said", "give a little sigh", " this ", " it?", "what did rupert give", "why did it"} {
			if strings.Contains(low, bad) {
				t.Errorf("asks %q", g.Question)
			}
		}
		if strings.Contains(low, "see rupert") && !strings.Contains(low, "never") {
			t.Errorf("%q turns the meaning round", g.Question)
		}
	}
}
