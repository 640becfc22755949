package sheet

import (
	"strings"
	"testing"

	"bookstead/internal/kit"
	"bookstead/internal/lead"
	"bookstead/internal/print"
)

func TestTeachingNotes(t *testing.T) {
	got := written(TeachingNotes(testKit(4), []lead.Notes{{Number: 1, Title: "Chapter 1",
		Words:    []lead.Word{{Word: "brass", Advice: "Say at once what it means: a metal."}},
		Aloud:    []lead.Aloud{{Text: "The sack was short / because the weight was worn.", Why: "Read it once in these parts."}},
		Together: &lead.Together{Number: 1, Steps: []string{"Ask: Why was the sack short?", "Write on the board: The weight was worn."}},
		Answers:  []lead.Answer{{Number: 1, Written: "The weight was worn."}},
		Marked:   "On the quiz: question 1.",
	}, {Number: 2, Title: "Chapter 2"}}).Blocks)
	for _, want := range []string{"Lesson 1", "Lesson 2", "The words", "brass.", "short / because", "Question 1 together", "What a child may write", "On the quiz: question 1."} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	if strings.Count(got, "The words") != 1 {
		t.Error("an empty part of a lesson has a heading")
	}
}

func TestStartersStandUnderTheirQuestions(t *testing.T) {
	k := testKit(4)
	plain := written(Lessons(k).Blocks)
	for _, it := range k.Lessons[0].Of(kit.Question) {
		k.Starters = map[kit.ItemID]string{it.ID: "The sack was short because"}
	}
	if got := written(Lessons(k).Blocks); !strings.Contains(got, "Begin: The sack was short because …") || strings.Contains(plain, "Begin:") {
		t.Errorf("the beginning of the answer is missing, or stands on every page:\n%s", got)
	}
}

func TestWiderGivesRoom(t *testing.T) {
	s := print.Standard(print.Letter())
	if w := Wider(s); w.Pitch <= s.Pitch || w.Hand <= s.Hand || w.Text != s.Text {
		t.Errorf("pitch %v and hand %v of %v and %v", w.Pitch, w.Hand, s.Pitch, s.Hand)
	}
}
