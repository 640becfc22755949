// Package plan holds a class's year with its books: steps laid on days.
//
// A [Plan] is what the planner computed and the teacher agreed to; it is stored
// as agreed. What the teacher asked for (order of books, end dates, moved days)
// is a [Wish] list, from which the planner computes a plan again at any time.
package plan

import (
	"bookstead/internal/book"
	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/kit"
)

// StepKind is a piece of a lesson's work.
type StepKind string

const (
	Background StepKind = "background" // background and vocabulary are one sitting by default
	Vocabulary StepKind = "vocabulary"
	Practice   StepKind = "practice"
	Reading    StepKind = "reading"
	Again      StepKind = "again" // the passage once more, silently, after it was read aloud
	Questions  StepKind = "questions"
	Discussion StepKind = "discussion"
	Extension  StepKind = "extension"
	Quiz       StepKind = "quiz"
	Review     StepKind = "review"
	Test       StepKind = "test"
	// Corrections is going over a quiz or test when it has been marked.
	Corrections StepKind = "corrections"
)

// OfLesson reports whether the kind is work on one lesson, not on several as a
// quiz, a review, a test and its corrections are.
func (k StepKind) OfLesson() bool {
	switch k {
	case Quiz, Review, Test, Corrections:
		return false
	}
	return true
}

// Step is a piece of work on one day.
type Step struct {
	Kit    kit.ID   `json:"kit"`
	Lesson int      `json:"lesson"`         // number from 1; for a test or review the last lesson that it covers
	From   int      `json:"from,omitempty"` // for a quiz, review or test: the first lesson that it covers
	Kind   StepKind `json:"kind"`
	// Part counts from 1 when a step lies on several days; Parts is how many.
	Part    int        `json:"part,omitempty"`
	Parts   int        `json:"parts,omitempty"`
	Minutes int        `json:"minutes"`
	Span    book.Span  `json:"span,omitzero"` // what is read, for a reading step
	Mode    class.Mode `json:"mode,omitempty"`
	// Pages is for people: "pages 27–36", "about page 40"; empty without an edition.
	Pages string `json:"pages,omitempty"`
	// With says who it needs; empty for what is usual, see [WithOf].
	With With `json:"with,omitempty"`
}

// Day is a school day with its steps in order.
type Day struct {
	Date      calendar.Date `json:"date"`
	Available int           `json:"available"` // minutes
	Steps     []Step        `json:"steps"`
}

// Minutes is the time of the day's steps.
func (d Day) Minutes() int {
	n := 0
	for _, s := range d.Steps {
		n += s.Minutes
	}
	return n
}

// Pin is a day that the teacher moved: this lesson starts on that date. With a
// Kind of quiz, review or test it is that step, of the paper whose last lesson
// is Lesson.
type Pin struct {
	Kit    kit.ID        `json:"kit"`
	Lesson int           `json:"lesson"`
	Date   calendar.Date `json:"date"`
	Kind   StepKind      `json:"kind,omitempty"`
}

// BookWish is one book of the year, in order.
type BookWish struct {
	Kit   kit.ID        `json:"kit"`
	Start calendar.Date `json:"start,omitzero"` // not before; None or 0 when free
	End   calendar.Date `json:"end,omitzero"`   // by; None or 0 when free
}

