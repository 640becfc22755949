package book

import (
	"strings"
	"unicode"
)

// Typeset gives the text the characters of good printing: curly quotation
// marks for straight ones, a dash for two hyphens, an ellipsis for three full
// stops. It is for showing and printing only; the stored text stays as the
// file has it. Text that has them already is not changed.
func Typeset(s string) string {
	if !strings.ContainsAny(s, "\"'-.`") {
		return s
	}
	in := []rune(s)
	var out strings.Builder
	out.Grow(len(s) + 8)
	at := func(i int) rune {
		if i < 0 || i >= len(in) {
			return ' '
		}
		return in[i]
	}
	for i := 0; i < len(in); i++ {
		switch r := in[i]; {
		case r == '-' && at(i+1) == '-':
			n := 2
			for at(i+n) == '-' {
				n++
			}
			out.WriteString(strings.Repeat("—", max(1, n/2)))
			i += n - 1
		case r == '.' && at(i+1) == '.' && at(i+2) == '.':
			out.WriteRune('…')
			i += 2
		case r == '"':
			if opens(at(i-1), at(i+1)) {
				out.WriteRune('“')
			} else {
				out.WriteRune('”')
			}
		case r == '\'' || r == '`':
			if opens(at(i-1), at(i+1)) && !clipped(in[i+1:]) {
				out.WriteRune('‘')
			} else {
				out.WriteRune('’')
			}
		default:
			out.WriteRune(r)
		}
	}
	return out.String()
}

// opens reports whether a quotation mark between these two runes opens.
func opens(before, after rune) bool {
	if unicode.IsSpace(after) {
		return false
	}
	return unicode.IsSpace(before) || strings.ContainsRune("([{—–-“‘\"'", before)
}

// clipped reports whether an apostrophe before this text stands for letters
// left out, as in 'tis and 'em.
func clipped(rest []rune) bool {
	n := 0
	for n < len(rest) && unicode.IsLetter(rest[n]) {
		n++
	}
	switch strings.ToLower(string(rest[:n])) {
	case "tis", "twas", "twere", "twill", "twould", "em", "im", "er", "bout", "cause", "cept", "course", "round", "n", "nother", "pon", "neath", "gainst", "ud", "un":
		return true
	}
	return n == 0 && len(rest) > 0 && unicode.IsDigit(rest[0]) // the '60s
}
