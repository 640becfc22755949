// Package assess makes quizzes and tests from the items that were marked for
// them, in two forms of equal content, each with its key.
//
// [Build] takes the marked items of the lessons that a paper covers and returns
// [Paper]s: form A and form B hold the same items with the matching and the
// order of entries changed, so that neighbours can't copy and both forms are
// equally hard. Everything is drawn from a seed: the same items give the same
// papers.
package assess

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

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
)

// Entry is one thing to answer.
type Entry struct {
	Item   kit.ItemID
	Prompt string
	// Detail stands under the prompt in smaller type: the sentence of a word.
	Detail string
	// Key is what counts as right; for Match it is the letter of the meaning.
	Key    string
	Lines  int // writing lines; 0 for a blank before the prompt
	Points int
	Lesson int
}

// Section is a group of entries asked in one way.
type Section struct {
	Kind    SectionKind
	Heading string
	Task    string // what to do, in a child's words
	Entries []Entry
	// Choices are the lettered meanings or names of a Match or WhoSaid section.
	Choices []string
}

// Paper is one form of a quiz or a test.
type Paper struct {
	Kind        Kind
	Form        string // "A" or "B"
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

// Build makes forms A and B from marked items. It returns nil when there is
// nothing to ask. Meanings and speakers that would fit two entries are never
// put in one matching section: an entry whose meaning or name stands there
// already goes without that choice twice.
func Build(kind Kind, number int, marked []Lesson, seed uint64) []Paper {
	if len(marked) == 0 {
		return nil
	}
	var papers []Paper
	for f, form := range []string{"A", "B"} {
		rng := rand.New(rand.NewPCG(seed, uint64(f)+1))
		p := Paper{Kind: kind, Form: form, Number: number, First: marked[0].Number, Last: marked[len(marked)-1].Number}
		for _, s := range append(words(marked), speakers(marked), questions(marked), figures(marked)) {
			if len(s.Entries) == 0 {
				continue
			}
			shuffle(rng, &s, f == 1)
			p.Sections = append(p.Sections, s)
		}
		if len(p.Sections) == 0 {
			return nil
		}
		papers = append(papers, p)
	}
	return papers
}

func each(marked []Lesson, k kit.Kind, add func(lesson int, it kit.Item)) {
	for _, l := range marked {
		for _, it := range l.Items {
			if it.Kind == k {
				add(l.Number, it)
			}
		}
	}
}

// mostPairs stand in one matching section: more than eight are hard to look
// through for a child (common practice, no source).
const mostPairs = 8

// words makes matching sections of nearly equal size.
func words(marked []Lesson) []Section {
	var all []Entry
	seen := map[string]bool{}
	each(marked, kit.Vocabulary, func(n int, it kit.Item) {
		meaning := it.Content.Meaning
		if meaning == "" {
			meaning = it.Content.Synonym
		}
		if meaning == "" || seen[meaning] {
			return
		}
		seen[meaning] = true
		all = append(all, Entry{Item: it.ID, Prompt: headword(it), Key: meaning, Points: 1, Lesson: n})
	})
	groups := (len(all) + mostPairs - 1) / mostPairs
	var out []Section
	for g := range groups {
		s := Section{Kind: Match, Heading: "Words", Task: "Write the letter of the meaning beside each word."}
		if g > 0 {
			s.Heading = "More words"
		}
		for _, e := range all[g*len(all)/groups : (g+1)*len(all)/groups] {
			s.Entries = append(s.Entries, e)
			s.Choices = append(s.Choices, e.Key)
		}
		out = append(out, s)
	}
	return out
}

func headword(it kit.Item) string {
	if it.Content.Lemma != "" {
		return it.Content.Lemma
	}
	return it.Content.Head
}

func speakers(marked []Lesson) Section {
	s := Section{Kind: WhoSaid, Heading: "Who said it", Task: "Write who says these words. Choose from the names."}
	each(marked, kit.Quotation, func(n int, it kit.Item) {
		if it.Content.Speaker == "" || it.Content.Sentence == "" {
			return
		}
		if !slices.Contains(s.Choices, it.Content.Speaker) {
			s.Choices = append(s.Choices, it.Content.Speaker)
		}
		s.Entries = append(s.Entries, Entry{Item: it.ID, Prompt: it.Content.Sentence, Key: it.Content.Speaker, Lines: 1, Points: 1, Lesson: n})
	})
	if len(s.Choices) < 2 { // one name gives itself away
		s.Task, s.Choices = "Write who says these words.", nil
	}
	return s
}

func questions(marked []Lesson) Section {
	s := Section{Kind: Short, Heading: "What happened, and why", Task: "Answer in whole sentences."}
	each(marked, kit.Question, func(n int, it kit.Item) {
		s.Entries = append(s.Entries, Entry{Item: it.ID, Prompt: it.Content.Head, Key: it.Content.Answer, Lines: answerLines(it.Content.Answer), Points: 2, Lesson: n})
	})
	return s
}

func figures(marked []Lesson) Section {
	s := Section{Kind: Explain, Heading: "Another way of saying", Task: "Say in your own words what this means."}
	each(marked, kit.Figure, func(n int, it kit.Item) {
		s.Entries = append(s.Entries, Entry{Item: it.ID, Prompt: it.Content.Head, Detail: it.Content.Sentence, Key: it.Content.Answer, Lines: 2, Points: 1, Lesson: n})
	})
	return s
}

// answerLines gives a child room for an answer somewhat larger than the
// teacher's: about nine words stand on a line by hand.
func answerLines(answer string) int {
	return max(2, min(5, 1+len(strings.Fields(answer))/8))
}

// shuffle puts entries (for form B) and choices in another order and turns the
// keys of a matching section into letters. Questions keep the story's order.
func shuffle(rng *rand.Rand, s *Section, entries bool) {
	if entries && s.Kind != Short {
		rng.Shuffle(len(s.Entries), func(i, j int) { s.Entries[i], s.Entries[j] = s.Entries[j], s.Entries[i] })
	}
	if s.Kind != Match {
		slices.Sort(s.Choices)
		return
	}
	s.Choices = Derange(rng, s.Entries, s.Choices)
	for i := range s.Entries {
		s.Entries[i].Key = Letter(slices.Index(s.Choices, s.Entries[i].Key))
	}
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
	if p.Kind == Quiz {
		return fmt.Sprintf("Quiz %d, %s", p.Number, span)
	}
	return "Test, " + span
}
