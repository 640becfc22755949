package prepare

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"bookstead/internal/book/paper"
	"bookstead/internal/calendar"
	"bookstead/internal/class"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
	"bookstead/internal/lexicon"
	"bookstead/internal/passage"
	"bookstead/internal/phonics"
	"bookstead/internal/store"
	"bookstead/internal/vocabulary"
)

// vocabularyOptions are what a class and a kit ask of the words.
func vocabularyOptions(c class.Class, k kit.Kit, day calendar.Date) (vocabulary.Options, error) {
	s := c.Settings
	o := vocabulary.Options{Words: s.Words, Backgrounds: s.Backgrounds, Practice: s.Practice, Step: c.Step("", day), Review: s.Review,
		Weights: vocabulary.Weights{Fit: s.Choosing.Fit.Factor(), Worth: s.Choosing.Worth.Factor(), Guess: s.Choosing.Guess.Factor(),
			Again: s.Choosing.Again.Factor(), Variety: s.Choosing.Variety.Factor(), Spread: s.Choosing.Spread.Factor()}}
	for _, w := range k.Words {
		o.Own = append(o.Own, vocabulary.Own{Word: w.Word, Meaning: w.Meaning})
	}
	if len(c.Had) > 0 {
		o.Known = map[string]string{}
		for _, h := range c.Had {
			from := h.Book
			if from == "" {
				from = "an earlier book"
			}
			o.Known[strings.ToLower(h.Word)] = from
		}
	}
	var err error
	o.Steps, err = Steps(c)
	return o, err
}

// Steps is the sequence of spelling steps of a class: its teacher's own, or the
// usual one. Invalid names the line of a file that cannot be read.
func Steps(c class.Class) (*phonics.Sequence, error) {
	if strings.TrimSpace(c.Settings.Spelling.Sequence) == "" {
		return phonics.UsualSequence(), nil
	}
	return phonics.ReadSequence(c.Settings.Spelling.Sequence)
}

// UsualSteps is the file of the usual sequence, for a teacher to change.
func UsualSteps() string { return phonics.SequenceText() }

// StepNames are the names of a class's spelling steps in order, for a form: the
// first is step 1.
func StepNames(c class.Class) []string {
	s, err := Steps(c)
	if err != nil {
		s = phonics.UsualSequence()
	}
	out := make([]string, len(s.Steps))
	for i, st := range s.Steps {
		out[i] = st.Name
	}
	return out
}

// CheckSpelling says what is wrong with a class's sequence and standings, nil if
// nothing.
func CheckSpelling(c class.Class) error {
	s, err := Steps(c)
	if err != nil {
		return err
	}
	check := func(whose string, all []class.Standing) error {
		for _, st := range all {
			if st.Step < 1 || st.Step > len(s.Steps) {
				return fault.New(fault.Invalid, fmt.Sprintf("%s cannot stand at spelling step %d.", whose, st.Step), fmt.Sprintf("The sequence has steps 1 to %d.", len(s.Steps)))
			}
		}
		return nil
	}
	if err := check("The class", c.Settings.Spelling.Standing); err != nil {
		return err
	}
	for _, st := range c.Students {
		if err := check(st.Name, st.Standing); err != nil {
			return err
		}
	}
	return nil
}

// ReadOwnWords reads a list of words as a teacher types or pastes it: one a line,
// with a meaning behind a dash or a colon, or with commas between. A word that
// comes twice is taken once.
func ReadOwnWords(text string) []kit.OwnWord {
	var out []kit.OwnWord
	seen := map[string]bool{}
	for _, w := range paper.ParseWords(text) {
		key := strings.ToLower(strings.Join(strings.Fields(w.Word), " "))
		if key == "" || seen[key] {
			continue
		}
		seen[key] = true
		out = append(out, kit.OwnWord{Word: strings.TrimSpace(w.Word), Meaning: strings.TrimSpace(w.Meaning)})
	}
	return out
}

