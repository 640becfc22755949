package planner

import (
	"math"

	"bookstead/internal/assess"
	"bookstead/internal/book"
	"bookstead/internal/class"
	"bookstead/internal/divide"
	"bookstead/internal/kit"
	"bookstead/internal/pace"
	"bookstead/internal/plan"
)

// Book is a kit as the planner sees it: lessons with steps.
type Book struct {
	Kit     kit.ID   `json:"kit"`
	Title   string   `json:"title"`
	Lessons []Lesson `json:"lessons"`
	// Pages says where a span stands in the class's own copy; nil when not known.
	Pages func(book.Span) string `json:"-"`
}

// Lesson is a lesson's work in order.
type Lesson struct {
	Number int         `json:"number"` // from 1
	Title  string      `json:"title"`
	Steps  []plan.Step `json:"steps"`
	// Breaks are the places inside the reading where it may stop, in order.
	Breaks []Break `json:"breaks,omitempty"`
	// After are the quiz, corrections, review and test that follow the lesson.
	After []plan.Step `json:"after,omitempty"`
}

// Break is a place where a reading may stop for the day.
type Break struct {
	Offset  int     `json:"offset"`  // in the book's text; the reading goes on here
	Minutes float64 `json:"minutes"` // of reading before it
	Scene   bool    `json:"scene"`   // a scene ends here, or time passes
}

// Minutes of steps that the settings do not hold (common practice, no source).
const (
	quizCorrections    = 5
	testCorrections    = 10
	backgroundMinutes  = 3 // background alone, without vocabulary
	leastStepMinutes   = 2
	longestStepMinutes = 600
)

// Counts are the items of a lesson by kind. Nil stands for a lesson whose items
// are not known: it gets every step at its usual length.
type Counts map[kit.Kind]int

func (c Counts) of(k kit.Kind) int {
	if c == nil {
		return 1
	}
	return c[k]
}

// Steps are the steps of one lesson with their minutes, in order: background
// and vocabulary as one sitting, practice words, reading in the class's mode,
// again silently where the class does that, questions, discussion. A step without items is left out. Minutes are the
// class's own; those of questions grow and shrink with their number, the
// reading's are those of the lesson at the class's rate, at least one.
func Steps(l kit.Lesson, c class.Class, counts Counts) []plan.Step {
	s := c.Settings
	var out []plan.Step
	add := func(kind plan.StepKind, minutes int) {
		if minutes > 0 {
			out = append(out, plan.Step{Lesson: l.Number, Kind: kind, Minutes: min(minutes, longestStepMinutes)})
		}
	}
	switch {
	case counts.of(kit.Vocabulary) > 0:
		add(plan.Background, s.VocabularyMinutes)
	case counts.of(kit.Background) > 0:
		add(plan.Background, min(backgroundMinutes, s.VocabularyMinutes))
	}
	if s.Practice && counts.of(kit.Practice) > 0 {
		add(plan.Practice, pace.PracticeMinutes)
	}
	out = append(out, plan.Step{Lesson: l.Number, Kind: plan.Reading, Minutes: max(1, int(math.Round(l.Minutes))), Span: l.Span, Mode: s.Mode})
	if s.Again && s.Mode != class.Silent && l.Words > 0 {
		add(plan.Again, max(1, int(math.Round(pace.Of(c, class.Silent, pace.MidYear).Minutes(l.Words)))))
	}
	add(plan.Questions, questionMinutes(s, counts))
	if counts.of(kit.Discussion) > 0 {
		add(plan.Discussion, s.DiscussionMinutes)
	}
	return out
}

// questionMinutes shares the usual minutes out over the usual number of
// questions; quotations to identify come with them and take no time of their own.
func questionMinutes(s class.Settings, counts Counts) int {
	if counts == nil || s.Questions <= 0 {
		return s.QuestionMinutes
	}
	n := counts[kit.Question]
	if n == 0 && counts[kit.Quotation] == 0 {
		return 0
	}
	return max(leastStepMinutes, int(math.Round(float64(s.QuestionMinutes*n)/float64(s.Questions))))
}

// Options of a book's plan.
type Options struct {
	// TestEachPart sets a test at the end of each part of the book instead of
	// one at its end.
	TestEachPart bool
	Pages        func(book.Span) string
}

