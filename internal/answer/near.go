package answer

import (
	"strings"
	"unicode"
)

// nearMeaning is the likeness from which a wrong choice might be taken for right.
const nearMeaning = 0.5

// Near reports whether two short texts, words or definitions, may say the same:
// some word of one that carries meaning is like a word of the other.
func (j *Judge) Near(a, b string) bool {
	x, y := j.bare(a), j.bare(b)
	for i := range x {
		for k := range y {
			if like(&x[i], &y[k]) >= nearMeaning {
				return true
			}
		}
	}
	return false
}

// bare are the words of a text that carry meaning, without a tree.
func (j *Judge) bare(s string) []word {
	var out []word
	for _, f := range strings.FieldsFunc(normal(s), func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' && r != '-' }) {
		if j.lex.Function(f) || empty[f] {
			continue
		}
		w := word{form: f, typed: f, content: true, lemmas: j.lemmas(f, f)}
		w.sense = j.meaning(&w)
		out = append(out, w)
	}
	return out
}
