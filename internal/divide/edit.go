package divide

import (
	"slices"
	"strings"
	"unicode/utf8"

	"bookstead/internal/book"
	"bookstead/internal/fault"
	"bookstead/internal/kit"
)

// Cuts are the lessons' beginnings as cuts, so that a division can be kept and
// changed. Titles that the teacher gave are carried over from old.
func Cuts(b *book.Book, lessons []kit.Lesson, old []kit.Cut) []kit.Cut {
	named := map[int]string{}
	for _, c := range old {
		if s, ok := b.Find(c.Place); ok && c.Title != "" {
			named[s.Start] = c.Title
		}
	}
	out := make([]kit.Cut, len(lessons))
	for i, l := range lessons {
		out[i] = cutAt(b, l.Start)
		out[i].Title = named[l.Start]
	}
	return out
}

// cutBytes is about how much of the text at its place a cut remembers.
const cutBytes = 60

// cutAt is the cut at the start of a block: its place quotes the block's
// opening words, so that it is found again in a corrected file.
func cutAt(b *book.Book, offset int) kit.Cut {
	end := min(len(b.Text), offset+cutBytes)
	if i := slices.IndexFunc(b.Blocks, func(bl book.Block) bool { return bl.Start <= offset && offset < bl.End }); i >= 0 {
		end = min(end, b.Blocks[i].End)
	}
	if sp := strings.LastIndexAny(b.Text[offset:end], " \n"); end-offset >= cutBytes && sp > 0 {
		end = offset + sp
	}
	for end > offset && end < len(b.Text) && !utf8.RuneStart(b.Text[end]) {
		end--
	}
	return kit.Cut{Place: b.Place(book.Span{Start: offset, End: end})}
}

// Add begins a lesson at the boundary nearest to an offset. It is Invalid when
// a lesson begins there already.
func Add(b *book.Book, cuts []kit.Cut, offset int) ([]kit.Cut, error) {
	bs := Boundaries(b, true)
	if len(bs) == 0 {
		return nil, noText()
	}
	at := bs[nearest(bs, offset)].Offset
	for _, c := range cuts {
		if s, ok := b.Find(c.Place); ok && s.Start == at {
			return nil, fault.New(fault.Invalid, "A lesson begins there already.", "Choose another paragraph.")
		}
	}
	out := append(slices.Clone(cuts), cutAt(b, at))
	slices.SortStableFunc(out, func(x, y kit.Cut) int { return where(b, x) - where(b, y) })
	return out, nil
}

// Move begins lesson number n (from 1) at the boundary nearest to an offset
// instead. It is Invalid for the first lesson, and where the new place does not
// lie between the beginnings of its neighbours.
func Move(b *book.Book, cuts []kit.Cut, n, offset int) ([]kit.Cut, error) {
	if n <= 1 || n > len(cuts) {
		return nil, noSuch(n)
	}
	bs := Boundaries(b, true)
	if len(bs) == 0 {
		return nil, noText()
	}
	at := bs[nearest(bs, offset)].Offset
	if at <= where(b, cuts[n-2]) || n < len(cuts) && at >= where(b, cuts[n]) {
		return nil, fault.New(fault.Invalid, "A lesson has to begin behind the beginning of the lesson before it, and before the next one.",
			"Remove the boundary between two lessons if they should become one.")
	}
	out := slices.Clone(cuts)
	title := out[n-1].Title
	out[n-1] = cutAt(b, at)
	out[n-1].Title = title
	return out, nil
}

// Remove joins lesson number n (from 1) to the one before it.
func Remove(b *book.Book, cuts []kit.Cut, n int) ([]kit.Cut, error) {
	if n <= 1 || n > len(cuts) {
		return nil, noSuch(n)
	}
	return slices.Delete(slices.Clone(cuts), n-1, n), nil
}

// where is the offset of a cut, where it was when its words are gone.
func where(b *book.Book, c kit.Cut) int {
	if s, ok := b.Find(c.Place); ok {
		return s.Start
	}
	return c.Place.Start
}

func noText() error {
	return fault.New(fault.Invalid, "This book has no chapter that a class could read.", "Look at the chapters of the book and say which belong to the story.")
}

func noSuch(n int) error {
	if n == 1 {
		return fault.New(fault.Invalid, "The first lesson begins where the story begins.", "Move the beginning of a later lesson.")
	}
	return fault.New(fault.NotFound, "That lesson is not there any more.", "Load the page again.")
}
