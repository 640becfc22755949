package tokenize

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// word reads a token that starts with a letter.
func (s *scanner) word(i int) int {
	j := s.run(i)
	if j == len(s.text) || classes[s.text[j]] == space {
		return s.plain(i, j)
	}
	if k := s.address(i, j); k > 0 {
		return s.emit(i, k)
	}
	part := i // start of the part behind the last joined hyphen
	for j < len(s.text) {
		c := s.text[j]
		switch {
		case c == '-' && s.isWord(j+1):
			if s.joined(part, i, j) {
				part, j = j+1, s.run(j+1)
				continue
			}
		case c == '.' && s.isWord(j+1):
			if k := s.dotted(i, j); k > 0 {
				j = k
				continue
			}
			return s.period(i, j)
		case c == '_' && !s.emphasis && s.isWord(j+1):
			j = s.run(j + 1)
			continue
		case c == '&' && s.ampersand(i, j):
			j = s.run(j + 1)
			continue
		case c == '$' && j-i <= 2:
			return s.emit(i, j+1) // US$
		case c == '/' && s.slashed(i, j):
			return s.emit(i, max(j+1, s.run(j+1)))
		case c == '-' && s.stammer(i, j):
			return s.emit(i, j+1)
		case c == '.':
			return s.period(i, j)
		default:
			if n := s.apostrophe(j); n > 0 {
				if k := s.apostropheIn(i, j, n); k > 0 {
					j = k
					continue
				}
				return s.apostropheAfter(i, j, n)
			}
		}
		break
	}
	return s.plain(i, j)
}

// plain emits a word without a period, cutting contractions.
func (s *scanner) plain(i, j int) int {
	w := s.text[i:j]
	if len(w) < 2 || len(w) > 24 {
		return s.emit(i, j)
	}
	if strings.IndexByte(w, '\'') >= 0 || strings.IndexByte(w, '`') >= 0 || strings.Contains(w, "’") || strings.Contains(w, "ʼ") {
		return s.contraction(i, j)
	}
	if len(w) <= 9 {
		if cut := s.fused(w, i); cut > 0 {
			if second := cut >> 8; second > 0 {
				return s.emitParts(i, j, i+cut&0xff, i+second)
			}
			return s.emitParts(i, j, i+cut)
		}
	}
	return s.emit(i, j)
}

// fused returns where a word written together without an apostrophe is cut
// ("cannot", "gonna", "dont"), with a second cut in the next byte; 0 for none.
func (s *scanner) fused(w string, i int) int {
	var b [9]byte
	for k := 0; k < len(w); k++ {
		c := w[k]
		if c >= 'A' && c <= 'Z' {
			c += 'a' - 'A'
		}
		b[k] = c
	}
	switch string(b[:len(w)]) {
	case "cannot", "gonna", "gotta", "gimme", "lemme", "outta":
		return 3
	case "wanna":
		return 3
	case "dunno":
		return 2 | 3<<8
	case "dont", "aint", "isnt", "didnt", "doesnt", "couldnt", "wouldnt", "wasnt", "arent", "havent", "hasnt", "hadnt", "shouldnt", "werent":
		return len(w) - 2
	case "im":
		if w != "IM" {
			return 1
		}
	case "ive":
		return 1
	case "youre", "theyre":
		return len(w) - 2
	case "youve", "theyve", "weve", "youll", "theyll", "itll":
		return len(w) - 2
	case "thats", "whats", "theres", "heres", "hes", "shes":
		return len(w) - 1
	case "lets":
		if s.atStart(i) {
			return 3
		}
	case "its": // "its a pity": the apostrophe was forgotten
		if k := s.skipSpace(i + 3); notOwned[s.fold(k, s.run(k))] {
			return 2
		}
	case "cant", "wont": // nouns of their own in older books
		if s.pronounBefore() || s.atStart(i) {
			return 2
		}
	}
	return 0
}

// notOwned are words before which "its" can only be "it's".
var notOwned = set("a an the not been going always really so my your")

// atStart reports whether nothing but opening marks stands before i in its
// sentence, as far as the last token tells.
func (s *scanner) atStart(i int) bool {
	if i == s.start || len(s.out) == 0 || s.out[len(s.out)-1].Start < s.start {
		return true
	}
	switch s.out[len(s.out)-1].Form {
	case ".", "!", "?", "“", "\"", "...", "—", "--", ":", ";":
		return true
	}
	return false
}

func (s *scanner) pronounBefore() bool {
	if len(s.out) == 0 {
		return false
	}
	switch last := s.out[len(s.out)-1].Form; strings.ToLower(last[:min(len(last), 8)]) {
	case "i", "you", "he", "she", "it", "we", "they", "that", "who", "which", "there", "u", "just", "still", "also":
		return true
	}
	return false
}

