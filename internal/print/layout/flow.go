package layout

import (
	"context"
	"fmt"

	"bookstead/internal/print"
)

// strip is a slice of the measure that no page break cuts.
type strip struct {
	height print.Length
	items  []print.Item // X from the page's left edge, Y from the strip's top
	// above and below are white wanted around it; of two that meet the larger
	// counts, and none at the top or the foot of a page.
	above, below print.Length
	cost         int // of a page break behind it
	recto        bool
	marks        []print.Bookmark // Y from the strip's top
	short        string           // running title from here on
	head         *strip           // repeated above it when it starts a page
	grows        bool             // a frame that takes what room is left below it on its page
}

// Costs of a page break. The unit is a thousandth of the square of the share of
// a page that is left white, so free costs as much as an eighth of a page.
const (
	free    = 15      // between two blocks of a section
	between = 30      // between lines of a paragraph, items of a list
	dear    = 400     // within a long answer
	never   = 1000000 // widows, orphans, behind a heading
	forced  = -1
)

// flow turns blocks into strips.
func (s *setter) flow(ctx context.Context, blocks []print.Block, progress func(float64)) ([]strip, error) {
	var out []strip
	for i, b := range blocks {
		if err := ctx.Err(); err != nil {
			return nil, fmt.Errorf("laying out %q: %w", s.doc.Title, err)
		}
		if progress != nil && i%64 == 0 {
			progress(0.9 * float64(i) / float64(len(blocks)))
		}
		next, err := s.block(b, s.measure())
		if err != nil {
			return nil, err
		}
		out = s.append(out, b, next)
	}
	return out, nil
}

// append joins the strips of a block to those before it.
func (s *setter) append(out []strip, b print.Block, next []strip) []strip {
	switch b := b.(type) {
	case print.PageBreak:
		if n := len(out); n > 0 {
			out[n-1].cost = forced
			out[n-1].recto = out[n-1].recto || b.Recto
		}
		return out
	case print.Heading:
		switch n := len(out); {
		case n == 0:
		case b.NewPage:
			out[n-1].cost = forced
		case out[n-1].cost >= 0 && out[n-1].cost < never:
			out[n-1].cost = 0
		}
	case print.Drawing: // stays with the task before it
		if n := len(out); n > 0 && out[n-1].cost >= 0 {
			out[n-1].cost = max(out[n-1].cost, dear)
		}
	case print.Cards:
		if n := len(out); n > 0 && len(next) > 0 {
			out[n-1].cost = forced
		}
	}
	return append(out, next...)
}

// block turns one block into strips in an area.
func (s *setter) block(b print.Block, a area) ([]strip, error) {
	s.openList(b)
	switch b := b.(type) {
	case print.Heading:
		return s.heading(b, a), nil
	case print.Paragraph:
		return s.paragraph(b, a), nil
	case print.Question:
		return s.question(b, a), nil
	case print.Word:
		return s.wordEntry(b, a), nil
	case print.Matching:
		return s.matching(b, a), nil
	case print.List:
		return s.listOfItems(b, a), nil
	case print.Table:
		return s.table(b, a), nil
	case print.Grid:
		return s.grid(b, a), nil
	case print.Cards:
		return s.cards(b), nil
	case print.Lines:
		strips := s.writing(b.Count, b.Answer, "", a, s.parent())
		s.mark(strips, b.Mark, a, s.parent())
		return closing(strips, s.style.Gap), nil
	case print.Drawing:
		return s.drawing(b, a), nil
	case print.Group:
		return s.group(b, a)
	case print.Rule:
		return []strip{{height: print.Point, above: s.style.Gap, below: s.style.Gap, cost: free,
			items: []print.Item{{X: a.x, Y: print.Point / 2, W: a.width, Thickness: print.Point / 2}}}}, nil
	case print.Space:
		return []strip{{above: b.Height + s.style.Gap, cost: between}}, nil
	case print.PageBreak:
		return nil, nil
	}
	return nil, fmt.Errorf("a page cannot hold a %T", b)
}

// parent is the node that new blocks belong to.
func (s *setter) parent() int { return s.section }

// openList keeps neighbouring questions, or words, in one list of the structure.
func (s *setter) openList(b print.Block) {
	of := ""
	switch b := b.(type) {
	case print.Question:
		if b.Number != "" {
			of = "question"
		}
	case print.Word:
		of = "word"
	}
	if of == s.listOf {
		return
	}
	s.list, s.listOf = 0, of
	if of != "" {
		s.list = s.node(print.TagList, s.parent())
		if of == "question" {
			s.frames.Nodes[s.list].Numbering = "Decimal"
		}
	}
}

// group keeps its strips together when they fit on a page.
func (s *setter) group(g print.Group, a area) ([]strip, error) {
	var out []strip
	for _, b := range g.Blocks {
		next, err := s.block(b, a)
		if err != nil {
			return nil, err
		}
		out = s.append(out, b, next)
	}
	if height(out) <= s.pageHeight() {
		for i := range out[:max(0, len(out)-1)] {
			if out[i].cost >= 0 {
				out[i].cost = never
			}
		}
	}
	return out, nil
}

