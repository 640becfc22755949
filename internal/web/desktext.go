package web

import (
	"html/template"
	"slices"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/kit"
)

// row is a block of the text with the items that belong beside it.
type row struct {
	Kind  book.BlockKind
	Start int // offset of the block, for a selection in the page
	HTML  template.HTML
	Items []itemView
}

// markClass is how an item's place shows in the text, by kind; "" leaves the
// text alone and only gives the item something to point at.
var markClass = map[kit.Kind]string{
	kit.Vocabulary: "w", kit.Practice: "w", kit.Quotation: "q", kit.Figure: "f", kit.Background: "w",
}

// rows lays the items of a lesson beside the blocks of its text. An item whose
// place starts in no block stands beside the first.
func rows(b *book.Book, span book.Span, items []itemView) []row {
	var out []row
	for _, bl := range b.Blocks {
		lo, hi := max(bl.Start, span.Start), min(bl.End, span.End)
		if lo >= hi {
			continue
		}
		cut := book.Block{Span: book.Span{Start: lo, End: hi}, Kind: bl.Kind, Emphasis: bl.Emphasis}
		rw := row{Kind: bl.Kind, Start: lo}
		for _, it := range items {
			if lo <= it.Place.Start && it.Place.Start < hi {
				rw.Items = append(rw.Items, it)
			}
		}
		rw.HTML = blockHTML(b.Text, cut, rw.Items)
		out = append(out, rw)
	}
	if len(out) > 0 {
		for _, it := range items {
			if !slices.ContainsFunc(out, func(rw row) bool {
				return slices.ContainsFunc(rw.Items, func(x itemView) bool { return x.ID == it.ID })
			}) {
				out[0].Items = append(out[0].Items, it)
			}
		}
	}
	return out
}

// blockHTML writes a block's text with its emphasis and the marks of items. Two
// marks that overlap can't both be links: the earlier one, then the shorter one,
// is drawn, the other keeps an anchor at its start.
func blockHTML(text string, bl book.Block, items []itemView) template.HTML {
	type edge struct {
		at    int
		order int // at one offset: ends, then anchors, then starts
		html  string
	}
	var edges []edge
	for _, e := range bl.Emphasis {
		lo, hi := max(e.Start, bl.Start), min(e.End, bl.End)
		if lo < hi {
			edges = append(edges, edge{lo, 3, "<em>"}, edge{hi, 0, "</em>"})
		}
	}
	marked := slices.Clone(items)
	slices.SortStableFunc(marked, func(a, b itemView) int {
		if a.Place.Start != b.Place.Start {
			return a.Place.Start - b.Place.Start
		}
		return a.Place.Len() - b.Place.Len()
	})
	end := -1
	for _, it := range marked {
		id := template.HTMLEscapeString(string(it.ID))
		lo, hi := it.Place.Start, min(it.Place.End, bl.End)
		cls := markClass[it.Kind]
		if cls == "" || lo < end || lo >= hi || crosses(bl.Emphasis, lo, hi) || it.State == kit.Dropped || it.Spare && it.State == kit.Drafted {
			edges = append(edges, edge{lo, 1, `<span id="at-` + id + `" class="at"></span>`})
			continue
		}
		end = hi
		edges = append(edges, edge{lo, 2, `<a class="m ` + cls + `" id="at-` + id + `" href="#item-` + id + `">`}, edge{hi, 0, "</a>"})
	}
	slices.SortStableFunc(edges, func(a, b edge) int {
		if a.at != b.at {
			return a.at - b.at
		}
		return a.order - b.order
	})
	var out strings.Builder
	last := bl.Start
	shown := typesetRuns(text, bl.Span)
	put := func(to int) {
		out.WriteString(strings.ReplaceAll(template.HTMLEscapeString(shown(last, to)), "\n", "<br>"))
		last = to
	}
	for _, e := range edges {
		put(max(e.at, last))
		out.WriteString(e.html)
	}
	put(bl.End)
	return template.HTML(out.String()) //nolint:gosec // every piece was escaped above
}

// crosses reports whether a mark would begin or end inside an emphasis.
func crosses(em []book.Span, lo, hi int) bool {
	for _, e := range em {
		if e.Start < lo && lo < e.End && e.End < hi || lo < e.Start && e.Start < hi && hi < e.End || e.Start <= lo && hi <= e.End {
			return true
		}
	}
	return false
}

// typesetRuns gives parts of a block with the quotation marks and dashes of
// good printing. It must see what stands before a part to tell an opening mark
// from a closing one, so it typesets the block's text up to the part's end.
func typesetRuns(text string, s book.Span) func(lo, hi int) string {
	return func(lo, hi int) string {
		if lo >= hi {
			return ""
		}
		before := book.Typeset(text[s.Start:lo])
		upto := book.Typeset(text[s.Start:min(s.End, hi)])
		if whole := book.Typeset(text[s.Start:s.End]); strings.HasPrefix(whole, before) && len(before) <= len(upto) && strings.HasPrefix(upto, before) {
			return upto[len(before):]
		}
		return book.Typeset(text[lo:hi])
	}
}