// contraction cuts a word that holds apostrophes: clitics from its end, as
// often as there are ("wouldn't've"), and the beginnings of old turns
// ("d'ye", "t'other"). What is left is one word ("o'clock", "ma'am").
func (s *scanner) contraction(i, j int) int {
	w := s.fold(i, j)
	if w == "" {
		return s.emit(i, j)
	}
	switch w {
	case "d'ye", "d'you", "d'yer", "t'other", "th'other", "y'are", "y'know", "t'have", "t'be", "c'mon":
		k := i
		for s.apostrophe(k) == 0 {
			k++
		}
		k += s.apostrophe(k)
		if w == "c'mon" {
			k++
		}
		return s.emitParts(i, j, k)
	case "y'all":
		k := i + 1 + s.apostrophe(i+1)
		s.emit(i, k)
		return s.emit(k, j)
	case "ya'll":
		return s.emit(i, j)
	}
	var cuts [4]int
	n := 0
	for end := j; n < len(cuts); n++ {
		c := s.clitic(i, end)
		if c <= i {
			break
		}
		cuts[len(cuts)-1-n] = c
		end = c
	}
	if n == 0 {
		return s.emit(i, j)
	}
	return s.emitParts(i, j, cuts[len(cuts)-n:]...)
}

// clitic returns where the last clitic of text[i:j] starts, 0 for none.
func (s *scanner) clitic(i, j int) int {
	k := j
	for k > i && classes[s.text[k-1]] == letter {
		k--
	}
	// k is behind the last apostrophe, if one stands there.
	var q int
	switch {
	case k-1 >= i && (s.text[k-1] == '\'' || s.text[k-1] == '`'):
		q = k - 1
	case k-3 >= i && s.text[k-3:k] == "’":
		q = k - 3
	case k-2 >= i && s.text[k-2:k] == "ʼ":
		q = k - 2
	default:
		return 0
	}
	if q == i {
		return 0
	}
	switch tail := s.text[k:j]; strings.ToLower(tail) {
	case "t":
		if c := s.text[q-1]; (c == 'n' || c == 'N') && q-1 > i {
			return q - 1
		}
	case "s", "m", "d":
		// Three letters after a digit or a single letter are plurals: the
		// 1870's, minding one's p's and q's; cut these too but for years.
		if s.before(q) == digit {
			return 0
		}
		return q
	case "ll", "re", "ve":
		return q
	case "n": // more'n ten
		if n := len(s.text[i:q]); n >= 4 && strings.HasSuffix(s.text[i:q], "er") || n >= 4 && s.fold(i, q) == "more" {
			return q
		}
	}
	return 0
}

// apostropheIn reads on behind an apostrophe at j inside a word and returns
// where it went, 0 when the apostrophe does not belong inside.
func (s *scanner) apostropheIn(i, j, n int) int {
	if s.at(j+n) != letter {
		return 0
	}
	if s.text[j] == '`' {
		if k := s.run(j + 1); s.fold(j+1, k) != "s" {
			return 0
		}
	}
	return s.run(j + n)
}

// joined reports whether the hyphen at j belongs to one word: behind a prefix
// that English writes with a hyphen, or before "-wise", "-esque", or in "to-day".
func (s *scanner) joined(part, i, j int) bool {
	if s.at(j+1) == letter || s.at(j+1) == digit {
		if part == i && prefixes[s.fold(i, j)] {
			return true
		}
		if part == i && s.fold(i, j) == "to" { // as older books write "today"
			switch s.fold(j+1, s.run(j+1)) {
			case "day", "night", "morrow":
				return true
			}
		}
	}
	if k := s.run(j + 1); k-j == 5 || k-j == 6 {
		switch s.text[j+1 : k] {
		case "wise", "esque":
			return true
		}
	}
	return false
}

var prefixes = set(`anti arch co contra counter cross e ex extra inter intra macro mega meta micro mid mini multi neo non
	over pan pre post pro proto pseudo psycho quasi re semi socio sub super supra trans tri ultra un uber`)

func set(words string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(words) {
		m[w] = true
	}
	return m
}

// stammer reports whether the hyphen at j ends a word that is broken off:
// "th- the", "b-but". A long word before the hyphen makes it a dash.
func (s *scanner) stammer(i, j int) bool {
	switch next := s.at(j + 1); {
	case next == space && j+1 < len(s.text):
	case s.byteAt(j+1) == ',':
	default:
		return false
	}
	if j-i > 3 {
		return false
	}
	switch s.fold(i, j) {
	case "in", "us", "it", "on", "two", "one", "six", "ten", "out", "up", "off", "to", "mid", "pre", "sub", "non", "air", "day", "sea", "you", "now", "all", "so", "yes", "no", "oh":
		return false
	}
	return true
}

// ampersand reports whether & joins short names: A&E, P&L.
func (s *scanner) ampersand(i, j int) bool {
	k := s.run(j + 1)
	return j-i <= 3 && k-j-1 >= 1 && k-j-1 <= 3
}

// slashed reports whether the slash is part of a word: w/o, s/he, c/o.
func (s *scanner) slashed(i, j int) bool {
	k := max(j+1, s.run(j+1))
	switch s.fold(i, k) {
	case "w/o", "s/he", "c/o", "n/a", "a/c", "w/", "b/c":
		return true
	}
	return false
}

// upperAt reports whether a capital stands at i.
func (s *scanner) upperAt(i int) bool {
	if i >= len(s.text) {
		return false
	}
	r, _ := utf8.DecodeRuneInString(s.text[i:])
	return unicode.IsUpper(r)
}
