package epub

import (
	"strings"

	"bookstead/internal/book"
)

// typeKinds are the values of the EPUB 3 Structural Semantics Vocabulary (and of
// the EPUB 2 guide) that say what a division is.
var typeKinds = map[string]struct {
	kind     book.ChapterKind // "" for a part
	division bool             // begins a division wherever it stands
}{
	"chapter": {book.Body, true}, "part": {"", true}, "volume": {"", true}, "division": {"", true},
	"short-story": {book.Story, true}, "novella": {book.Story, true}, "story": {book.Story, true},
	"introduction": {book.Introduction, true}, "preface": {book.Introduction, true}, "foreword": {book.Introduction, true},
	"prologue": {book.Introduction, true}, "preamble": {book.Introduction, true},
	"epilogue": {book.Conclusion, true}, "conclusion": {book.Conclusion, true},
	"afterword": {book.Back, true}, "appendix": {book.Back, true}, "colophon": {book.Back, true}, "glossary": {book.Back, true},
	"index": {book.Back, true}, "bibliography": {book.Back, true}, "endnotes": {book.Back, true}, "rearnotes": {book.Back, true},
	"acknowledgments": {book.Back, true}, "acknowledgements": {book.Back, true}, "contributors": {book.Back, true},
	"other-credits": {book.Back, true}, "errata": {book.Back, true}, "credits": {book.Back, true}, "notes": {book.Back, true},
	"titlepage": {book.Front, true}, "title-page": {book.Front, true}, "halftitlepage": {book.Front, true}, "halftitle": {book.Front, true},
	"imprint": {book.Front, true}, "imprimatur": {book.Front, true}, "dedication": {book.Front, true}, "toc": {book.Front, true},
	"loi": {book.Front, true}, "lot": {book.Front, true}, "cover": {book.Front, true}, "frontispiece": {book.Front, true},
	"copyright-page": {book.Front, true}, "seriespage": {book.Front, true}, "epigraph": {book.Front, false},
}

const (
	ownWords  = 60  // a part or half-title page with more has a text of its own
	introduce = 300 // unnamed text in front of the story with more is an introduction
	unnamed   = 150 // unnamed text behind it with fewer is back matter
)

// classify tells what each division is.
func (d *divider) classify() {
	for i := range d.divs {
		d.describe(&d.divs[i])
	}
	d.findParts()
	d.dropSections()
	first, last, sure := len(d.divs), -1, 0
	for i := range d.divs {
		v := &d.divs[i]
		if !v.known && !v.part && v.label.Number > 0 {
			v.kind, v.known = book.Body, true
		}
		told := v.part || v.known && (v.kind == book.Body || v.kind == book.Story)
		if told {
			sure++
		}
		if told || d.story >= 0 && v.from >= d.story && last < 0 && !v.known {
			first, last = min(first, i), i
		}
	}
	for i := range d.divs {
		v := &d.divs[i]
		switch {
		case v.part:
		case v.known:
			if v.kind == book.Front && i > last && last >= 0 || v.kind == book.Back && i < first && last >= 0 {
				v.kind = flip(v.kind)
			}
		case !d.linear[d.blocks[v.from].doc], i < first && last >= 0 && v.words < introduce:
			v.kind = book.Front
			if i > last {
				v.kind = book.Back
			}
		case i < first && last >= 0:
			v.kind = book.Introduction
		case i > last && sure > 1 && v.words < unnamed:
			v.kind = book.Back
		case last < 0 && i == 0 && v.words*5*(len(d.divs)-1) < d.wordsFrom(1):
			v.kind = book.Front // far shorter than the others: a title page
		default:
			v.kind = book.Body
		}
	}
	d.tellStories()
}

// wordsFrom is how many words the divisions from the i-th on have.
func (d *divider) wordsFrom(i int) int {
	n := 0
	for _, v := range d.divs[i:] {
		n += v.words
	}
	return n
}

func flip(k book.ChapterKind) book.ChapterKind {
	if k == book.Front {
		return book.Back
	}
	return book.Front
}

