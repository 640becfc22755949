package planner

import (
	"strings"
	"testing"

	"bookstead/internal/assess"
	"bookstead/internal/book"
	"bookstead/internal/class"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
)

func span(first, last int) assess.Span { return assess.Span{First: first, Last: last} }

func grade(n int) class.Class { return class.Class{Grade: n, Settings: class.Defaults(n)} }

func kinds(steps []plan.Step) string {
	var out []string
	for _, s := range steps {
		out = append(out, string(s.Kind))
	}
	return strings.Join(out, " ")
}

func TestSteps(t *testing.T) {
	l := kit.Lesson{Number: 3, Minutes: 22.4, Words: 2690, Span: book.Span{Start: 5, End: 9000}}
	for _, c := range []struct {
		name    string
		grade   int
		counts  Counts
		want    string
		minutes int
	}{
		{"grade 4, not drafted yet", 4, nil, "background reading questions discussion", 57},
		{"grade 1 practises words", 1, nil, "background practice reading questions discussion", 62},
		{"twice the questions", 4, Counts{kit.Vocabulary: 6, kit.Question: 12, kit.Discussion: 1}, "background reading questions discussion", 72},
		{"background without words", 4, Counts{kit.Background: 2, kit.Question: 6}, "background reading questions", 40},
		{"nothing but reading", 4, Counts{kit.Figure: 1}, "reading", 22},
		{"only quotations", 4, Counts{kit.Quotation: 2}, "reading questions", 24},
	} {
		steps := Steps(l, grade(c.grade), c.counts)
		total := 0
		for _, s := range steps {
			total += s.Minutes
			if s.Lesson != 3 || s.Kind == plan.Reading && (s.Span != l.Span || s.Mode != class.Turns) {
				t.Errorf("%s: %+v", c.name, s)
			}
		}
		if got := kinds(steps); got != c.want || total != c.minutes {
			t.Errorf("%s: %s, %d minutes; want %s, %d", c.name, got, total, c.want, c.minutes)
		}
	}
}

// six is a prepared book of six lessons in two parts, everything marked.
func six() (*book.Book, []kit.Prepared) {
	var w book.Builder
	var lessons []kit.Prepared
	for n := 1; n <= 6; n++ {
		if n%3 == 1 {
			w.Part(book.Part{Label: "Part"})
		}
		w.Chapter(book.Chapter{Kind: book.Body, Number: n, Label: "Chapter", Part: (n - 1) / 3})
		w.Add(book.Paragraph, strings.Repeat("One two three four five. ", 30))
		w.Add(book.SceneBreak, "* * *")
		w.Add(book.Paragraph, strings.Repeat("Six seven eight nine ten. ", 30))
	}
	b := w.Book()
	for i, c := range b.Chapters {
		lessons = append(lessons, kit.Prepared{Lesson: kit.Lesson{Number: i + 1, Title: "Chapter", Span: c.Span, First: i, Last: i, Words: 300, Minutes: 20},
			Items: []kit.Item{
				{Kind: kit.Vocabulary, State: kit.Drafted, Marks: kit.Marks{Quiz: true, Test: true}, Content: kit.Content{Head: "word", Meaning: "meaning"}},
				{Kind: kit.Question, State: kit.Drafted, Content: kit.Content{Head: "Why?", Answer: "So."}},
				{Kind: kit.Discussion, State: kit.Drafted},
			}})
	}
	return b, lessons
}

// A class that reads again does so silently, behind the reading, at the
// published silent rate: 2,690 words at 106 a minute in grade 2.
func TestAgain(t *testing.T) {
	c := grade(2)
	c.Settings.Again = true
	steps := Steps(kit.Lesson{Number: 1, Minutes: 22.4, Words: 2690}, c, nil)
	if kinds(steps) != "background practice reading again questions discussion" || steps[3].Minutes != 25 {
		t.Errorf("%+v", steps)
	}
	c.Settings.Mode = class.Silent
	if got := kinds(Steps(kit.Lesson{Number: 1, Minutes: 22.4, Words: 2690}, c, nil)); got != "background practice reading questions discussion" {
		t.Error(got)
	}
}

