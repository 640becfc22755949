package book

import (
	"sort"
	"strconv"
)

// Edition is the class's own printed copy: the page on which each chapter
// starts, as far as it was typed, and pages corrected where they stand.
// Everything between is reckoned by [Edition.Pages] and marked "about".
type Edition struct {
	Name string `json:"name,omitempty"`
	// First are known first pages: chapter index to page.
	First map[int]int `json:"first,omitempty"`
	// Last is the last page of the story, 0 when not known.
	Last int `json:"last,omitempty"`
	// Fixed are corrections: at this place of the text stands this page.
	Fixed []FixedPage `json:"fixed,omitempty"`
}

// FixedPage is a page that the teacher corrected where it stands.
type FixedPage struct {
	Place Place `json:"place"`
	Page  int   `json:"page"`
}

// mark is a known page: the text at offset stands on page.
type mark struct {
	offset, end int // a correction holds for [offset, end)
	page        int
	chapter     int // the chapter whose first page it is, -1 for a correction, -2 for the end of the story
}

// EditionFromPageList makes an edition from the pages that the file itself
// states, for a class whose printed copy is the one that the file follows. Only
// Arabic page numbers count. ok is false when no chapter could be placed.
func (b *Book) EditionFromPageList() (e Edition, ok bool) {
	e.First = map[int]int{}
	for i, c := range b.Chapters {
		if !c.Kind.Told() {
			continue
		}
		// The page on which a chapter starts is that of the last break at or
		// before its first line of text.
		k := sort.Search(len(b.Pages), func(k int) bool { return b.Pages[k].Offset > min(c.Body, c.End-1) })
		if k == 0 {
			continue
		}
		if n, err := strconv.Atoi(b.Pages[k-1].Label); err == nil && n > 0 {
			e.First[i] = n
		}
	}
	for _, p := range b.Pages {
		if n, err := strconv.Atoi(p.Label); err == nil && p.Offset < b.told().End {
			e.Last = max(e.Last, n)
		}
	}
	return e, len(e.First) > 0
}
