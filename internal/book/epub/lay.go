package epub

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"bookstead/internal/book"
)

// layer lays divided blocks down as a book.
type layer struct {
	d     *divider
	out   book.Builder
	pages map[int][]pageMark // by block
	aside []string
	notes []string
}

func lay(d *divider) *book.Book {
	divs := d.divide()
	partOf := d.partsOf()
	l := &layer{d: d, pages: pageMarks(d)}
	parts := map[int]int{} // division to index in Book.Parts
	pending := []int{}     // part divisions whose headings are not yet laid down
	var last book.Label
	for i, v := range divs {
		if v.part {
			parts[i] = l.out.Part(partName(d, i))
			pending = append(pending, i)
			if v.words < ownWords && i+1 < len(divs) && divs[i+1].kind.Told() {
				continue
			}
			kind := book.Introduction
			if i+1 == len(divs) || divs[i+1].part || !divs[i+1].kind.Told() {
				kind = book.Body
			}
			p := partName(d, i)
			l.out.Chapter(book.Chapter{Kind: kind, Label: p.Label, Title: p.Title, Part: parts[i]})
			l.parts(pending[:len(pending)-1])
			l.division(v)
			pending = nil
			continue
		}
		c := book.Chapter{Kind: v.kind, Title: v.title, Part: -1}
		if v.label.Number > 0 && v.kind.Told() {
			c.Label, c.Number = v.label.String(), v.label.Number
			l.checkNumber(last, v.label)
			last = v.label
		} else if v.label.Number > 0 && c.Title == "" {
			c.Title = v.label.Numeral
		}
		if p := partOf[i]; p >= 0 {
			c.Part = parts[p]
		}
		l.out.Chapter(c)
		l.parts(pending)
		pending = nil
		l.division(v)
	}
	b := l.out.Book()
	b.Setaside, b.Notes = l.aside, l.notes
	return b
}

// checkNumber tells the teacher of a chapter that is missing.
func (l *layer) checkNumber(last, now book.Label) {
	if last.Number > 0 && now.Word == last.Word && now.Number > last.Number+1 {
		l.notes = append(l.notes, fmt.Sprintf("%s follows %s: a chapter may be missing from the file.", now, last))
	}
}

// partName is the part's own name, in front of it that of the part it lies in.
func partName(d *divider, i int) book.Part {
	v := d.divs[i]
	p := book.Part{Title: v.title}
	if v.label.Number > 0 {
		p.Label = v.label.String()
		if v.label.Word == "" {
			p.Label = "Part " + v.label.Numeral
		}
	}
	if up := v.parent; up >= 0 && d.divs[up].part {
		if o := partName(d, up); o.Label != "" && p.Label != "" {
			p.Label = o.Label + ", " + p.Label
		}
	}
	return p
}

// parts lays the part headings down that stand in front of a chapter.
func (l *layer) parts(divs []int) {
	for _, i := range divs {
		v := l.d.divs[i]
		for b := v.from; b < v.to; b++ {
			l.block(b)
		}
	}
	if len(divs) > 0 {
		l.out.BodyHere()
	}
}

func (l *layer) division(v division) {
	end := v.from + v.lead + v.heads
	tail := v.to
	for tail > v.from && l.d.blocks[tail-1].kind == book.SceneBreak {
		tail--
	}
	for b := v.from; b < v.to; b++ {
		if b == end {
			l.out.BodyHere()
		}
		// A mark at either end of a chapter parts nothing.
		if l.d.blocks[b].kind == book.SceneBreak && (b <= end || b >= tail) {
			continue
		}
		l.block(b)
	}
	if end == v.to {
		l.out.BodyHere()
	}
}

func (l *layer) block(i int) {
	b := l.d.blocks[i]
	if b.aside {
		l.aside = append(l.aside, strings.TrimSpace(b.text))
		return
	}
	text := strings.TrimRightFunc(b.text, unicode.IsSpace)
	lead := len(text) - len(strings.TrimLeftFunc(text, unicode.IsSpace))
	for _, m := range l.pages[i] {
		skip := max(0, min(m.at, len(text)-1)-lead)
		for skip > 0 && !utf8.RuneStart(text[lead+skip]) {
			skip--
		}
		if text != "" {
			l.out.Page(m.label, skip)
		}
	}
	l.out.Add(b.kind, b.text, b.em...)
}

// pageMarks are the pages that the file states, by block: those of the page
// list, or without one the page breaks in the text.
func pageMarks(d *divider) map[int][]pageMark {
	out := map[int][]pageMark{}
	if len(d.tables.pages) == 0 {
		for i, b := range d.blocks {
			out[i] = b.marks
		}
		return out
	}
	lastBlock, lastAt := 0, 0
	for _, p := range d.tables.pages {
		s, ok := d.spots[p.name+"#"+p.fragment]
		if !ok || s.block >= len(d.blocks) || s.block < lastBlock || s.block == lastBlock && s.at < lastAt {
			continue // a page that is not where its number says
		}
		lastBlock, lastAt = s.block, s.at
		out[s.block] = append(out[s.block], pageMark{p.label, s.at})
	}
	return out
}
