package layout

import "bookstead/internal/print"

// The total-fit breaker of Knuth and Plass, "Breaking paragraphs into lines"
// (Software: Practice and Experience 11, 1981), in the arithmetic of TeX: the
// measures of tex.web §108 (badness), §859 (demerits) and §851–853 (fitness),
// all in whole numbers, so that breaks are the same on every machine and can be
// compared with TeX's own.

type kind uint8

const (
	boxItem kind = iota
	glueItem
	penaltyItem
)

// item is a box, glue or penalty of a paragraph. A penalty with a width is a
// place to hyphenate: the width is that of the hyphen.
type item struct {
	kind                   kind
	width, stretch, shrink print.Length
	fil                    bool // glue: stretches without end
	penalty                int
	flagged                bool // penalty: a hyphen, not wanted twice in a row
	soft                   bool // penalty: a word divided, not allowed in the first pass
	ref                    int  // box: index of what is drawn; else of its look, from 1
	fixed                  bool // glue: no break here
}

const (
	infPenalty = 10000 // never break
	infBad     = 10000
	awful      = 1<<62 - 1
)

// rules are the parameters of a paragraph, named as in TeX.
type rules struct {
	width        func(line int) print.Length // lines count from 0
	sameFrom     int                         // from this line on all widths are equal
	stretch      print.Length                // of the ragged right margin; 0 justifies
	pretolerance int                         // badness allowed without dividing words; < 0 skips that pass
	tolerance    int
	emergency    print.Length // stretch added to each line of a last pass; 0 means none
	linePenalty  int
	adjDemerits  int64
	doubleHyphen int64
	finalHyphen  int64
	neverDivide  bool // leave out soft breaks even in the second pass
	divideAtLast bool // but allow them in the last
}

// badness is about 100(t/s)³, at most infBad (tex.web §108).
func badness(t, s print.Length) int {
	switch {
	case t == 0:
		return 0
	case s <= 0:
		return infBad
	}
	r := t
	if t <= 7230584 {
		r = t * 297 / s
	} else if s >= 1663497 {
		r = t / (s / 297)
	}
	if r > 1290 {
		return infBad
	}
	return int((r*r*r + 1<<17) >> 18)
}

const (
	veryLoose = iota
	loose
	decent
	tight
)

// active is a breakpoint that a line may start from.
type active struct {
	at       int // index of the item broken at; -1 is the start
	line     int // lines that end here or before
	fit      int
	flagged  bool
	demerits int64
	prev     *active
	// width, stretch and shrink are the sums of all items up to the first one
	// of the next line.
	width, stretch, shrink print.Length
	fil                    int
}

// breakLines returns the index of the item at which each line ends. The last
// item must be a forced break. It tries without dividing words, then with, then
// with extra stretch, as TeX does.
func breakLines(items []item, r rules) []int {
	if r.pretolerance >= 0 {
		if b := (&pass{items: items, rules: r, threshold: r.pretolerance}).run(); b != nil {
			return b
		}
	}
	last := r.emergency <= 0
	if b := (&pass{items: items, rules: r, threshold: r.tolerance, divide: !r.neverDivide, last: last}).run(); b != nil {
		return b
	}
	return (&pass{items: items, rules: r, threshold: r.tolerance, divide: !r.neverDivide || r.divideAtLast, extra: r.emergency, last: true}).run()
}

type pass struct {
	items     []item
	rules     rules
	threshold int
	divide    bool
	extra     print.Length
	last      bool

	actives                []*active
	width, stretch, shrink print.Length
	fil                    int
}

// run returns the breaks, or nil when some line fits in no way.
func (p *pass) run() []int {
	p.actives = []*active{{at: -1, fit: decent}}
	for i := range p.items {
		it := &p.items[i]
		switch it.kind {
		case boxItem:
			p.width += it.width
		case glueItem:
			if i > 0 && p.items[i-1].kind == boxItem && !it.fixed {
				p.try(i, 0, 0, false)
			}
			p.width += it.width
			p.shrink += it.shrink
			if it.fil {
				p.fil++
			} else {
				p.stretch += it.stretch
			}
		case penaltyItem:
			if it.penalty < infPenalty && (!it.soft || p.divide) {
				p.try(i, it.penalty, it.width, it.flagged)
			}
		}
		if len(p.actives) == 0 {
			return nil
		}
	}
	best := p.actives[0]
	for _, a := range p.actives[1:] {
		if a.demerits < best.demerits {
			best = a
		}
	}
	var out []int
	for a := best; a.prev != nil; a = a.prev {
		out = append(out, a.at)
	}
	for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
		out[i], out[j] = out[j], out[i]
	}
	return out
}

