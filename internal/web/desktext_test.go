package web

import (
	"strings"
	"testing"

	"bookstead/internal/book"
	"bookstead/internal/kit"
)

func item(k kit.Kind, id string, start, end int) itemView {
	return itemView{Item: kit.Item{ID: kit.ItemID(id), Kind: k, State: kit.Kept, Place: book.Place{Span: book.Span{Start: start, End: end}}}}
}

func TestBlockHTML(t *testing.T) {
	text := `She said, "It was a <doleful> sound--truly."`
	bl := book.Block{Span: book.Span{Start: 0, End: len(text)}, Kind: book.Paragraph, Emphasis: []book.Span{{Start: 10, End: 16}}}
	w := strings.Index(text, "doleful")
	got := string(blockHTML(text, bl, []itemView{item(kit.Vocabulary, "v", w, w+7), item(kit.Question, "q", 0, 20)}))
	for _, want := range []string{
		`<span id="at-q" class="at"></span>`,
		`<a class="m w" id="at-v" href="#item-v">doleful</a>`,
		`“`, `—truly.”`, `&lt;`, `&gt;`, `<em>`, `</em>`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s in %s", want, got)
		}
	}
	if strings.Contains(got, "<doleful>") {
		t.Error("the book's own text reached the page unescaped")
	}
}

func TestRowsKeepEveryItem(t *testing.T) {
	b := &book.Book{Text: "One.\n\nTwo.", Blocks: []book.Block{{Span: book.Span{Start: 0, End: 4}}, {Span: book.Span{Start: 6, End: 10}}}}
	rs := rows(b, book.Span{Start: 0, End: 10}, []itemView{item(kit.Question, "a", 7, 9), item(kit.Discussion, "b", 99, 99)})
	n := 0
	for _, r := range rs {
		n += len(r.Items)
	}
	if len(rs) != 2 || n != 2 || len(rs[1].Items) != 1 {
		t.Errorf("rows = %+v", rs)
	}
}
