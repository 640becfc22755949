package layout

import "bookstead/internal/print"

const cellPad = 5 * print.Point

// table sets rows between thin lines. The head is repeated on each page; a row
// is cut only when it is taller than a page.
func (s *setter) table(t print.Table, a area) []strip {
	if len(t.Columns) == 0 {
		return nil
	}
	node := s.node(print.TagTable, s.parent())
	columns := s.columns(t.Columns, a)
	var out []strip
	var head *strip
	cells := make([]print.Cell, len(t.Columns))
	named := false
	for i, c := range t.Columns {
		cells[i] = print.Cell{Texts: []print.Text{c.Head}}
		named = named || !blank(c.Head)
	}
	if named {
		rows := s.row(print.Row{Cells: cells}, t.Columns, columns, node, rowHead)
		head = merge(rows)
		head.items = append(head.items, print.Item{X: a.x, Y: head.height, W: a.width, Thickness: print.Point})
		head.cost = never
		out = append(out, *head)
	}
	for i, r := range t.Rows {
		kind := rowPlain
		if r.Head {
			kind = rowNamed
		}
		for _, part := range s.cut(s.row(r, t.Columns, columns, node, kind), head) {
			part.height = max(part.height, r.Least)
			part.items = append(part.items, print.Item{X: a.x, Y: part.height, W: a.width, Thickness: print.Point * 4 / 10, Ink: print.Grey})
			part.head = head
			part.cost = between
			out = append(out, part)
		}
		if i == 0 || i == len(t.Rows)-2 {
			out[len(out)-1].cost = dear
		}
	}
	return closing(out, s.style.Gap*3/2)
}

// columns are the places of the columns, by their shares.
func (s *setter) columns(cols []print.Column, a area) []area {
	var total print.Length
	for _, c := range cols {
		total += print.Length(max(c.Share, 1))
	}
	out := make([]area, len(cols))
	var sum print.Length
	for i, c := range cols {
		from := a.width * sum / total
		sum += print.Length(max(c.Share, 1))
		out[i] = area{x: a.x + from, width: a.width*sum/total - from}
	}
	return out
}

type rowKind uint8

const (
	rowPlain rowKind = iota
	rowNamed         // its first cell heads it
	rowHead          // it heads the columns
)

// row sets the cells of a row as strips, one for each line of type. Cells with
// as many texts run in step: texts of the same index start on one line. Each
// strip may be the last on a page if the row must be cut.
func (s *setter) row(r print.Row, cols []print.Column, places []area, table int, kind rowKind) []strip {
	tr := s.node(print.TagRow, table)
	cells := map[int][][][]strip{} // by the number of texts: cells, texts, lines
	most := 1
	col := 0
	for i, c := range r.Cells {
		if col >= len(cols) {
			break
		}
		span := min(max(c.Span, 1), len(cols)-col)
		place := area{x: places[col].x, width: places[col+span-1].x + places[col+span-1].width - places[col].x}
		align := cols[col].Align
		set := setting{typ: s.style.Small, align: align, ragged: true}
		tag, scope := print.TagCell, ""
		if kind == rowHead || kind == rowNamed && i == 0 {
			tag, set.face = print.TagHead, print.Bold
			if scope = "Row"; kind == rowHead {
				scope = "Column"
			}
		}
		if align == print.Right {
			set.face |= tabularFace
		}
		node := s.node(tag, tr)
		s.frames.Nodes[node].Scope = scope
		if span > 1 {
			s.frames.Nodes[node].Span = span
		}
		// The outer edges of a table are flush with the text.
		left, right := cellPad, cellPad
		if col == 0 {
			left = 0
		}
		if col+span == len(cols) {
			right = 0
		}
		place = place.inset(left, right)
		var texts [][]strip
		for _, t := range c.Texts {
			texts = append(texts, s.cellText(t, c.Box, set, place, node))
		}
		cells[len(texts)] = append(cells[len(texts)], texts)
		most = max(most, len(texts))
		col += span
	}
	var out []strip
	for n := range most + 1 { // not over the map: its order is not fixed
		out = beside(out, inStep(cells[n]))
	}
	if len(out) == 0 {
		out = []strip{{height: s.style.Small.Leading}}
	}
	return out
}

// inStep lays cells of equally many texts side by side, and lets each text
// start where the longest text before it has ended.
func inStep(cells [][][]strip) []strip {
	if len(cells) == 0 {
		return nil
	}
	var out []strip
	for i := range cells[0] {
		var row []strip
		for _, texts := range cells {
			row = beside(row, texts[i])
		}
		out = append(out, row...)
	}
	return out
}

func (s *setter) cellText(t print.Text, box bool, set setting, place area, cell int) []strip {
	inner := place
	if box {
		inner = place.inset(set.typ.Size*3/2, 0)
	}
	set.width = inner.width
	set.node = s.node(print.TagP, cell)
	out := textStrips(s.lines(t, set), set.typ, inner.x)
	if len(out) == 0 {
		out = []strip{{height: set.typ.Leading}}
	}
	if box {
		out[0].items = append(out[0].items, s.box(place.x, baseline(set.typ), set.typ.Size))
	}
	return out
}

// merge stacks strips into one, with the room of a cell around them.
func merge(strips []strip) *strip {
	out := &strip{height: cellPad * 3 / 4}
	for i, st := range strips {
		if i > 0 {
			out.height += max(strips[i-1].below, st.above)
		}
		out.items = append(out.items, at(st.items, 0, out.height)...)
		out.height += st.height
	}
	out.height += cellPad * 3 / 4
	return out
}

// cut merges a row into one strip, or into several where it is taller than a
// page.
func (s *setter) cut(strips []strip, head *strip) []strip {
	room := s.pageHeight() - 2*cellPad
	if head != nil {
		room -= head.height
	}
	var out []strip
	from := 0
	for i := range strips {
		if height(strips[from:i+1]) > room && i > from {
			out = append(out, *merge(strips[from:i]))
			from = i
		}
	}
	return append(out, *merge(strips[from:]))
}