// NewBook makes the planner's book from a prepared kit: steps by the items that
// will be printed, a quiz every so many lessons and a review and a test at the
// end, where the class has them and something is marked for them.
func NewBook(b *book.Book, id kit.ID, c class.Class, lessons []kit.Prepared, o Options) Book {
	out := Book{Kit: id, Title: b.Title, Pages: o.Pages}
	bounds := divide.Boundaries(b, true)
	for _, l := range lessons {
		out.Lessons = append(out.Lessons, Lesson{Number: l.Number, Title: l.Title,
			Steps: Steps(l.Lesson, c, count(l, c.Settings.HoldDrafts)), Breaks: breaks(b, bounds, l.Lesson)})
	}
	s := c.Settings
	if s.Quizzes {
		for _, x := range assess.Spans(len(lessons), s.QuizEvery) {
			if s.QuizMinutes > 0 && marked(assess.Quiz, lessons, x, s.HoldDrafts) {
				out.after(x, plan.Quiz, s.QuizMinutes)
				out.after(x, plan.Corrections, quizCorrections)
			}
		}
	}
	if s.Tests {
		for _, x := range testSpans(b, lessons, o.TestEachPart) {
			if s.TestMinutes > 0 && marked(assess.Test, lessons, x, s.HoldDrafts) {
				out.after(x, plan.Review, s.ReviewMinutes)
				out.after(x, plan.Test, s.TestMinutes)
				out.after(x, plan.Corrections, testCorrections)
			}
		}
	}
	return out
}

func (b *Book) after(x assess.Span, kind plan.StepKind, minutes int) {
	if minutes > 0 {
		l := &b.Lessons[x.Last-1]
		l.After = append(l.After, plan.Step{Kit: b.Kit, Lesson: l.Number, From: b.Lessons[x.First-1].Number, Kind: kind, Minutes: minutes})
	}
}

// count is nil for a lesson of which nothing is printed (yet).
func count(l kit.Prepared, hold bool) Counts {
	var n Counts
	for _, it := range l.Items {
		if it.Printed(hold) {
			if n == nil {
				n = Counts{}
			}
			n[it.Kind]++
		}
	}
	return n
}

// marked reports whether something is marked for a paper on these lessons.
func marked(k assess.Kind, lessons []kit.Prepared, x assess.Span, hold bool) bool {
	var in []assess.Lesson
	for _, l := range lessons[x.First-1 : x.Last] {
		in = append(in, assess.Lesson{Number: l.Number, Items: l.Items})
	}
	return len(assess.Marked(k, in, hold)) > 0
}

// testSpans are the lessons that each test covers.
func testSpans(b *book.Book, lessons []kit.Prepared, eachPart bool) []assess.Span {
	if len(lessons) == 0 {
		return nil
	}
	out := []assess.Span{{First: 1, Last: len(lessons)}}
	if !eachPart {
		return out
	}
	part := func(i int) int { return b.Chapters[lessons[i].First].Part }
	for i := 1; i < len(lessons); i++ {
		if part(i) != part(i-1) {
			out[len(out)-1].Last = i
			out = append(out, assess.Span{First: i + 1, Last: len(lessons)})
		}
	}
	return out
}

// breaks are the boundaries inside a lesson's reading.
func breaks(b *book.Book, bounds []divide.Boundary, l kit.Lesson) []Break {
	if b.Source.Format == "paper" {
		return pageBreaks(l)
	}
	total := book.Words(b.Slice(l.Span))
	if total == 0 {
		return nil
	}
	perWord := l.Minutes / float64(total)
	var out []Break
	first := -1
	for _, x := range bounds {
		if x.Offset < l.Start || x.Offset >= l.End {
			continue
		}
		if first < 0 {
			first = x.Words
			continue
		}
		out = append(out, Break{Offset: x.Offset, Minutes: float64(x.Words-first) * perWord, Scene: x.Kind <= divide.Pause})
	}
	return out
}

// pageBreaks let the reading of a book on paper stop every few minutes: at which
// paragraph is seen on the page, so they have no offset.
func pageBreaks(l kit.Lesson) []Break {
	var out []Break
	for m := pieceMinutes; float64(m) <= l.Minutes-pieceMinutes/2; m += pieceMinutes {
		out = append(out, Break{Minutes: float64(m)})
	}
	return out
}
