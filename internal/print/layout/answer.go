package layout

import "bookstead/internal/print"

// question sets a number, the text beside it, and below it the detail, the
// options or the writing lines.
func (s *setter) question(q print.Question, a area) []strip {
	item := s.parent()
	body := item
	inner := a
	if s.list > 0 {
		item = s.node(print.TagItem, s.list)
	}
	var label line
	if q.Number != "" {
		label = s.oneLine(print.Plain(q.Number+"."), s.style.Text, 0, s.node(print.TagLabel, item))
		inner = a.inset(max(s.style.Indent, label.width+4*print.Point), 0)
	}
	if s.list > 0 {
		body = s.node(print.TagBody, item)
	}
	mark := s.node(print.TagMark, body)
	set := setting{typ: s.style.Text, node: s.node(print.TagP, body), width: inner.width}
	var points line
	if q.Points != "" {
		points = s.oneLine(print.Plain(q.Points), s.style.Small, print.Italic, set.node)
		set.first = points.width + 14*print.Point
	}
	out := textStrips(s.lines(q.Text, set), set.typ, inner.x)
	if len(out) == 0 {
		out = []strip{{height: s.style.Text.Leading}}
	}
	base := baseline(s.style.Text)
	out[0].items = append(at(label.items, a.x, base), out[0].items...)
	out[0].items = append(out[0].items, at(points.items, a.x+a.width-points.width, base)...)
	s.markAs(mark, out, q.Mark, a)
	if !blank(q.Detail) {
		out[len(out)-1].below = s.style.SmallGap
		out = append(out, textStrips(s.lines(q.Detail, setting{typ: s.style.Small, node: s.node(print.TagP, body), width: inner.width}), s.style.Small, inner.x)...)
	}
	out = together(out)
	if len(q.Options) > 0 {
		out[len(out)-1].below = s.style.SmallGap
		out[len(out)-1].cost = never
		out = append(out, s.options(q.Options, inner, body)...)
	}
	if q.Lines > 0 || !blank(q.Answer) || q.Source != "" {
		out[len(out)-1].cost = never
		out = append(out, s.writing(q.Lines, q.Answer, q.Source, inner, body)...)
	}
	return closing(out, s.style.Gap)
}

// writing sets at least least writing lines with the answer on them, and its
// source behind it. Without lines the answer is a paragraph that only the
// teacher sees.
func (s *setter) writing(least int, answer print.Text, source string, a area, parent int) []strip {
	inset := 3 * print.Point
	node := s.node(print.TagAnswer, parent)
	set := setting{typ: s.style.Answer, face: print.Rubric, node: node, width: a.width - 2*inset, ragged: true}
	byHand := s.byHand(s.lines(answer, set), a.width)
	if source != "" {
		answer = print.Join(answer, print.Plain(" ("+source+")"))
	}
	lines := s.lines(answer, set)
	if least <= 0 {
		return together(textStrips(lines, print.Type{Size: s.style.Answer.Size, Leading: max(s.style.Answer.Leading, s.style.Text.Leading)}, a.x))
	}
	n := max(least, len(lines), min(s.style.MostLines, byHand))
	out := make([]strip, n)
	for i := range out {
		out[i] = s.writingLine(a)
		if i < len(lines) {
			out[i].items = append(out[i].items, at(lines[i].items, a.x+inset, s.ruleAt()-s.answerLift())...)
		}
		// A long answer may go on overleaf, but not by one line.
		if out[i].cost = never; n > 6 && i >= 2 && i < n-2 {
			out[i].cost = dear
		}
	}
	return out
}

// byHand is the number of writing lines that an answer fills in a child's hand.
func (s *setter) byHand(lines []line, width print.Length) int {
	var w print.Length
	for _, l := range lines {
		w += l.width
	}
	return int((w*print.Length(s.style.Hand)/100 + width - 1) / width)
}

// ruleAt is where a writing line lies in its strip.
func (s *setter) ruleAt() print.Length { return s.style.Pitch - 2*print.Point }

// answerLift is how far above its line an answer's baseline stands: clear of
// the line, but on it where a midline shows how letters stand.
func (s *setter) answerLift() print.Length {
	if s.style.Midline {
		return print.Point
	}
	return s.style.Answer.Size * 30 / 100
}

