// Package book holds a children's book as Bookstead keeps it: one immutable
// text, the blocks and chapters that lie in it, places that find themselves
// again, and the pages of a printed copy.
//
// Everything points into [Book.Text] with half-open UTF-8 byte spans. The text
// is the whole book in reading order: blocks (headings, paragraphs, verse)
// separated by one blank line; lines of verse, and other lines that the file
// keeps apart (a signature, an address), by one newline; hard wraps and runs of
// spaces are one space. Invisible characters (soft hyphens, word joiners) are
// dropped, all others stay as the file has them.
//
// Start with [Book], [Place] and [Edition]. The readers in the child packages
// share [Builder], [ParseLabel] and [KindOfTitle]; [Book.Check] holds the rules
// that every reader keeps.
package book

import (
	"strings"
	"unicode"
)

// ID names a book in the library.
type ID string

// Span is a half-open range [Start, End) of UTF-8 byte offsets in Book.Text.
type Span struct {
	Start int `json:"start"`
	End   int `json:"end"`
}

// Len is the length in bytes.
func (s Span) Len() int { return s.End - s.Start }

// Contains reports whether o lies wholly inside s.
func (s Span) Contains(o Span) bool { return s.Start <= o.Start && o.End <= s.End }

// Overlaps reports whether the two spans share at least one byte.
func (s Span) Overlaps(o Span) bool { return s.Start < o.End && o.Start < s.End }

// BlockKind says what a block of text is.
type BlockKind string

const (
	Paragraph  BlockKind = "paragraph"
	Heading    BlockKind = "heading"
	Verse      BlockKind = "verse"      // lines kept, separated by \n
	Letter     BlockKind = "letter"     // a paragraph of a letter, telegram, notice or diary
	Quote      BlockKind = "quote"      // any other set-off text
	Note       BlockKind = "note"       // footnote or endnote
	Caption    BlockKind = "caption"    // of a picture that is not here
	SceneBreak BlockKind = "scenebreak" // a row of stars or a marked gap; the text is the mark as printed
)

// Block is one block of text. Blocks lie in reading order, do not overlap, and
// between two blocks stands exactly "\n\n".
type Block struct {
	Span
	Kind BlockKind `json:"kind"`
	// Emphasis are the stretches set in italics, absolute spans inside the block.
	Emphasis []Span `json:"emphasis,omitempty"`
}

// ChapterKind tells the story from what stands before and behind it.
type ChapterKind string

const (
	Front        ChapterKind = "front"        // title page, contents, dedication, licence header
	Introduction ChapterKind = "introduction" // preface, introduction, prologue: may be read
	Body         ChapterKind = "chapter"
	Story        ChapterKind = "story" // one of a collection
	Conclusion   ChapterKind = "conclusion"
	Back         ChapterKind = "back" // notes, advertisements, licence footer
)

// Told reports whether the chapter belongs to what a class reads.
func (k ChapterKind) Told() bool { return k != Front && k != Back }

// Chapter is one division of the book. Its span covers its heading blocks and
// its text; Body starts behind the headings.
type Chapter struct {
	Span
	Body  int         `json:"body"` // offset of the first byte behind the headings
	Kind  ChapterKind `json:"kind"`
	Label string      `json:"label"` // as the book numbers it, "Chapter IV"; may be empty
	// Number is the ordinal that the label states, 0 when it states none.
	Number int    `json:"number,omitempty"`
	Title  string `json:"title"` // without the label, in the book's own letters; may be empty
	Part   int    `json:"part"`  // index into Book.Parts, -1 when the book has none
}

// Name is the chapter's title, or its label when it has no title.
func (c Chapter) Name() string {
	if c.Title != "" {
		return c.Title
	}
	return c.Label
}

// Part is a group of consecutive chapters with a heading of its own.
type Part struct {
	Label string `json:"label"` // "Part Two"
	Title string `json:"title"`
}

// Name is the part's label and title, "Part Two: The Secret".
func (p Part) Name() string {
	if p.Label == "" || p.Title == "" {
		return p.Label + p.Title
	}
	return p.Label + ": " + p.Title
}

// Page is a page break that the file itself states (EPUB page list).
type Page struct {
	Offset int    `json:"offset"`
	Label  string `json:"label"` // as printed: "27", "xii"
}

// Source says where the text came from.
type Source struct {
	Format string `json:"format"` // "epub2", "epub3", "text" or "paper"
	File   string `json:"file"`   // base name only, never a path
	SHA256 string `json:"sha256"` // hex, of the file's bytes
}

// TypedWord is a word of a list that a teacher typed for a chapter.
type TypedWord struct {
	Chapter int    `json:"chapter"` // index into Book.Chapters
	Word    string `json:"word"`
	Meaning string `json:"meaning,omitempty"`
}

// Book is a book's text and structure. It is never changed once imported: a
// corrected file is a new Book with the same ID, and places find themselves
// again by their quotes.
type Book struct {
	ID       ID        `json:"id"`
	Title    string    `json:"title"`
	Author   string    `json:"author"`
	Language string    `json:"language"` // BCP 47, "en" when the file states none
	Source   Source    `json:"source"`
	Text     string    `json:"text"`
	Blocks   []Block   `json:"blocks"`
	Parts    []Part    `json:"parts,omitempty"`
	Chapters []Chapter `json:"chapters"` // in order, not overlapping, covering every block
	Pages    []Page    `json:"pages,omitempty"`
	// Words are those that the teacher typed to be taught, for a book on paper.
	Words []TypedWord `json:"words,omitempty"`
	// Setaside is licence text and the like, taken out of Text but kept so that
	// no word of the file is lost unseen.
	Setaside []string `json:"setaside,omitempty"`
	// Notes are sentences for the teacher about what the importer was unsure of.
	Notes []string `json:"notes,omitempty"`
}

// Slice returns the text of a span; a span out of range is cut to fit.
func (b *Book) Slice(s Span) string {
	lo, hi := max(0, min(s.Start, len(b.Text))), max(0, min(s.End, len(b.Text)))
	if lo >= hi {
		return ""
	}
	return b.Text[lo:hi]
}

// ChapterAt returns the index of the chapter that holds the offset, -1 if none.
func (b *Book) ChapterAt(offset int) int {
	for i, c := range b.Chapters {
		if c.Start <= offset && offset < c.End {
			return i
		}
	}
	return -1
}

// BlocksIn returns the blocks that lie wholly inside s.
func (b *Book) BlocksIn(s Span) []Block {
	var out []Block
	for _, bl := range b.Blocks {
		if s.Contains(bl.Span) {
			out = append(out, bl)
		}
	}
	return out
}

// Words counts whitespace-separated words with at least one letter or digit.
// Dashes between words separate them too, as "said--and" is two words.
func Words(text string) int {
	n, in := 0, false
	for i, r := range text {
		sep := unicode.IsSpace(r) || r == '—' || r == '–' ||
			(r == '-' && (strings.HasPrefix(text[i+1:], "-") || (i > 0 && text[i-1] == '-')))
		switch {
		case sep:
			in = false
		case !in && wordRune(r):
			n, in = n+1, true
		}
	}
	return n
}