// height is that of strips one below the other, white between them included.
func height(strips []strip) print.Length {
	var h print.Length
	for i, st := range strips {
		if i > 0 {
			h += max(strips[i-1].below, st.above)
		}
		h += st.height
	}
	return h
}

// closing gives the last strip the white below a block.
func closing(strips []strip, below print.Length) []strip {
	if n := len(strips); n > 0 {
		strips[n-1].below = below
		strips[n-1].cost = free
	}
	return strips
}

// together forbids page breaks between strips.
func together(strips []strip) []strip {
	for i := 0; i+1 < len(strips); i++ {
		strips[i].cost = never
	}
	return strips
}

// baseline is the distance of the baseline from the top of a line of type.
func baseline(t print.Type) print.Length { return t.Leading/2 + t.Size*35/100 }

// textStrips makes a strip of each line, without widows and orphans.
func textStrips(lines []line, t print.Type, x print.Length) []strip {
	out := make([]strip, len(lines))
	base := baseline(t)
	for i, l := range lines {
		out[i] = strip{height: t.Leading, items: at(l.items, x, base), cost: between}
		if i == 0 || i == len(lines)-2 || len(lines) <= 3 {
			out[i].cost = never
		}
	}
	return out
}

// at moves items.
func at(items []print.Item, x, y print.Length) []print.Item {
	out := make([]print.Item, len(items))
	for i, it := range items {
		it.X += x
		it.Y += y
		out[i] = it
	}
	return out
}

// mark sets a word in the margin beside the first strip, for the teacher.
func (s *setter) mark(strips []strip, text string, a area, parent int) {
	if text != "" && a.margin && len(strips) > 0 {
		s.markAs(s.node(print.TagMark, parent), strips, text, a)
	}
}

// markAs is mark with a node that stands at its place in reading order.
func (s *setter) markAs(node int, strips []strip, text string, a area) {
	if text == "" || !a.margin || len(strips) == 0 {
		return
	}
	typ := print.Type{Size: min(s.style.Small.Size*95/100, 11*print.Point)}
	typ.Leading = typ.Size * 6 / 5
	far, near := 16*print.Point, 11*print.Point
	room := s.style.Left - far - near
	var items []print.Item
	y := baseline(s.style.Text)
	for _, l := range s.lines(print.Styled(text, print.Rubric), setting{typ: typ, node: node, width: room, align: print.Right}) {
		items = append(items, at(l.items, far, y)...)
		y += typ.Leading
	}
	strips[0].items = append(items, strips[0].items...)
}

func (s *setter) heading(h print.Heading, a area) []strip {
	level := min(max(h.Level, 1), 3)
	hs := s.style.Headings[level-1]
	if level == 1 {
		s.section = s.node(print.TagSection, 0)
	}
	node := s.node([]print.Tag{print.TagH1, print.TagH2, print.TagH3}[level-1], s.parent())
	out := textStrips(s.lines(h.Text, setting{typ: hs.Type, face: hs.Face, node: node, width: a.width, ragged: true, track: hs.Tracking}), hs.Type, a.x)
	if len(out) == 0 {
		return nil
	}
	out[0].above = hs.Above
	if level <= 2 {
		b := print.Bookmark{Title: h.Bookmark, Level: level, Node: node}
		if b.Title == "" {
			b.Title = h.Text.String()
		}
		out[0].marks = []print.Bookmark{b}
	}
	if level == 1 {
		if out[0].short = h.Short; h.Short == "" {
			out[0].short = h.Text.String()
		}
	}
	s.mark(out, h.Mark, a, s.parent())
	if !blank(h.Subtitle) {
		typ := print.Type{Size: (s.style.Small.Size + s.style.Text.Size) / 2, Leading: s.style.Text.Leading}
		out[len(out)-1].below = hs.Below
		out = append(out, textStrips(s.lines(h.Subtitle, setting{typ: typ, face: print.Italic, node: s.node(print.TagP, s.parent()), width: a.width, ragged: true}), typ, a.x)...)
	}
	for i := range out {
		out[i].cost = never
	}
	out[len(out)-1].below = hs.Below
	if level == 1 {
		out[len(out)-1].below = max(hs.Below, s.style.Gap)
	}
	return out
}

func (s *setter) paragraph(p print.Paragraph, a area) []strip {
	set := setting{typ: s.style.Text, width: a.width}
	tag := print.TagP
	switch p.Kind {
	case print.Quote:
		a = area{x: a.x + s.style.Indent, width: a.width - 2*s.style.Indent, margin: a.margin}
		tag = print.TagQuote
	case print.Verse:
		a = area{x: a.x + 2*s.style.Indent, width: a.width - 3*s.style.Indent, margin: a.margin}
		tag, set.ragged = print.TagQuote, true
	case print.Notice:
		set.typ = s.style.Notice
	case print.Centred:
		set.align = print.Center
	}
	set.width = a.width
	set.node = s.node(tag, s.parent())
	out := textStrips(s.lines(p.Text, set), set.typ, a.x)
	s.mark(out, p.Mark, a, s.parent())
	out = closing(out, s.style.Gap)
	if n := len(out); n > 0 && p.KeepNext {
		out[n-1].cost = never
	}
	return out
}
