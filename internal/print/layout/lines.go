package layout

import (
	"bookstead/internal/print"
)

// line is a set line: items from its left end, on the baseline.
type line struct {
	width print.Length // of what stands on it
	items []print.Item
}

// setting says how text is broken into lines.
type setting struct {
	typ    print.Type
	face   print.Face // added to every run
	node   int
	width  print.Length
	first  print.Length // taken off the first line's width at the right
	align  print.Align
	ragged bool
	track  print.Length
}

// lines sets text. An empty text gives no lines.
func (s *setter) lines(t print.Text, set setting) []line {
	if blank(t) && !hasBlank(t) {
		return nil
	}
	p := s.prepare(t, set.typ, set.face, set.node, set.track, set.width)
	// The width of a word is rounded glyph by glyph, that of its parts is not.
	const slack = print.Point / 50
	r := rules{
		width: func(n int) print.Length {
			if n == 0 {
				return set.width - set.first + slack
			}
			return set.width + slack
		},
		sameFrom: 1, pretolerance: -1, tolerance: 500, emergency: 3 * set.typ.Size, linePenalty: 10,
		adjDemerits: 10000, doubleHyphen: 60000, finalHyphen: 40000,
	}
	if set.first == 0 {
		r.sameFrom = 0
	}
	if set.ragged || set.align != print.Left || !s.style.Justify {
		// Ragged lines keep their spaces; a word wider than the measure may still
		// be divided as a last resort.
		r.stretch = 4 * set.typ.Size
		r.tolerance = infBad
		r.emergency, r.neverDivide, r.divideAtLast = set.width, true, true
		for i := range p.items {
			if p.items[i].kind == glueItem {
				p.items[i].stretch, p.items[i].shrink = 0, 0
			}
		}
	}
	var out []line
	from := 0
	for _, to := range breakLines(p.items, r) {
		ragged := r.stretch > 0
		width := r.width(len(out)) - slack
		l := s.setLine(p, from, to, width, ragged)
		if set.align != print.Left {
			shift := width - l.width
			if set.align == print.Center {
				shift /= 2
			}
			for i := range l.items {
				l.items[i].X += shift
			}
		}
		out = append(out, l)
		from = to
	}
	return out
}

func hasBlank(t print.Text) bool {
	for _, r := range t {
		if r.Face&print.Blank != 0 {
			return true
		}
	}
	return false
}

// oneLine sets text without breaking it.
func (s *setter) oneLine(t print.Text, typ print.Type, face print.Face, node int) line {
	p := s.prepare(t, typ, face, node, 0, 1<<40)
	return s.setLine(p, 0, len(p.items)-1, 1<<40, true)
}

// setLine sets the items from a break, or from the start, up to the break at to.
func (s *setter) setLine(p *paragraph, from, to int, width print.Length, ragged bool) line {
	for from < to && p.items[from].kind != boxItem {
		from++
	}
	c := &composer{s: s}
	last := p.items[to].penalty <= -infPenalty && p.items[to].kind == penaltyItem
	for i := from; i < to; i++ {
		switch it := &p.items[i]; it.kind {
		case glueItem:
			if l, ok := p.lookAt(i); ok {
				c.space(l, it.width, it.stretch > 0)
			}
		case boxItem:
			f := p.frags[it.ref]
			if f.gap != nil {
				c.gap(f.gap)
				continue
			}
			// Pieces of one word that stay together are shaped together.
			end := f.to
			j := i + 1
			for ; j < to; j++ {
				if p.items[j].kind == boxItem {
					if g := p.frags[p.items[j].ref]; g.word == f.word {
						end = g.to
						continue
					}
					break
				}
				if p.items[j].kind == glueItem {
					break
				}
			}
			i = j - 1
			_, divided := p.lookAt(to)
			c.word(f.word, f.from, end, divided && j == to && p.items[to].kind == penaltyItem)
		}
	}
	for k := to; k < len(p.items) && p.items[k].kind != boxItem; k++ {
		if l, ok := p.lookAt(k); ok && p.items[k].kind == glueItem {
			c.trailing(l)
			break
		}
	}
	if !ragged {
		c.justify(width, last)
	}
	return line{width: c.natural(), items: c.finish()}
}

// composer puts a line together, run by run.
type composer struct {
	s      *setter
	runs   []run
	tail   print.Length // width of a trailing space, not counted
	spaces []place      // that stretch
}

