package layout

import (
	"unicode"
	"unicode/utf8"

	"bookstead/internal/print"
)

// word is a stretch of text without spaces, in one look or several.
type word struct {
	runes []rune
	segs  []seg
}

// seg is a part of a word in one look: runes from to to.
type seg struct {
	from, to int
	look     look
	shape    *shaped
}

// width is that of the runes from from to to, as they stand in the whole word.
func (w *word) width(from, to int) print.Length {
	var sum print.Length
	for _, g := range w.segs {
		a, b := max(from, g.from), min(to, g.to)
		if a < b {
			sum += g.look.face.units(g.shape.upto[b-g.from]-g.shape.upto[a-g.from], g.look.size)
			sum += g.look.track * print.Length(b-a)
		}
	}
	return sum
}

func (w *word) add(s *setter, r rune, l look) {
	l.face = s.substitute(l.face, r)
	if l.feat&smallCaps != 0 && !l.face.smcp {
		if u := unicode.ToUpper(r); u != r {
			r = u
			l.size = l.size * 4 / 5
		}
	}
	if n := len(w.segs); n > 0 && w.segs[n-1].look == l {
		w.segs[n-1].to++
	} else {
		w.segs = append(w.segs, seg{from: len(w.runes), to: len(w.runes) + 1, look: l})
	}
	w.runes = append(w.runes, r)
}

func (w *word) shape(s *setter) {
	for i := range w.segs {
		g := &w.segs[i]
		g.shape = s.shape(g.look.face, g.look.feat, string(w.runes[g.from:g.to]))
	}
}

// frag is what a box of a paragraph draws: a part of a word, or a gap to fill in.
type frag struct {
	word     *word
	from, to int
	gap      *gap
}

// gap is a blank in running text, with the answer that belongs on it.
type gap struct {
	width  print.Length
	answer []print.Item // from the gap's left end, on its baseline
	look   look
}

// paragraph is text made ready for breaking.
type paragraph struct {
	items []item
	frags []frag
	looks []look // of spaces and of the hyphens at penalties
}

// lookAt is the look of a glue or a penalty: of the space, or of the hyphen
// that a break there brings.
func (p *paragraph) lookAt(i int) (look, bool) {
	if it := &p.items[i]; it.kind != boxItem && it.ref > 0 {
		return p.looks[it.ref-1], true
	}
	return look{}, false
}

// keep stores a look for an item and returns its ref.
func (p *paragraph) keep(l look) int {
	if n := len(p.looks); n == 0 || p.looks[n-1] != l {
		p.looks = append(p.looks, l)
	}
	return len(p.looks)
}

// tabularFace asks for figures of one height and width, for columns of numbers.
const tabularFace print.Face = 1 << 7

// prepare cuts text into boxes, glue and penalties. Base is added to the face
// of every run.
func (s *setter) prepare(t print.Text, typ print.Type, base print.Face, node int, track print.Length, width print.Length) *paragraph {
	p := &paragraph{}
	w := &word{}
	var last look
	softs := map[int]bool{} // places of soft hyphens in w
	whole := false          // no division in this word
	flush := func() {
		if len(w.runes) > 0 {
			w.shape(s)
			s.divide(p, w, softs, whole)
		}
		w, softs, whole = &word{}, map[int]bool{}, false
	}
	for _, run := range t {
		l := s.lookOf(run.Face|base, typ.Size, node)
		l.track = track
		if base&tabularFace != 0 {
			l.feat = l.feat&^oldStyle | tabular
		}
		last = l
		if run.Face&print.Blank != 0 {
			flush()
			p.addGap(s.gap(run, typ, node, width))
			continue
		}
		for _, r := range run.Text {
			switch r {
			case ' ', '\t', '\u00a0', '\u202f':
				flush()
				p.addSpace(l, r == '\u00a0' || r == '\u202f')
			case '\n':
				flush()
				p.end(false)
			case '\u00ad':
				softs[len(w.runes)] = true
			case '\u200b', '\ufeff', '\r':
			default:
				w.add(s, r, l)
				whole = whole || run.Face&print.Bold != 0 && base&print.Bold == 0
			}
		}
	}
	flush()
	p.keepLast(last)
	p.end(true)
	return p
}

func (p *paragraph) addGap(g *gap) {
	p.frags = append(p.frags, frag{gap: g})
	p.items = append(p.items, item{kind: boxItem, width: g.width, ref: len(p.frags) - 1})
}

func (p *paragraph) addSpace(l look, fixed bool) {
	n := len(p.items)
	if n == 0 || p.items[n-1].kind == glueItem {
		return
	}
	w := l.face.units(l.face.space, l.size)
	p.items = append(p.items, item{kind: glueItem, width: w, stretch: w * 3 / 4, shrink: w / 8, fixed: fixed, ref: p.keep(l)})
}

