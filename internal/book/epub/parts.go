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
	kids := map[int]int{}
	for _, v := range d.divs {
		kids[v.parent]++
	}
	for i := range d.divs {
		v := &d.divs[i]
		if v.known {
			continue
		}
		switch {
		case v.label.Part && (chapters > 0 || kids[i] > 0):
			v.part = true
		case kids[i] > 1 && v.label.Number == 0 && v.words < ownWords && v.title != "":
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

// partsOf returns for each division the one of the part that it belongs to, -1
// if it is in none. Where the table of contents nests, it decides; else a part
// goes on to the next one, without what stands behind the story.
func (d *divider) partsOf() []int {
	nested := false
	for _, v := range d.divs {
		nested = nested || v.parent >= 0 && d.divs[v.parent].part
	}
	out := make([]int, len(d.divs))
	last := -1
	for i, v := range d.divs {
		out[i] = -1
		if v.part {
			last = i
		}
		switch {
		case nested && v.entry >= 0:
			// Deeper than any book nests, a line belongs to none.
			for p, n := v.parent, 0; p >= 0 && n < 20; p, n = d.divs[p].parent, n+1 {
				if d.divs[p].part {
					out[i] = p
					break
				}
			}
		case v.kind.Told() && v.kind != book.Conclusion:
			out[i] = last
		}
	}
	return out
}
