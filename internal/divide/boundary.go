package divide

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"bookstead/internal/book"
)

// Kind is what stands at a place where a lesson may begin.
type Kind uint8

// Kinds of boundary, the better ones first.
const (
	Part      Kind = iota // a part of the book begins
	Chapter               // a chapter, story, introduction or conclusion begins
	Scene                 // behind a scene mark or at a heading inside a chapter
	Pause                 // a paragraph that opens with a step in time, "The next morning"
	Paragraph             // any other paragraph of telling
	Speech                // between two speakers
	Within                // inside a letter, a poem or what a colon announces
	kinds
)

var kindNames = [...]string{"part", "chapter", "scene break", "step in time", "paragraph", "in a conversation", "inside a letter or verse"}

// String names the kind in the teacher's words.
func (k Kind) String() string {
	if k < kinds {
		return kindNames[k]
	}
	return ""
}

// where says the kind behind a verb: a lesson stops "at a scene break".
func (k Kind) where() string {
	switch k {
	case Scene, Pause:
		return "at a " + k.String()
	case Paragraph:
		return "between two paragraphs"
	case Within:
		return "inside a letter or verse, for want of a better place"
	case Speech:
		return "in the middle of a conversation, for want of a better place"
	}
	return "with a " + k.String()
}

// Inside reports whether a cut of this kind splits a chapter.
func (k Kind) Inside() bool { return k > Chapter }

// Boundary is a place where a lesson may begin: the start of a block.
type Boundary struct {
	Offset  int  // into Book.Text
	Kind    Kind //
	Chapter int  // index of the chapter that it lies in
	Words   int  // words of the told text before it
}

// Boundaries returns every place where a lesson may begin, in the order of the
// text; the first is where the story begins. Front and back matter have none,
// and an introduction only when asked. Scene marks, captions and notes stay
// with the paragraph before them, headings with the one behind them.
func Boundaries(b *book.Book, introduction bool) []Boundary {
	bs, _ := units(b, introduction)
	return bs
}

// units returns the boundaries and the words from each to the next.
func units(b *book.Book, introduction bool) (bs []Boundary, words []int) {
	k, total, part := 0, 0, -2
	for ci, c := range b.Chapters {
		for k < len(b.Blocks) && b.Blocks[k].Start < c.Start {
			k++
		}
		if !told(c, introduction) {
			continue
		}
		first := true
		for ; k < len(b.Blocks) && b.Blocks[k].End <= c.End; k++ {
			bl := b.Blocks[k]
			n := book.Words(b.Text[bl.Start:bl.End])
			kind, ok := Chapter, true
			switch {
			case first && c.Part != part && c.Part >= 0:
				kind = Part
			case !first:
				kind, ok = inside(b, c, k)
			}
			if first {
				part = c.Part
			}
			if first || ok {
				bs = append(bs, Boundary{Offset: bl.Start, Kind: kind, Chapter: ci, Words: total})
				words = append(words, 0)
			}
			words[len(words)-1] += n
			total += n
			first = false
		}
	}
	return bs, words
}

// told reports whether a class reads the chapter. A prologue is told even where
// introductions are not: it belongs to the story.
func told(c book.Chapter, introduction bool) bool {
	if c.Kind == book.Introduction && !introduction {
		name := strings.ToLower(c.Label + " " + c.Title)
		return strings.Contains(name, "prologue") || strings.Contains(name, "prolog")
	}
	return c.Kind.Told()
}

