package prepare

import (
	"fmt"

	"bookstead/internal/book"
	"bookstead/internal/lexicon"
	"bookstead/internal/readability"
)

// Ease sums up how hard a book is to read by the published formulas, which
// look at lengths and not at sense.
func Ease(b *book.Book) string {
	lex, err := lexicon.Open()
	if err != nil {
		return "" // what reads the book will say it
	}
	var text string
	for _, c := range b.Chapters {
		if c.Kind.Told() {
			text += b.Slice(book.Span{Start: c.Body, End: c.End}) + "\n\n"
		}
	}
	c := readability.OfText(lex, text)
	if c.Words == 0 || c.Sentences == 0 {
		return "no text to measure"
	}
	return fmt.Sprintf("reading grade about %.0f (Flesch-Kincaid), %.0f (Coleman-Liau); reading ease %.0f", max(0, c.FleschKincaid()), max(0, c.ColemanLiau()), c.FleschReadingEase())
}
