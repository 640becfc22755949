package lexicon

import "strings"

// List names a list of words that children know.
type List byte

const (
	// DaleChall is Dale's list of 3,000 words known to four fifths of a fourth
	// grade, in the form of 1995 (2,942 entries here).
	DaleChall List = iota
	// Spache is the list of 1974, some 1,000 words of the first grades (1,063
	// entries here).
	Spache
)

// Familiar reports whether a word counts as known: it stands on the list, or is
// one of the forms that the instructions of the list accept, or is a number in
// figures. Names of people and places count as known too, but only who sees the
// text can tell them.
//
// The forms, from memory of the published instructions (Dale and Chall 1948,
// Spache 1974): for both lists regular plurals, possessives and verb forms
// (-s, -es, -ies, 's, -ed, -d, -ied, -ing, with doubled consonants), contractions
// of known words and hyphenated words of known parts; for Dale and Chall also
// comparatives and superlatives of adjectives (-er, -est), adverbs in -ly from a
// word of the list as it stands, and participles in -n.
func (l *Lexicon) Familiar(list List, word string) bool {
	t := l.daleChall
	if list == Spache {
		t = l.spache
	}
	has := func(w string) bool {
		_, ok := t.Get(w)
		return ok
	}
	word = strings.Trim(normal(word), "'-")
	if word == "" || !hasLetter(word) {
		return true
	}
	if has(word) {
		return true
	}
	if strings.Contains(word, "-") {
		for _, part := range strings.Split(word, "-") {
			if !l.Familiar(list, part) {
				return false
			}
		}
		return true
	}
	if head, tail, ok := strings.Cut(word, "'"); ok {
		return l.contraction(list, head, tail)
	}
	for _, b := range regularBases(word) {
		if has(b) {
			return true
		}
	}
	if list != DaleChall {
		return false
	}
	if b, ok := strings.CutSuffix(word, "ly"); ok && has(b) {
		return true
	}
	if b, ok := strings.CutSuffix(word, "n"); ok && has(b) && strings.HasSuffix(b, "e") && l.HasLemma(b, Verb) { // "taken"
		return true
	}
	for _, end := range []string{"er", "est"} {
		if stem, ok := strings.CutSuffix(word, end); ok {
			for _, b := range endingBases(stem) {
				if has(b) && l.HasLemma(b, Adjective) {
					return true
				}
			}
		}
	}
	return false
}

// contraction judges a word with an apostrophe by the words in it.
func (l *Lexicon) contraction(list List, head, tail string) bool {
	switch tail {
	case "s", "": // possessive, or "is"
		return l.Familiar(list, head)
	case "ll", "re", "ve", "d", "m":
		return l.Familiar(list, head)
	case "t":
		switch head {
		case "won", "can", "shan":
			return true
		}
		b, ok := strings.CutSuffix(head, "n")
		return ok && l.Familiar(list, b)
	}
	return false
}

// regularBases returns the words of which this may be a regular plural or verb
// form.
func regularBases(word string) []string {
	var out []string
	if b, ok := strings.CutSuffix(word, "ies"); ok {
		out = append(out, b+"y")
	}
	if b, ok := strings.CutSuffix(word, "es"); ok {
		out = append(out, b)
	}
	if b, ok := strings.CutSuffix(word, "s"); ok && !strings.HasSuffix(b, "s") {
		out = append(out, b)
	}
	for _, end := range []string{"ed", "ing"} {
		if stem, ok := strings.CutSuffix(word, end); ok {
			out = append(out, endingBases(stem)...)
		}
	}
	return out
}

// endingBases returns the words that lose something before -ed, -ing, -er and
// -est: "hop" and "hope" for "hop", "happy" for "happi", "run" for "runn".
func endingBases(stem string) []string {
	if len(stem) < 2 {
		return nil
	}
	out := []string{stem, stem + "e"}
	if b, ok := strings.CutSuffix(stem, "i"); ok {
		out = append(out, b+"y")
	}
	if n := len(stem); n > 2 && stem[n-1] == stem[n-2] {
		out = append(out, stem[:n-1])
	}
	return out
}