// inside tells what kind of boundary stands before block k of chapter c; ok is
// false when none does.
func inside(b *book.Book, c book.Chapter, k int) (kind Kind, ok bool) {
	here, before := b.Blocks[k], b.Blocks[k-1]
	if here.Start <= c.Body || before.Kind == book.Heading {
		return 0, false
	}
	switch here.Kind {
	case book.SceneBreak, book.Caption, book.Note:
		return 0, false
	case book.Heading:
		return Scene, true
	}
	// What a note or a picture stands behind decides, not the note.
	last := k - 1
	for last > 0 && (b.Blocks[last].Kind == book.Caption || b.Blocks[last].Kind == book.Note) {
		last--
	}
	before = b.Blocks[last]
	text, prev := b.Text[here.Start:here.End], strings.TrimRightFunc(b.Text[before.Start:before.End], unicode.IsSpace)
	switch {
	case before.Kind == book.SceneBreak:
		return Scene, true
	case before.Kind == book.Heading:
		return 0, false
	case here.Kind != book.Paragraph && here.Kind == before.Kind, strings.HasSuffix(prev, ":"):
		return Within, true
	case opensQuote(text) || closesQuote(prev):
		return Speech, true
	case stepsInTime(text):
		return Pause, true
	}
	return Paragraph, true
}

func opensQuote(s string) bool {
	r, _ := utf8.DecodeRuneInString(strings.TrimLeft(s, "_*(—- "))
	return strings.ContainsRune("“\"‘'«", r)
}

func closesQuote(s string) bool {
	r, _ := utf8.DecodeLastRuneInString(strings.TrimRight(s, "_*)"))
	return strings.ContainsRune("”\"’'»", r)
}

// timeOpenings begin paragraphs in which time has passed (our list, from
// reading children's novels).
var timeOpenings = []string{
	"the next ", "next day", "next morning", "next evening", "on the next ", "the following ", "on the following ",
	"early ", "late that ", "later ", "that night", "that evening", "that afternoon", "that day", "that morning",
	"that same ", "this night", "this morning", "one day", "one morning", "one night", "one evening", "one afternoon",
	"one fine ", "once ", "in the morning", "in the evening", "in the afternoon", "in the night", "at night",
	"at last", "at length", "at dawn", "at daybreak", "at noon", "at sunset", "at midnight", "by the time",
	"by and by", "after ", "soon after", "not long after", "long after", "before long", "meanwhile", "meantime",
	"in the mean", "a few days", "a few weeks", "a few minutes", "some days", "some weeks", "some time", "an hour",
	"two days", "three days", "several days", "a week", "a month", "the days ", "the weeks ", "the day ",
	"the morning ", "when he awoke", "when she awoke", "when they awoke", "about midnight", "about noon", "toward",
	"towards ", "on monday", "on tuesday", "on wednesday", "on thursday", "on friday", "on saturday", "on sunday",
	"saturday ", "sunday ", "monday ", "it was morning", "it was evening", "it was night", "half an hour", "presently",
}

func stepsInTime(text string) bool {
	head := text[:min(len(text), 32)]
	head = strings.ToLower(head)
	return slices.ContainsFunc(timeOpenings, func(p string) bool { return strings.HasPrefix(head, p) })
}

// Near returns the boundaries within so many words of an offset, the better
// kinds first and among equals the nearer: what a teacher who wants to cut here
// is offered.
func Near(bs []Boundary, offset, words int) []Boundary {
	if len(bs) == 0 {
		return nil
	}
	at := bs[nearest(bs, offset)].Words
	var out []Boundary
	for _, b := range bs[1:] {
		if abs(b.Words-at) <= words {
			out = append(out, b)
		}
	}
	slices.SortStableFunc(out, func(a, b Boundary) int {
		if a.Kind != b.Kind {
			return int(a.Kind) - int(b.Kind)
		}
		return abs(a.Words-at) - abs(b.Words-at)
	})
	return out
}

// nearest is the index of the boundary nearest to an offset, the earlier of two.
func nearest(bs []Boundary, offset int) int {
	i, found := slices.BinarySearchFunc(bs, offset, func(b Boundary, o int) int { return b.Offset - o })
	switch {
	case found:
		return i
	case i == len(bs) || i > 0 && offset-bs[i-1].Offset <= bs[i].Offset-offset:
		return max(0, i-1)
	}
	return i
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
