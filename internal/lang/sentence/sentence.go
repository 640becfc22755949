// Package sentence finds where sentences end among the tokens of a paragraph.
//
// [Ends] asks at every gap where a sentence may end (behind a full stop and its
// closing marks, and at a few weaker places).
package sentence

import (
	"unicode"
	"unicode/utf8"

	"bookstead/internal/lang"
)

// Ends appends to dst the indices behind the last token of each sentence of one
// paragraph's tokens; the last is len(tokens). Tokens of one multiword token
// are never parted.
func Ends(dst []int, text string, tokens []lang.Token) []int {
	for i := 0; i+1 < len(tokens); i++ {
		if tokens[i+1].Multi < 0 || !stops(tokens, i) {
			continue
		}
		j := i + 1
		for j < len(tokens) && closing(tokens[j].Form) && tokens[j].Start == tokens[j-1].End {
			j++
		}
		if j == len(tokens) {
			break
		}
		next := tokens[j].Form
		r, _ := utf8.DecodeRuneInString(next)
		if unicode.IsUpper(r) || unicode.IsDigit(r) || next == "“" || next == "\"" || next == "‘" || next == "'" || next == "(" {
			dst = append(dst, j)
			i = j - 1
		}
	}
	if len(tokens) > 0 {
		dst = append(dst, len(tokens))
	}
	return dst
}

func stops(tokens []lang.Token, i int) bool {
	f := tokens[i].Form
	switch f[len(f)-1] {
	case '.':
		return len(f) == 1 || f[0] == '.'
	case '!', '?':
		return true
	}
	return f == "…"
}

func closing(f string) bool {
	switch f {
	case "”", "’", "\"", "'", ")", "]", "''":
		return true
	}
	return false
}
