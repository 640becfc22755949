package layout

import (
	"slices"
	"strconv"

	"bookstead/internal/print"
)

// paginate divides the strips into pages and draws the running heads.
func (s *setter) paginate(strips []strip) {
	number := max(s.doc.Running.FirstPage, 1)
	short := ""
	for from := 0; from < len(strips); {
		to := from
		for to < len(strips)-1 && strips[to].cost != forced {
			to++
		}
		ends := s.divideStrips(strips[from : to+1])
		for _, end := range ends {
			short = s.page(strips[from : from+end.to][end.from:], number, short)
			number++
		}
		if strips[to].recto && number%2 == 0 && to < len(strips)-1 {
			short = s.page(nil, number, short)
			number++
		}
		from = to + 1
	}
	if len(strips) == 0 {
		s.page(nil, number, short)
	}
}

type stretch struct{ from, to int }

// divideStrips finds the pages of a run of strips that cost least. Fewer pages
// come before all else but widows and orphans; then the sum of what the breaks
// cost and of the squares of the white left at the foot of all pages but the
// last. A last page with next to nothing on it is dear.
func (s *setter) divideStrips(strips []strip) []stretch {
	const perPage = 20000
	full := s.pageHeight()
	best := make([]int, len(strips)+1) // cost of the strips before i, pages full
	from := make([]int, len(strips)+1)
	for to := 1; to <= len(strips); to++ {
		best[to] = -1
		h := print.Length(0)
		for i := to - 1; i >= 0; i-- {
			if i < to-1 {
				h += max(strips[i].below, strips[i+1].above)
			}
			h += strips[i].height
			with := h
			if strips[i].head != nil {
				with += strips[i].head.height
			}
			if with > full && i < to-1 {
				break
			}
			cost := best[i] + perPage + breakCost(strips, to, with, full)
			if best[to] < 0 || cost < best[to] {
				best[to], from[to] = cost, i
			}
		}
	}
	var out []stretch
	for to := len(strips); to > 0; to = from[to] {
		out = append([]stretch{{from[to], to}}, out...)
	}
	return out
}

// breakCost is the cost of ending a page of the given height before strip to.
func breakCost(strips []strip, to int, h, full print.Length) int {
	fill := int(h * 1000 / full)
	if to == len(strips) {
		if fill < 120 {
			return 200
		}
		return 0
	}
	white := max(1000-fill, 0)
	return max(strips[to-1].cost, 0) + white*white/1000
}

// page draws strips on a new page and returns the running title that holds at
// its end.
func (s *setter) page(strips []strip, number int, short string) string {
	p := print.Page{Number: number}
	opening := false
	y := s.style.Top
	if len(strips) > 0 && strips[0].head != nil {
		p.Items = append(p.Items, repeated(at(strips[0].head.items, 0, y))...)
		y += strips[0].head.height
	}
	for i, st := range strips {
		if i > 0 {
			y += max(strips[i-1].below, st.above)
		}
		if st.short != "" {
			short, opening = st.short, true
		}
		for _, b := range st.marks {
			b.Page, b.Y = len(s.frames.Pages), y+b.Y
			s.frames.Outline = append(s.frames.Outline, b)
		}
		items := at(st.items, 0, y)
		y += st.height
		if left := s.style.Top + s.pageHeight() - y; st.grows && i == len(strips)-1 && left > 0 {
			items[0].H += left
		}
		p.Items = append(p.Items, items...)
	}
	title := short
	if opening {
		title = ""
	}
	s.readingOrder(p.Items)
	p.Items = append(s.running(number, title), p.Items...)
	s.frames.Pages = append(s.frames.Pages, p)
	return short
}

// readingOrder sorts the items of a page as they are read: rules first, then by
// the structure, whose nodes were made in that order. What stands within a line
// of text, an answer on its blank, stays there.
func (s *setter) readingOrder(items []print.Item) {
	key := func(it print.Item) int {
		if s.frames.Nodes[it.Node].Tag == print.TagFill {
			return s.frames.Nodes[it.Node].Parent
		}
		return it.Node
	}
	slices.SortStableFunc(items, func(a, b print.Item) int { return key(a) - key(b) })
}

// repeated takes items out of the structure: a table's head is read once.
func repeated(items []print.Item) []print.Item {
	for i := range items {
		items[i].Node = 0
	}
	return items
}

// running sets the head and the foot of a page.
func (s *setter) running(number int, title string) []print.Item {
	r := s.doc.Running
	a := s.measure()
	small := print.Type{Size: s.style.Small.Size * 95 / 100, Leading: s.style.Small.Leading}
	var out []print.Item
	base := s.style.Top - 30*print.Point
	put := func(text string, align print.Align, y print.Length, typ print.Type, face print.Face, role print.Role) print.Length {
		if text == "" {
			return 0
		}
		l := s.oneLine(print.Plain(text), typ, face, 0)
		x := a.x
		switch align {
		case print.Right:
			x += a.width - l.width
		case print.Center:
			x += (a.width - l.width) / 2
		}
		for _, it := range at(l.items, x, y) {
			if role != print.Content {
				it.Role = role
			}
			if role == print.TeacherOnly {
				it.Ink = print.Red
			}
			out = append(out, it)
		}
		return l.width
	}
	put(r.Left, print.Left, base, small, 0, print.Content)
	if r.Name != "" {
		put(r.Right, print.Right, base, small, print.Italic, print.TeacherOnly)
		room := 150 * print.Point
		w := s.oneLine(print.Plain(r.Name), small, 0, 0).width
		for _, it := range at(s.oneLine(print.Plain(r.Name), small, 0, 0).items, a.x+a.width-room-w-5*print.Point, base) {
			it.Role = print.StudentOnly
			out = append(out, it)
		}
		out = append(out, print.Item{Role: print.StudentOnly, X: a.x + a.width - room, Y: base + 2*print.Point, W: room, Thickness: print.Point / 2, Ink: print.Grey})
	} else {
		put(r.Right, print.Right, base, small, print.Italic, print.Content)
	}
	if r.Left != "" || r.Right != "" || r.Name != "" {
		out = append(out, print.Item{X: a.x, Y: base + 8*print.Point, W: a.width, Thickness: print.Point / 2, Ink: print.Grey})
	}
	foot := s.style.Paper.Height - s.style.Bottom + 34*print.Point
	put(r.Foot, print.Left, foot, s.style.Notice, 0, print.Content)
	if !r.NoNumbers {
		put(strconv.Itoa(number), print.Center, foot, small, 0, print.Content)
	}
	put(title, print.Right, foot, small, print.Italic, print.Content)
	return out
}
