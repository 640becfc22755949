package book

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

func wordRune(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }

// contextBytes is how many bytes of prefix and suffix a place remembers.
const contextBytes = 32

// Place is a span that finds itself again in another edition or a corrected
// file: a W3C Web Annotation text-position selector (the Span) beside a
// text-quote selector (Exact, Prefix, Suffix). See
// https://www.w3.org/TR/annotation-model/#text-quote-selector.
type Place struct {
	Span
	Exact  string `json:"exact"`
	Prefix string `json:"prefix"`
	Suffix string `json:"suffix"`
}

// Place makes the place for a span of the book.
func (b *Book) Place(s Span) Place {
	lo := max(0, s.Start-contextBytes)
	for lo < s.Start && !utf8.RuneStart(b.Text[lo]) {
		lo++
	}
	hi := min(len(b.Text), s.End+contextBytes)
	for hi > s.End && hi < len(b.Text) && !utf8.RuneStart(b.Text[hi]) {
		hi--
	}
	return Place{Span: s, Exact: b.Slice(s), Prefix: b.Slice(Span{lo, s.Start}), Suffix: b.Slice(Span{s.End, hi})}
}

// Find returns where the place lies in this book. It looks first where it was,
// then among all occurrences of the exact quote for the one whose surroundings
// agree best (nearest to the old offset among equals). ok is false when the
// quote is not there at all; an empty quote is found only where it was.
func (b *Book) Find(p Place) (s Span, ok bool) {
	if p.Start >= 0 && p.End <= len(b.Text) && p.Start <= p.End && b.Text[p.Start:p.End] == p.Exact &&
		strings.HasSuffix(b.Text[:p.Start], p.Prefix) && strings.HasPrefix(b.Text[p.End:], p.Suffix) {
		return p.Span, true
	}
	if p.Exact == "" {
		return Span{}, false
	}
	best, bestScore, bestDist := -1, -1, 0
	for from := 0; ; {
		i := strings.Index(b.Text[from:], p.Exact)
		if i < 0 {
			break
		}
		at := from + i
		score := commonSuffix(b.Text[:at], p.Prefix) + commonPrefix(b.Text[at+len(p.Exact):], p.Suffix)
		dist := at - p.Start
		if dist < 0 {
			dist = -dist
		}
		if score > bestScore || score == bestScore && dist < bestDist {
			best, bestScore, bestDist = at, score, dist
		}
		from = at + 1
	}
	if best < 0 {
		return Span{}, false
	}
	return Span{best, best + len(p.Exact)}, true
}

func commonPrefix(a, b string) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}

func commonSuffix(a, b string) int {
	n := 0
	for n < len(a) && n < len(b) && a[len(a)-1-n] == b[len(b)-1-n] {
		n++
	}
	return n
}
