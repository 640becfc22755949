// Package passage is the stretch of a book read in one lesson, with its
// analysis: what the drafting engines read.
//
// [Split] cuts an analysed book into the passages of its lessons. A passage
// does not copy: it points into the book and the whole book's [lang.Doc], so an
// engine can look before and behind it. Byte offsets in book and Doc are the same.
package passage

import (
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/lang"
)

// Passage is one lesson's stretch of text.
type Passage struct {
	Book   *book.Book
	Doc    *lang.Doc // of the whole book, Doc.Text == Book.Text
	Lesson kit.Lesson
	// First and Last are the sentences that start inside the lesson: [First, Last).
	First, Last int
	// Grade of the class, 1 to 6.
	Grade int
}

// Split returns a passage for each lesson, in order.
func Split(b *book.Book, d *lang.Doc, lessons []kit.Lesson, grade int) []Passage {
	out := make([]Passage, len(lessons))
	for i, l := range lessons {
		p := Passage{Book: b, Doc: d, Lesson: l, Grade: grade}
		p.First = d.SentenceAt(l.Start-1) + 1
		p.Last = max(p.First, d.SentenceAt(l.End-1)+1)
		out[i] = p
	}
	return out
}

// Paragraphs are the book's blocks as an annotator takes them. Every block is
// one paragraph, a stanza too: its sentences may run over its lines.
func Paragraphs(b *book.Book) []lang.Paragraph {
	out := make([]lang.Paragraph, len(b.Blocks))
	for i, bl := range b.Blocks {
		out[i] = lang.Paragraph{Start: bl.Start, End: bl.End, Kind: string(bl.Kind)}
	}
	return out
}

// Tokens returns the token range [first, last) of the passage.
func (p Passage) Tokens() (first, last int) {
	if p.First >= p.Last {
		return 0, 0
	}
	return p.Doc.Sentences[p.First].First, p.Doc.Sentences[p.Last-1].Last
}

// Sentence returns the text of sentence i of the Doc, line breaks of verse
// turned into spaces.
func (p Passage) Sentence(i int) string {
	s := p.Doc.SentenceSpan(i)
	return strings.Join(strings.Fields(p.Doc.Text[s.Start:s.End]), " ")
}

// SentencePlace returns the place of sentences first..last (inclusive).
func (p Passage) SentencePlace(first, last int) book.Place {
	a, z := p.Doc.SentenceSpan(first), p.Doc.SentenceSpan(last)
	return p.Book.Place(book.Span{Start: a.Start, End: z.End})
}

// BlockKind returns the kind of the block in which sentence i stands.
func (p Passage) BlockKind(i int) book.BlockKind {
	return book.BlockKind(p.Doc.Paragraphs[p.Doc.Sentences[i].Paragraph].Kind)
}

// Prose reports whether sentence i is running text that a class reads: not a
// heading, caption, note or scene mark.
func (p Passage) Prose(i int) bool {
	switch p.BlockKind(i) {
	case book.Heading, book.Caption, book.Note, book.SceneBreak:
		return false
	}
	return true
}
