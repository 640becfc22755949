// Package lead says how to teach a lesson, from the lesson's own items and the
// passage: half a page for the teacher.
//
// [For] makes the [Notes] of a lesson: how to talk about each word, which
// sentences to read aloud first and where to pause, which question to take
// together and how a spoken answer becomes a written one, what a child may write
// to each question, what the marked items need. [Level] makes three lessons of
// one, so that one class can hold different children. Nothing is said that does
// not come from this lesson.
package lead

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/answer"
	"bookstead/internal/assess"
	"bookstead/internal/kit"
	"bookstead/internal/lang"
)

// Input is a lesson with what is known of its text.
type Input struct {
	Lesson kit.Prepared
	Doc    *lang.Doc
	Judge  *answer.Judge
	Grade  int
	Hold   bool // undecided drafts are not taught
	// Keep reports a text that must not be shown; nil shows all.
	Keep func(text string) bool
}

// Notes are the half page.
type Notes struct {
	Number   int
	Title    string
	Words    []Word
	Aloud    []Aloud
	Together *Together
	Answers  []Answer
	// Marked is what is on the quiz or the test and what it needs, "" for nothing.
	Marked string
}

// Word is how to come to one word.
type Word struct {
	Word string
	// Tell is true where the sentence gives no help, and the meaning is best said
	// at once.
	Tell   bool
	Advice string
}

// Aloud is a sentence to read to the class first.
type Aloud struct {
	Text string // with " / " at each pause
	Why  string
}

// Together is the question to answer with the whole class first.
type Together struct {
	Number   int // of the question on the page
	Question string
	Spoken   string // what a child may say: "because she was lonely"
	Starter  string // how to begin the sentence: "Mary cried because"
	Written  string // what then stands on the board to copy
	Steps    []string
}

// Answer is what a child may write.
type Answer struct {
	Number  int
	ID      kit.ItemID
	Written string
	Starter string
}

// For makes the notes of a lesson.
func For(ctx context.Context, in Input) (Notes, error) {
	n := Notes{Number: in.Lesson.Number, Title: in.Lesson.Title}
	n.Words = words(in)
	n.Aloud = aloud(in)
	var err error
	if n.Answers, n.Together, err = answers(ctx, in); err != nil {
		return Notes{}, err
	}
	n.Marked = marked(in)
	return n, nil
}

func (in Input) printed(k kit.Kind) []kit.Item {
	var out []kit.Item
	for _, it := range in.Lesson.Of(k) {
		if it.Printed(in.Hold) {
			out = append(out, it)
		}
	}
	return out
}

// words says for each word which clue to point at, or that it is best told.
func words(in Input) []Word {
	var out []Word
	for _, it := range in.printed(kit.Vocabulary) {
		c := it.Content
		w := Word{Word: c.Head}
		meaning := c.Meaning
		if c.Synonym != "" {
			meaning = c.Synonym
		}
		clue, found := strings.CutPrefix(c.Note, "Clue: ")
		switch {
		case found:
			w.Advice = "Read its sentence; let them guess. " + upper(stop(clue))
		case strings.HasPrefix(strings.ToLower(c.Build), "family: "):
			w.Advice = "Point to its family, which they may know: " + stop(c.Build[len("family: "):])
		case c.Build != "":
			w.Advice = "Take it apart with them. " + upper(stop(c.Build))
		case meaning != "":
			w.Tell = true
			w.Advice = "Say at once what it means, for its sentence does not show it: " + stop(meaning)
		default:
			continue
		}
		out = append(out, w)
	}
	return out
}

// answers are the models of all questions, and the question to take together:
// the hardest whose answer can be said before it is written.
func answers(ctx context.Context, in Input) ([]Answer, *Together, error) {
	var out []Answer
	var best *Together
	most := -1.0
	for i, it := range in.printed(kit.Question) {
		m, err := in.Judge.Model(ctx, it.Content.Head, it.Content.Answer, in.Grade)
		if err != nil {
			return nil, nil, fmt.Errorf("shortening an answer: %w", err)
		}
		starter, err := in.Judge.Starter(ctx, it.Content.Head, it.Content.Answer)
		if err != nil {
			return nil, nil, fmt.Errorf("beginning an answer: %w", err)
		}
		if m.Written == "" {
			continue
		}
		out = append(out, Answer{Number: i + 1, ID: it.ID, Written: m.Written, Starter: starter})
		hard := assess.Difficulty(assess.Short, assess.Entry{Prompt: it.Content.Head, Key: it.Content.Answer})
		if m.Spoken == "" || starter == "" {
			hard -= 0.3
		}
		if hard > most {
			most = hard
			best = together(i+1, it.Content.Head, m, starter)
		}
	}
	return out, best, nil
}

