package book

import "sort"

// Pages are an edition's page numbers laid on one book, made by
// [Edition.Pages]. They do not change when the edition does.
type Pages struct {
	marks []mark  // by offset, pages never falling
	rate  float64 // pages a byte over all that is known
}

// Pages lays the edition on the book. Entries that contradict an earlier one
// (pages that go backwards) are left out; [Edition.Problems] names them.
// Corrections whose place is no longer in the text are left out too.
func (e Edition) Pages(b *Book) *Pages {
	p := &Pages{}
	for _, m := range e.marks(b) {
		if n := len(p.marks); n == 0 || m.page >= p.marks[n-1].page {
			p.marks = append(p.marks, m)
		}
	}
	if n := len(p.marks); n > 1 {
		pages := p.marks[n-1].page - p.marks[0].page
		p.rate = float64(pages) / float64(max(p.marks[n-1].offset-p.marks[0].offset, 1))
	}
	return p
}

// At returns the page on which the text at offset stands. about is true when it
// is reckoned, by the share of the text between the nearest known pages (or, in
// front of the first and behind the last, by the pages that the known part
// takes). ok is false when too little is known: no page at all, or a single one
// somewhere else.
func (p *Pages) At(offset int) (page int, about, ok bool) {
	i := sort.Search(len(p.marks), func(i int) bool { return p.marks[i].offset > offset })
	if i > 0 {
		if m := p.marks[i-1]; m.offset == offset || offset < m.end {
			return m.page, false, true
		}
	}
	switch {
	case len(p.marks) == 0 || len(p.marks) == 1 || p.rate == 0 && (i == 0 || i == len(p.marks)):
		return 0, false, false
	case i == 0:
		back := int(float64(p.marks[0].offset-offset)*p.rate + 0.999)
		return max(1, p.marks[0].page-back), true, true
	case i == len(p.marks):
		m := p.marks[i-1]
		if m.chapter == -2 {
			return m.page, false, true
		}
		return m.page + int(float64(offset-m.offset)*p.rate), true, true
	}
	lo, hi := p.marks[i-1], p.marks[i]
	if lo.page == hi.page {
		return lo.page, false, true
	}
	span := hi.page - lo.page
	if hi.chapter == -2 {
		span++ // the last page is full of text too
	}
	step := float64(offset-lo.offset) / float64(hi.offset-lo.offset) * float64(span)
	return min(lo.page+int(step), hi.page), true, true
}

// Range returns the pages that a span covers; about is true when either end is
// reckoned.
func (p *Pages) Range(s Span) (first, last int, about, ok bool) {
	first, a1, ok1 := p.At(s.Start)
	last, a2, ok2 := p.At(max(s.Start, s.End-1))
	return first, max(first, last), a1 || a2, ok1 && ok2
}

// told is the stretch from the first to the last chapter that a class reads.
func (b *Book) told() Span {
	s := Span{0, len(b.Text)}
	found := false
	for _, c := range b.Chapters {
		if !c.Kind.Told() {
			continue
		}
		if !found {
			s.Start, found = c.Start, true
		}
		s.End = c.End
	}
	return s
}

// marks returns everything that is known, in the order of the text. A chapter's
// page holds for its headings and the first letter of its text.
func (e Edition) marks(b *Book) []mark {
	var out []mark
	for i, c := range b.Chapters {
		if page, ok := e.First[i]; ok && page > 0 {
			out = append(out, mark{c.Start, min(c.Body+1, c.End), page, i})
		}
	}
	for _, f := range e.Fixed {
		if s, ok := b.Find(f.Place); ok && f.Page > 0 {
			out = append(out, mark{s.Start, max(s.End, s.Start+1), f.Page, -1})
		}
	}
	if e.Last > 0 {
		end := b.told().End
		out = append(out, mark{max(0, end-1), end, e.Last, -2})
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].offset < out[j].offset })
	return out
}
