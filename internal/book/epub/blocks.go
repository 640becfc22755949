package epub

import (
	"regexp"
	"strings"
	"unicode/utf8"

	"bookstead/internal/book"
)

// block is a block of text as the documents have it.
type block struct {
	kind  book.BlockKind
	level int // 1 to 6 for a heading
	text  string
	em    []book.Span
	marks []pageMark
	types []string // what the sections around it are, outermost first
	doc   int      // index of its document in the spine
	node  *node    // the element whose block it is
	aside bool     // licence text of a volunteer project
	opens []string // what the sections are that begin with it
	soft  bool     // a scene break that is only an empty paragraph
}

// walker turns documents into blocks.
type walker struct {
	styles styles
	blocks []block
	ids    map[string]spot // "doc#id" to where it stands
	doc    int
	name   string
	run    *run
	late   []block    // captions of pictures inside the present paragraph
	due    []pageMark // page breaks in front of the next block
	opens  []string   // sections begun in front of the next block
}

// spot is a place between blocks or inside one.
type spot struct{ block, at int }

// place is where the walk is.
type place struct {
	kind    book.BlockKind
	level   int
	verse   bool
	letter  bool
	pre     bool
	aside   bool
	types   []string
	element *node
}

// isBlock reports whether an element begins a block of its own.
func isBlock(tag string) bool {
	switch tag {
	case "address", "article", "aside", "blockquote", "body", "caption", "center", "dd", "details", "dialog", "dir", "div", "dl", "dt", "fieldset",
		"figcaption", "figure", "footer", "form", "h1", "h2", "h3", "h4", "h5", "h6", "header", "hgroup", "hr", "html", "li", "main", "nav", "ol", "p",
		"pre", "section", "summary", "table", "tbody", "tfoot", "thead", "tr", "ul":
		return true
	}
	return false
}

// walk reads a whole document.
func (w *walker) walk(doc int, name string, root *node) {
	w.doc, w.name, w.run = doc, name, newRun()
	w.anchor("")
	body := root.find("body")
	if body == nil {
		body = root
	}
	w.element(body, place{kind: book.Paragraph})
	w.flush(place{kind: book.Paragraph})
}

// anchor notes that an id stands in front of the next block, or of the one that
// is being written.
func (w *walker) anchor(id string) {
	key := w.name + "#" + id
	if _, twice := w.ids[key]; !twice {
		w.ids[key] = spot{len(w.blocks), len(w.run.text)}
	}
}

func (w *walker) children(n *node, at place) {
	for _, k := range n.kids {
		if k.tag != "" {
			w.element(k, at)
		} else if at.pre {
			w.run.verbatim(k.text)
		} else {
			w.run.write(k.text)
		}
	}
}

func (w *walker) element(n *node, at place) {
	if skipped(n) {
		return
	}
	if id := n.attr["id"]; id != "" {
		if isBlock(n.tag) {
			w.flush(at) // the id belongs to what comes, not to text before it
		}
		w.anchor(id)
	}
	if n.tag == "a" && n.attr["name"] != "" {
		w.anchor(n.attr["name"])
	}
	if n.is("pagebreak") {
		w.run.page(pageLabel(n))
		return
	}
	switch n.tag {
	case "br":
		w.run.newline()
		return
	case "img", "image":
		w.picture(n, at)
		return
	case "a":
		if noteMark(n) {
			return
		}
	case "td", "th":
		w.run.write(" ") // a row is one block
	case "math":
		w.run.write(n.attr["alttext"])
		return
	}
	italic := w.styles.italicised(n)
	if !isBlock(n.tag) {
		if italic {
			w.run.emphasis(true)
		}
		w.children(n, at)
		if italic {
			w.run.emphasis(false)
		}
		return
	}
	w.flush(at)
	if n.tag == "hr" {
		w.add(block{kind: book.SceneBreak, text: "* * *"}, at)
		return
	}
	in := at.enter(n)
	w.opens = append(w.opens, in.types[len(at.types):]...)
	// A paragraph all in italics by its class is marked as a whole.
	mark := italic && n.tag != "div" && n.tag != "section" && n.tag != "blockquote"
	if mark {
		w.run.emphasis(true)
	}
	w.children(n, in)
	if mark {
		w.run.closeEmphasis()
		w.run.depth--
	}
	w.flush(in)
}

// flush lays down the block that was being written.
func (w *walker) flush(at place) {
	text, em, marks := w.run.take()
	if strings.TrimSpace(text) == "" {
		w.due = append(w.due, marks...)
		if soft, yes := spacer(text, at); yes {
			w.add(block{kind: book.SceneBreak, text: "* * *", node: at.element, soft: soft}, at)
		}
	} else {
		w.lay(text, em, marks, at)
	}
	late := w.late
	w.late = nil
	for _, b := range late {
		w.add(b, at)
	}
}

// spacer reports whether an empty paragraph is there to part two scenes: a
// class says so, or it holds a hard space and nothing else (soft: so do the
// paragraphs of a file that leaves a line between all of them).
func spacer(text string, at place) (soft, yes bool) {
	if at.element == nil || at.element.tag != "p" && at.element.tag != "div" || at.kind != book.Paragraph || at.verse {
		return false, false
	}
	if sceneClass(at.element) {
		return false, true
	}
	return true, at.element.tag == "p" && strings.Contains(text, "\u00a0")
}

func sceneClass(n *node) bool {
	return n.classed("scenebreak", "scene-break", "section-break", "sectionbreak", "sectbreak", "spacebreak", "space-break", "thoughtbreak", "asterism", "ornament", "tb", "sb")
}

