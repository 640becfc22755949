package divide

import (
	"bookstead/internal/book"
)

// WordsPerPage is the length of a page of a children's novel where only pages
// are known (common practice, no source).
const WordsPerPage = 250

func onPaper(b *book.Book) bool { return b.Source.Format == "paper" }

// fromPages gives each chapter of a book on paper the length of its pages, and
// keeps only chapters as boundaries: where inside one a lesson could begin is
// not known. A chapter whose pages are not known keeps the words typed of it.
func fromPages(b *book.Book, e book.Edition, bs []Boundary, words []int) ([]Boundary, []int) {
	var outB []Boundary
	var outW []int
	total := 0
	for i, x := range bs {
		if !x.Kind.Inside() {
			x.Words = total
			outB, outW = append(outB, x), append(outW, 0)
		}
		k := len(outW) - 1
		outW[k] += words[i]
		if i+1 == len(bs) || !bs[i+1].Kind.Inside() {
			outW[k] = max(outW[k], pages(b, e, x.Chapter)*WordsPerPage)
			total += outW[k]
		}
	}
	return outB, outW
}

// pages is how many pages a chapter has in the edition, 0 when not known.
func pages(b *book.Book, e book.Edition, chapter int) int {
	first, ok := e.First[chapter]
	if !ok {
		return 0
	}
	for i := chapter + 1; i < len(b.Chapters); i++ {
		if next, ok := e.First[i]; ok {
			return max(0, next-first) / (i - chapter)
		}
	}
	return max(0, e.Last-first+1)
}
