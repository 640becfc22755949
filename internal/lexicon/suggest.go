package lexicon

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

const mostSuggestions = 10

// Suggest returns spellings that may have been meant by a word that is not
// [Lexicon.Correct], the likeliest first, ten at most; never an offensive word.
// Nearest come those one usual confusion away ("ie" for "ei"), then those one
// letter away, then two words run together, then those two letters away; within
// each the more frequent come first.
func (l *Lexicon) Suggest(word string) []string {
	word = strings.TrimSpace(straight(word))
	lower := strings.ToLower(word)
	if lower == "" || len(lower) > 40 {
		return nil
	}
	type candidate struct {
		form string
		cost float64
	}
	best := map[string]float64{}
	try := func(form string, cost float64) {
		if form == lower {
			return
		}
		for _, w := range []string{form, capitalised(form)} {
			if l.formSpellings(w) == 0 {
				continue
			}
			if _, bad := l.Offensive(w); bad || l.keptBack(w) {
				continue
			}
			total := cost - l.usual(w)
			if old, ok := best[w]; !ok || total < old {
				best[w] = total
			}
			return
		}
	}
	for _, r := range l.affixes.replacements {
		for at := 0; ; {
			i := strings.Index(lower[at:], r[0])
			if i < 0 {
				break
			}
			at += i
			meant := lower[:at] + r[1] + lower[at+len(r[0]):]
			if strings.Contains(meant, " ") {
				if a, b, _ := strings.Cut(meant, " "); l.formSpellings(a) != 0 && l.formSpellings(b) != 0 {
					best[meant] = 0
				}
			} else {
				try(meant, 1)
			}
			at++
		}
	}
	eachEdit(lower, func(form string) { try(form, 2) })
	for i := 2; i < len(lower)-1; i++ {
		if a, b := lower[:i], lower[i:]; utf8.ValidString(a) && l.formSpellings(a) != 0 && l.formSpellings(b) != 0 {
			best[a+" "+b] = 8 - min(l.usual(a), l.usual(b))
		}
	}
	if len(best) < 3 && len(lower) >= 4 {
		for form := range l.spoken.Prefix("") {
			if near(form, lower) {
				try(form, 9)
			}
		}
	}
	all := make([]candidate, 0, len(best))
	for form, cost := range best {
		all = append(all, candidate{form, cost})
	}
	slices.SortFunc(all, func(a, b candidate) int {
		switch {
		case a.cost < b.cost:
			return -1
		case a.cost > b.cost:
			return 1
		}
		return strings.Compare(a.form, b.form)
	})
	var out []string
	first, _ := utf8.DecodeRuneInString(word)
	for _, c := range all[:min(len(all), mostSuggestions)] {
		if unicode.IsUpper(first) {
			c.form = capitalised(c.form)
		}
		if !slices.Contains(out, c.form) {
			out = append(out, c.form)
		}
	}
	return out
}

// usual is the higher of the two frequencies of a form, 0 when unknown.
func (l *Lexicon) usual(form string) float64 {
	a, _ := l.Zipf(form)
	b, _ := l.BookZipf(form)
	return max(a, b)
}

// keptBack reports a stem that the dictionary asks not to suggest.
func (l *Lexicon) keptBack(form string) bool {
	value, ok := l.stems.Get(form)
	return ok && strings.IndexByte(string(value), l.affixes.noSuggest) >= 0
}

func capitalised(word string) string {
	r, size := utf8.DecodeRuneInString(word)
	return string(unicode.ToUpper(r)) + word[size:]
}

// eachEdit makes all forms one letter away: one missing, one too many, one
// other, two in the wrong order.
func eachEdit(word string, do func(string)) {
	const letters = "abcdefghijklmnopqrstuvwxyz'"
	for i := range len(word) + 1 {
		if i < len(word) {
			do(word[:i] + word[i+1:])
		}
		if i+1 < len(word) {
			do(word[:i] + word[i+1:i+2] + word[i:i+1] + word[i+2:])
		}
		for _, c := range letters {
			do(word[:i] + string(c) + word[i:])
			if i < len(word) {
				do(word[:i] + string(c) + word[i+1:])
			}
		}
	}
}

// near reports whether two words are two edits apart or less, with the same
// first letter.
func near(a, b string) bool {
	if a == "" || a[0] != b[0] || len(a)-len(b) > 2 || len(b)-len(a) > 2 {
		return false
	}
	const most = 2
	before, now := make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range before {
		before[j] = j
	}
	for i := 1; i <= len(a); i++ {
		now[0] = i
		least := i
		for j := 1; j <= len(b); j++ {
			d := before[j-1]
			if a[i-1] != b[j-1] {
				d++
			}
			now[j] = min(d, before[j]+1, now[j-1]+1)
			least = min(least, now[j])
		}
		if least > most {
			return false
		}
		before, now = now, before
	}
	return before[len(b)] <= most
}
