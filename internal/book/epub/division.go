package epub

import (
	"sort"
	"strings"

	"bookstead/internal/book"
)

// division is a stretch of blocks that begins where the table of contents, a
// section or a heading says so.
type division struct {
	from, to int // blocks
	entry    int // its line in the table of contents, -1 if none
	parent   int // index of the division above it in the table of contents, -1 if none
	part     bool
	kind     book.ChapterKind
	known    bool // kind was stated, not guessed
	label    book.Label
	title    string
	heads    int // blocks of it that are its headings, behind leading pictures
	lead     int // pictures in front of the headings
	words    int // without headings
}

// divider cuts the blocks into divisions.
type divider struct {
	blocks []block
	tables tables
	pack   *pack
	spots  map[string]spot
	docs   []string // names, in spine order
	linear []bool
	guide  map[int]string // block index to what guide or landmarks call it
	story  int            // block where they say that the story begins, -1 if nowhere
	run    []int          // for each block the first of the run of headings that it is in, itself if in none
	divs   []division
}

// find returns the block that a link leads to.
func (d *divider) find(name, fragment string) (int, bool) {
	s, ok := d.spots[name+"#"+fragment]
	if !ok {
		s, ok = d.spots[name+"#"]
	}
	if ok && s.at > 0 && s.block+1 < len(d.blocks) && d.blocks[s.block].kind != book.Heading {
		s.block++ // an id inside a paragraph: what it names comes behind
	}
	return s.block, ok && s.block < len(d.blocks)
}

// divide finds all divisions and what they are.
func (d *divider) divide() []division {
	d.run = make([]int, len(d.blocks))
	for b := range d.blocks {
		d.run[b] = b
		if b > 0 && d.inHeading(b) && d.inHeading(b-1) && d.blocks[b-1].doc == d.blocks[b].doc {
			d.run[b] = d.run[b-1]
		}
	}
	d.readGuide()
	d.starts()
	d.classify()
	return d.divs
}

func (d *divider) readGuide() {
	d.guide, d.story = map[int]string{}, -1
	note := func(name, frag, kind string) {
		b, ok := d.find(name, frag)
		if !ok {
			return
		}
		if kind == "text" || kind == "start" || kind == "bodymatter" {
			if d.story < 0 {
				d.story = b
			}
			return
		}
		if d.guide[b] == "" {
			d.guide[b] = kind
		}
	}
	for _, l := range d.tables.landmarks {
		note(l.name, l.fragment, l.kind)
	}
	var names []string
	for n := range d.pack.guide {
		names = append(names, n)
	}
	sort.Strings(names)
	for _, n := range names {
		name, frag, _ := strings.Cut(n, "#")
		note(name, frag, d.pack.guide[n])
	}
}

// starts fills divs with their ranges and entries.
func (d *divider) starts() {
	type start struct{ block, entry, parent int }
	var list []start
	at := map[int]bool{}
	above := []int{} // entry indices of the open levels
	for i, e := range d.tables.entries {
		for len(above) > e.depth {
			above = above[:len(above)-1]
		}
		parent := -1
		if len(above) > 0 {
			parent = above[len(above)-1]
		}
		above = append(above, i)
		b, ok := d.find(e.name, e.fragment)
		if !ok && e.kids > 0 { // a heading without a link stands where its first line leads
			if i+1 < len(d.tables.entries) {
				b, ok = d.find(d.tables.entries[i+1].name, d.tables.entries[i+1].fragment)
			}
		}
		if ok {
			list = append(list, start{b, i, parent})
			at[b] = true
		}
	}
	inTable := len(list)
	// A link may lead to the title under the number.
	for k := range list {
		b := list[k].block
		if _, numbered := book.ParseLabel(d.blocks[b].text); numbered || b == 0 || at[b-1] || !d.inHeading(b) || !d.inHeading(b-1) || d.blocks[b-1].doc != d.blocks[b].doc {
			continue
		}
		if l, ok := book.ParseLabel(d.blocks[b-1].text); ok && !l.Part {
			at[b-1] = true
			list[k].block = b - 1
		}
	}
	level := 0
	if inTable < 2 {
		level = d.headingLevel()
	}
	firstListed := len(d.blocks)
	for _, s := range list {
		firstListed = min(firstListed, s.block)
	}
	typed := 0
	for _, bl := range d.blocks {
		if contains(bl.opens, "chapter") {
			typed++
		}
	}
	sections := typed > 1 // they say where chapters begin; headings need not be read
	for b := range d.blocks {
		if at[b] || b > 0 && d.inHeading(b) && at[d.run[b]] && !d.chapterBelowPart(b) {
			continue
		}
		docStart := b == 0 || d.blocks[b].doc != d.blocks[b-1].doc
		if b == 0 || d.beginsOwn(b, docStart, inTable >= 2, sections, firstListed, level) {
			list = append(list, start{b, -1, -1})
			at[b] = true
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].block < list[j].block })
	index := map[int]int{} // entry to division
	for k, s := range list {
		end := len(d.blocks)
		if k+1 < len(list) {
			end = list[k+1].block
		}
		parent := -1
		if p, ok := index[s.parent]; ok && s.parent >= 0 {
			parent = p
		}
		if s.entry >= 0 {
			index[s.entry] = k
		}
		d.divs = append(d.divs, division{from: s.block, to: end, entry: s.entry, parent: parent})
	}
}

func (d *divider) inHeading(b int) bool { return d.blocks[b].kind == book.Heading }

// beginsOwn reports whether a division begins at a block that the table of
// contents does not name.
func (d *divider) beginsOwn(b int, docStart, table, sections bool, firstListed, level int) bool {
	bl := d.blocks[b]
	for _, t := range bl.opens {
		if k, ok := typeKinds[t]; ok && (docStart || k.division) {
			return true
		}
	}
	if d.chapterBelowPart(b) {
		return true
	}
	if bl.kind == book.Heading && d.run[b] == b && !sections {
		if l, ok := book.ParseLabel(bl.text); ok && (l.Word != "" || docStart) {
			return true
		}
	}
	switch {
	case docStart && d.guide[b] != "", docStart && b < firstListed, docStart && !d.linear[bl.doc]:
		return true
	case table, sections && !docStart:
		return false
	case level > 0 && bl.kind == book.Heading && bl.level == level && d.run[b] == b:
		return true
	}
	return docStart && (bl.kind == book.Heading || level == 0)
}

// chapterBelowPart reports whether a chapter's heading follows a part's at once.
func (d *divider) chapterBelowPart(b int) bool {
	if b == 0 || !d.inHeading(b) || d.run[b] == b {
		return false
	}
	if contains(d.blocks[b].opens, "chapter") {
		return true
	}
	above, ok := book.ParseLabel(d.blocks[b-1].text)
	l, is := book.ParseLabel(d.blocks[b].text)
	return ok && is && above.Part && !l.Part && l.Word != ""
}

// headingLevel is the level at which a book without a table of contents sets
// its chapters: the one with most numbered headings, else the highest one that
// comes twice.
func (d *divider) headingLevel() int {
	var all, numbered [9]int
	for b, bl := range d.blocks {
		if bl.kind == book.Heading && bl.level < 9 && d.run[b] == b {
			all[bl.level]++
			if l, ok := book.ParseLabel(bl.text); ok && !l.Part {
				numbered[bl.level]++
			}
		}
	}
	best := 0
	for l := 1; l < 9; l++ {
		if numbered[l] > numbered[best] {
			best = l
		}
	}
	if numbered[best] >= 2 {
		return best
	}
	for l := 1; l < 9; l++ {
		if all[l] >= 2 {
			return l
		}
	}
	return 0
}
