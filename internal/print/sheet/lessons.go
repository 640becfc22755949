package sheet

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"bookstead/internal/assess"
	"bookstead/internal/kit"
	"bookstead/internal/print"
)

// Lessons are the student pages: each lesson starts a page. Drawn for the
// teacher they are the teacher's edition.
func Lessons(k Kit) print.Document {
	d := k.document(k.Title+": lessons", "Teacher’s edition")
	for _, l := range k.Lessons {
		d.Blocks = append(d.Blocks, k.lesson(l)...)
	}
	return d
}

func (k Kit) lesson(l kit.Prepared) []print.Block {
	sub := l.Title
	if l.Pages != "" {
		sub += ", " + l.Pages
	}
	name := fmt.Sprintf("Lesson %d", l.Number)
	blocks := []print.Block{print.Heading{Level: 1, Text: text(name), Subtitle: text(sub), Bookmark: name + ": " + l.Title, NewPage: true}}
	for _, s := range []struct {
		kind kit.Kind
		make func([]kit.Item) []print.Block
	}{
		{kit.Background, k.background},
		{kit.Practice, k.practice},
		{kit.Vocabulary, func(items []kit.Item) []print.Block { return k.vocabulary(l, items) }},
		{kit.Question, k.questions},
		{kit.Quotation, k.quotations},
		{kit.Figure, k.figures},
		{kit.Passage, k.passages},
		{kit.Discussion, k.discussion},
		{kit.Extension, k.extension},
	} {
		if items := k.printed(l, s.kind); len(items) > 0 {
			blocks = append(blocks, print.Heading{Level: 2, Text: text(headings[s.kind])})
			blocks = append(blocks, s.make(items)...)
		}
	}
	return blocks
}

func (k Kit) background(items []kit.Item) (out []print.Block) {
	for _, it := range items {
		out = append(out, print.Paragraph{Text: join(bold(ending(it.Content.Head)+" "), text(it.Content.Answer)), Mark: mark(it.Marks)})
	}
	return out
}

// ending closes a run-in heading with a full stop unless it has an end mark.
func ending(s string) string {
	if strings.HasSuffix(s, ".") || strings.HasSuffix(s, "?") || strings.HasSuffix(s, "!") {
		return s
	}
	return s + "."
}

// practice groups words by the spelling that they share, in the order of their
// first appearance.
func (k Kit) practice(items []kit.Item) (out []print.Block) {
	var order []string
	words := map[string][]print.Text{}
	for _, it := range items {
		if line(it) {
			continue
		}
		p := it.Content.Pattern
		if _, ok := words[p]; !ok {
			order = append(order, p)
		}
		words[p] = append(words[p], marked(it.Content))
	}
	for _, p := range order {
		if p != "" {
			out = append(out, print.Heading{Level: 3, Text: text(p)})
		}
		out = append(out, print.Grid{Words: words[p]})
	}
	return append(out, k.lines(items)...)
}

func (k Kit) vocabulary(l kit.Prepared, items []kit.Item) (out []print.Block) {
	for _, it := range items {
		c := it.Content
		out = append(out, print.Word{
			Head: bold(c.Head), Note: italic(c.PartOfSpeech), Sentence: emphasised(c.Sentence, c.Head),
			Lines: 1, Answer: text(meaning(c)), Mark: mark(it.Marks),
		})
	}
	out = append(out, k.guess(items)...)
	if m, ok := k.matching(l.Number, items); ok {
		out = append(out, print.Heading{Level: 3, Text: text("Write the letter of the meaning beside each word")}, m)
	}
	out = append(out, k.fillIn(items)...)
	return append(out, k.built(items)...)
}

// meaning is what stands on a word's line in the teacher's edition.
func meaning(c kit.Content) string {
	switch {
	case c.Synonym == "" || c.Synonym == c.Meaning:
		return c.Meaning
	case c.Meaning == "":
		return c.Synonym
	}
	return c.Synonym + "; " + c.Meaning
}

