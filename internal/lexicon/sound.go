package lexicon

import (
	"bytes"
	"strings"
	"unicode"
)

// Pronunciation is a row of ARPAbet phones; vowels end in a stress digit
// (0 none, 1 main, 2 secondary): "K", "AE1", "T".
type Pronunciation []string

// String joins the phones with spaces.
func (p Pronunciation) String() string { return strings.Join(p, " ") }

// Syllables counts the vowels.
func (p Pronunciation) Syllables() int {
	n := 0
	for _, phone := range p {
		if isVowel(phone) {
			n++
		}
	}
	return n
}

// Plain is the pronunciation without stress digits.
func (p Pronunciation) Plain() Pronunciation {
	out := make(Pronunciation, len(p))
	for i, phone := range p {
		out[i] = strings.TrimRight(phone, "012")
	}
	return out
}

func isVowel(phone string) bool {
	return phone != "" && phone[len(phone)-1] >= '0' && phone[len(phone)-1] <= '2'
}

// Pronunciations returns how a word is said in American English, in the order
// of the dictionary; nil when it lacks the word.
func (l *Lexicon) Pronunciations(word string) []Pronunciation {
	codes, ok := l.said.Get(normal(word))
	if !ok {
		return nil
	}
	var out []Pronunciation
	for _, way := range bytes.Split(codes, []byte{0}) {
		p := make(Pronunciation, len(way))
		for i, c := range way {
			p[i] = l.phones[c]
		}
		out = append(out, p)
	}
	return out
}

// Syllables counts the syllables of a word: from the dictionary, else by rule.
// It is at least 1 for anything with a letter or digit, else 0.
func (l *Lexicon) Syllables(word string) int {
	word = strings.Trim(normal(word), "-'")
	if codes, ok := l.said.Get(word); ok {
		n := 0
		for _, c := range codes {
			if c == 0 {
				break
			}
			if isVowel(l.phones[c]) {
				n++
			}
		}
		return max(n, 1)
	}
	if strings.ContainsAny(word, "- ") {
		n := 0
		for _, part := range strings.FieldsFunc(word, func(r rune) bool { return r == '-' || r == ' ' }) {
			n += l.Syllables(part)
		}
		return n
	}
	if base, ok := strings.CutSuffix(word, "'s"); ok && base != "" {
		n := l.Syllables(base)
		if endsInHiss(base) {
			n++
		}
		return n
	}
	if n, ok := l.inflectedSyllables(word); ok {
		return n
	}
	return syllablesByRule(word)
}

// inflectedSyllables counts a word that the dictionary lacks but whose base it
// has.
func (l *Lexicon) inflectedSyllables(word string) (int, bool) {
	for _, e := range []struct {
		ending string
		bases  []string // what stands in its place
		more   func(base string) int
	}{
		{"ness", []string{"", "y:i"}, one}, {"ly", []string{"", "y:i", "le:"}, one}, {"ing", []string{"", "e"}, one},
		{"ed", []string{"", "e"}, func(b string) int {
			if strings.HasSuffix(strings.TrimSuffix(b, "e"), "t") || strings.HasSuffix(strings.TrimSuffix(b, "e"), "d") {
				return 1
			}
			return 0
		}},
		{"es", []string{"", "e"}, func(b string) int {
			if endsInHiss(strings.TrimSuffix(b, "e")) || endsInHiss(b) {
				return 1
			}
			return 0
		}},
		{"s", []string{""}, func(string) int { return 0 }},
		{"less", []string{""}, one}, {"ful", []string{""}, one},
	} {
		stem, ok := strings.CutSuffix(word, e.ending)
		if !ok || len(stem) < 3 {
			continue
		}
		for _, b := range e.bases {
			base := stem + b
			if end, replaced, swap := strings.Cut(b, ":"); swap {
				if replaced == "" { // "gently" from "gentle": the e is gone, its syllable becomes the ending's
					if codes, ok := l.said.Get(stem + end); ok && strings.HasSuffix(stem+end, "le") {
						return l.count(codes), true
					}
					continue
				}
				s, ok := strings.CutSuffix(stem, replaced)
				if !ok {
					continue
				}
				base = s + end
			}
			if codes, ok := l.said.Get(base); ok {
				return l.count(codes) + e.more(base), true
			}
		}
	}
	return 0, false
}

