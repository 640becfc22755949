package prepare_test

import (
	"bytes"
	"context"
	"encoding/json"
	"slices"
	"strings"
	"sync"
	"testing"

	"bookstead/internal/assess"
	"bookstead/internal/book"
	"bookstead/internal/class"
	"bookstead/internal/demo"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/lang"
	"bookstead/internal/prepare"
)

// novel is the invented novel, read once for all tests.
var novel = sync.OnceValues(func() (*book.Book, error) {
	return prepare.ReadBook(context.Background(), demo.NovelFile, bytes.NewReader(demo.Novel()), int64(len(demo.Novel())), nil)
})

var novelRead = sync.OnceValues(func() (*lang.Doc, error) {
	b, err := novel()
	if err != nil {
		return nil, err
	}
	return prepare.Analyze(context.Background(), b, nil)
})

func prepared(t *testing.T, decisions []kit.Decision, change func(*class.Settings)) *prepare.Prepared {
	t.Helper()
	b, err := novel()
	if err != nil {
		t.Fatal(err)
	}
	d, err := novelRead()
	if err != nil {
		t.Fatal(err)
	}
	c := class.Class{ID: "c", Name: "Grade 4", Grade: 4, Settings: class.Defaults(4)}
	if change != nil {
		change(&c.Settings)
	}
	p, err := prepare.Prepare(context.Background(), b, c, kit.Kit{ID: "k", Book: b.ID, Class: c.ID, Decisions: decisions}, d, nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func entries(p assess.Paper, do func(assess.Section, assess.Entry)) {
	for _, s := range p.Sections {
		for _, e := range s.Entries {
			do(s, e)
		}
	}
}

func TestPapersFitTheirTime(t *testing.T) {
	p := prepared(t, nil, nil)
	quizzes, test := p.Papers()
	if len(quizzes) == 0 || len(test) != 2 {
		t.Fatalf("%d quizzes, %d forms of the test", len(quizzes), len(test))
	}
	for _, forms := range append(quizzes, test) {
		room := float64(p.Class.Settings.QuizMinutes)
		if forms[0].Kind == assess.Test {
			room = float64(p.Class.Settings.TestMinutes)
		}
		for _, f := range forms {
			if m := f.Minutes(); m > 1.15*room || f.Entries() < 5 {
				t.Errorf("%s, form %s: %d entries take %.0f minutes of %.0f", f.Title(), f.Form, f.Entries(), m, room)
			}
			var all []assess.Entry
			entries(f, func(s assess.Section, e assess.Entry) {
				all = append(all, e)
				if s.Kind == assess.Short && len(e.Counts) != e.Points {
					t.Errorf("%q: %d points, but %q count", e.Prompt, e.Points, e.Counts)
				}
			})
			for _, a := range all {
				for _, b := range all {
					if assess.Answers(a, b) {
						t.Errorf("%s: %q answers %q", f.Title(), a.Prompt, b.Prompt)
					}
				}
			}
		}
		if forms[0].Points() != forms[1].Points() {
			t.Errorf("%s: forms of %d and %d points", forms[0].Title(), forms[0].Points(), forms[1].Points())
		}
	}
}

func TestQuizWaysAreKept(t *testing.T) {
	p := prepared(t, nil, func(s *class.Settings) {
		s.QuizWays = []class.Way{{Kind: "short", Count: 3}, {Kind: "fill", Count: 2}}
	})
	quizzes, _ := p.Papers()
	for _, forms := range quizzes {
		for _, f := range forms {
			n := map[assess.SectionKind]int{}
			entries(f, func(s assess.Section, _ assess.Entry) { n[s.Kind]++ })
			if n[assess.Short] != 3 || n[assess.Fill] != 2 || len(n) != 2 {
				t.Errorf("%s, form %s asks %v", f.Title(), f.Form, n)
			}
		}
	}
}

func TestSecondChanceOfAQuiz(t *testing.T) {
	p := prepared(t, nil, nil)
	quizzes, _ := p.Papers()
	on := map[kit.ItemID]bool{}
	var missed []kit.ItemID
	for _, f := range quizzes[0] {
		entries(f, func(s assess.Section, e assess.Entry) {
			on[e.Item] = true
			if s.Kind == assess.Short && f.Form == "A" {
				missed = append(missed, e.Item)
			}
		})
	}
	again := p.SecondChance(1, missed)
	if again == nil || again.Entries() == 0 {
		t.Fatalf("no second chance for %d missed questions", len(missed))
	}
	entries(*again, func(_ assess.Section, e assess.Entry) {
		if on[e.Item] {
			t.Errorf("%q stood on the quiz", e.Prompt)
		}
	})
	if p.SecondChance(99, missed) != nil {
		t.Error("there is no quiz 99")
	}
}

func TestNotesComeFromTheLesson(t *testing.T) {
	p := prepared(t, nil, nil)
	for i, l := range p.Lessons {
		n, err := p.Notes(context.Background(), i+1)
		if err != nil {
			t.Fatal(err)
		}
		var printed []string
		questions := 0
		for _, it := range l.Items {
			if it.Printed(false) {
				printed = append(printed, it.Content.Head)
				if it.Kind == kit.Question {
					questions++
				}
			}
		}
		for _, w := range n.Words {
			if !slices.Contains(printed, w.Word) {
				t.Errorf("lesson %d: %q is not of this lesson", l.Number, w.Word)
			}
		}
		if len(n.Answers) != questions {
			t.Errorf("lesson %d: %d answers to %d questions", l.Number, len(n.Answers), questions)
		}
		text := strings.Join(strings.Fields(p.Book.Slice(l.Span)), " ")
		for _, a := range n.Aloud {
			if s := strings.Trim(strings.ReplaceAll(a.Text, " / ", " "), "“”"); !strings.Contains(text, s) {
				t.Errorf("lesson %d: %q is not in its passage", l.Number, s)
			}
		}
	}
}

// What was dropped again and again is drafted less where nothing is decided yet.
func TestDecisionsTurnLaterDrafts(t *testing.T) {
	p := prepared(t, nil, nil)
	sorts := map[string]int{}
	for _, l := range p.Lessons {
		for _, it := range l.Of(kit.Question) {
			if !it.Spare {
				sorts[it.Content.Note]++
			}
		}
	}
	if len(sorts) < 2 {
		t.Skip("the drafts are of one sort")
	}
	var decisions []kit.Decision
	most, n := "", 0
	for s, k := range sorts {
		if k > n || k == n && s < most {
			most, n = s, k
		}
	}
	half := len(p.Lessons) / 2
	for _, l := range p.Lessons[:half] {
		for _, it := range l.Of(kit.Question) {
			state := kit.Kept
			if it.Content.Note == most {
				state = kit.Dropped
			}
			decisions = append(decisions, it.Decision(state))
		}
	}
	count := func(p *prepare.Prepared) (n int) {
		for _, l := range p.Lessons[half:] {
			for _, it := range l.Of(kit.Question) {
				if !it.Spare && it.Content.Note == most {
					n++
				}
			}
		}
		return n
	}
	turned := prepared(t, decisions, nil)
	plain := prepared(t, decisions, func(s *class.Settings) { s.PlainDrafts = true })
	if count(plain) != count(p) {
		t.Errorf("turned off, %d of the sort are drafted, want %d as before", count(plain), count(p))
	}
	if len(turned.Learned()) == 0 || len(plain.Learned()) != 0 {
		t.Errorf("said %q, and turned off %q", turned.Learned(), plain.Learned())
	}
	if count(turned) >= count(plain) {
		t.Errorf("%d of the dropped sort are drafted, as many as before", count(turned))
	}
}

func TestCheckAnswerOfTheKit(t *testing.T) {
	p := prepared(t, nil, nil)
	q := p.Lessons[0].Of(kit.Question)[0]
	got, err := p.JudgeAnswer(context.Background(), q.ID, q.Content.Answer)
	if err != nil || got.Verdict != "correct" {
		t.Errorf("the kit's own answer: %+v, %v", got, err)
	}
	if got, err = p.JudgeAnswer(context.Background(), q.ID, "I like cheese and the moon."); err != nil || got.Verdict == "correct" {
		t.Errorf("another thing: %+v, %v", got, err)
	}
	if _, err = p.JudgeAnswer(context.Background(), "none", "x"); fault.Of(err).Kind != fault.NotFound {
		t.Errorf("a question that is not there: %v", err)
	}
}

func TestCheckAnswers(t *testing.T) {
	in := `{"id":"1","question":"Why did Mary cry?","references":["Mary cried because she was lonely."],"answer":"Mary cried because she felt lonely.","grade":4}

{"id":"2","question":"Why did Mary cry?","references":["Mary cried because she was lonely."],"answer":""}
`
	var out bytes.Buffer
	if err := prepare.CheckAnswers(context.Background(), &out, strings.NewReader(in)); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	if len(lines) != 2 {
		t.Fatalf("%d lines for 2 answers:\n%s", len(lines), out.String())
	}
	for i, want := range []string{"correct", "incorrect"} {
		var got map[string]any
		if err := json.Unmarshal([]byte(lines[i]), &got); err != nil {
			t.Fatal(err)
		}
		for _, f := range []string{"id", "verdict", "score", "points", "sentence", "mechanics", "advice", "evidence", "brief"} {
			if _, ok := got[f]; !ok {
				t.Errorf("line %d has no %q", i+1, f)
			}
		}
		if got["verdict"] != want {
			t.Errorf("line %d: %v, want %s", i+1, got["verdict"], want)
		}
	}
	err := prepare.CheckAnswers(context.Background(), &out, strings.NewReader("{}\nnot json\n"))
	if f := fault.Of(err); f.Kind != fault.Invalid || !strings.Contains(f.Message, "Line 2") {
		t.Errorf("a bad line gives %v", err)
	}
}