type place struct{ run, glyph int }

// run is a stretch of glyphs in one look, or a gap.
type run struct {
	look   look
	glyphs []print.Glyph
	gap    *gap
}

func (c *composer) at(l look) *run {
	if n := len(c.runs); n > 0 && c.runs[n-1].gap == nil && c.runs[n-1].look == l {
		return &c.runs[n-1]
	}
	c.runs = append(c.runs, run{look: l})
	return &c.runs[len(c.runs)-1]
}

func (c *composer) gap(g *gap) { c.runs = append(c.runs, run{look: g.look, gap: g}) }

func (c *composer) word(w *word, from, to int, hyphen bool) {
	for _, g := range w.segs {
		a, b := max(from, g.from), min(to, g.to)
		if a >= b {
			continue
		}
		text := string(w.runes[a:b])
		hyphenHere := hyphen && b == to
		if hyphenHere {
			text += "-"
		}
		sh := c.s.shape(g.look.face, g.look.feat, text)
		r := c.at(g.look)
		for _, gl := range sh.glyphs {
			f := g.look.face
			gl.Advance = f.units(gl.Advance, g.look.size) + g.look.track
			gl.X, gl.Y = f.units(gl.X, g.look.size), f.units(gl.Y, g.look.size)
			r.glyphs = append(r.glyphs, gl)
		}
		if hyphenHere {
			r.glyphs[len(r.glyphs)-1].Text = "\u00ad"
		}
	}
}

// space adds a space in the look of the text before it, so that runs are long.
func (c *composer) space(l look, width print.Length, stretches bool) {
	if n := len(c.runs); n > 0 && c.runs[n-1].gap == nil {
		prev := c.runs[n-1].look
		if prev.role == l.role && prev.node == l.node {
			l = prev
		}
	}
	r := c.at(l)
	r.glyphs = append(r.glyphs, c.s.spaceGlyph(l, width))
	if stretches {
		c.spaces = append(c.spaces, place{len(c.runs) - 1, len(r.glyphs) - 1})
	}
}

// trailing ends a line with a space that takes no part in its width, so that
// the words of two lines stay apart for whoever reads the text out of the file.
func (c *composer) trailing(l look) {
	if len(c.runs) == 0 || l.face == nil {
		return
	}
	w := l.face.units(l.face.space, l.size)
	c.space(l, w, false)
	c.tail = w
}

func (s *setter) spaceGlyph(l look, width print.Length) print.Glyph {
	g := print.Glyph{Advance: width, Text: " "}
	if id, ok := l.face.font.NominalGlyph(' '); ok {
		g.ID = uint16(id)
	}
	return g
}

func (c *composer) natural() print.Length {
	var w print.Length
	for _, r := range c.runs {
		w += r.width()
	}
	return w - c.tail
}

func (r *run) width() print.Length {
	if r.gap != nil {
		return r.gap.width
	}
	var w print.Length
	for _, g := range r.glyphs {
		w += g.Advance
	}
	return w
}

// justify shares what is left of the width among the spaces; a last line is
// only ever drawn together.
func (c *composer) justify(width print.Length, last bool) {
	left := width - c.natural()
	n := print.Length(len(c.spaces))
	if n == 0 || last && left > 0 {
		return
	}
	for i, at := range c.spaces {
		share := left*print.Length(i+1)/n - left*print.Length(i)/n
		c.runs[at.run].glyphs[at.glyph].Advance += share
	}
}

// finish places the runs one behind the other.
func (c *composer) finish() []print.Item {
	var out []print.Item
	x := print.Length(0)
	for i := range c.runs {
		r := &c.runs[i]
		w := r.width()
		if r.gap != nil {
			out = append(out, print.Item{X: x, Y: r.look.size / 6, W: w, Shape: print.Line, Thickness: print.Point / 2, Ink: print.Grey})
			for _, it := range r.gap.answer {
				it.X += x
				out = append(out, it)
			}
		} else if len(r.glyphs) > 0 {
			out = append(out, print.Item{Role: r.look.role, Ink: r.look.ink, Node: r.look.node, X: x, W: w,
				Font: c.s.fontIndex(r.look.face), Size: r.look.size, Glyphs: r.glyphs})
		}
		x += w
	}
	return out
}
