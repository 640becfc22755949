// Package paper makes a book of what a teacher types from a printed copy: the
// chapters with their pages, and passages, sentences and word lists by chapter.
//
// [Input] is what was typed and can be stored as it is; [Make] turns it into a
// book.Book whose text holds only that, an edition with the pages, and the word
// lists. The functions that start with Parse read what was typed or pasted as
// plain lines, the way people write such lists. Typing more later and making
// the book again gives the same ID; places find themselves again by their words.
package paper

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/fault"
)

// Input is all that was typed for one printed book.
type Input struct {
	Title    string    `json:"title"`
	Author   string    `json:"author,omitempty"`
	Last     int       `json:"last,omitempty"` // last page of the story, 0 when not known
	Chapters []Chapter `json:"chapters"`
}

// Chapter is a line of the contents list and what was typed from that chapter.
type Chapter struct {
	Entry
	Passages  []Passage `json:"passages,omitempty"`
	Sentences []Passage `json:"sentences,omitempty"`
	Words     []Word    `json:"words,omitempty"`
}

// Passage is text as it stands in the copy. Page is 0 when not known.
type Passage struct {
	Text string `json:"text"`
	Page int    `json:"page,omitempty"`
}

// Word is a word that the teacher wants taught, with whatever else was typed.
type Word struct {
	Word     string `json:"word"`
	Meaning  string `json:"meaning,omitempty"`
	Sentence string `json:"sentence,omitempty"` // from the copy
	Page     int    `json:"page,omitempty"`
}

// Result is the book that was made.
type Result struct {
	Book    *book.Book
	Edition book.Edition
	// Words are the typed word lists by index of Book.Chapters.
	Words [][]Word
}

// Make makes the book. A part's line begins a part; every other line is a
// chapter, even if nothing was typed from it. Pages that contradict each other
// are kept for the teacher to see: ask Result.Edition.Problems.
func Make(in Input) (Result, error) {
	if strings.TrimSpace(in.Title) == "" {
		return Result{}, fault.New(fault.Invalid, "The book needs a title.", "Type the title as it stands on the cover.")
	}
	m := maker{first: map[int]int{}}
	part := -1
	pending := []Entry(nil)
	for _, c := range in.Chapters {
		if c.Part {
			part = m.out.Part(book.Part{Label: c.Label, Title: c.Title})
			pending = append(pending, c.Entry)
			continue
		}
		m.chapter(c, part, pending)
		pending = nil
	}
	if m.n == 0 {
		return Result{}, fault.New(fault.Invalid, "The book needs at least one chapter.", "Type the chapters one a line, with the page on which each begins: “1 The Pond 7”.")
	}
	b := m.out.Book()
	b.Title, b.Author, b.Language = strings.TrimSpace(in.Title), strings.TrimSpace(in.Author), "en"
	b.ID = book.MakeID(b.Title, b.Author)
	sum := sha256.Sum256([]byte(b.Text))
	b.Source = book.Source{Format: "paper", SHA256: hex.EncodeToString(sum[:])}
	e := book.Edition{First: m.first, Last: in.Last}
	for _, p := range m.paged {
		at := strings.Index(b.Text[b.Chapters[p.chapter].Body:], p.text)
		if at >= 0 {
			at += b.Chapters[p.chapter].Body
			e.Fixed = append(e.Fixed, book.FixedPage{Place: b.Place(book.Span{Start: at, End: at + len(p.text)}), Page: p.page})
		}
	}
	return Result{b, e, m.words}, nil
}

// maker lays the chapters down.
type maker struct {
	out   book.Builder
	n     int // chapters so far
	first map[int]int
	words [][]Word
	paged []paged
}

// paged is typed text whose page is known.
type paged struct {
	chapter int
	text    string
	page    int
}

func (m *maker) chapter(c Chapter, part int, before []Entry) {
	m.out.Chapter(book.Chapter{Kind: c.kind(), Label: c.Label, Number: c.Number, Title: c.Title, Part: part})
	for _, e := range before {
		m.out.Add(book.Heading, e.heading())
	}
	head := c.heading()
	if head == "" {
		head = fmt.Sprintf("Chapter %d", m.n+1)
	}
	m.out.Add(book.Heading, head)
	m.out.BodyHere()
	if c.Page > 0 {
		m.first[m.n] = c.Page
	}
	all := "" // what stands in the chapter, to lay no sentence down twice
	for _, p := range c.Passages {
		for _, para := range paragraphs(p.Text) {
			kind := book.Paragraph
			if strings.Contains(para, "\n") {
				kind = book.Verse
			}
			m.add(kind, para, p.Page, &all)
		}
	}
	sentences := c.Sentences
	for _, w := range c.Words {
		if w.Sentence != "" {
			sentences = append(sentences[:len(sentences):len(sentences)], Passage{w.Sentence, w.Page})
		}
	}
	for _, s := range sentences {
		m.add(book.Paragraph, strings.Join(strings.Fields(s.Text), " "), s.Page, &all)
	}
	m.words = append(m.words, c.Words)
	m.n++
}

func (m *maker) add(kind book.BlockKind, text string, page int, all *string) {
	if text == "" {
		return
	}
	if page > 0 {
		m.paged = append(m.paged, paged{m.n, text, page})
	}
	if strings.Contains(*all, text) {
		return
	}
	*all += text + "\n\n"
	m.out.Add(kind, text)
}

// kind tells a preface or an epilogue from a chapter by its title.
func (e Entry) kind() book.ChapterKind {
	if e.Number == 0 {
		if k, ok := book.KindOfTitle(e.Title); ok {
			return k
		}
	}
	return book.Body
}

// heading is the line as it will stand in the text.
func (e Entry) heading() string {
	switch {
	case e.Label != "" && e.Title != "":
		return e.Label + ": " + e.Title
	case e.Label != "":
		return e.Label
	}
	return e.Title
}
