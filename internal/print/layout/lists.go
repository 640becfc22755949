package layout

import "bookstead/internal/print"

// matching sets prompts with a short blank beside lettered choices, or below
// them. Rows stay together as long as they fit on a page.
func (s *setter) matching(m print.Matching, a area) []strip {
	if len(m.Prompts) == 0 {
		return nil
	}
	left, right := a, a
	if !m.Bank {
		w := s.promptWidth(m, a.width)
		left.width = w
		right = a.inset(w+20*print.Point, 0)
	}
	prompts := s.node(print.TagList, s.parent())
	s.frames.Nodes[prompts].Numbering = "Decimal"
	var rows [][]strip
	for _, p := range m.Prompts {
		rows = append(rows, s.prompt(p, left, prompts))
	}
	choices := s.node(print.TagList, s.parent())
	s.frames.Nodes[choices].Numbering = "UpperAlpha"
	if m.Bank {
		out := s.bank(m.Choices, a, choices)
		out[len(out)-1].below = s.style.Gap
		for i, r := range rows {
			r[len(r)-1].below = s.style.SmallGap
			if i == len(rows)-1 {
				r[len(r)-1].below = s.style.Gap
			}
			out = append(out, r...)
		}
		return out
	}
	for i, c := range m.Choices {
		cell := s.choice(c, right, choices)
		if i == len(rows) {
			rows = append(rows, nil)
		}
		rows[i] = beside(rows[i], cell)
	}
	var out []strip
	for _, r := range rows {
		r = together(r)
		r[len(r)-1].below = s.style.SmallGap
		r[len(r)-1].cost = dear
		out = append(out, r...)
	}
	return closing(out, s.style.Gap)
}

// promptBlank is the room of the blank that a letter is written on.
func (s *setter) promptBlank() print.Length { return s.style.Text.Size * 5 / 2 }

// promptWidth is what the longest prompt asks for, between a quarter and a half
// of the measure.
func (s *setter) promptWidth(m print.Matching, measure print.Length) print.Length {
	var w print.Length
	for _, p := range m.Prompts {
		w = max(w, s.oneLine(p.Text, s.style.Text, 0, 0).width)
	}
	w += s.promptBlank() + 6*print.Point + s.style.Indent
	return min(max(w, measure/4), measure/2)
}

func (s *setter) prompt(p print.Prompt, a area, list int) []strip {
	item := s.node(print.TagItem, list)
	var label line
	labelNode := s.node(print.TagLabel, item)
	if p.Number != "" {
		label = s.oneLine(print.Plain(p.Number+"."), s.style.Text, 0, labelNode)
	}
	body := s.node(print.TagBody, item)
	mark := s.node(print.TagMark, body)
	blank := s.promptBlank()
	indent := blank + 6*print.Point
	if p.Number != "" {
		indent += s.style.Indent
	}
	inner := a.inset(indent, 0)
	out := textStrips(s.lines(p.Text, setting{typ: s.style.Text, node: body, width: inner.width, ragged: true}), s.style.Text, inner.x)
	if len(out) == 0 {
		out = []strip{{height: s.style.Text.Leading}}
	}
	base := baseline(s.style.Text)
	out[0].items = append(out[0].items, print.Item{X: a.x, Y: base + 2*print.Point, W: blank, Thickness: print.Point * 6 / 10, Ink: print.Grey})
	if p.Key != "" {
		key := s.oneLine(print.Styled(p.Key, print.Rubric), s.style.Text, 0, s.node(print.TagFill, body))
		out[0].items = append(at(key.items, a.x+(blank-key.width)/2, base), out[0].items...)
	}
	out[0].items = append(at(label.items, a.x+blank+6*print.Point, base), out[0].items...)
	s.markAs(mark, out, p.Mark, a)
	return out
}

func (s *setter) choice(c print.Choice, a area, list int) []strip {
	item := s.node(print.TagItem, list)
	label := s.oneLine(print.Plain(c.Letter), s.style.Text, print.Bold, s.node(print.TagLabel, item))
	room := max(s.style.Indent*3/4, label.width+6*print.Point)
	out := textStrips(s.lines(c.Text, setting{typ: s.style.Text, node: s.node(print.TagBody, item), width: a.width - room, ragged: true}), s.style.Text, a.x+room)
	if len(out) == 0 {
		out = []strip{{height: s.style.Text.Leading}}
	}
	out[0].items = append(at(label.items, a.x, baseline(s.style.Text)), out[0].items...)
	return out
}

