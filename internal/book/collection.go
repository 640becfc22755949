package book

import (
	"strings"
	"unicode"
)

// SeemsCollection reports whether sections without numbers are stories of
// their own rather than chapters of one novel: no name runs through them. It
// looks for a capitalised word that is not only capital because a sentence
// starts with it, and that at least six sections in ten share. Two sections or
// fewer never count as a collection unless they share no name at all.
func SeemsCollection(sections []string) bool {
	if len(sections) < 2 {
		return false
	}
	in := map[string]int{}
	for _, s := range sections {
		for name := range namesIn(s) {
			in[name]++
		}
	}
	most := 0
	for _, n := range in {
		most = max(most, n)
	}
	return most*10 < len(sections)*6
}

// namesIn returns words that stand twice or more with a capital inside a
// sentence and never in small letters.
func namesIn(s string) map[string]bool {
	capital, small := map[string]int{}, map[string]bool{}
	start := true
	for _, f := range strings.Fields(s) {
		w := strings.TrimFunc(f, func(r rune) bool { return !unicode.IsLetter(r) })
		w = strings.TrimSuffix(strings.TrimSuffix(w, "'s"), "’s")
		for i, r := range w {
			if i > 0 {
				break
			}
			switch {
			case unicode.IsLower(r):
				small[w] = true
			case unicode.IsUpper(r) && !start && len(w) > 2 && strings.ToUpper(w) != w:
				capital[w]++
			}
		}
		start = strings.ContainsAny(f, ".!?:“”\"‘—") || strings.HasPrefix(f, "'") || strings.Contains(f, "--")
	}
	out := map[string]bool{}
	for w, n := range capital {
		if n >= 2 && !small[strings.ToLower(w)] {
			out[w] = true
		}
	}
	return out
}
