package txt

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"bookstead/internal/book"
)

// joiner puts wrapped lines together. It knows the words of the whole file, to
// tell a word that was broken at a line end from one that has a hyphen.
type joiner struct {
	words  map[string]bool // words in small letters, hyphens included
	closed bool            // double hyphens stand without spaces
}

func newJoiner(text string) *joiner {
	j := &joiner{}
	tight, spaced := 0, 0
	for rest := text; ; {
		i := strings.Index(rest, "--")
		if i < 0 {
			break
		}
		rest = strings.TrimLeft(rest[i:], "-")
		r, _ := utf8.DecodeRuneInString(rest)
		if r == ' ' {
			spaced++
		} else if unicode.IsLetter(r) {
			tight++
		}
	}
	j.closed = tight >= spaced
	if strings.Contains(text, "-\n") {
		j.words = map[string]bool{}
		for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && r != '-' }) {
			if !strings.HasSuffix(w, "-") {
				j.words[w] = true
			}
		}
	}
	return j
}

// prose joins lines by one space each. A hyphen at a line end joins without a
// space, and goes only when the file has the word elsewhere without one and
// never with it.
func (j *joiner) prose(lines []line) string {
	var out []byte
	last := ""
	for i, l := range lines {
		t := squeeze(l.text)
		first, _ := utf8.DecodeRuneInString(t)
		switch {
		case i == 0:
		case strings.HasSuffix(last, "--"):
			if !j.closed || !letterBefore(last, len(strings.TrimRight(last, "-"))) || !unicode.IsLetter(first) && !strings.ContainsRune("“‘\"'_", first) {
				out = append(out, ' ')
			}
		case strings.HasSuffix(last, "-") && unicode.IsLetter(first) && letterBefore(last, len(last)-1):
			head, tail := lastWord(last[:len(last)-1]), firstWord(t)
			if whole := strings.ToLower(head + tail); j.words[whole] && !j.words[strings.ToLower(head+"-"+tail)] {
				out = out[:len(out)-1]
			}
		default:
			out = append(out, ' ')
		}
		out = append(out, t...)
		last = t
	}
	return string(out)
}

// kept joins lines by one newline each.
func kept(lines []line) string {
	var t []string
	for _, l := range lines {
		t = append(t, squeeze(l.text))
	}
	return strings.Join(t, "\n")
}

func squeeze(s string) string {
	if !strings.Contains(s, "  ") && !strings.Contains(s, "\t") {
		return s
	}
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '\t' }), " ")
}

func letterBefore(s string, at int) bool {
	r, _ := utf8.DecodeLastRuneInString(s[:at])
	return unicode.IsLetter(r)
}

func lastWord(s string) string {
	return s[strings.LastIndexFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && r != '-' })+1:]
}

func firstWord(s string) string {
	if i := strings.IndexFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && r != '-' }); i >= 0 {
		return s[:i]
	}
	return s
}

// italics takes the underscores of _italics_ out and returns what stood between
// them. An underscore without a partner, or in a row of them, stays.
func italics(s string) (string, []book.Span) {
	if !strings.Contains(s, "_") {
		return s, nil
	}
	var out []byte
	var spans []book.Span
	for i := 0; i < len(s); i++ {
		end := -1
		if s[i] == '_' && opens(s, i) {
			end = closing(s, i+1)
		}
		if end < 0 {
			out = append(out, s[i])
			continue
		}
		spans = append(spans, book.Span{Start: len(out), End: len(out) + end - i - 1})
		out = append(out, s[i+1:end]...)
		i = end
	}
	return string(out), spans
}

func opens(s string, i int) bool {
	return i+1 < len(s) && s[i+1] != '_' && s[i+1] != ' ' && s[i+1] != '\n' && (i == 0 || s[i-1] != '_')
}

// closing finds the underscore that ends the italics begun before from.
func closing(s string, from int) int {
	for i := from + 1; i < len(s); i++ {
		if s[i] == '_' {
			if s[i-1] == ' ' || s[i-1] == '\n' || i+1 < len(s) && s[i+1] == '_' {
				return -1
			}
			return i
		}
	}
	return -1
}
