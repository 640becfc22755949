package book

import (
	"fmt"
	"sort"
	"strconv"

	"bookstead/internal/fault"
)

// PageProblem is something about an edition's pages that cannot be right, in
// the teacher's words.
type PageProblem struct {
	Chapter int // index into Book.Chapters where it shows, -1 when in none
	Page    int
	Message string
	Hint    string
}

// Problems returns what cannot be right in the typed pages, in the order of the
// text: pages below 1 or of chapters that do not exist, pages that go
// backwards, chapters with no room, corrections whose words are gone.
func (e Edition) Problems(b *Book) []PageProblem {
	var out []PageProblem
	say := func(chapter, page int, message, hint string) {
		out = append(out, PageProblem{chapter, page, message, hint})
	}
	var known []int
	for i := range e.First {
		known = append(known, i)
	}
	sort.Ints(known)
	for _, i := range known {
		switch page := e.First[i]; {
		case i < 0 || i >= len(b.Chapters):
			say(-1, page, fmt.Sprintf("Page %d is given for a chapter that this book does not have.", page), "Remove it.")
		case page < 1:
			say(i, page, fmt.Sprintf("%s cannot start on page %d.", b.chapterName(i), page), "Pages are counted from 1; leave the field empty if you do not know it.")
		}
	}
	for _, f := range e.Fixed {
		if _, ok := b.Find(f.Place); !ok {
			say(-1, f.Page, fmt.Sprintf("The words %q, which you put on page %d, are no longer in the text.", short(f.Place.Exact), f.Page), "Set the page again where it belongs, or remove it.")
		} else if f.Page < 1 {
			say(b.ChapterAt(f.Place.Start), f.Page, fmt.Sprintf("%q cannot stand on page %d.", short(f.Place.Exact), f.Page), "Pages are counted from 1.")
		}
	}
	marks := e.marks(b)
	for i := 1; i < len(marks); i++ {
		lo, hi := marks[i-1], marks[i]
		if hi.page < lo.page {
			say(max(hi.chapter, b.ChapterAt(hi.offset)), hi.page,
				fmt.Sprintf("%s is on page %d, but %s before it is on page %d.", b.markName(hi), hi.page, b.markName(lo), lo.page),
				"One of the two must be wrong: pages only go up.")
		} else if words := Words(b.Slice(Span{lo.offset, hi.offset})); words > mostWordsOnPage*(hi.page-lo.page+1) {
			say(b.ChapterAt(lo.offset), lo.page,
				fmt.Sprintf("From page %d to page %d there is no room for %d words.", lo.page, hi.page, words),
				"Check both pages against the printed copy.")
		}
	}
	return out
}

// mostWordsOnPage is more than a page of a children's novel holds; a closely
// set paperback page has about 400 (common practice, no source).
const mostWordsOnPage = 700

// Validate returns the first of [Edition.Problems] as a fault, nil if none.
func (e Edition) Validate(b *Book) error {
	if p := e.Problems(b); len(p) > 0 {
		return fault.New(fault.Invalid, p[0].Message, p[0].Hint)
	}
	return nil
}

func (b *Book) chapterName(i int) string {
	c := b.Chapters[i]
	switch {
	case c.Label != "" && c.Title != "":
		return c.Label + ", “" + c.Title + "”,"
	case c.Label != "":
		return c.Label
	case c.Title != "":
		return "“" + c.Title + "”"
	}
	return "Chapter number " + strconv.Itoa(i+1)
}

func (b *Book) markName(m mark) string {
	switch {
	case m.chapter >= 0:
		return b.chapterName(m.chapter)
	case m.chapter == -2:
		return "the end of the story"
	}
	return "“" + short(b.Slice(Span{m.offset, m.end})) + "”"
}

// short cuts a quotation for a message.
func short(s string) string {
	r := []rune(s)
	if len(r) <= 40 {
		return s
	}
	return string(r[:39]) + "…"
}
