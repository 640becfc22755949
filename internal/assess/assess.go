// Package assess makes quizzes and tests from the items of lessons, in two forms
// of equal difficulty, each with its key.
//
// [Make] takes a [Request]: the lessons that a paper covers, with all their
// items, and a [Blueprint] that says how many things are asked in which way from
// which lessons. Marked items come first and stand in both forms; what is added
// to them is dealt to the forms in turn, so that both are equally hard. No entry
// gives away another's answer. [Second] makes a second chance for what was
// missed. Everything is drawn from a seed: the same items give the same papers.
package assess

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"bookstead/internal/kit"
)

// Kind of paper.
type Kind string

const (
	Quiz Kind = "quiz"
	Test Kind = "test"
)

// SectionKind is a way of asking.
type SectionKind string

const (
	Match   SectionKind = "match"   // words with their meanings
	WhoSaid SectionKind = "whosaid" // quotations with their speakers
	Short   SectionKind = "short"   // questions answered in a sentence or two
	Explain SectionKind = "explain" // figures of speech
	Choose  SectionKind = "choose"  // the right one of a few
	Fill    SectionKind = "fill"    // a word left out of its sentence
	Order   SectionKind = "order"   // what happened first, next, last
)

// Entry is one thing to answer.
type Entry struct {
	Item   kit.ItemID
	Prompt string
	// Detail stands under the prompt in smaller type: the sentence of a word.
	Detail string
	// Key is what counts as right; for Match it is the letter of the meaning.
	Key string
	// Counts says what earns the points, one by one; it may be empty.
	Counts []string
	// Options are the choices of a Choose entry; Key is the right one.
	Options []string
	Lines   int // writing lines; 0 for a blank before the prompt
	Points  int
	Lesson  int
}

// Section is a group of entries asked in one way.
type Section struct {
	Kind    SectionKind
	Heading string
	Task    string // what to do, in a child's words
	Entries []Entry
	// Choices are the lettered meanings of a Match section, the names of WhoSaid,
	// the words of Fill.
	Choices []string
}

// Paper is one form of a quiz or a test.
type Paper struct {
	Kind        Kind
	Form        string // "A" or "B"; "second chance"
	Number      int    // of quizzes in the book, from 1
	First, Last int    // lessons covered
	Sections    []Section
}

// Points is the sum of all points.
func (p Paper) Points() int {
	n := 0
	for _, s := range p.Sections {
		for _, e := range s.Entries {
			n += e.Points
		}
	}
	return n
}

// Entries is the number of things to answer.
func (p Paper) Entries() int {
	n := 0
	for _, s := range p.Sections {
		n += len(s.Entries)
	}
	return n
}

// Lesson is a lesson's number with its items as they stand.
type Lesson struct {
	Number int
	Items  []kit.Item
}

// Marked returns the items of the lessons that are printed and marked for the
// kind of paper, with their lesson's number.
func Marked(kind Kind, lessons []Lesson, hold bool) []Lesson {
	var out []Lesson
	for _, l := range lessons {
		m := Lesson{Number: l.Number}
		for _, it := range l.Items {
			on := it.Marks.Quiz
			if kind == Test {
				on = it.Marks.Test
			}
			if on && it.Printed(hold) {
				m.Items = append(m.Items, it)
			}
		}
		if len(m.Items) > 0 {
			out = append(out, m)
		}
	}
	return out
}

// Span is a run of lessons that one paper covers, first and last included.
type Span struct{ First, Last int }

// Spans cuts lessons 1..n into runs of every lessons each; a remainder shorter
// than half a run joins the run before it.
func Spans(n, every int) []Span {
	if n == 0 || every <= 0 {
		return nil
	}
	var out []Span
	for a := 1; a <= n; a += every {
		out = append(out, Span{a, min(n, a+every-1)})
	}
	if k := len(out); k > 1 && out[k-1].Last-out[k-1].First+1 < (every+1)/2 {
		out[k-2].Last = out[k-1].Last
		out = out[:k-1]
	}
	return out
}

// Derange orders the choices so that, where that can be, none stands beside its
// own entry.
func Derange(rng *rand.Rand, entries []Entry, choices []string) []string {
	out := slices.Clone(choices)
	for range 50 {
		rng.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
		ok := true
		for i, e := range entries {
			ok = ok && out[i] != e.Key
		}
		if ok {
			break
		}
	}
	return out
}

// Letter names choice i: a to z, then aa, ab, …
func Letter(i int) string {
	if i < 0 {
		return "?"
	}
	if i < 26 {
		return string(rune('a' + i))
	}
	return Letter(i/26-1) + Letter(i%26)
}

// Title is the paper's name: "Quiz 2, lessons 5 to 8".
func (p Paper) Title() string {
	span := fmt.Sprintf("lessons %d to %d", p.First, p.Last)
	if p.First == p.Last {
		span = fmt.Sprintf("lesson %d", p.First)
	}
	if p.Form == SecondChance {
		return fmt.Sprintf("Second chance, %s", span)
	}
	if p.Kind == Quiz {
		return fmt.Sprintf("Quiz %d, %s", p.Number, span)
	}
	return "Test, " + span
}
