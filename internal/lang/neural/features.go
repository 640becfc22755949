package neural

import (
	"hash/crc32"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Rows of the embedding table: padding, frequent words, hashed pieces, shapes.
// train/features.py does the same; the two must agree to the last row.
const (
	wordRows  = 20000
	pieceRows = 40000
	mostRows  = 24 // rows a word adds up, at most
	rowStart  = 2  // the mark before a sentence
)

// normalise gives the spelling that the network sees: one kind of apostrophe
// and of ellipsis, no marks of emphasis.
func normalise(w string) string {
	if len(w) > 1 {
		if s := strings.Trim(w, "_"); s != "" {
			w = s
		}
	}
	switch w {
	case "``", "''", "’’", "‘’":
		return `"`
	case "‘":
		return "“"
	}
	if strings.ContainsAny(w, "’‘`…") {
		w = apostrophes.Replace(w)
	}
	return w
}

var apostrophes = strings.NewReplacer("’", "'", "‘", "'", "`", "'", "…", "...")

func shape(w string) int {
	letter, digit := false, false
	for _, c := range w {
		letter = letter || unicode.IsLetter(c)
		digit = digit || unicode.IsDigit(c)
	}
	first, size := utf8.DecodeRuneInString(w)
	switch {
	case !letter && digit:
		return 1
	case !letter:
		return 0
	case digit:
		return 2
	case w == strings.ToLower(w):
		return 3
	case size == len(w):
		return 4
	case w == strings.ToUpper(w):
		return 5
	case unicode.ToUpper(first) == first && w[size:] == strings.ToLower(w[size:]):
		return 6
	}
	return 7
}

// rows returns the rows of a normalised word, the word's own first.
func (m *model) rows(w string) []int {
	low := strings.ToLower(w)
	own, ok := m.vocabulary[low]
	if !ok {
		own = wordRows // the row of all other words
	}
	out := make([]int, 2, mostRows)
	out[0], out[1] = own, 1+wordRows+pieceRows+shape(w)

	s := []rune(low)
	if len(s) > 40 {
		s = s[:40]
	}
	known := false
	for i, c := range s {
		if c >= '0' && c <= '9' {
			s[i] = '0'
		}
		known = known || unicode.IsLetter(c) || unicode.IsNumber(c)
	}
	add := func(kind byte, piece []rune) {
		if len(out) == mostRows {
			return
		}
		h := crc32.ChecksumIEEE(append([]byte{kind}, string(piece)...))
		r := 1 + wordRows + int(h%pieceRows)
		for _, have := range out[2:] {
			if have == r {
				return
			}
		}
		out = append(out, r)
	}
	if !known {
		add('W', s)
		return out
	}
	for n := 1; n <= 4 && n <= len(s); n++ {
		add('S', s[len(s)-n:])
	}
	for n := 1; n <= 4 && n <= len(s); n++ {
		add('P', s[:n])
	}
	b := append(append([]rune{'<'}, s...), '>')
	for n := 3; n <= 5; n++ {
		for j := 0; j+n <= len(b); j++ {
			add('G', b[j:j+n])
		}
	}
	return out
}