// end closes a line of verse or the paragraph: fill the line, then break.
func (p *paragraph) end(final bool) {
	if n := len(p.items); n > 0 && p.items[n-1].kind == glueItem && !p.items[n-1].fil {
		p.items = p.items[:n-1]
	}
	if n := len(p.items); !final && n == 0 {
		return
	}
	p.items = append(p.items, item{kind: penaltyItem, penalty: infPenalty}, item{kind: glueItem, fil: true},
		item{kind: penaltyItem, penalty: -infPenalty, flagged: final})
}

// keepLast makes a short last word dear to leave alone on its line.
func (p *paragraph) keepLast(l look) {
	if l.face == nil {
		return
	}
	for i := len(p.items) - 1; i > 0; i-- {
		if p.items[i].kind != glueItem {
			continue
		}
		var w print.Length
		for _, it := range p.items[i+1:] {
			w += it.width
		}
		if w < 3*l.size && !p.items[i].fixed {
			// The penalty goes before the space, where a break would be free.
			p.items = append(p.items[:i+1], p.items[i:]...)
			p.items[i] = item{kind: penaltyItem, penalty: 300}
		}
		return
	}
}

// divide adds a word's boxes, with a penalty at each place where it may end a
// line: after hyphens and dashes of its own, at soft hyphens, and where the
// hyphenator allows.
func (s *setter) divide(p *paragraph, w *word, softs map[int]bool, whole bool) {
	places := s.breaks(w, whole)
	from := 0
	box := func(to int) {
		if to == from {
			return
		}
		p.frags = append(p.frags, frag{word: w, from: from, to: to})
		p.items = append(p.items, item{kind: boxItem, width: w.width(from, to), ref: len(p.frags) - 1})
		from = to
	}
	for i := 1; i < len(w.runes); i++ {
		switch {
		case softs[i] || places[i]:
			box(i)
			l := w.lookAt(i - 1)
			p.items = append(p.items, item{kind: penaltyItem, penalty: 200, flagged: true, soft: !softs[i], ref: p.keep(l),
				width: l.face.units(s.shape(l.face, l.feat, "-").width, l.size)})
		case breakAfter(w.runes, i-1):
			box(i)
			p.items = append(p.items, item{kind: penaltyItem, penalty: 50, flagged: w.runes[i-1] == '-'})
		}
	}
	box(len(w.runes))
}

// breakAfter reports whether a line may end behind rune i of a word: behind a
// dash or a hyphen between letters, not at the word's start.
func breakAfter(r []rune, i int) bool {
	if i == 0 || i+1 == len(r) {
		return false
	}
	switch r[i] {
	case '—', '–':
		return unicode.IsLetter(r[i+1]) || unicode.IsDigit(r[i+1]) || r[i+1] == '“' || r[i+1] == '‘'
	case '-', '‐', '/':
		return unicode.IsLetter(r[i-1]) && unicode.IsLetter(r[i+1])
	case '…':
		return unicode.IsLetter(r[i+1])
	}
	return false
}

func (w *word) lookAt(i int) look {
	for _, g := range w.segs {
		if i < g.to {
			return g.look
		}
	}
	return w.segs[len(w.segs)-1].look
}

// breaks are the places where patterns divide the word. Names, words with a
// hyphen or an apostrophe inside, and words set off in bold stay whole.
func (s *setter) breaks(w *word, whole bool) map[int]bool {
	if s.hyphenator == nil || whole {
		return nil
	}
	from, to := 0, len(w.runes)
	for from < to && !unicode.IsLetter(w.runes[from]) {
		from++
	}
	for to > from && !unicode.IsLetter(w.runes[to-1]) {
		to--
	}
	if to-from > 2 && (w.runes[to-2] == '’' || w.runes[to-2] == '\'') && w.runes[to-1] == 's' {
		to -= 2
	}
	if to-from < 6 || unicode.IsUpper(w.runes[from]) {
		return nil
	}
	core := string(w.runes[from:to])
	at, ok := s.words[core]
	if !ok {
		for _, b := range s.hyphenator.Breaks(core) {
			at = append(at, utf8.RuneCountInString(core[:b]))
		}
		s.words[core] = at
	}
	if len(at) == 0 {
		return nil
	}
	out := make(map[int]bool, len(at))
	for _, i := range at {
		out[from+i] = true
	}
	return out
}

// gap is the room for a blank: as long as its answer in a child's hand, within
// the measure.
func (s *setter) gap(run print.Run, typ print.Type, node int, width print.Length) *gap {
	g := &gap{look: s.lookOf(0, typ.Size, node), width: s.style.Blank}
	if run.Text == "" {
		g.width = min(g.width, width)
		return g
	}
	size := min(s.style.Answer.Size, typ.Size)
	answer := s.oneLine(print.Styled(run.Text, print.Rubric), print.Type{Size: size, Leading: typ.Leading}, 0, s.node(print.TagFill, node))
	need := answer.width * print.Length(s.style.Hand) / 100
	g.width = min(max(g.width, need, answer.width+2*print.Point), width)
	for _, it := range answer.items {
		it.X += (g.width - answer.width) / 2
		g.answer = append(g.answer, it)
	}
	return g
}
