package prepare

import (
	"context"
	"strings"
	"time"

	"bookstead/internal/assess"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/print/sheet"
)

// Papers makes the quizzes and the test of the book, each in two forms. A class
// without quizzes or tests gets none.
func (p *Prepared) Papers() (quizzes [][]assess.Paper, test []assess.Paper) {
	if p.papers == nil {
		return p.makePapers()
	}
	return p.papers()
}

func (p *Prepared) makePapers() (quizzes [][]assess.Paper, test []assess.Paper) {
	if p.Class.Settings.Quizzes {
		for i := range p.spans() {
			if f := assess.Make(p.quiz(i, len(quizzes)+1)); f != nil {
				quizzes = append(quizzes, f)
			}
		}
	}
	if p.Class.Settings.Tests {
		test = assess.Make(p.test())
	}
	return quizzes, test
}

func (p *Prepared) spans() []assess.Span {
	return assess.Spans(len(p.Lessons), p.Class.Settings.QuizEvery)
}

func (p *Prepared) assessed() []assess.Lesson {
	lessons := make([]assess.Lesson, len(p.Lessons))
	for i, l := range p.Lessons {
		lessons[i] = assess.Lesson{Number: l.Number, Items: l.Items}
	}
	return lessons
}

// quiz is what the quiz on span i (from 0) is made of; number is its own.
func (p *Prepared) quiz(i, number int) assess.Request {
	s := p.spans()[i]
	r := p.request(assess.Quiz, p.Class.Settings.QuizWays)
	r.Number, r.First, r.Last, r.Minutes = number, s.First, s.Last, p.Class.Settings.QuizMinutes
	r.Lessons = r.Book[s.First-1 : s.Last]
	r.Seed += uint64(s.First)
	return r
}

func (p *Prepared) test() assess.Request {
	r := p.request(assess.Test, p.Class.Settings.TestWays)
	r.Number, r.Minutes, r.Lessons = 1, p.Class.Settings.TestMinutes, r.Book
	return r
}

func (p *Prepared) request(k assess.Kind, ways []class.Way) assess.Request {
	r := assess.Request{Kind: k, Book: p.assessed(), Hold: p.Hold(), Seed: uint64(len(p.Book.Text)), Points: pointsOf, Near: near, Clash: clash} // a seed that the book alone decides
	for _, w := range ways {
		r.Blueprint = append(r.Blueprint, assess.Way{Kind: assess.SectionKind(w.Kind), Count: w.Count, First: w.First, Last: w.Last})
	}
	return r
}

// pointsOf names what counts in an answer; nothing when it can't be told.
func pointsOf(question, full string) []string {
	j, err := judge()
	if err != nil {
		return nil
	}
	points, err := j.Points(context.Background(), question, full)
	if err != nil {
		return nil
	}
	return points
}

// near reports meanings that may say the same.
func near(a, b string) bool {
	j, err := judge()
	return err == nil && j.Near(a, b)
}

// SecondChance makes a paper for a child who missed some items of a quiz (from 1)
// or, with 0, of the test: other items on the same passages. It is nil when
// nothing is left to ask.
func (p *Prepared) SecondChance(quiz int, missed []kit.ItemID) *assess.Paper {
	quizzes, test := p.Papers()
	if quiz == 0 {
		return assess.Second(p.test(), test, missed)
	}
	for _, forms := range quizzes {
		if forms[0].Number != quiz {
			continue
		}
		for i, s := range p.spans() {
			if s.First == forms[0].First {
				return assess.Second(p.quiz(i, quiz), forms, missed)
			}
		}
	}
	return nil
}

// Asked is one thing asked on a quiz or the test, for a page on which what was
// missed is ticked.
type Asked struct {
	Item   kit.ItemID
	Prompt string
}

// AskedOn lists what is asked on form A of a quiz (from 1), or with 0 of the test.
func (p *Prepared) AskedOn(quiz int) []Asked {
	quizzes, test := p.Papers()
	forms := test
	if quiz > 0 {
		forms = nil
		for _, q := range quizzes {
			if q[0].Number == quiz {
				forms = q
			}
		}
	}
	var out []Asked
	if len(forms) == 0 {
		return out
	}
	for _, s := range forms[0].Sections {
		for _, e := range s.Entries {
			out = append(out, Asked{e.Item, strings.TrimSpace(s.Heading + ": " + e.Prompt)})
		}
	}
	return out
}

// SetSecondChance sets a second chance as a PDF, with its key when asked for.
func (p *Prepared) SetSecondChance(ctx context.Context, quiz int, missed []kit.ItemID, withKey bool, date time.Time) ([]byte, error) {
	paper := p.SecondChance(quiz, missed)
	if paper == nil {
		return nil, fault.New(fault.Invalid, "Nothing is left to ask on what was missed.", "Tick what was missed, or keep more items of these lessons.")
	}
	kind := Quizzes
	if withKey {
		kind = QuizKeys
	}
	f, err := lay(ctx, sheet.Papers(p.sheetKit(1, len(p.Lessons), date), "second chance", []assess.Paper{*paper}), kind, p.Class)
	if err != nil {
		return nil, err
	}
	return draw(f, kind)
}
