package print

import "time"

// Frames are laid-out pages: everything at its place, nothing left to decide.
// They are read-only once made and may be drawn any number of times.
type Frames struct {
	Title, Creator, Subject, Language string
	Date                              time.Time
	Paper                             Paper
	// Fonts are the font files in use; Glyphs.Font indexes them.
	Fonts []Font
	Pages []Page
	// Nodes is the structure in reading order; Nodes[0] is the document.
	Nodes   []Node
	Outline []Bookmark
}

// Font is a TrueType file that the frames refer to.
type Font struct {
	Family string
	Data   []byte
	// UnitsPerEm is the unit of the file's own measures.
	UnitsPerEm int
}

// Page is one side of a sheet. Items are in drawing order, which for those
// with a node is also reading order within the page.
type Page struct {
	// Number is what the page calls itself.
	Number int
	Items  []Item
}

// Role is who sees an item.
type Role uint8

const (
	// Content is drawn in both editions.
	Content Role = iota
	// TeacherOnly is drawn in the teacher's edition.
	TeacherOnly
	// StudentOnly is drawn on student pages: the line for a name.
	StudentOnly
)

// In reports whether an item of this role is drawn in the edition.
func (r Role) In(e Edition) bool {
	switch r {
	case TeacherOnly:
		return e == Teacher
	case StudentOnly:
		return e == Student
	}
	return true
}

// Ink is a colour of ink.
type Ink uint8

const (
	Black Ink = iota
	Red       // the rubric
	Grey      // lines to write on, cut lines
)

// Item is a thing drawn: glyphs when Glyphs is not empty, else a line from
// (X, Y) to (X+W, Y+H) of the given Thickness, or a rectangle's outline or an
// ellipse in that box. X and Y run right and down from the page's upper left corner; for
// glyphs Y is the baseline and W the advance.
type Item struct {
	Role Role
	Ink  Ink
	// Node is the structure it belongs to; 0 means none (a line, a running head).
	Node       int
	X, Y, W, H Length
	// Shape, Thickness and Dash are those of a drawn line.
	Shape     Shape
	Thickness Length
	Dash      Length // length of dashes and of gaps; 0 is an unbroken line
	// Font and Size are those of Glyphs.
	Font   int
	Size   Length
	Glyphs []Glyph
}

// Shape is what an item without glyphs draws.
type Shape uint8

const (
	Line Shape = iota
	Box
	Ring
)

// Glyph is one glyph of a run. The run's glyphs stand one behind the other by
// Advance; X and Y shift one from its place, Y upward.
type Glyph struct {
	ID            uint16
	Advance, X, Y Length
	// Text is what it stands for, all of a ligature. Where a letter takes more
	// glyphs than one, the first has its text and the others have "". A hyphen
	// that only divides a word at the line end is U+00AD.
	Text string
}

// Tag is a kind of structure, named as in ISO 32000-1, 14.8.4.
type Tag string

const (
	TagDocument Tag = "Document"
	TagSection  Tag = "Sect"
	TagH1       Tag = "H1"
	TagH2       Tag = "H2"
	TagH3       Tag = "H3"
	TagP        Tag = "P"
	TagQuote    Tag = "BlockQuote"
	TagList     Tag = "L"
	TagItem     Tag = "LI"
	TagLabel    Tag = "Lbl"
	TagBody     Tag = "LBody"
	TagTable    Tag = "Table"
	TagRow      Tag = "TR"
	TagHead     Tag = "TH"
	TagCell     Tag = "TD"
	TagFigure   Tag = "Figure"
	// These three are the teacher's. Readers that do not know them take an answer
	// and a mark for a paragraph, and an answer within a line for a span.
	TagAnswer Tag = "Answer"
	TagMark   Tag = "Mark"
	TagFill   Tag = "Fill"
)

// Node is an element of the structure. A parent stands before its children.
type Node struct {
	Tag    Tag
	Parent int
	// Alt describes a figure.
	Alt string
	// Scope of a table's head: "Column" or "Row".
	Scope string
	// Span is the number of columns that a cell covers, when more than one.
	Span int
	// Numbering of a list: "Decimal", "UpperAlpha", "LowerAlpha", or "" for none.
	Numbering string
}

// Bookmark is an entry of the outline.
type Bookmark struct {
	Title string
	Level int // 1 or 2
	Page  int // index into Pages
	Y     Length
	Node  int
}