// matching is the exercise with the meanings in another order; there is none
// for fewer than three words. A word whose meaning fits another one is left out.
func (k Kit) matching(lesson int, items []kit.Item) (print.Matching, bool) {
	var entries []assess.Entry
	var choices []string
	var in []kit.Content
	for _, it := range items {
		m := it.Content.Meaning
		if m == "" || slices.ContainsFunc(in, func(c kit.Content) bool { return c.Meaning == m || k.Clash != nil && k.Clash(c, it.Content) }) {
			continue
		}
		in = append(in, it.Content)
		entries = append(entries, assess.Entry{Prompt: it.Content.Head, Key: m})
		choices = append(choices, m)
	}
	if len(entries) < 3 {
		return print.Matching{}, false
	}
	order := assess.Derange(rand.New(rand.NewPCG(uint64(lesson), 1)), entries, choices)
	var m print.Matching
	for i, e := range entries {
		for j, c := range order {
			if c == e.Key {
				m.Prompts = append(m.Prompts, print.Prompt{Number: strconv.Itoa(i + 1), Text: text(e.Prompt), Key: assess.Letter(j)})
			}
		}
	}
	for j, c := range order {
		m.Choices = append(m.Choices, print.Choice{Letter: assess.Letter(j), Text: text(c)})
	}
	return m, true
}

func (k Kit) questions(items []kit.Item) (out []print.Block) {
	for i, it := range items {
		q := print.Question{Number: strconv.Itoa(i + 1), Text: text(it.Content.Head), Lines: 2,
			Answer: text(it.Content.Answer), Source: k.where(it), Mark: mark(it.Marks)}
		if s := k.Starters[it.ID]; s != "" {
			q.Detail = italic("Begin: " + strings.TrimRight(s, ",") + " …")
		}
		out = append(out, q)
	}
	return out
}

// where points the teacher to the page that proves the answer.
func (k Kit) where(it kit.Item) string {
	if k.Page == nil || it.Place.Exact == "" {
		return ""
	}
	return k.Page(it.Place.Start)
}

func (k Kit) quotations(items []kit.Item) (out []print.Block) {
	for i, it := range items {
		c := it.Content
		who := c.Speaker
		if c.Addressee != "" {
			who += ", to " + c.Addressee
		}
		ask := c.Head
		if ask == "" {
			ask = "Who says this, and to whom?"
		}
		answer := c.Answer
		if answer == "" {
			answer = who
		}
		out = append(out, print.Question{Number: strconv.Itoa(i + 1), Text: text(quoted(c.Sentence)), Detail: italic(ask), Lines: 1,
			Answer: text(answer), Source: k.where(it), Mark: mark(it.Marks)})
	}
	return out
}

// quoted puts quotation marks around words that have none.
func quoted(s string) string {
	if strings.HasPrefix(s, "“") || strings.HasPrefix(s, "\"") || strings.HasPrefix(s, "‘") {
		return s
	}
	return "“" + s + "”"
}

func (k Kit) figures(items []kit.Item) (out []print.Block) {
	for i, it := range items {
		c := it.Content
		out = append(out, print.Question{Number: strconv.Itoa(i + 1), Text: text("What does “" + strings.Trim(c.Head, "“”\"") + "” mean here?"),
			Detail: emphasised(c.Sentence, c.Head), Lines: 1, Answer: text(c.Answer), Mark: mark(it.Marks)})
	}
	return out
}

func (k Kit) passages(items []kit.Item) (out []print.Block) {
	for _, it := range items {
		out = append(out, print.Paragraph{Kind: print.Quote, Text: text(it.Content.Sentence)},
			print.Question{Text: text("Why is this worth reading twice?"), Lines: 2, Answer: text(it.Content.Note), Mark: mark(it.Marks)})
	}
	return out
}

func (k Kit) discussion(items []kit.Item) (out []print.Block) {
	for _, it := range items {
		lines := 1
		if it.Content.Note == "" {
			lines = 0
		}
		out = append(out, print.Question{Text: text(it.Content.Head), Lines: lines, Answer: text(it.Content.Note), Mark: mark(it.Marks)})
	}
	return out
}

func (k Kit) extension(items []kit.Item) (out []print.Block) {
	for _, it := range items {
		out = append(out, print.Paragraph{Text: text(it.Content.Head), Mark: mark(it.Marks)})
		if it.Content.PartOfSpeech == "drawing" || it.Content.PartOfSpeech == "map" {
			out = append(out, print.Drawing{Height: print.Millimetres(70), Alt: it.Content.Head})
		}
	}
	return out
}
