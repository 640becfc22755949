package passage

import "strings"

// Balanced is the text of sentence i as it can stand alone: where it opens a
// quotation that ends in a later sentence, or ends one that an earlier sentence
// opened, the missing quotation mark is put in.
func (p Passage) Balanced(i int) string { return balanced(p.Sentence(i)) }

func balanced(s string) string {
	if open, shut := strings.Count(s, "“"), strings.Count(s, "”"); open > 0 || shut > 0 {
		switch { // marks of a quotation that goes on through paragraphs are not doubled
		case unclosed(s, '“', '”'):
			return s + "”"
		case unclosed(reversed(s), '”', '“'):
			return "“" + s
		}
		return s
	}
	if strings.Count(s, `"`)%2 == 1 {
		last := strings.LastIndexByte(s, '"')
		if first := strings.IndexByte(s, '"'); first > 0 && s[first-1] != ' ' && s[first-1] != '-' || last == len(s)-1 {
			return `"` + s
		}
		return s + `"`
	}
	// Single marks: the closing one looks like an apostrophe, so only one behind a
	// stop or a comma is taken for it.
	open := strings.Count(s, "‘")
	shut := 0
	for _, end := range []string{".’", ",’", "!’", "?’", "—’", ";’", ":’"} {
		shut += strings.Count(s, end)
	}
	switch {
	case open > shut:
		return s + "’"
	case shut > open:
		return "‘" + s
	}
	return s
}

// unclosed reports an opening mark with no closing mark behind it.
func unclosed(s string, open, shut rune) bool {
	depth := 0
	for _, r := range s {
		switch r {
		case open:
			depth = 1
		case shut:
			depth = 0
		}
	}
	return depth > 0
}

func reversed(s string) string {
	r := []rune(s)
	for i, j := 0, len(r)-1; i < j; i, j = i+1, j-1 {
		r[i], r[j] = r[j], r[i]
	}
	return string(r)
}