func TestNewBook(t *testing.T) {
	b, lessons := six()
	got := NewBook(b, "k", grade(4), lessons, Options{})
	if len(got.Lessons) != 6 || kinds(got.Lessons[3].After) != "quiz corrections" || got.Lessons[3].After[0].From != 1 ||
		kinds(got.Lessons[5].After) != "quiz corrections review test corrections" || got.Lessons[5].After[3].From != 1 {
		t.Errorf("%+v", got.Lessons)
	}
	if br := got.Lessons[1].Breaks; len(br) != 1 || !br[0].Scene || br[0].Minutes != 10 {
		t.Errorf("breaks: %+v", br)
	}
	if got := NewBook(b, "k", grade(4), lessons, Options{TestEachPart: true}); kinds(got.Lessons[2].After) != "review test corrections" || got.Lessons[5].After[2].From != 4 {
		t.Errorf("a test each part: %+v", got.Lessons)
	}
	for _, l := range NewBook(b, "k", grade(2), lessons, Options{}).Lessons {
		if len(l.After) != 0 || l.Steps[1].Kind != plan.Practice && len(l.Steps) > 4 {
			t.Errorf("grade 2: %+v", l)
		}
	}
	for i := range lessons {
		lessons[i].Items[0].Marks = kit.Marks{}
	}
	for _, l := range NewBook(b, "k", grade(4), lessons, Options{}).Lessons {
		if len(l.After) != 0 {
			t.Errorf("nothing is marked, and yet %+v", l.After)
		}
	}
	b.Source.Format = "paper"
	if br := NewBook(b, "k", grade(4), lessons, Options{}).Lessons[0].Breaks; len(br) != 3 || br[0].Offset != 0 {
		t.Errorf("on paper: %+v", br)
	}
}

func TestReadingParts(t *testing.T) {
	s := plan.Step{Kind: plan.Reading, Minutes: 20, Span: book.Span{Start: 100, End: 2100}}
	got := readingParts(s, []Break{{Offset: 420, Minutes: 3.2}, {Offset: 620, Minutes: 5.2}, {Offset: 710, Minutes: 6.1, Scene: true}, {Offset: 1500, Minutes: 14}})
	if len(got) != 3 || got[0] != (part{6, book.Span{Start: 100, End: 710}, false}) || got[1] != (part{8, book.Span{Start: 710, End: 1500}, true}) || got[2] != (part{6, book.Span{Start: 1500, End: 2100}, false}) {
		t.Errorf("%+v", got)
	}
	if got := readingParts(s, nil); len(got) != 1 || got[0].minutes != 20 {
		t.Errorf("without breaks: %+v", got)
	}
}

func TestChecklist(t *testing.T) {
	b, lessons := six()
	lessons[1].Items[1].State = kit.Kept
	lessons[1].Items[2].Spare = true
	book := NewBook(b, "k", grade(4), lessons, Options{})
	p := mustPlan(t, request(schoolYear(60, 60), book)).Plan
	got := Checklist("k", lessons, p, false)
	if len(got) != 6 || got[0].Day != p.Days[0].Date || got[0].Undecided != 3 || len(got[0].Quiz) != 1 || len(got[0].Test) != 1 || len(got[0].Copy) != 1 {
		t.Errorf("%+v", got[0])
	}
	if got[1].Undecided != 1 {
		t.Errorf("%+v", got[1])
	}
	if c := got[3].Copy; len(c) != 2 || c[1].What != plan.Quiz || c[1].Day != on(p, "k", 4, plan.Quiz) {
		t.Errorf("%+v", c)
	}
	if c := got[5].Copy; len(c) != 3 || c[2].What != plan.Test {
		t.Errorf("%+v", c)
	}
}