// lay adds a block of text, split where double line breaks mean paragraphs.
func (w *walker) lay(text string, em []book.Span, marks []pageMark, at place) {
	for i := range w.due {
		w.due[i].at = 0
	}
	marks = append(w.due, marks...)
	w.due = nil
	kind, level := at.kind, at.level
	switch {
	case book.IsSceneMark(text) && kind != book.Heading:
		kind = book.SceneBreak
	case kind == book.Paragraph && at.verse, kind == book.Quote && at.verse:
		kind = book.Verse
	case kind == book.Paragraph && at.letter, kind == book.Quote && at.letter:
		kind = book.Letter
	}
	if kind == book.Verse && w.joinsStanza(text, at) {
		w.joinStanza(text, em, marks, at)
		return
	}
	start := 0
	for _, cut := range cuts(text, kind) {
		b := block{kind: kind, level: level, text: text[start:cut], node: at.element}
		for _, e := range em {
			if lo, hi := max(e.Start, start), min(e.End, cut); lo < hi {
				b.em = append(b.em, book.Span{Start: lo - start, End: hi - start})
			}
		}
		for _, m := range marks {
			if m.at < cut && m.at >= start || cut == len(text) && m.at >= cut {
				b.marks = append(b.marks, pageMark{m.label, min(m.at, cut) - start})
			}
		}
		w.add(b, at)
		start = cut
	}
}

// cuts returns the ends of the blocks in a text: at blank lines, and at every
// line end where the lines are long enough to be paragraphs.
func cuts(text string, kind book.BlockKind) []int {
	lines := strings.Count(text, "\n")
	each := kind == book.Paragraph && lines > 0 && utf8.RuneCountInString(text)/(lines+1) > 120
	var out []int
	for i := 0; i < len(text); i++ {
		if text[i] != '\n' {
			continue
		}
		k := i
		for k < len(text) && (text[k] == '\n' || text[k] == ' ') {
			k++
		}
		if each || strings.Count(text[i:k], "\n") > 1 {
			out = append(out, k)
		}
		i = k - 1
	}
	if len(out) == 0 || out[len(out)-1] != len(text) {
		out = append(out, len(text))
	}
	return out
}

// longestStanza is how many bytes of verse make one block at most.
const longestStanza = 8000

// joinsStanza reports whether a line of verse set as a paragraph of its own
// goes on with the stanza before it.
func (w *walker) joinsStanza(text string, at place) bool {
	n := len(w.blocks)
	if n == 0 || len(w.blocks[n-1].text) > longestStanza || strings.Contains(text, "\n") || at.element == nil || at.element.up == nil {
		return false
	}
	last := w.blocks[n-1]
	return last.kind == book.Verse && last.doc == w.doc && last.node != nil && last.node.tag == at.element.tag && last.node.up == at.element.up &&
		!last.node.any(func(k *node) bool { return k.tag == "br" }) && !stanzaGap(last.node, at.element)
}

// stanzaGap reports whether the style or an empty element parts two lines.
func stanzaGap(a, b *node) bool {
	if b.classed("stanza", "stanzafirst", "first", "verse-first") {
		return true
	}
	for _, k := range a.up.kids[a.at+1 : max(a.at+1, b.at)] {
		if k.tag != "" {
			return true // something stands between them
		}
	}
	return false
}

func (w *walker) joinStanza(text string, em []book.Span, marks []pageMark, at place) {
	last := &w.blocks[len(w.blocks)-1]
	base := len(last.text) + 1
	last.text += "\n" + strings.TrimSpace(text)
	lead := len(text) - len(strings.TrimLeft(text, " "))
	for _, e := range em {
		last.em = append(last.em, book.Span{Start: base + max(0, e.Start-lead), End: base + min(e.End-lead, len(last.text)-base)})
	}
	for _, m := range marks {
		last.marks = append(last.marks, pageMark{m.label, base + max(0, m.at-lead)})
	}
	last.node = at.element
}

func (w *walker) add(b block, at place) {
	b.doc, b.types, b.aside = w.doc, at.types, at.aside
	b.opens, w.opens = w.opens, nil
	if b.kind == book.SceneBreak && len(w.blocks) > 0 && w.blocks[len(w.blocks)-1].kind == book.SceneBreak && w.blocks[len(w.blocks)-1].doc == w.doc {
		return // two marks for one break
	}
	if len(w.due) > 0 && b.kind != book.SceneBreak {
		b.marks, w.due = append(w.due, b.marks...), nil
	}
	w.blocks = append(w.blocks, b)
}

var pictureName = regexp.MustCompile(`(?i)^(cover|image|img|illustration|picture|photo|logo|figure|decoration|title ?page|publisher.*logo|)[\s\d]*$|\.(jpe?g|png|gif|svg|webp)$`)
var ornament = regexp.MustCompile(`(?i)^(ornament|ornamental (break|line)|scene ?break|section break|divider|asterism|fleuron|[*•⁂~ ]+)$`)

// picture keeps a picture's description: as a caption, as the heading where it
// is one, or as the letter that a drawn initial stands for.
func (w *walker) picture(n *node, at place) {
	alt := flat(n.attr["alt"])
	switch {
	case n.attr["role"] == "presentation" || n.attr["aria-hidden"] == "true":
	case ornament.MatchString(alt) && at.kind == book.Paragraph:
		w.late = append(w.late, block{kind: book.SceneBreak, text: "* * *"})
	case pictureName.MatchString(alt):
	case at.kind == book.Heading:
		w.run.write(" " + alt + " ")
	case utf8.RuneCountInString(alt) == 1:
		w.run.write(alt)
	default:
		w.late = append(w.late, block{kind: book.Caption, text: alt})
	}
}
