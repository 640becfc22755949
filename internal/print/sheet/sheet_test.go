package sheet

import (
	"strings"
	"testing"
	"time"

	"bookstead/internal/assess"
	"bookstead/internal/book"
	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/kit"
	"bookstead/internal/plan"
	"bookstead/internal/print"
)

func testKit(grade int) Kit {
	items := []kit.Item{
		{ID: "b", Kind: kit.Background, State: kit.Kept, Content: kit.Content{Head: "Tare", Answer: "What an empty sack weighs."}},
		{ID: "v1", Kind: kit.Vocabulary, State: kit.Drafted, Marks: kit.Marks{Quiz: true}, Content: kit.Content{Head: "brass", Sentence: "The brass shone.", Meaning: "a yellow metal", PartOfSpeech: "noun"}},
		{ID: "v2", Kind: kit.Vocabulary, State: kit.Dropped, Content: kit.Content{Head: "dropped-word", Sentence: "It was dropped."}},
		{ID: "v3", Kind: kit.Vocabulary, State: kit.Drafted, Spare: true, Content: kit.Content{Head: "spare-word", Sentence: "It was spare."}},
		{ID: "q", Kind: kit.Question, State: kit.Added, Marks: kit.Marks{Quiz: true, Test: true}, Place: book.Place{Exact: "x"}, Content: kit.Content{Head: "Why was the sack short?", Answer: "The weight was worn."}},
		{ID: "o", Kind: kit.Quotation, State: kit.Kept, Content: kit.Content{Sentence: "It's four ounces short", Speaker: "the captain", Addressee: "Ida"}},
		{ID: "p", Kind: kit.Practice, State: kit.Kept, Content: kit.Content{Head: "rain", Pattern: "ai as in rain"}},
	}
	return Kit{Title: "Short", Class: class.Class{Name: "Grade", Grade: grade, Settings: class.Defaults(grade)}, Date: time.Unix(0, 0).UTC(),
		Lessons: []kit.Prepared{{Lesson: kit.Lesson{Number: 1, Title: "Chapter 1"}, Items: items, Pages: "pages 7–12"}},
		Page:    func(int) string { return "page 9" }}
}

// written is all text of the blocks, what only the teacher sees marked by [].
func written(blocks []print.Block) string {
	var b strings.Builder
	put := func(texts ...print.Text) {
		for _, t := range texts {
			b.WriteString(t.String() + "\n")
		}
	}
	teacher := func(t print.Text) {
		if s := t.String(); s != "" {
			b.WriteString("[" + s + "]\n")
		}
	}
	for _, bl := range blocks {
		switch x := bl.(type) {
		case print.Heading:
			put(x.Text, x.Subtitle)
		case print.Paragraph:
			put(x.Text)
		case print.Question:
			put(x.Text, x.Detail)
			teacher(x.Answer)
			b.WriteString("{" + x.Mark + "}\n")
		case print.Word:
			put(x.Head, x.Sentence)
			teacher(x.Answer)
			b.WriteString("{" + x.Mark + "}\n")
		case print.Matching:
			for _, p := range x.Prompts {
				put(p.Text)
				b.WriteString("[" + p.Key + "]\n")
			}
		case print.Grid:
			put(x.Words...)
		case print.Table:
			for _, r := range x.Rows {
				for _, c := range r.Cells {
					put(c.Texts...)
				}
			}
		case print.List:
			for _, it := range x.Items {
				put(it.Text)
			}
		case print.Group:
			b.WriteString(written(x.Blocks))
		}
	}
	return b.String()
}

func TestLessonsHoldWhatWasDecided(t *testing.T) {
	got := written(Lessons(testKit(4)).Blocks)
	for _, want := range []string{"Lesson 1", "Chapter 1, pages 7–12", "Before you read", "Tare.", "brass", "[a yellow metal]", "{quiz}", "Why was the sack short?", "[The weight was worn.", "{quiz, test}", "“It’s four ounces short”", "[the captain, to Ida"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	for _, never := range []string{"dropped-word", "spare-word", "It's"} {
		if strings.Contains(got, never) {
			t.Errorf("%q was printed", never)
		}
	}
}

func TestHeldDraftsStayOff(t *testing.T) {
	k := testKit(4)
	k.Class.Settings.HoldDrafts = true
	got := written(Lessons(k).Blocks)
	if strings.Contains(got, "brass") || !strings.Contains(got, "Tare.") {
		t.Errorf("holding drafts back printed\n%s", got)
	}
}

func TestWeeksTellEveryStep(t *testing.T) {
	p := plan.Plan{Days: []plan.Day{
		{Date: calendar.Of(2026, 9, 7), Steps: []plan.Step{{Lesson: 1, Kind: plan.Background, Minutes: 10}, {Lesson: 1, Kind: plan.Reading, Minutes: 20, Pages: "pages 7–12"}}},
		{Date: calendar.Of(2026, 9, 14), Steps: []plan.Step{{Lesson: 4, From: 1, Kind: plan.Quiz, Minutes: 15}}},
	}}
	title := func(plan.Step) string { return "Short" }
	got := written(Weeks(testKit(4), p, title).Blocks)
	for _, want := range []string{"Week of 6 September 2026", "Week of 13 September 2026", "Mon 7 Sep", "Background and words; Read pages 7–12", "30", "Quiz on lessons 1 to 4"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	got = written(Checklist(testKit(4), p, title).Blocks)
	for _, want := range []string{"September 2026", "Monday 7 September", "Read Short, pages 7–12.", "Learn for the quiz on lessons 1 to 4, then write it."} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
}

func TestPapersCarryTheirKeys(t *testing.T) {
	k := testKit(4)
	marked := assess.Marked(assess.Quiz, []assess.Lesson{{Number: 1, Items: k.Lessons[0].Items}}, false)
	got := written(Papers(k, "quizzes", assess.Build(assess.Quiz, 1, marked, 1)).Blocks)
	for _, want := range []string{"Quiz 1, lesson 1", "Form A · 3 points", "Form B · 3 points", "The ________ shone", "[brass]", "[The weight was worn.]"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
}

func TestCards(t *testing.T) {
	d := Cards(testKit(1))
	c, ok := d.Blocks[0].(print.Cards)
	if !ok || len(c.Cards) != 1 || c.Cards[0].Front.String() != "rain" {
		t.Errorf("cards = %+v", d.Blocks)
	}
}