// candidate is the best way to a break in one class of fitness.
type candidate struct {
	demerits int64
	from     *active
}

// try considers a break at item i from every active node (tex.web §829).
func (p *pass) try(i, penalty int, hyphen print.Length, flagged bool) {
	var best [4]candidate
	lowest := int64(awful)
	reset := func() {
		for f := range best {
			best[f] = candidate{demerits: awful}
		}
		lowest = awful
	}
	reset()
	final := i == len(p.items)-1
	kept := p.actives[:0:0]
	line := -1
	flush := func() {
		if lowest < awful {
			limit := lowest + p.rules.adjDemerits
			for f, c := range best {
				if c.from != nil && c.demerits <= limit {
					kept = append(kept, p.node(i, c.from, f, flagged, c.demerits))
				}
			}
		}
		reset()
	}
	for n, a := range p.actives {
		// Nodes of different line numbers stay apart only where lines differ in
		// width.
		if key := min(a.line, p.rules.sameFrom); key != line {
			flush()
			line = key
		}
		b, fit := p.fit(a, hyphen)
		stays := true
		artificial := false
		if b > infBad || penalty <= -infPenalty {
			if p.last && lowest == awful && len(kept) == 0 && n == len(p.actives)-1 {
				artificial = true
			} else if b > p.threshold {
				continue // deactivated
			}
			stays = false
		} else if b > p.threshold {
			kept = append(kept, a)
			continue
		}
		d := int64(0)
		if !artificial {
			d = p.demerits(a, b, penalty, fit, flagged, final)
		}
		d += a.demerits
		if d <= best[fit].demerits {
			best[fit] = candidate{d, a}
			lowest = min(lowest, d)
		}
		if stays {
			kept = append(kept, a)
		}
	}
	flush()
	p.actives = sorted(kept, p.rules.sameFrom)
}

// sorted keeps nodes of earlier lines first, as the grouping in try needs.
func sorted(nodes []*active, same int) []*active {
	for i := 1; i < len(nodes); i++ {
		for j := i; j > 0 && min(nodes[j].line, same) < min(nodes[j-1].line, same); j-- {
			nodes[j], nodes[j-1] = nodes[j-1], nodes[j]
		}
	}
	return nodes
}

// fit is the badness and the class of the line from a to the current item.
func (p *pass) fit(a *active, hyphen print.Length) (int, int) {
	short := p.rules.width(a.line) - (p.width - a.width) - hyphen
	if short > 0 {
		if p.fil > a.fil {
			return 0, decent
		}
		stretch := p.stretch - a.stretch + p.rules.stretch + p.extra
		if short > 7230584 && stretch < 1663497 {
			return infBad, veryLoose
		}
		switch b := badness(short, stretch); {
		case b > 99:
			return b, veryLoose
		case b > 12:
			return b, loose
		default:
			return b, decent
		}
	}
	shrink := p.shrink - a.shrink
	if -short > shrink {
		return infBad + 1, tight
	}
	b := badness(-short, shrink)
	if b > 12 {
		return b, tight
	}
	return b, decent
}

func (p *pass) demerits(a *active, b, penalty, fit int, flagged, final bool) int64 {
	d := int64(p.rules.linePenalty + b)
	if d >= 10000 {
		d = 100000000
	} else {
		d *= d
	}
	if pp := int64(penalty) * int64(penalty); penalty > 0 {
		d += pp
	} else if penalty > -infPenalty {
		d -= pp
	}
	if a.flagged {
		if final {
			d += p.rules.finalHyphen
		} else if flagged {
			d += p.rules.doubleHyphen
		}
	}
	if fit-a.fit > 1 || a.fit-fit > 1 {
		d += p.rules.adjDemerits
	}
	return d
}

// node makes the break at item i active. What can be discarded after a break,
// glue and penalties up to the next box, does not count for the next line.
func (p *pass) node(i int, from *active, fit int, flagged bool, demerits int64) *active {
	n := &active{at: i, line: from.line + 1, fit: fit, flagged: flagged, demerits: demerits, prev: from,
		width: p.width, stretch: p.stretch, shrink: p.shrink, fil: p.fil}
	for j := i; j < len(p.items); j++ {
		it := &p.items[j]
		if it.kind == boxItem || it.kind == penaltyItem && it.penalty <= -infPenalty && j > i {
			break
		}
		if it.kind == glueItem {
			n.width += it.width
			n.shrink += it.shrink
			if it.fil {
				n.fil++
			} else {
				n.stretch += it.stretch
			}
		}
	}
	return n
}
