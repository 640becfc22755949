package epub

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"bookstead/internal/book"
)

// run collects the text of one block: white space becomes one space, a line
// break one newline, and invisible characters go.
type run struct {
	text  []byte
	space bool        // a space is due before the next character
	em    []book.Span // relative to text
	open  int         // where the italics began, -1 outside of them
	depth int         // nested italics
	marks []pageMark
}

// pageMark is a page break inside a block.
type pageMark struct {
	label string
	at    int
}

func newRun() *run { return &run{open: -1} }

func (r *run) write(s string) {
	for _, c := range s {
		switch {
		case c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f':
			r.space = r.space || len(r.text) > 0 && r.text[len(r.text)-1] != '\n'
		case invisible(c):
		default:
			if r.space {
				r.text = append(r.text, ' ')
				r.space = false
			}
			if r.depth > 0 && r.open < 0 {
				r.open = len(r.text)
			}
			r.text = utf8.AppendRune(r.text, c)
		}
	}
}

// verbatim writes preformatted text, line ends kept.
func (r *run) verbatim(s string) {
	for i, l := range strings.Split(s, "\n") {
		if i > 0 {
			r.newline()
		}
		r.write(l)
	}
}

func (r *run) newline() {
	r.space = false
	if len(r.text) > 0 {
		r.text = append(r.text, '\n')
	}
}

func (r *run) emphasis(on bool) {
	if on {
		r.depth++
		return
	}
	if r.depth--; r.depth == 0 {
		r.closeEmphasis()
	}
}

func (r *run) closeEmphasis() {
	if r.open >= 0 && len(r.text) > r.open {
		if n := len(r.em); n > 0 && strings.TrimSpace(string(r.text[r.em[n-1].End:r.open])) == "" {
			r.em[n-1].End = len(r.text)
		} else {
			r.em = append(r.em, book.Span{Start: r.open, End: len(r.text)})
		}
	}
	r.open = -1
}

// page notes a page break at this place.
func (r *run) page(label string) { r.marks = append(r.marks, pageMark{label, len(r.text)}) }

// take returns what was collected and starts anew, inside italics if they are
// still open.
func (r *run) take() (text string, em []book.Span, marks []pageMark) {
	r.closeEmphasis()
	text, em, marks = string(r.text), r.em, r.marks
	r.text, r.em, r.marks, r.space = nil, nil, nil, false
	return text, em, marks
}

// invisible reports whether a character is never seen: soft hyphen, zero-width
// space, word joiner, byte order mark, control.
func invisible(c rune) bool {
	return c == '\u00ad' || c == '\u200b' || c == '\u2060' || c == '\ufeff' || unicode.IsControl(c)
}

func visible(s string) string {
	return strings.Map(func(c rune) rune {
		if invisible(c) && !unicode.IsSpace(c) {
			return -1
		}
		return c
	}, s)
}
