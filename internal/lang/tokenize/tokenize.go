// Package tokenize cuts English text into the words of Universal Dependencies,
// as its English treebanks EWT and GUM do: contractions are multiword tokens
// ("don't" is do + n't), compounds are cut at their hyphens, prefixes are not
// ("non-stop"), punctuation stands alone but for runs ("...", "!!", "--").
//
// Nothing is lost: the bytes between two tokens are white space (or control
// characters), all others lie in exactly one token. The rules are written by
// hand and read each byte once, with short looks ahead, so that time and memory
// grow with the length of the text whatever it holds; the one thing they
// remember is whether a single quotation mark or an emphasis is open, which
// tells ’ the apostrophe from ’ the closing mark. Start with [Append].
package tokenize

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"bookstead/internal/lang"
)

// Append cuts text[start:end], one paragraph, and appends its tokens to dst
// with Start, End, Form and Multi filled and Head -1. Offsets are of text.
func Append(dst []lang.Token, text string, start, end int) []lang.Token {
	s := scanner{text: text[:end], start: start, out: dst}
	for i := start; i < end; {
		i = s.next(i)
	}
	return s.out
}

type scanner struct {
	text     string // cut off behind the paragraph
	start    int
	out      []lang.Token
	emphasis bool // an underscore is open
	single   bool // a single quotation mark is open
}

type class uint8

const (
	symbol class = iota
	space
	letter
	digit
	wide // starts a rune of several bytes
)

var classes = func() (t [256]class) {
	for c := range t {
		switch {
		case c <= ' ' || c == 0x7f:
			t[c] = space
		case c >= '0' && c <= '9':
			t[c] = digit
		case c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z':
			t[c] = letter
		case c >= utf8.RuneSelf:
			t[c] = wide
		}
	}
	return t
}()

// classAt returns the class of the rune at i and its length in bytes.
func (s *scanner) classAt(i int) (class, int) {
	c := classes[s.text[i]]
	if c != wide {
		return c, 1
	}
	r, n := utf8.DecodeRuneInString(s.text[i:])
	switch {
	case r == utf8.RuneError && n == 1: // no UTF-8
		return symbol, 1
	case r == '\u00ad' || r == '\u200d' || unicode.IsLetter(r) || unicode.IsMark(r):
		return letter, n
	case unicode.IsDigit(r):
		return digit, n
	case unicode.IsSpace(r) || unicode.Is(unicode.Zs, r) || unicode.IsControl(r) || r == '\u200b' || r == '\ufeff' || r >= '\u200e' && r <= '\u200f' || r >= '\u2028' && r <= '\u202e' || r >= '\u2060' && r <= '\u206f':
		return space, n
	}
	return symbol, n
}

// at reports the class at i, space behind the end.
func (s *scanner) at(i int) class {
	if i < s.start || i >= len(s.text) {
		return space
	}
	c, _ := s.classAt(i)
	return c
}

// byteAt returns the byte at i, 0 outside the paragraph.
func (s *scanner) byteAt(i int) byte {
	if i < s.start || i >= len(s.text) {
		return 0
	}
	return s.text[i]
}

// isWord reports whether a letter or digit stands at i.
func (s *scanner) isWord(i int) bool { c := s.at(i); return c == letter || c == digit }

// before returns the class of the rune that ends at i.
func (s *scanner) before(i int) class {
	if i <= s.start {
		return space
	}
	if c := classes[s.text[i-1]]; c != wide {
		return c
	}
	_, n := utf8.DecodeLastRuneInString(s.text[s.start:i])
	return s.at(i - n)
}

// emit appends the token text[i:j] and returns j.
func (s *scanner) emit(i, j int) int {
	s.out = append(s.out, lang.Token{Start: i, End: j, Form: s.text[i:j], Head: -1})
	return j
}

// emitParts appends one surface token whose words end at cuts and at j.
func (s *scanner) emitParts(i, j int, cuts ...int) int {
	from, first := i, len(s.out)
	for _, c := range cuts {
		s.emit(from, c)
		from = c
	}
	s.emit(from, j)
	for k := first + 1; k < len(s.out); k++ {
		s.out[k].Multi = -1
	}
	s.out[first].Multi = int8(len(s.out) - first)
	return j
}

// next reads the token at i and returns where to read on.
func (s *scanner) next(i int) int {
	c, n := s.classAt(i)
	switch c {
	case space:
		return i + n
	case letter:
		return s.word(i)
	case digit:
		return s.number(i)
	}
	return s.symbol(i, n)
}

// run returns the end of the letters, digits and marks from i on.
func (s *scanner) run(i int) int {
	for i < len(s.text) {
		c, n := s.classAt(i)
		if c != letter && c != digit {
			break
		}
		i += n
	}
	return i
}

// apostrophe returns the length in bytes of an apostrophe at i, 0 if none.
func (s *scanner) apostrophe(i int) int {
	switch s.byteAt(i) {
	case '\'', '`':
		return 1
	case 0xe2:
		if strings.HasPrefix(s.text[i:], "’") {
			return len("’")
		}
	case 0xca:
		if strings.HasPrefix(s.text[i:], "ʼ") {
			return len("ʼ")
		}
	}
	return 0
}

// fold returns text[i:j] in lower case with a plain apostrophe, "" when it is
// longer than any word that the rules name.
func (s *scanner) fold(i, j int) string {
	if j-i > 24 {
		return ""
	}
	return fold(s.text[i:j])
}

func fold(w string) string {
	plain := true
	for k := 0; k < len(w); k++ {
		if c := w[k]; c >= utf8.RuneSelf || c >= 'A' && c <= 'Z' {
			plain = false
			break
		}
	}
	if plain {
		return w
	}
	return strings.ReplaceAll(strings.ReplaceAll(strings.ToLower(w), "’", "'"), "‘", "'")
}
