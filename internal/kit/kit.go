// Package kit holds a book prepared for a class: its lessons, and the items of
// each lesson as the teacher decided them.
//
// Engines propose [Draft]s, which are derived and never stored. A [Decision] is
// what the teacher made of one: kept, changed or dropped, or an item added by
// hand; it carries its whole content and its place in the text, so it survives
// a better engine and a corrected file. [Merge] lays decisions over drafts and
// gives the [Item]s of a lesson.
package kit

import (
	"bookstead/internal/book"
	"bookstead/internal/class"
)

// ID names a kit.
type ID string

// ItemID names an item within a kit: derived from its kind, place and head for
// a draft (so the same draft has the same ID every time), random for an added item.
type ItemID string

// Kind is a kind of item.
type Kind string

const (
	Background Kind = "background"
	Vocabulary Kind = "vocabulary"
	Practice   Kind = "practice"
	Question   Kind = "question"
	Quotation  Kind = "quotation"
	Figure     Kind = "figure"
	Passage    Kind = "passage"
	Discussion Kind = "discussion"
	Extension  Kind = "extension"
)

// Kinds are all kinds in the order in which a lesson uses them.
var Kinds = [...]Kind{Background, Practice, Vocabulary, Question, Quotation, Figure, Passage, Discussion, Extension}

// Content is what an item says. Which fields a kind uses:
//
//	background  Head term; Answer explanation
//	vocabulary  Head word as the sentence has it; Lemma; Sentence; PartOfSpeech, and Reason why it is that; Meaning; Synonym;
//	            Others; Sense; Note clue; Gap and GapWord; Build
//	practice    Head word; Pattern the spelling it shares; Letters; Lemma. A line to read has its text as Head and Sentence.
//	question    Head question; Answer; Proof is Place; Note the question's kind
//	quotation   Sentence the words quoted; Speaker; Addressee; Head the question asked of it; Answer
//	figure      Sentence; Head the words that make it; PartOfSpeech its kind (simile …); Answer its explanation
//	passage     Sentence its opening words; Note why it is worth returning to
//	discussion  Head prompt; Note what a teacher might listen for
//	extension   Head task; PartOfSpeech its kind (writing, drawing, map, memory, research); Note
type Content struct {
	Head         string `json:"head,omitempty"`
	Lemma        string `json:"lemma,omitempty"`
	Sentence     string `json:"sentence,omitempty"`
	PartOfSpeech string `json:"partOfSpeech,omitempty"`
	Meaning      string `json:"meaning,omitempty"`
	Synonym      string `json:"synonym,omitempty"`
	Pattern      string `json:"pattern,omitempty"`
	Speaker      string `json:"speaker,omitempty"`
	Addressee    string `json:"addressee,omitempty"`
	Answer       string `json:"answer,omitempty"`
	Note         string `json:"note,omitempty"`
	// Others are other meanings that a teacher may take instead.
	Others []string `json:"others,omitempty"`
	// Sense is the WordNet 3.1 key of the meaning ("doleful%5:00:00:sad:00").
	Sense string `json:"sense,omitempty"`
	// Gap is a sentence from elsewhere in the book with a blank for GapWord.
	Gap     string `json:"gap,omitempty"`
	GapWord string `json:"gapWord,omitempty"`
	// Letters is the word with brackets around the letters that Pattern is about:
	// "tr[ai]n", "m[a]k[e]".
	Letters string `json:"letters,omitempty"`
	// Build tells how the word is made, and its relatives.
	Build  string `json:"build,omitempty"`
	Reason string `json:"reason,omitempty"`
}

// Marks say where else an item comes up.
type Marks struct {
	Quiz bool `json:"quiz,omitempty"`
	Test bool `json:"test,omitempty"`
}

// Draft is a proposal of an engine.
type Draft struct {
	ID      ItemID
	Kind    Kind
	Place   book.Place // the words it comes from; for a question the passage that proves the answer
	Content Content
	Marks   Marks   // proposed
	Score   float64 // higher is better; comparable within a kind and an engine
	Why     string  // one plain sentence: why this one
	// Spare drafts are offered when the teacher asks for more, and are not
	// printed unless kept.
	Spare bool
	// Warning says why a draft is never chosen by default (an offensive term);
	// drafts with a warning are always spare.
	Warning string
}

// State is what the teacher did with an item.
type State string

const (
	Drafted State = "drafted"
	Kept    State = "kept"
	Changed State = "changed"
	Dropped State = "dropped"
	Added   State = "added"
)

// Decision is the teacher's word on one item. It is stored whole.
type Decision struct {
	ID      ItemID     `json:"id"`
	Kind    Kind       `json:"kind"`
	State   State      `json:"state"`
	Place   book.Place `json:"place"`
	Content Content    `json:"content"`
	Marks   Marks      `json:"marks"`
	// Position orders items of one kind within a lesson; 0 means by place.
	Position float64 `json:"position,omitempty"`
}

// Item is an item of a lesson as it stands: a draft, or what was decided.
type Item struct {
	ID       ItemID
	Kind     Kind
	State    State
	Place    book.Place
	Content  Content
	Marks    Marks
	Position float64
	Score    float64
	Why      string
	Spare    bool
	Warning  string
}

// Printed reports whether the item goes on paper. Spare and dropped items never
// do; drafts do unless hold is set.
func (it Item) Printed(hold bool) bool {
	switch it.State {
	case Dropped:
		return false
	case Drafted:
		return !it.Spare && !hold
	}
	return true
}

// Decision is the item as a stored decision in the given state.
func (it Item) Decision(s State) Decision {
	return Decision{ID: it.ID, Kind: it.Kind, State: s, Place: it.Place, Content: it.Content, Marks: it.Marks, Position: it.Position}
}

// Cut is a lesson boundary that the teacher set: a lesson starts at Place.
type Cut struct {
	Place book.Place `json:"place"`
	Title string     `json:"title,omitempty"` // when the teacher named the lesson
}

// Kit is a book prepared for a class: what is stored.
type Kit struct {
	ID    ID       `json:"id"`
	Book  book.ID  `json:"book"`
	Class class.ID `json:"class"`
	// Cuts is the whole division once the teacher moved a boundary; empty while
	// the program's own division stands.
	Cuts      []Cut        `json:"cuts,omitempty"`
	Edition   book.Edition `json:"edition"`
	Decisions []Decision   `json:"decisions,omitempty"`
	// Words are those that the teacher listed to be taught with this book.
	Words []OwnWord `json:"words,omitempty"`
}

// OwnWord is a word of a teacher's own list.
type OwnWord struct {
	Word    string `json:"word"`
	Meaning string `json:"meaning,omitempty"` // "" lets the program say it
}

// Lesson is a passage read in one lesson.
type Lesson struct {
	Number int // from 1
	Title  string
	book.Span
	// First and Last are indices of the chapters that it touches.
	First, Last int
	Words       int
	// Minutes is the reading time at the class's rate and mode.
	Minutes float64
}

// Prepared is a lesson with its items as they stand and, when the class's own
// copy is known, where the reading stands in it ("pages 27–36").
type Prepared struct {
	Lesson
	Items []Item
	Pages string
}

// Of returns the lesson's items of a kind.
func (l Prepared) Of(k Kind) []Item {
	var out []Item
	for _, it := range l.Items {
		if it.Kind == k {
			out = append(out, it)
		}
	}
	return out
}
