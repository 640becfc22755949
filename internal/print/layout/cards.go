package layout

import "bookstead/internal/print"

// cards sets sheets of cards, each a page of its own, with dashed lines to cut
// along. The backs lie mirrored, so that a sheet printed on both sides along
// its long edge has each back behind its front.
func (s *setter) cards(c print.Cards) []strip {
	columns, rows := max(c.Columns, 1), max(c.Rows, 1)
	per := columns * rows
	backs := false
	for _, card := range c.Cards {
		backs = backs || !blank(card.Back)
	}
	list := s.node(print.TagList, s.parent())
	// Cut lines are centred on the sheet, so that both sides meet.
	side := min(s.style.Left, s.style.Right)
	sheet := area{x: side, width: s.style.Paper.Width - 2*side}
	var out []strip
	for i := 0; i < len(c.Cards); i += per {
		page := c.Cards[i:min(i+per, len(c.Cards))]
		out = append(out, s.cardSheet(page, columns, rows, sheet, list, false))
		if backs {
			out = append(out, s.cardSheet(page, columns, rows, sheet, list, true))
		}
	}
	return out
}

func (s *setter) cardSheet(cards []print.Card, columns, rows int, sheet area, list int, back bool) strip {
	st := strip{height: s.pageHeight(), cost: forced}
	w, h := sheet.width/print.Length(columns), st.height/print.Length(rows)
	for i, c := range cards {
		col, row := i%columns, i/columns
		if back {
			col = columns - 1 - col
		}
		cell := area{x: sheet.x + w*print.Length(col), width: w}.inset(8*print.Point, 8*print.Point)
		st.items = append(st.items, at(s.card(c, cell, list, back), 0, h*print.Length(row)+h/2)...)
	}
	if back {
		return st
	}
	used := (len(cards) + columns - 1) / columns
	cut := func(x, y, dx, dy print.Length) {
		st.items = append(st.items, print.Item{X: x, Y: y, W: dx, H: dy, Thickness: print.Point / 2, Dash: 3 * print.Point, Ink: print.Grey})
	}
	for r := 0; r <= used; r++ {
		cut(sheet.x, h*print.Length(r), w*print.Length(columns), 0)
	}
	for c := 0; c <= columns; c++ {
		cut(sheet.x+w*print.Length(c), 0, 0, h*print.Length(used))
	}
	return st
}

// card sets one side of a card around a middle line at Y 0.
func (s *setter) card(c print.Card, a area, list int, back bool) []print.Item {
	body := s.node(print.TagBody, s.node(print.TagItem, list))
	set := setting{typ: s.style.Card, node: s.node(print.TagP, body), width: a.width, align: print.Center}
	text, detail := c.Front, c.Detail
	if back {
		text, detail, set.typ = c.Back, nil, s.style.Text
	} else if w := s.oneLine(text, set.typ, 0, 0).width; w > a.width {
		// A long word is set smaller rather than broken.
		set.typ.Size = max(set.typ.Size*a.width/w, s.style.Text.Size)
		set.typ.Leading = set.typ.Size * 5 / 4
	}
	out := textStrips(s.lines(text, set), set.typ, a.x)
	if !blank(detail) {
		set.typ, set.face, set.node = s.style.Small, print.Italic, s.node(print.TagP, body)
		out = append(out, textStrips(s.lines(detail, set), set.typ, a.x)...)
	}
	var items []print.Item
	y := -height(out) / 2
	for _, st := range out {
		items = append(items, at(st.items, 0, y)...)
		y += st.height
	}
	return items
}
