package lexicon

import (
	"fmt"
	"strings"
	"unicode"
)

// Level says how far a word is to be kept from a child's page.
type Level byte

const (
	// Fine is any other word.
	Fine Level = iota
	// Mixed words have an innocent meaning in which older books use them
	// ("ass", "queer"); only their other senses are offensive.
	Mixed
	// Dated words were ordinary once and hurt people today, or name a grave
	// matter: the teacher sees them before the class does.
	Dated
	// Never is for vulgar words and slurs.
	Never
)

// Offence says why a word is kept back.
type Offence struct {
	Level  Level
	Reason string // for the teacher, after "is": "a slur against …"
}

// Offensive looks a word or a phrase up in the guard's list, in any regular
// inflection. ok reports that it keeps a sentence from being chosen by default:
// it is true for the levels Dated and Never; a Mixed word comes back with its
// level and false.
func (l *Lexicon) Offensive(word string) (o Offence, ok bool) {
	word = strings.Trim(normal(word), "'-")
	if o = l.offence(word); o.Level == Fine {
		for _, base := range offensiveBases(word) {
			if o = l.offence(base); o.Level != Fine && !l.formOfOther(word, base) {
				break
			}
			o = Offence{}
		}
	}
	return o, o.Level >= Dated
}

// formOfOther reports that a word in -ed or -ing is the form of an innocent verb
// and not of an offensive noun: "spiced" comes from "spice".
func (l *Lexicon) formOfOther(word, base string) bool {
	if !strings.HasSuffix(word, "ed") && !strings.HasSuffix(word, "ing") || l.HasLemma(base, Verb) {
		return false
	}
	for _, other := range regularBases(word) {
		if other != base && l.HasLemma(other, Verb) && l.offence(other).Level == Fine {
			return true
		}
	}
	return false
}

func (l *Lexicon) offence(word string) Offence {
	value, ok := l.offensive.Get(word)
	if !ok {
		return Offence{}
	}
	return Offence{Level(value[0]), string(value[1:])}
}

// offensiveBases takes regular endings off.
func offensiveBases(word string) []string {
	out := regularBases(word)
	for _, end := range []string{"'s", "s'"} {
		if b, ok := strings.CutSuffix(word, end); ok {
			out = append(out, b)
			out = append(out, regularBases(b)...)
		}
	}
	if b, ok := strings.CutSuffix(word, "in'"); ok {
		out = append(out, endingBases(b)...)
	}
	if b, ok := strings.CutSuffix(word, "in"); ok {
		out = append(out, endingBases(b)...)
	}
	return out
}

// OffensiveIn returns the gravest word or phrase of a text that [Lexicon.Offensive]
// keeps back, and where it lies (bytes from start to end); ok is false when there
// is none.
func (l *Lexicon) OffensiveIn(text string) (start, end int, o Offence, ok bool) {
	const longest = 4 // words of a phrase
	type span struct{ start, end int }
	var words []span
	in := false
	for i, r := range text {
		letter := unicode.IsLetter(r) || r == '\'' || r == '’' || r == '-' && in
		if letter && !in {
			words = append(words, span{start: i})
		}
		if !letter && in {
			words[len(words)-1].end = i
		}
		in = letter
	}
	if in {
		words[len(words)-1].end = len(text)
	}
	consider := func(from, to int) {
		found, bad := l.Offensive(strings.Join(strings.Fields(text[from:to]), " "))
		if bad && found.Level > o.Level {
			start, end, o, ok = from, to, found, true
		}
	}
	for i, w := range words {
		consider(w.start, w.end)
		if at := strings.IndexByte(text[w.start:w.end], '-'); at > 0 { // "damn-fool"
			consider(w.start, w.start+at)
			consider(w.start+at+1, w.end)
		}
		for n := 2; n <= longest && i+n <= len(words); n++ {
			last := words[i+n-1]
			if strings.TrimSpace(text[words[i+n-2].end:last.start]) != "" { // punctuation between
				break
			}
			consider(w.start, last.end)
		}
	}
	return start, end, o, ok
}

// Warning says why none of these texts should be shown to children unseen, in a
// sentence for the teacher; "" when nothing keeps them back.
func (l *Lexicon) Warning(texts ...string) string {
	for _, t := range texts {
		if start, end, o, bad := l.OffensiveIn(t); bad {
			return fmt.Sprintf("Not chosen by itself: it holds “%s”, %s.", t[start:end], o.Reason)
		}
	}
	return ""
}
