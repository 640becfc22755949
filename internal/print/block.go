package print

// Block is one of the kinds of thing a page holds: [Heading], [Paragraph],
// [Question], [Word], [Matching], [List], [Table], [Grid], [Cards], [Lines],
// [Drawing], [Group], [Rule], [Space] and [PageBreak].
//
// A Mark, where a block has one, is a word in the left margin that only the
// teacher sees ("quiz", "test"). Lines count writing lines: with one or more, a
// block with an Answer gets as many as the answer takes in a child's hand, up to
// Style.MostLines, and always enough for the answer in type. With none, the
// answer is a paragraph below that only the teacher sees.
type Block interface{ block() }

// Heading opens a lesson (level 1), a section (2) or a part of one (3). It
// stays with what follows.
type Heading struct {
	Level int
	Text  Text
	// Subtitle stands below in italic.
	Subtitle Text
	// Bookmark names the heading in the outline; empty means Text. Levels 1 and
	// 2 stand in the outline.
	Bookmark string
	// Short is the running title in the foot, for level 1; empty means Text.
	Short string
	// NewPage starts a page with it.
	NewPage bool
	Mark    string
}

// ParagraphKind is how a paragraph is set.
type ParagraphKind uint8

const (
	Body ParagraphKind = iota
	// Quote is indented on both sides.
	Quote
	// Verse is indented, and its lines, parted by newlines, stay as they are.
	Verse
	// Notice is set in the smallest type.
	Notice
	// Centred stands in the middle of the measure, ragged.
	Centred
)

// Paragraph is running text.
type Paragraph struct {
	Kind ParagraphKind
	Text Text
	Mark string
	// KeepNext keeps it on the page of the block that follows.
	KeepNext bool
}

// Question is a numbered question with room for an answer: writing lines,
// options to choose from, or neither for what is only talked over.
type Question struct {
	// Number is its label, without the full stop: "3". Empty sets no label.
	Number string
	Text   Text
	// Detail stands below in smaller type: the words quoted, the sentence of a word.
	Detail Text
	// Options, when there are any, are lettered a, b, c; the right ones are
	// ringed for the teacher.
	Options []Option
	// Lines is the least number of writing lines.
	Lines  int
	Answer Text
	// Source says where the answer is proved ("page 31"). It follows the answer
	// in brackets and takes no room of the child's.
	Source string
	// Points stands at the right of the first line ("2 points").
	Points string
	Mark   string
}

// Option is one choice of a question.
type Option struct {
	Text  Text
	Right bool
}

// Word is a word from the book with its sentence and a line for its meaning.
type Word struct {
	Head Text
	// Note stands small under the head: the part of speech.
	Note     Text
	Sentence Text
	Lines    int
	Answer   Text
	Mark     string
}

// Matching sets prompts, each with a short blank before it, beside or below
// lettered choices.
type Matching struct {
	Prompts []Prompt
	Choices []Choice
	// Bank sets the choices in lines above the prompts instead of in a second
	// column: for short choices and long prompts.
	Bank bool
}

// Prompt is one side of a match.
type Prompt struct {
	Number string
	Text   Text
	// Key is the letter of the choice that fits, shown on the blank to the teacher.
	Key  string
	Mark string
}

// Choice is the other side.
type Choice struct {
	Letter string
	Text   Text
}

// List is a list of short things; with Boxes each has a box to tick.
type List struct {
	Items []ListItem
	Boxes bool
}

// ListItem is one entry. Label stands before it (a number, a date); without a
// label or a box the item is hung on a dash.
type ListItem struct {
	Label string
	Text  Text
	Mark  string
}

// Table has a head row, repeated on each page it reaches, and rows that stay
// whole.
type Table struct {
	Columns []Column
	Rows    []Row
}

// Align is where a cell's text stands.
type Align uint8

const (
	Left Align = iota
	Center
	Right
)

// Column is a column of a table. Shares divide the measure in proportion;
// Share 0 counts as 1. When no column has a head, the table has no head row.
type Column struct {
	Head  Text
	Share int
	Align Align
}

// Row is a row. It is at least Least high. With Head its first cell heads the
// row (a day, a name).
type Row struct {
	Cells []Cell
	Least Length
	Head  bool
}

// Cell holds a short list of texts, one below the other. Across a row, cells with
// as many texts run in step: texts of the same index start on one line. Box draws
// a box to tick before each of them. Span is the number of columns it covers; 0
// is 1.
type Cell struct {
	Texts []Text
	Box   bool
	Span  int
}

// Grid sets short words in columns, row by row, well apart: words to practise.
type Grid struct {
	// Columns is how many stand in a row; 0 takes as many as fit.
	Columns int
	Words   []Text
}

// Cards are cards to cut out, Columns by Rows on a page with cut lines. A sheet
// always starts and ends a page. When any card has a Back, each page of fronts
// is followed by its backs, mirrored for printing on both sides along the long
// edge.
type Cards struct {
	Columns, Rows int
	Cards         []Card
}

// Card is one card.
type Card struct {
	Front Text
	// Detail stands small below the front.
	Detail Text
	Back   Text
}

// Lines are bare writing lines, with Answer on them for the teacher.
type Lines struct {
	Count  int
	Answer Text
	Mark   string
}

// Drawing is an empty frame to draw in. Last on its page, it takes the room that
// is left.
type Drawing struct {
	Height Length // at least
	// Alt says what is to be drawn, for screen readers.
	Alt string
}

// Group keeps its blocks on one page when they fit on one.
type Group struct{ Blocks []Block }

// Rule is a thin line across the measure.
type Rule struct{}

// Space is extra white; it vanishes at the top of a page.
type Space struct{ Height Length }

// PageBreak starts a new page; with Recto the next odd one.
type PageBreak struct{ Recto bool }

func (Heading) block()   {}
func (Paragraph) block() {}
func (Question) block()  {}
func (Word) block()      {}
func (Matching) block()  {}
func (List) block()      {}
func (Table) block()     {}
func (Grid) block()      {}
func (Cards) block()     {}
func (Lines) block()     {}
func (Drawing) block()   {}
func (Group) block()     {}
func (Rule) block()      {}
func (Space) block()     {}
func (PageBreak) block() {}