func together(number int, question string, m answer.Model, starter string) *Together {
	t := &Together{Number: number, Question: question, Spoken: m.Spoken, Starter: starter, Written: m.Written}
	t.Steps = append(t.Steps, "Ask: "+question)
	if m.Spoken != "" {
		t.Steps = append(t.Steps, "Take the short answer: “"+lower(m.Spoken)+"”.")
	}
	switch {
	case starter != "":
		t.Steps = append(t.Steps, "Give the beginning, and let them finish it aloud: “"+starter+" …”")
	case m.Spoken != "":
		t.Steps = append(t.Steps, "Let them say it again with the words of the question.")
	}
	t.Steps = append(t.Steps, "Write on the board, and let them copy: "+m.Written)
	return t
}

// marked tells what is on the quiz and the test.
func marked(in Input) string {
	var out []string
	for _, p := range []struct {
		name string
		on   func(kit.Marks) bool
	}{{"quiz", func(m kit.Marks) bool { return m.Quiz }}, {"test", func(m kit.Marks) bool { return m.Test }}} {
		if s := in.list(p.on); s != "" {
			out = append(out, "On the "+p.name+": "+s+".")
		}
	}
	if len(out) == 0 {
		return ""
	}
	return strings.Join(out, " ") + " " + in.need()
}

// list names the marked items: words by themselves, questions by number.
func (in Input) list(on func(kit.Marks) bool) string {
	var parts, heads, numbers, said []string
	for _, it := range in.printed(kit.Vocabulary) {
		if on(it.Marks) {
			heads = append(heads, it.Content.Head)
		}
	}
	for i, it := range in.printed(kit.Question) {
		if on(it.Marks) {
			numbers = append(numbers, fmt.Sprint(i+1))
		}
	}
	for _, it := range in.printed(kit.Quotation) {
		if on(it.Marks) && it.Content.Speaker != "" && !slices.Contains(said, it.Content.Speaker) {
			said = append(said, it.Content.Speaker)
		}
	}
	if len(heads) > 0 {
		parts = append(parts, "the "+plural(len(heads), "word")+" "+and(heads))
	}
	if len(numbers) > 0 {
		parts = append(parts, plural(len(numbers), "question")+" "+and(numbers))
	}
	if len(said) > 0 {
		parts = append(parts, "what "+and(said)+" "+say(len(said)))
	}
	return strings.Join(parts, "; ")
}

// need says what the marked items need before the lesson ends.
func (in Input) need() string {
	any := func(m kit.Marks) bool { return m.Quiz || m.Test }
	told := map[string]bool{}
	for _, w := range words(in) {
		told[w.Word] = w.Tell
	}
	var hard []string
	asked := false
	for _, it := range in.printed(kit.Vocabulary) {
		if any(it.Marks) && told[it.Content.Head] {
			hard = append(hard, it.Content.Head)
		}
	}
	for _, it := range in.printed(kit.Question) {
		asked = asked || any(it.Marks)
	}
	var out []string
	if len(hard) > 0 {
		out = append(out, "The book does not show what "+and(hard)+" "+map[bool]string{true: "mean", false: "means"}[len(hard) > 1]+": use "+map[bool]string{true: "them", false: "it"}[len(hard) > 1]+" in a sentence of your own before the lesson ends.")
	}
	if asked {
		out = append(out, "Let a child point to the place that proves each marked question.")
	}
	return strings.Join(out, " ")
}

func plural(n int, s string) string {
	if n == 1 {
		return s
	}
	return s + "s"
}

func say(n int) string {
	if n == 1 {
		return "says"
	}
	return "say"
}

func and(items []string) string {
	if len(items) < 2 {
		return strings.Join(items, "")
	}
	return strings.Join(items[:len(items)-1], ", ") + " and " + items[len(items)-1]
}