// Wish is what the teacher asked of the year.
type Wish struct {
	Books []BookWish `json:"books"`
	Pins  []Pin      `json:"pins,omitempty"`
	// Reserve is the share of the time, in percent, that the plan would rather
	// leave free, spread over the year; a book that must end by a date comes first.
	Reserve int `json:"reserve,omitempty"`
	// Spread lays books with an end date evenly up to it instead of finishing
	// as soon as they may.
	Spread bool `json:"spread,omitempty"`
	// Materials are what the class has and wants of novels and paper.
	Materials Materials `json:"materials,omitzero"`
	// Happened is what was noted of single days, in their order.
	Happened []Happened `json:"happened,omitempty"`
	// Steps are changes to steps: other minutes, another mode, left out.
	Steps []StepWish `json:"steps,omitempty"`
	// Days have minutes of their own, whatever the school calendar says.
	Days []calendar.Special `json:"days,omitempty"`
	// Care is how much more (or less) than usual a concern matters: 2 for twice as
	// much, 0 for not at all; what is not named matters as usual.
	Care map[Concern]float64 `json:"care,omitempty"`
	// TestsMove lets tests that were agreed before move like any other step;
	// otherwise they stay on their days while the work before them is done by then.
	TestsMove bool `json:"testsMove,omitempty"`
}

// Concern is something that a plan would rather keep.
type Concern string

const (
	Soon      Concern = "soon"     // be done early
	Whole     Concern = "whole"    // lessons not cut
	Weekends  Concern = "weekends" // and not over weekends and days off
	TestDays  Concern = "tests"    // no test beside days off
	EvenDays  Concern = "even"     // no thin days
	LightDays Concern = "light"    // lighter Fridays
	TalkLong  Concern = "talk"     // talking over not shortened
	EvenYear  Concern = "reserve"  // free days spread, an even course
	Stay      Concern = "stay"     // what was agreed stays where it is
)

// Concerns are all of them, in the order in which a page shows them.
var Concerns = [...]Concern{Soon, Whole, Weekends, TestDays, EvenDays, LightDays, TalkLong, EvenYear, Stay}

// MostCare is the most that a concern can count.
const MostCare = 10

// StepWish changes a step of one lesson.
type StepWish struct {
	Kit    kit.ID   `json:"kit"`
	Lesson int      `json:"lesson"`
	Kind   StepKind `json:"kind"`
	// Minutes, when they are not 0, are those that the step takes.
	Minutes int        `json:"minutes,omitempty"`
	Mode    class.Mode `json:"mode,omitempty"` // of a reading
	With    With       `json:"with,omitempty"`
	Leave   bool       `json:"leave,omitempty"` // it is left out
}

// Shortfall says by how much a book does not fit, and what would help.
type Shortfall struct {
	Kit     kit.ID        `json:"kit"`
	Wanted  calendar.Date `json:"wanted"`
	Ends    calendar.Date `json:"ends"`    // None when the year itself is too short
	Days    int           `json:"days"`    // school days too many
	Minutes int           `json:"minutes"` // work that lies behind the wanted day
	// MoreMinutes on every day would make the book end in time; 0 when no
	// number up to two hours would.
	MoreMinutes int `json:"moreMinutes,omitempty"`
	// FewerLessons at the end of the book, left out, would make it end in time;
	// 0 when leaving out its lessons would not.
	FewerLessons int `json:"fewerLessons,omitempty"`
}

// Plan is the year laid out.
type Plan struct {
	Class      class.ID    `json:"class"`
	Days       []Day       `json:"days"` // school days with work, in order
	Shortfalls []Shortfall `json:"shortfalls,omitempty"`
	// Notes are sentences for the teacher: what the plan took for granted.
	Notes []string `json:"notes,omitempty"`
	// Sequence counts agreed versions, for calendars that subscribe (RFC 5545 SEQUENCE).
	Sequence int `json:"sequence"`
}

// Last returns the date of the last day with work, None for an empty plan.
func (p Plan) Last() calendar.Date {
	if len(p.Days) == 0 {
		return calendar.None
	}
	return p.Days[len(p.Days)-1].Date
}

// Span returns the first and the last day with work of a kit; ok is false when
// the plan has none.
func (p Plan) Span(id kit.ID) (first, last calendar.Date, ok bool) {
	for _, d := range p.Days {
		for _, s := range d.Steps {
			if s.Kit == id {
				if !ok {
					first, ok = d.Date, true
				}
				last = d.Date
			}
		}
	}
	return first, last, ok
}
