// Package class holds the children and how they read together: a class, its
// students, its settings and its school calendar.
//
// What the trade does in most classes is a default ([Defaults]) that a teacher
// can change field by field.
package class

import (
	"fmt"
	"strings"

	"bookstead/internal/calendar"
	"bookstead/internal/fault"
)

// ID names a class.
type ID string

// Mode is how a passage is read.
type Mode string

const (
	Turns   Mode = "turns"   // aloud in turns
	Teacher Mode = "teacher" // the teacher reads aloud
	Silent  Mode = "silent"
)

// Student is one child. Reading measures inform teaching and are no diagnosis.
type Student struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	// WCPM is words correct per minute in an oral reading, 0 when not heard yet.
	WCPM float64 `json:"wcpm,omitempty"`
	Note string  `json:"note,omitempty"`
	// Standing is where the child stands in the spelling steps, where that is not
	// where the class does.
	Standing []Standing `json:"standing,omitempty"`
	// Rules are what the child should do every day or week.
	Rules []Rule `json:"rules,omitempty"`
}

// Settings are the choices that shape a class's kits and plan.
type Settings struct {
	Mode Mode `json:"mode"`
	// Rate is the reading rate in words per minute that the teacher set, 0 for
	// the published rate of the grade.
	Rate int `json:"rate,omitempty"`
	// Minutes is the class's time for books on a day.
	Minutes int `json:"minutes"`
	// Background and vocabulary, questions and discussion: minutes of a lesson.
	VocabularyMinutes int `json:"vocabularyMinutes"`
	QuestionMinutes   int `json:"questionMinutes"`
	DiscussionMinutes int `json:"discussionMinutes"`
	QuizMinutes       int `json:"quizMinutes"`
	TestMinutes       int `json:"testMinutes"`
	ReviewMinutes     int `json:"reviewMinutes"`
	// Words, Questions and so on: how many items of a kind a lesson drafts.
	Words       int  `json:"words"`
	Backgrounds int  `json:"backgrounds"`
	Questions   int  `json:"questions"`
	Quotations  int  `json:"quotations"`
	Practice    bool `json:"practice"` // practice words before reading
	// Again lets the children read the passage once more, silently, after it was
	// read aloud.
	Again   bool `json:"again,omitempty"`
	Quizzes bool `json:"quizzes"`
	Tests   bool `json:"tests"`
	// QuizEvery is the number of lessons between quizzes.
	QuizEvery int `json:"quizEvery"`
	// QuizWays and TestWays say what is asked on every quiz and on the test; empty
	// leaves it to the program, which asks for what is marked.
	QuizWays []Way `json:"quizWays,omitempty"`
	TestWays []Way `json:"testWays,omitempty"`
	// PlainDrafts drafts without regard to what was kept and dropped before.
	PlainDrafts bool `json:"plainDrafts,omitempty"`
	// Paper is "letter" or "a4".
	Paper      string `json:"paper"`
	LargePrint bool   `json:"largePrint,omitempty"`
	// QuoteLimit is the share of the book's words in percent above which
	// printing warns.
	QuoteLimit float64 `json:"quoteLimit"`
	// WeekStart is 0 for Sunday, 1 for Monday.
	WeekStart int `json:"weekStart"`
	// Spelling is what the class has been taught of spelling.
	Spelling Spelling `json:"spelling,omitzero"`
	// Choosing weighs the parts of the choice of words.
	Choosing Choosing `json:"choosing,omitzero"`
	// Review is how many words of earlier books come back in each lesson.
	Review int `json:"review,omitempty"`
	// DayBegins is when work on books begins on a day, 0 for nine o'clock.
	DayBegins calendar.Clock `json:"dayBegins,omitzero"`
	// HoldDrafts leaves undecided drafts off the paper; by default they print.
	HoldDrafts bool `json:"holdDrafts,omitempty"`
}

// Begins is when work on books begins on a day: nine o'clock unless the teacher
// said otherwise.
func (s Settings) Begins() calendar.Clock {
	if s.DayBegins > 0 {
		return s.DayBegins
	}
	return 9 * 60
}

// Class is a group of children who read together.
type Class struct {
	ID       ID                `json:"id"`
	Name     string            `json:"name"`
	School   string            `json:"school,omitempty"`
	Teacher  string            `json:"teacher,omitempty"`
	Grade    int               `json:"grade"` // 1 to 6
	Students []Student         `json:"students"`
	Copies   int               `json:"copies"` // of the novel at hand
	Calendar calendar.Calendar `json:"calendar"`
	Settings Settings          `json:"settings"`
	// Had are the words that the class was taught with earlier books.
	Had []Had `json:"had,omitempty"`
}

// Young reports whether the early-grade defaults apply: plainer, larger pages,
// practice words, no quizzes or tests (common practice, no source).
func Young(grade int) bool { return grade <= 2 }

// Defaults are the settings of a grade. About sixty minutes a day, about ten
// of them for background and vocabulary, and up to six words a lesson are
// common practice, no source.
func Defaults(grade int) Settings {
	s := Settings{
		Mode: Turns, Minutes: 60,
		VocabularyMinutes: 10, QuestionMinutes: 15, DiscussionMinutes: 10,
		QuizMinutes: 15, TestMinutes: 45, ReviewMinutes: 30,
		Words: 6, Backgrounds: 3, Questions: 6, Quotations: 2,
		Quizzes: true, Tests: true, QuizEvery: 4,
		Paper: "letter", QuoteLimit: 10, WeekStart: 0,
	}
	if Young(grade) {
		s.Practice, s.Quizzes, s.Tests = true, false, false
		s.Words, s.Questions, s.Quotations, s.Backgrounds = 4, 4, 1, 2
	}
	return s
}

// Validate says the first thing that is wrong with the class, nil if nothing.
func (c Class) Validate() error {
	switch {
	case strings.TrimSpace(c.Name) == "":
		return fault.New(fault.Invalid, "The class has no name.", "Type a name, such as Grade 4.")
	case c.Grade < 1 || c.Grade > 6:
		return fault.New(fault.Invalid, fmt.Sprintf("Bookstead prepares grades 1 to 6, not grade %d.", c.Grade), "Choose the grade whose work fits best.")
	case c.Settings.Minutes < 10 || c.Settings.Minutes > 300:
		return fault.New(fault.Invalid, fmt.Sprintf("A day of %d minutes cannot hold a lesson.", c.Settings.Minutes), "Give between 10 and 300 minutes a day; about 60 is usual.")
	case c.Settings.Rate < 0 || c.Settings.Rate > 400:
		return fault.New(fault.Invalid, fmt.Sprintf("%d words a minute is no reading rate.", c.Settings.Rate), "Leave it empty to use the published rate of the grade, or type a number up to 400.")
	}
	if err := validStanding("The class", c.Settings.Spelling.Standing); err != nil {
		return err
	}
	for _, st := range c.Students {
		if err := validStanding(st.Name, st.Standing); err != nil {
			return err
		}
		for _, r := range st.Rules {
			if err := r.Validate(); err != nil {
				return err
			}
		}
	}
	return c.Calendar.Validate()
}
