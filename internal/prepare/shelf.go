package prepare

import (
	"fmt"

	"bookstead/internal/book"
	"bookstead/internal/readability"
)

// Ease sums up how hard a book is to read by the published formulas, which
// look at lengths and not at sense.
func Ease(b *book.Book) string {
	var text string
	for _, c := range b.Chapters {
		if c.Kind.Told() {
			text += b.Slice(book.Span{Start: c.Body, End: c.End}) + "\n\n"
		}
	}
	s := readability.Of(text)
	return fmt.Sprintf("reading grade about %.0f (Flesch-Kincaid), %.0f (Coleman-Liau); reading ease %.0f", max(0, s.FleschKincaid), max(0, s.ColemanLiau), s.FleschEase)
}
