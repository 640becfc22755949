// Package print is the contract of everything that goes on paper: what a page
// may hold, in which type, on which paper, and where each letter came to stand.
//
// The model in four steps. A [Document] is a list of [Block]s: headings,
// questions, words, tables. A [Style] and [Family] fonts say how they look.
// print/layout turns blocks into [Frames]: pages of glyphs and rules at fixed
// places, each with a [Role]. print/pdf draws frames for an [Edition]. The
// student pages and the teacher's edition are one Frames drawn twice, so page
// and line of both are the same by construction.
//
// What only the teacher sees is set as [Rubric]: it takes its place on every
// page and is drawn only in the teacher's edition. Start with [Document].
package print

import "time"

// Document is what is to be printed, in reading order.
type Document struct {
	// Title names the document for readers and screen readers; it is not drawn.
	Title string
	// Creator is the program or person that made it; it may be empty.
	Creator string
	// Subject is one line on what it is; it may be empty.
	Subject string
	// Language is a BCP 47 tag such as "en-US". It chooses the hyphenation.
	Language string
	// Date is written into the file as its date of creation. It comes from the
	// caller's clock, so that the same document gives the same bytes.
	Date time.Time
	// Running is what stands at the head and the foot of each page.
	Running Running
	Blocks  []Block
}

// Running is the head and foot of the pages. Empty fields draw nothing.
type Running struct {
	// Left stands at the left of the head: the title of the book.
	Left string
	// Right stands at the right of the head in both editions. With Name set it
	// is the teacher's edition's alone ("Teacher’s edition").
	Right string
	// Name is the label of a line for the child's name at the right of the head
	// ("Name"), drawn on student pages only.
	Name string
	// Foot is a short notice at the left of the foot, in the smallest type. The
	// running title of the latest level-1 heading stands at the right of the
	// foot on the pages that follow the one with the heading.
	Foot string
	// FirstPage is the number of the first page; 0 counts as 1.
	FirstPage int
	// NoNumbers leaves the page numbers out.
	NoNumbers bool
}

// Edition is for whom a page is drawn.
type Edition uint8

const (
	Student Edition = iota
	Teacher
)

// String names the edition as the parts of a file name do.
func (e Edition) String() string {
	if e == Teacher {
		return "teacher"
	}
	return "student"
}

// Hyphenator says where a word may be divided.
type Hyphenator interface {
	// Breaks returns the byte offsets within word, ascending, before which it
	// may be divided with a hyphen. A word that may not be divided gives none.
	Breaks(word string) []int
}

// Family is a typeface: TrueType files with glyf outlines for the four styles.
// Bold may be any weight that stands for bold beside Roman. A missing italic
// is replaced by the roman, a missing BoldItalic by Bold.
type Family struct {
	Name                            string
	Roman, Italic, Bold, BoldItalic []byte
}