// writingLine is one line to write on. With a midline it is three: the line
// that tall letters reach, a dashed one for small letters, and the base.
func (s *setter) writingLine(a area) strip {
	y := s.ruleAt()
	thin := print.Point * 6 / 10
	st := strip{height: s.style.Pitch}
	rule := func(up, dash print.Length) {
		st.items = append(st.items, print.Item{X: a.x, Y: y - up, W: a.width, Thickness: thin, Ink: print.Grey, Dash: dash})
	}
	if s.style.Midline {
		tall := s.style.Pitch * 2 / 3
		rule(tall, 0)
		rule(tall/2, 3*print.Point)
	}
	rule(0, 0)
	return st
}

// options sets lettered choices, side by side when they are short.
func (s *setter) options(opts []print.Option, a area, parent int) []strip {
	list := s.node(print.TagList, parent)
	s.frames.Nodes[list].Numbering = "LowerAlpha"
	room := s.style.Indent
	columns := 1
	for _, n := range []int{4, 3, 2} {
		if len(opts)%n == 0 || len(opts) > n && n == 2 {
			if s.fits(opts, a.width/print.Length(n)-room-6*print.Point) {
				columns = n
				break
			}
		}
	}
	col := a.width / print.Length(columns)
	var out []strip
	for i := 0; i < len(opts); i += columns {
		var row []strip
		for j := i; j < min(i+columns, len(opts)); j++ {
			x := a.x + col*print.Length(j-i)
			item := s.node(print.TagItem, list)
			label := s.oneLine(print.Plain(string(rune('a'+j))), s.style.Text, print.Bold, s.node(print.TagLabel, item))
			body := s.node(print.TagBody, item)
			cell := textStrips(s.lines(opts[j].Text, setting{typ: s.style.Text, node: body, width: col - room - 4*print.Point, ragged: true}), s.style.Text, x+room)
			if len(cell) == 0 {
				cell = []strip{{height: s.style.Text.Leading}}
			}
			base := baseline(s.style.Text)
			cell[0].items = append(at(label.items, x, base), cell[0].items...)
			if opts[j].Right {
				d := s.style.Text.Size * 3 / 2
				cell[0].items = append(cell[0].items, print.Item{Role: print.TeacherOnly, Ink: print.Red, Shape: print.Ring,
					X: x + label.width/2 - d/2, Y: base - s.style.Text.Size/4 - d/2, W: d, H: d, Thickness: print.Point})
			}
			row = beside(row, cell)
		}
		out = append(out, together(row)...)
		out[len(out)-1].cost = never
	}
	return out
}

func (s *setter) fits(opts []print.Option, width print.Length) bool {
	for _, o := range opts {
		if s.oneLine(o.Text, s.style.Text, 0, 0).width > width {
			return false
		}
	}
	return true
}

// beside lays the strips of b on those of a, line by line.
func beside(a, b []strip) []strip {
	for i, st := range b {
		if i == len(a) {
			a = append(a, st)
			continue
		}
		a[i].items = append(a[i].items, st.items...)
		a[i].height = max(a[i].height, st.height)
		a[i].below = max(a[i].below, st.below)
	}
	return a
}

// wordEntry sets the headword beside its sentence, with lines below.
func (s *setter) wordEntry(w print.Word, a area) []strip {
	item := s.node(print.TagItem, s.list)
	left := area{x: a.x, width: s.style.WordColumn - 8*print.Point}
	right := a.inset(s.style.WordColumn, 0)
	label := s.node(print.TagLabel, item)
	head := textStrips(s.lines(w.Head, setting{typ: s.style.Text, face: print.Bold, node: label, width: left.width, ragged: true}), s.style.Text, left.x)
	small := print.Type{Size: s.style.Small.Size, Leading: s.style.Text.Leading}
	head = append(head, textStrips(s.lines(w.Note, setting{typ: small, face: print.Italic, node: label, width: left.width, ragged: true}), small, left.x)...)
	body := s.node(print.TagBody, item)
	mark := s.node(print.TagMark, body)
	text := textStrips(s.lines(w.Sentence, setting{typ: s.style.Text, node: s.node(print.TagP, body), width: right.width}), s.style.Text, right.x)
	if n := max(w.Lines, 1); w.Lines > 0 || !blank(w.Answer) {
		text = append(text, s.writing(n, w.Answer, "", right, body)...)
	}
	out := beside(head, text)
	s.markAs(mark, out, w.Mark, a)
	return closing(together(out), s.style.Gap)
}
