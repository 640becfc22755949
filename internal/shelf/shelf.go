// Package shelf puts candidate books side by side for a class: how long each
// is, how hard to read, what is in it, where in the year it fits.
//
// [Measure] takes the facts of one analysed book; it judges nothing. [Sort] and
// [Filter] order and choose among many. Sentences that a teacher may want to see
// first (death, cruelty, dated or offensive terms) are listed with their places;
// they are found by words, so some are missed and some are harmless. [Fits] asks
// the planner where a book would lie in the year.
package shelf

import (
	"context"
	"fmt"
	"math"

	"bookstead/internal/book"
	"bookstead/internal/class"
	"bookstead/internal/difficulty"
	"bookstead/internal/divide"
	"bookstead/internal/kit"
	"bookstead/internal/lang"
	"bookstead/internal/lang/quotes"
	"bookstead/internal/lexicon"
	"bookstead/internal/phonics"
	"bookstead/internal/readability"
)

// Facts are what is known of a book for a class. Shares are of the running
// words of the story, 0 to 1.
type Facts struct {
	Book     book.ID `json:"book"`
	Title    string  `json:"title"`
	Author   string  `json:"author"`
	Chapters int     `json:"chapters"`
	Words    int     `json:"words"`
	Lessons  int     `json:"lessons"`
	Minutes  int     `json:"minutes"` // of reading in the class's mode
	Weeks    float64 `json:"weeks"`   // a lesson each school day
	// Ease is Flesch's reading ease, Grade the grade of Flesch and Kincaid; the
	// others, with what makes them unsure, are in Scores.
	Ease   float64             `json:"ease"`
	Grade  float64             `json:"grade"`
	Scores []readability.Score `json:"-"`
	// Beyond is the share of words that four fifths of the class's grade do not
	// know yet, names left out; Hardest the most frequent of them.
	Beyond  float64  `json:"beyond"`
	Hardest []string `json:"hardest,omitempty"`
	// Decodable is the share of words that can be sounded out at the class's
	// step of the spelling sequence; -1 when no step was given.
	Decodable float64 `json:"decodable"`
	// Names is the share of words that are names, Dialogue of those in speech.
	Names    float64 `json:"names"`
	Dialogue float64 `json:"dialogue"`
	// See are the sentences to see first, in the order of the book.
	See []Sight `json:"see,omitempty"`
	// Notes say what could not be measured.
	Notes []string `json:"notes,omitempty"`
}

// Options are what the facts depend on besides the class.
type Options struct {
	// Step of the spelling sequence at which the class stands, 0 for none.
	Step int
	// Sequence, nil for the usual one.
	Sequence *phonics.Sequence
	// Speaker, when the decodable share is wanted.
	Speaker *phonics.Speaker
}

// Measure takes the facts of a book. It needs tokens, sentences, tags and lemmas;
// it stops when ctx ends. Text outside the story (title page, notes) does not count.
func Measure(ctx context.Context, lex *lexicon.Lexicon, b *book.Book, d *lang.Doc, c class.Class, o Options) (*Facts, error) {
	if !d.Has(lang.LayerTokens | lang.LayerSentences | lang.LayerTags | lang.LayerLemmas) {
		return nil, fmt.Errorf("measuring a book: it lacks tags or lemmas")
	}
	f := &Facts{Book: b.ID, Title: b.Title, Author: b.Author, Decodable: -1}
	story := told(b)
	f.Chapters = len(story)
	if len(story) == 0 {
		f.Notes = append(f.Notes, "No story was found in this file.")
		return f, nil
	}
	f.length(b, c)
	m := meter{lex: lex, hard: difficulty.New(lex), d: d, b: b, o: o, c: c, beyond: map[string]int{}, heard: map[string]bool{}}
	for _, s := range story {
		if err := ctx.Err(); err != nil {
			return nil, fmt.Errorf("measuring a book: %w", err)
		}
		m.chapter(s)
	}
	f.take(&m)
	counts := readability.OfSpan(lex, d, story[0].Start, story[len(story)-1].End)
	f.Ease, f.Grade, f.Scores = round(counts.FleschReadingEase(), 1), round(counts.FleschKincaid(), 1), counts.Scores()
	return f, nil
}

// told are the chapters of the story, an introduction left out.
func told(b *book.Book) []book.Span {
	var out []book.Span
	for _, c := range b.Chapters {
		if c.Kind.Told() && c.Kind != book.Introduction {
			out = append(out, book.Span{Start: c.Body, End: c.End})
		}
	}
	return out
}

func (f *Facts) length(b *book.Book, c class.Class) {
	lessons, _, err := divide.Divide(b, divide.For(c, kit.Kit{}))
	if err != nil {
		f.Notes = append(f.Notes, "The book could not be divided into lessons for this class.")
		return
	}
	f.Lessons = len(lessons)
	minutes := 0.0
	for _, l := range lessons {
		minutes += l.Minutes
	}
	f.Minutes = int(math.Round(minutes))
	days := 0
	for _, m := range c.Calendar.Minutes {
		if m > 0 {
			days++
		}
	}
	if days == 0 {
		days = 5
	}
	f.Weeks = round(float64(f.Lessons)/float64(days), 1)
}

func round(x float64, places int) float64 {
	if math.IsNaN(x) {
		return 0
	}
	p := math.Pow10(places)
	return math.Round(x*p) / p
}

// meter counts through a book.
type meter struct {
	lex                        *lexicon.Lexicon
	hard                       *difficulty.Measure
	d                          *lang.Doc
	b                          *book.Book
	o                          Options
	c                          class.Class
	words, names, speech, easy int
	beyondWords                int
	beyond                     map[string]int
	heard                      map[string]bool // word to whether it can be sounded out
	see                        []Sight
}

func (m *meter) chapter(s book.Span) {
	d := m.d
	first := d.TokenAt(s.Start)
	style := quotes.StyleOf(d.Text[s.Start:s.End])
	var speech []lang.Span
	for _, p := range d.Paragraphs {
		if p.Start < s.Start || p.End > s.End {
			continue
		}
		spans, _ := quotes.Spans(d.Text[p.Start:p.End], style)
		for _, q := range spans {
			speech = append(speech, lang.Span{Start: p.Start + q.Start, End: p.Start + q.End})
		}
	}
	k := 0
	for i := first; i < len(d.Tokens) && d.Tokens[i].Start < s.End; i++ {
		t := &d.Tokens[i]
		if !lang.IsWord(t.Form) || t.Multi < 0 {
			continue
		}
		m.words++
		for k < len(speech) && speech[k].End <= t.Start {
			k++
		}
		if k < len(speech) && speech[k].Start <= t.Start {
			m.speech++
		}
		m.word(t)
	}
	from := d.SentenceAt(s.Start-1) + 1
	for i := from; i < len(d.Sentences); i++ {
		span := d.SentenceSpan(i)
		if span.Start >= s.End {
			break
		}
		if span.Start >= s.Start {
			m.sentence(i, span)
		}
	}
}

func (m *meter) word(t *lang.Token) {
	if m.o.Step > 0 && m.o.Speaker != nil && m.decodable(t.Form) {
		m.easy++
	}
	if t.UPOS == "PROPN" {
		m.names++
		return
	}
	lemma := t.Lemma
	if lemma == "" {
		lemma = t.Form
	}
	if m.hard.Word(lemma) > float64(m.c.Grade) {
		m.beyondWords++
		m.beyond[lemma]++
	}
}