// bank sets the choices in columns above the prompts.
func (s *setter) bank(choices []print.Choice, a area, list int) []strip {
	var opts []print.Option
	for _, c := range choices {
		opts = append(opts, print.Option{Text: c.Text})
	}
	columns := 1
	for n := min(4, len(choices)); n > 1; n-- {
		if s.fits(opts, a.width/print.Length(n)-s.style.Indent-6*print.Point) {
			columns = n
			break
		}
	}
	col := a.width / print.Length(columns)
	var out []strip
	for i := 0; i < len(choices); i += columns {
		var row []strip
		for j := i; j < min(i+columns, len(choices)); j++ {
			row = beside(row, s.choice(choices[j], area{x: a.x + col*print.Length(j-i), width: col - 6*print.Point}, list))
		}
		out = append(out, row...)
	}
	if len(out) == 0 {
		return []strip{{}}
	}
	out = together(out)
	out[len(out)-1].cost = never
	return out
}

// listOfItems hangs each item on its label, a box to tick, or a dash.
func (s *setter) listOfItems(l print.List, a area) []strip {
	list := s.node(print.TagList, s.parent())
	room := s.style.Indent
	for _, it := range l.Items {
		if it.Label != "" {
			room = max(room, s.oneLine(print.Plain(it.Label), s.style.Text, 0, 0).width+8*print.Point)
		}
	}
	var out []strip
	for _, it := range l.Items {
		item := s.node(print.TagItem, list)
		labelNode := s.node(print.TagLabel, item)
		body := s.node(print.TagBody, item)
		mark := s.node(print.TagMark, body)
		text := it.Label
		indent := print.Length(0)
		if l.Boxes {
			indent = s.style.Indent
		} else if text == "" {
			text = "–"
		}
		inner := a.inset(indent, 0)
		hang := print.Length(0)
		if text != "" {
			hang = room
		}
		strips := textStrips(s.lines(it.Text, setting{typ: s.style.Text, node: body, width: inner.width - hang, ragged: true}), s.style.Text, inner.x+hang)
		if len(strips) == 0 {
			strips = []strip{{height: s.style.Text.Leading}}
		}
		base := baseline(s.style.Text)
		if text != "" {
			strips[0].items = append(at(s.oneLine(print.Plain(text), s.style.Text, 0, labelNode).items, inner.x, base), strips[0].items...)
		}
		if l.Boxes {
			strips[0].items = append(strips[0].items, s.box(a.x, base, s.style.Text.Size))
		}
		s.markAs(mark, strips, it.Mark, a)
		strips = together(strips)
		strips[len(strips)-1].below = s.style.SmallGap
		strips[len(strips)-1].cost = between
		out = append(out, strips...)
	}
	if n := len(out); n > 3 { // no single item left behind
		out[0].cost, out[n-2].cost = never, never
	}
	return closing(out, s.style.Gap)
}

// box is a square to tick, standing on the baseline.
func (s *setter) box(x, base, size print.Length) print.Item {
	d := size * 85 / 100
	return print.Item{Shape: print.Box, X: x, Y: base - d + print.Point/2, W: d, H: d, Thickness: print.Point * 7 / 10}
}

// grid sets words in columns, well apart.
func (s *setter) grid(g print.Grid, a area) []strip {
	if len(g.Words) == 0 {
		return nil
	}
	apart := 2 * s.style.Text.Size
	var widest print.Length
	for _, w := range g.Words {
		widest = max(widest, s.oneLine(w, s.style.Text, 0, 0).width)
	}
	columns := g.Columns
	if columns <= 0 {
		columns = int(min(max((a.width+apart)/(widest+apart), 1), 6))
	}
	col := a.width / print.Length(columns)
	list := s.node(print.TagList, s.parent())
	high := print.Type{Size: s.style.Text.Size, Leading: s.style.Text.Leading * 4 / 3}
	var out []strip
	for i := 0; i < len(g.Words); i += columns {
		row := strip{height: high.Leading, cost: between}
		for j := i; j < min(i+columns, len(g.Words)); j++ {
			body := s.node(print.TagBody, s.node(print.TagItem, list))
			l := s.oneLine(g.Words[j], high, 0, body)
			row.items = append(row.items, at(l.items, a.x+col*print.Length(j-i), baseline(high))...)
		}
		out = append(out, row)
	}
	if len(out) <= 3 {
		out = together(out)
	}
	return closing(out, s.style.Gap)
}

// drawing is an empty frame, at least as high as asked.
func (s *setter) drawing(d print.Drawing, a area) []strip {
	node := 0
	if d.Alt != "" {
		node = s.node(print.TagFigure, s.parent())
		s.frames.Nodes[node].Alt = d.Alt
	}
	h := min(d.Height, s.pageHeight()-4*s.style.Text.Leading)
	return []strip{{height: h, above: s.style.SmallGap, below: s.style.Gap, cost: free, grows: true, items: []print.Item{
		{Node: node, Shape: print.Box, X: a.x, W: a.width, H: h, Thickness: print.Point * 6 / 10, Ink: print.Grey}}}}
}