// describe reads a division's headings, title and what the book says it is.
func (d *divider) describe(v *division) {
	listed := ""
	if v.entry >= 0 {
		listed = d.tables.entries[v.entry].title
	}
	b := v.from
	for b+1 < v.to && (d.blocks[b].kind == book.Caption || d.blocks[b].kind == book.SceneBreak || contains(d.blocks[b].types, "epigraph")) {
		b++
	}
	if b < v.to && (d.blocks[b].kind == book.Heading || d.titleLine(b, v.to, listed, "")) {
		v.lead = b - v.from
	} else {
		b = v.from
	}
	var heads []string
	for b < v.to {
		if d.blocks[b].kind != book.Heading {
			if !d.titleLine(b, v.to, listed, strings.Join(heads, " ")) {
				break
			}
			d.blocks[b].kind = book.Heading
		}
		heads = append(heads, d.blocks[b].text)
		b++
	}
	v.heads = b - v.from - v.lead
	for ; b < v.to; b++ {
		if d.blocks[b].kind != book.SceneBreak {
			v.words += book.Words(d.blocks[b].text)
		}
	}
	v.label, v.title = headline(heads, listed)
	d.stated(v)
}

// titleLine reports whether a paragraph at the start of a division is its
// heading in all but name: the table of contents has its words.
func (d *divider) titleLine(b, to int, listed, before string) bool {
	bl := d.blocks[b]
	if bl.kind != book.Paragraph && bl.kind != book.Quote || len(bl.text) > 120 || b+1 >= to {
		return false
	}
	is, all, had := book.Letters(bl.text), book.Letters(listed), book.Letters(before)
	if is == "" || all == "" || had != "" && strings.Contains(had, all) {
		return false
	}
	if l, ok := book.ParseLabel(bl.text); ok && l.Rest == "" && had == "" {
		if m, ok := book.ParseLabel(listed); ok && m.Number == l.Number {
			return true
		}
	}
	return all == is || had == "" && strings.HasPrefix(all, is+" ") || had != "" && strings.HasSuffix(all, " "+is)
}

// headline makes label and title of the headings and of the line in the table
// of contents. The headings win; the table has the title where they have none,
// and its letters where they are all capitals.
func headline(heads []string, listed string) (label book.Label, title string) {
	var rest []string
	for _, h := range heads {
		if l, ok := book.ParseLabel(h); ok && label.Number == 0 && len(rest) == 0 {
			label = l
			h = l.Rest
		}
		if h = book.TidyTitle(h); h != "" {
			rest = append(rest, h)
		}
	}
	ll, ok := book.ParseLabel(listed)
	listedTitle := book.TidyTitle(listed)
	if ok {
		listedTitle = book.TidyTitle(ll.Rest)
		if label.Number == 0 && (len(rest) == 0 || book.Letters(strings.Join(rest, " ")) == book.Letters(ll.Rest)) {
			label = ll
		}
	}
	title = strings.Join(rest, ": ")
	if len(rest) > 1 && book.Letters(strings.Join(rest, " ")) == book.Letters(listedTitle) && !strings.Contains(listedTitle, ":") {
		title = strings.Join(rest, " ")
	}
	same := book.Letters(title) == book.Letters(listedTitle)
	if listedTitle != "" && (title == "" && (ok || label.Number == 0) || same && title == strings.ToUpper(title)) {
		title = listedTitle
	}
	if label.Number > 0 && strings.EqualFold(book.Letters(title), book.Letters(label.String())) {
		title = ""
	}
	return label, title
}

// stated sets what the book itself says the division is: by its sections, its
// guide, or a title that everyone knows.
func (d *divider) stated(v *division) {
	bl := d.blocks[v.from]
	kind := ""
	for _, t := range append(bl.types[:len(bl.types):len(bl.types)], d.guide[v.from]) {
		// An epigraph may open a chapter without being all of it.
		if k, ok := typeKinds[t]; ok && (k.division || kind == "") {
			kind = t
		}
	}
	if k, ok := typeKinds[kind]; ok {
		v.kind, v.known, v.part = k.kind, true, k.kind == ""
		return
	}
	if v.label.Number > 0 {
		return
	}
	if k, ok := book.KindOfTitle(v.title); ok {
		v.kind, v.known = k, true
		return
	}
	if book.Letters(v.title) == book.Letters(d.pack.title) && v.title != "" && v.words < ownWords {
		v.kind, v.known = book.Front, true
		return
	}
	for _, t := range bl.types {
		switch {
		case t == "frontmatter" && v.words < introduce:
			v.kind, v.known = book.Front, true
		case t == "backmatter":
			v.kind, v.known = book.Back, true
		}
	}
}