func one(string) int { return 1 }

func (l *Lexicon) count(codes []byte) int {
	first, _, _ := bytes.Cut(codes, []byte{0})
	n := 0
	for _, c := range first {
		if isVowel(l.phones[c]) {
			n++
		}
	}
	return max(n, 1)
}

// endsInHiss reports a spelling behind which -s makes a syllable.
func endsInHiss(base string) bool {
	for _, end := range []string{"s", "x", "z", "ch", "sh", "ce", "se", "ze", "ge"} {
		if strings.HasSuffix(base, end) {
			return true
		}
	}
	return false
}

// syllablesByRule counts groups of vowel letters, with the usual corrections
// for silent e and for vowels that stand side by side in two syllables.
func syllablesByRule(word string) int {
	var letters []rune
	other := false
	for _, r := range word {
		switch {
		case unicode.IsLetter(r):
			letters = append(letters, plainVowel(r))
		case unicode.IsDigit(r):
			other = true
		}
	}
	w := string(letters)
	if w == "" {
		if other {
			return 1
		}
		return 0
	}
	vowel := func(i int) bool { return i >= 0 && i < len(letters) && strings.ContainsRune("aeiouy", letters[i]) }
	n := 0
	for i := range letters {
		if vowel(i) && !vowel(i-1) {
			n++
		}
	}
	consonant := func(i int) bool { return i >= 0 && !vowel(i) }
	last := len(letters) - 1
	switch {
	case strings.HasSuffix(w, "le") && consonant(last-2): // "candle"
	case strings.HasSuffix(w, "les") && consonant(last-3): // "candles"
	case strings.HasSuffix(w, "e") && consonant(last-1): // "cake"
		n--
	case strings.HasSuffix(w, "es") && consonant(last-2) && !endsInHiss(w[:len(w)-2]) && !endsInHiss(w[:len(w)-1]):
		n--
	case strings.HasSuffix(w, "led") && last > 3 && strings.ContainsRune("bcdfgkpstz", letters[last-3]): // "stumbled"
	case strings.HasSuffix(w, "ed") && consonant(last-2) && letters[last-2] != 't' && letters[last-2] != 'd':
		n--
	}
	for _, end := range []string{"ly", "ness", "ment", "ments", "ful", "fully", "less", "lessly", "some"} { // "safely"
		if b, ok := strings.CutSuffix(w, "e"+end); ok && len(b) > 2 && consonant(len([]rune(b))-1) && strings.ContainsAny(b, "aeiouy") {
			n--
			break
		}
	}
	for _, end := range []string{"ying", "ier", "iers", "iest", "uing", "eing"} { // "carrying", "happier"
		if b, ok := strings.CutSuffix(w, end); ok && strings.ContainsAny(b, "aeiouy") {
			n++
		}
	}
	for _, two := range []string{"ia", "io", "iu", "eo", "ua", "uo"} { // "lion", "video", "dual"
		n += strings.Count(w, two)
	}
	for _, joined := range []string{"tion", "sion", "cion", "cial", "tial", "gion", "cious", "tious", "gious", "xious", "cian", "sian", "qua", "quo", "gua", "guo", "geon", "geou", "people", "iage", "llion", "nion"} {
		n -= strings.Count(w, joined)
	}
	for _, end := range []string{"gue", "que", "gues", "ques"} { // "league"
		if b, ok := strings.CutSuffix(w, end); ok && strings.ContainsAny(b, "aeiouy") {
			n--
		}
	}
	if strings.HasSuffix(w, "ism") || strings.HasSuffix(w, "isms") {
		n++
	}
	return max(n, 1)
}

func plainVowel(r rune) rune {
	switch r {
	case 'é', 'è', 'ê', 'ë':
		return 'e'
	case 'á', 'à', 'â', 'ä', 'å', 'æ':
		return 'a'
	case 'í', 'ì', 'î', 'ï':
		return 'i'
	case 'ó', 'ò', 'ô', 'ö', 'ø', 'œ':
		return 'o'
	case 'ú', 'ù', 'û', 'ü':
		return 'u'
	}
	return r
}
