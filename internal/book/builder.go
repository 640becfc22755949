package book

import (
	"strings"
	"unicode"
)

// Builder lays blocks, chapters and pages down in reading order and keeps the
// rules of [Book] while doing so. The zero value is ready.
type Builder struct {
	text     strings.Builder
	blocks   []Block
	parts    []Part
	chapters []Chapter
	fixed    []bool // chapter's Body was set by hand
	pages    []Page
}

// Add lays down a block. emphasis lies relative to text. White space around the
// text is cut; a block with nothing left is not laid down.
func (w *Builder) Add(kind BlockKind, text string, emphasis ...Span) {
	cut := strings.TrimLeftFunc(text, unicode.IsSpace)
	lead := len(text) - len(cut)
	cut = strings.TrimRightFunc(cut, unicode.IsSpace)
	if cut == "" {
		return
	}
	if len(w.chapters) == 0 {
		w.Chapter(Chapter{Kind: Body, Part: -1})
	}
	if w.text.Len() > 0 {
		w.text.WriteString("\n\n")
	}
	at := w.text.Len()
	w.text.WriteString(cut)
	bl := Block{Span: Span{at, w.text.Len()}, Kind: kind}
	for _, e := range emphasis {
		e = Span{max(e.Start-lead, 0) + at, min(e.End-lead, len(cut)) + at}
		if e.Start < e.End {
			bl.Emphasis = append(bl.Emphasis, e)
		}
	}
	w.blocks = append(w.blocks, bl)
}

// Chapter begins a chapter with the next block. Kind, Label, Number, Title and
// Part are taken as given, the span is filled in by [Builder.Book].
func (w *Builder) Chapter(c Chapter) {
	c.Start = w.next()
	w.chapters = append(w.chapters, c)
	w.fixed = append(w.fixed, false)
}

// BodyHere says that the headings of the present chapter end here. Without it
// they end at the first block that is not a heading.
func (w *Builder) BodyHere() {
	if i := len(w.chapters) - 1; i >= 0 {
		w.chapters[i].Body, w.fixed[i] = w.next(), true
	}
}

// Part adds a part and returns its index for Chapter.Part.
func (w *Builder) Part(p Part) int {
	w.parts = append(w.parts, p)
	return len(w.parts) - 1
}

// AdoptPart adds a part that the chapters so far belong to, all but front
// matter: the file named only the second one.
func (w *Builder) AdoptPart(p Part) {
	at := w.Part(p)
	for i := range w.chapters {
		if w.chapters[i].Part == -1 && w.chapters[i].Kind.Told() && w.chapters[i].Kind != Introduction {
			w.chapters[i].Part = at
		}
	}
}

// Page says that a page begins skip bytes into the block that comes next.
func (w *Builder) Page(label string, skip int) {
	w.pages = append(w.pages, Page{Offset: w.next() + skip, Label: label})
}

// next is the offset that the next block will have.
func (w *Builder) next() int {
	if w.text.Len() == 0 {
		return 0
	}
	return w.text.Len() + 2
}

// Book returns the text and structure laid down so far, with nothing else set.
// Chapters that got no block are left out, and parts that got no chapter.
func (w *Builder) Book() *Book {
	b := &Book{Text: w.text.String(), Blocks: w.blocks, Parts: w.parts}
	k := 0
	for i, c := range w.chapters {
		end := w.next()
		if i+1 < len(w.chapters) {
			end = w.chapters[i+1].Start
		}
		first := k
		for k < len(w.blocks) && w.blocks[k].Start < end {
			k++
		}
		if first == k {
			continue
		}
		c.Start, c.End = w.blocks[first].Start, w.blocks[k-1].End
		if !w.fixed[i] {
			h := first
			for h < k && w.blocks[h].Kind == Heading {
				h++
			}
			c.Body = c.End
			if h < k {
				c.Body = w.blocks[h].Start
			}
		}
		c.Body = min(c.Body, c.End)
		b.Chapters = append(b.Chapters, c)
	}
	b.dropEmptyParts()
	for _, p := range w.pages {
		if p.Offset = min(p.Offset, len(b.Text)); p.Offset < len(b.Text) {
			b.Pages = append(b.Pages, p)
		}
	}
	return b
}

func (b *Book) dropEmptyParts() {
	used := make([]bool, len(b.Parts))
	for _, c := range b.Chapters {
		if c.Part >= 0 {
			used[c.Part] = true
		}
	}
	to := make([]int, len(b.Parts))
	var kept []Part
	for i, p := range b.Parts {
		if to[i] = len(kept); used[i] {
			kept = append(kept, p)
		}
	}
	b.Parts = kept
	for i := range b.Chapters {
		if p := b.Chapters[i].Part; p >= 0 {
			b.Chapters[i].Part = to[p]
		}
	}
}
