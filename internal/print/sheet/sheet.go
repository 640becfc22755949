// Package sheet turns a kit into the blocks of its papers: student pages (of
// which the teacher's edition is another drawing), quizzes and tests (of which
// the key is another drawing), word cards, weekly sheets and a checklist.
//
// It decides what stands on a page and in which words; print/layout decides
// where. Only items that are to be printed appear. Start with [Lessons].
package sheet

import (
	"fmt"
	"time"

	"bookstead/internal/book"
	"bookstead/internal/class"
	"bookstead/internal/kit"
	"bookstead/internal/print"
)

// Kit is what a paper is made of.
type Kit struct {
	Title   string
	Author  string
	Class   class.Class
	Lessons []kit.Prepared
	// Page says where in the class's own copy an offset stands: "page 31",
	// "about page 31", or "" without an edition. It may be nil.
	Page func(offset int) string
	// Clash reports that the meaning of one of two vocabulary words fits the other
	// too. It may be nil.
	Clash func(a, b kit.Content) bool
	Date  time.Time
	// Starters are the beginnings of answers, by question; nil for none.
	Starters map[kit.ItemID]string
}

func (k Kit) hold() bool  { return k.Class.Settings.HoldDrafts }
func (k Kit) young() bool { return class.Young(k.Class.Grade) }

func (k Kit) printed(l kit.Prepared, kind kit.Kind) []kit.Item {
	var out []kit.Item
	for _, it := range l.Of(kind) {
		if it.Printed(k.hold()) {
			out = append(out, it)
		}
	}
	return out
}

// notice stands small at the foot of every page.
const notice = "Quotations are short and for use in this class."

func (k Kit) document(title, right string) print.Document {
	return print.Document{
		Title: book.Typeset(title), Creator: "Bookstead", Language: "en-US", Date: k.Date,
		Subject: fmt.Sprintf("%s, for %s", book.Typeset(k.Title), k.Class.Name),
		Running: print.Running{Left: book.Typeset(k.Title), Right: right, Name: "Name", Foot: notice},
	}
}

// Headings of the sections of a lesson.
var headings = map[kit.Kind]string{
	kit.Background: "Before you read",
	kit.Practice:   "Words to practice",
	kit.Vocabulary: "Words from the page",
	kit.Question:   "What happened, and why",
	kit.Quotation:  "Who said it",
	kit.Figure:     "Another way of saying",
	kit.Passage:    "A passage to keep",
	kit.Discussion: "To talk over",
	kit.Extension:  "Further on",
}

// Heading is the heading of a kind of item, on paper and on screen.
func Heading(k kit.Kind) string { return headings[k] }

// Style is the style of the class's grade and paper.
func Style(c class.Class) print.Style {
	paper, ok := print.PaperNamed(c.Settings.Paper)
	if !ok {
		paper = print.Letter()
	}
	switch {
	case c.Settings.LargePrint:
		return print.LargePrint(paper)
	case class.Young(c.Grade):
		return print.Young(paper)
	}
	return print.Standard(paper)
}

func text(s string) print.Text   { return print.Plain(book.Typeset(s)) }
func bold(s string) print.Text   { return print.Styled(book.Typeset(s), print.Bold) }
func italic(s string) print.Text { return print.Styled(book.Typeset(s), print.Italic) }
func rubric(s string) print.Text { return print.Styled(book.Typeset(s), print.Rubric) }
func emphasised(s, word string) print.Text {
	return print.Emphasise(book.Typeset(s), book.Typeset(word), print.Bold)
}
func join(texts ...print.Text) print.Text { return print.Join(texts...) }

func mark(m kit.Marks) string {
	switch {
	case m.Quiz && m.Test:
		return "quiz, test"
	case m.Quiz:
		return "quiz"
	case m.Test:
		return "test"
	}
	return ""
}
