package epub

import (
	"strings"

	"bookstead/internal/book"
)

// findParts tells parts from chapters where no section does: by their word, or
// because other lines stand below them in the table of contents and they have
// no text of their own.
func (d *divider) findParts() {
	chapters := 0
	for _, v := range d.divs {
		if v.label.Number > 0 && !v.label.Part || v.known && !v.part && v.kind == book.Body {
			chapters++
		}
	}
	for i := range d.divs {
		v := &d.divs[i]
		if v.known {
			continue
		}
		kids := 0
		for _, o := range d.divs {
			if o.parent == i {
				kids++
			}
		}
		switch {
		case v.label.Part && (chapters > 0 || kids > 0):
			v.part = true
		case kids > 1 && v.label.Number == 0 && v.words < ownWords && v.title != "":
			v.part = true
		}
	}
}

// dropSections joins divisions that are only sections of a chapter to it: lines
// below a chapter in the table of contents that say of themselves nothing more.
func (d *divider) dropSections() {
	var out []division
	to := make([]int, len(d.divs)) // old index to new
	for i, v := range d.divs {
		p := v.parent
		if p >= 0 && !v.part && !v.known && v.label.Number == 0 {
			above := d.divs[p]
			if !above.part && !(above.known && (above.kind == book.Front || above.kind == book.Back)) && len(out) > 0 && out[len(out)-1].to == v.from {
				last := &out[len(out)-1]
				last.to = v.to
				last.words += v.words
				to[i] = len(out) - 1
				continue
			}
		}
		to[i] = len(out)
		out = append(out, v)
	}
	for i := range out {
		if out[i].parent >= 0 {
			out[i].parent = to[out[i].parent]
		}
	}
	d.divs = out
}

// tellStories makes chapters with titles and without numbers stories where the book says that
// it is a collection or no name runs through it.
func (d *divider) tellStories() {
	var texts []string
	numbered := false
	for _, v := range d.divs {
		if v.part || v.kind != book.Body {
			continue
		}
		numbered = numbered || v.label.Number > 0 || v.known || v.title == ""
		var sb strings.Builder
		for _, b := range d.blocks[v.from+v.lead+v.heads : v.to] {
			sb.WriteString(b.text + "\n")
		}
		texts = append(texts, sb.String())
	}
	if numbered || len(texts) < 2 {
		return
	}
	collection := book.SeemsCollection(texts)
	for _, s := range d.pack.subjects {
		s = strings.ToLower(s)
		collection = collection || strings.Contains(s, "short stories") || strings.Contains(s, "fables")
	}
	for i := range d.divs {
		if v := &d.divs[i]; collection && !v.part && v.kind == book.Body {
			v.kind = book.Story
		}
	}
}

// partOf returns the division of the part that a division belongs to, -1 if it
// is in none. Where the table of contents nests, it decides; else a part goes on
// to the next one, without what stands behind the story.
func (d *divider) partOf(i int) int {
	nested := false
	for _, v := range d.divs {
		nested = nested || v.parent >= 0 && d.divs[v.parent].part
	}
	v := d.divs[i]
	if nested && v.entry >= 0 {
		for p := v.parent; p >= 0; p = d.divs[p].parent {
			if d.divs[p].part {
				return p
			}
		}
		return -1
	}
	if !v.kind.Told() || v.kind == book.Conclusion {
		return -1
	}
	for p := i - 1; p >= 0; p-- {
		if d.divs[p].part {
			return p
		}
	}
	return -1
}