// OwnWordsText writes a list as [ReadOwnWords] reads it.
func OwnWordsText(words []kit.OwnWord) string {
	var b strings.Builder
	for _, w := range words {
		b.WriteString(w.Word)
		if w.Meaning != "" {
			b.WriteString(": " + w.Meaning)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// SetOwnWords keeps the teacher's own list of words of a kit.
func (w *Workshop) SetOwnWords(ctx context.Context, id kit.ID, text string, seen Revision) error {
	return w.change(ctx, id, "Changed your list of words", store.SetWords(ReadOwnWords(text), seen))
}

// WordsRevision is the revision of the teacher's own list, for a page to send
// back.
func (o *Opened) WordsRevision() Revision { return o.Standing.Revisions[store.WordsKey] }

// Taught are the vocabulary words of a kit that are printed, as the class will
// have had them when the book is done: in the order of the book.
func (p *Prepared) Taught() []class.Had {
	var out []class.Had
	for _, l := range p.Lessons {
		for _, it := range l.Of(kit.Vocabulary) {
			if !it.Printed(p.Hold()) {
				continue
			}
			w := it.Content.Lemma
			if w == "" {
				w = it.Content.Head
			}
			out = append(out, class.Had{Word: strings.ToLower(w), Book: p.Book.Title})
		}
	}
	return out
}

// AddHad returns the words that a class has had with more added; a word that it
// had already stays where it was.
func AddHad(had, more []class.Had) []class.Had {
	out := slices.Clone(had)
	seen := map[string]bool{}
	for _, h := range had {
		seen[strings.ToLower(h.Word)] = true
	}
	for _, h := range more {
		if w := strings.ToLower(h.Word); w != "" && !seen[w] {
			seen[w] = true
			out = append(out, h)
		}
	}
	return out
}

// Reading says what a class or a child can read of a book by its letters.
type Reading struct {
	Step     int    // of the sequence
	StepName string // as the sequence names it
	Guessed  bool   // nobody said the step: it is what is usual in the grade
	Book     phonics.Share
	Lessons  []LessonReading
}

// LessonReading is [Reading] for one lesson.
type LessonReading struct {
	Number int
	Share  phonics.Share
	// Missing are the spellings that keep most words from being read.
	Missing []vocabulary.Hurdle
	// New are the spellings that the book has here for the first time.
	New []vocabulary.Met
}

// mostMissing spellings are told of a lesson.
const mostMissing = 5

// Reading reckons what a child can read of the book by its letters, the class
// when student is "".
func (p *Prepared) Reading(student string) (Reading, error) {
	lex, err := lexicon.Open()
	if err != nil {
		return Reading{}, fmt.Errorf("opening the word data: %w", err)
	}
	steps, err := Steps(p.Class)
	if err != nil {
		return Reading{}, err
	}
	d, err := vocabulary.NewDecoder(lex, steps)
	if err != nil {
		return Reading{}, err
	}
	r := Reading{Step: p.Class.Step(student, p.day)}
	if r.Step == 0 {
		r.Step, r.Guessed = vocabulary.UsualStep(p.Class.Grade, steps), true
	}
	r.Step = min(r.Step, len(steps.Steps))
	r.StepName = steps.Steps[r.Step-1].Name
	ps := p.passages()
	order := d.Order(ps)
	for i, ps := range ps {
		l := LessonReading{Number: p.Lessons[i].Number, Share: d.Share(ps, r.Step), Missing: d.Missing(ps, r.Step), New: order[i]}
		l.Missing = l.Missing[:min(mostMissing, len(l.Missing))]
		r.Book.Words += l.Share.Words
		r.Book.Decodable += l.Share.Decodable
		r.Lessons = append(r.Lessons, l)
	}
	return r, nil
}

func (p *Prepared) passages() []passage.Passage {
	lessons := make([]kit.Lesson, len(p.Lessons))
	for i, l := range p.Lessons {
		lessons[i] = l.Lesson
	}
	return passage.Split(p.Book, p.Doc, lessons, p.Class.Grade)
}

// PracticeFor is the kit with the practice words and lines of one child: what
// the teacher decided on other kinds of item stays.
func (p *Prepared) PracticeFor(student string) (*Prepared, error) {
	lex, err := lexicon.Open()
	if err != nil {
		return nil, fmt.Errorf("opening the word data: %w", err)
	}
	steps, err := Steps(p.Class)
	if err != nil {
		return nil, err
	}
	drafts, err := vocabulary.Practice(lex, p.passages(), steps, p.Class.Step(student, p.day))
	if err != nil {
		return nil, err
	}
	own := *p
	own.Lessons = slices.Clone(p.Lessons)
	for i := range own.Lessons {
		items := slices.DeleteFunc(slices.Clone(p.Lessons[i].Items), func(it kit.Item) bool { return it.Kind == kit.Practice })
		own.Lessons[i].Items = append(items, kit.Merge(drafts[i], nil)...)
	}
	return &own, nil
}

// CardsFor sets the word cards of one child, whose practice words are those of
// the step where the child stands.
func (p *Prepared) CardsFor(ctx context.Context, student string, r Range, date time.Time) (data []byte, pages int, err error) {
	own, err := p.PracticeFor(student)
	if err != nil {
		return nil, 0, err
	}
	return own.Set(ctx, WordCards, r, date)
}

// clash tells the papers which two words must not stand in one matching exercise.
func clash(a, b kit.Content) bool {
	lex, err := lexicon.Open()
	return err == nil && vocabulary.Clash(lex, a, b)
}

// WordsOf prepares a book's words without a store: its lessons with their items,
// of which a caller reads vocabulary, background and practice. own is the
// teacher's own list.
func WordsOf(ctx context.Context, r io.ReaderAt, size int64, name string, c class.Class, own []kit.OwnWord, progress Progress) (*Prepared, error) {
	b, err := ReadBook(ctx, name, r, size, progress)
	if err != nil {
		return nil, err
	}
	progress.at(StageRead, 0)
	doc, err := Analyze(ctx, b, progress)
	if err != nil {
		return nil, err
	}
	return Prepare(ctx, b, c, kit.Kit{ID: kit.ID(b.ID), Book: b.ID, Class: c.ID, Words: own}, doc, progress)
}
