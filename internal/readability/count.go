package readability

import (
	"strings"
	"unicode"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// counter counts words sentence by sentence. What counts as a name is known
// only at the end, so unfamiliar words are gathered first.
type counter struct {
	lex *lexicon.Lexicon
	c   Counts
	// lower are the forms met in lower case; named those met with a capital
	// inside a sentence.
	lower, named map[string]bool
	words        []wordSeen
}

type wordSeen struct {
	form    string // in lower case
	capital bool
	name    bool // known to be one
	first   bool // of its sentence
}

// stretch is the fewest words of a stretch in which Spache's unfamiliar words
// are counted once. His directions take samples of 100 to 150 words; counted
// once in a whole book, they would fall to nothing as the book grows.
const stretch = 100

func newCounter(lex *lexicon.Lexicon) *counter {
	return &counter{lex: lex, lower: map[string]bool{}, named: map[string]bool{}}
}

// sentence adds the words of a sentence. tagged reports for each whether it is
// a name; nil when that is not known.
func (k *counter) sentence(words []string, tagged []bool) {
	if len(words) == 0 {
		return
	}
	k.c.Sentences++
	for i, w := range words {
		k.c.Words++
		n := max(k.lex.Syllables(w), 1)
		k.c.Syllables += n
		if n >= 3 {
			k.c.Polysyllables++
		}
		for _, r := range w {
			if unicode.IsLetter(r) {
				k.c.Letters++
				k.c.Characters++
			} else if unicode.IsDigit(r) {
				k.c.Characters++
			}
		}
		lower := strings.ToLower(w)
		s := wordSeen{form: lower, capital: lower != w, first: i == 0}
		switch {
		case tagged != nil:
			s.name = tagged[i]
		case !s.capital:
			k.lower[lower] = true
		case i > 0 && w != strings.ToUpper(w):
			k.named[lower] = true
		}
		k.words = append(k.words, s)
	}
}

// result looks the words up. Names of people and places count as familiar in
// both lists: those that are tagged, else words with a capital that stand inside
// a sentence somewhere and nowhere in lower case.
func (k *counter) result() Counts {
	once := map[string]bool{}
	from := 0 // start of the stretch
	for i, w := range k.words {
		if w.first && i-from >= stretch && len(k.words)-i >= stretch {
			from = i
			clear(once)
		}
		if w.name || w.capital && k.named[w.form] && !k.lower[w.form] {
			continue
		}
		if !k.lex.Familiar(lexicon.DaleChall, w.form) {
			k.c.DaleChallUnfamiliar++
		}
		if !k.lex.Familiar(lexicon.Spache, w.form) && !once[w.form] {
			once[w.form] = true
			k.c.SpacheUnfamiliar++
		}
	}
	return k.c
}

// OfDoc counts an analysed text by its sentences and surface words; names are
// known when it has tags, else told by their capitals. A whole book's worth is
// fine.
func OfDoc(lex *lexicon.Lexicon, d *lang.Doc) Counts { return OfSpan(lex, d, 0, len(d.Text)) }

// OfSpan counts the sentences of an analysed text that start in the bytes from
// start to end.
func OfSpan(lex *lexicon.Lexicon, d *lang.Doc, start, end int) Counts {
	k := newCounter(lex)
	for _, s := range d.Sentences {
		if at := d.Tokens[s.First].Start; at < start || at >= end {
			continue
		}
		var words []string
		var tagged []bool
		for i := s.First; i < s.Last; i++ {
			t := d.Tokens[i]
			if t.Multi < 0 {
				continue
			}
			last := t.End
			for j := i + 1; j < s.Last && d.Tokens[j].Multi < 0; j++ {
				last = max(last, d.Tokens[j].End)
			}
			for _, w := range Words(d.Text[t.Start:last]) {
				words, tagged = append(words, w), append(tagged, t.UPOS == "PROPN")
			}
		}
		if !d.Has(lang.LayerTags) {
			tagged = nil
		}
		k.sentence(words, tagged)
	}
	return k.result()
}

// OfText counts plain text, with simple rules for where sentences end: a full
// stop, question or exclamation mark (and closing quotation marks) before a space
// and no small letter, unless the stop ends a title or an initial; an empty line.
func OfText(lex *lexicon.Lexicon, text string) Counts {
	k := newCounter(lex)
	for _, s := range Sentences(text) {
		k.sentence(Words(s), nil)
	}
	return k.result()
}

// Words returns the words of a text: letters and digits with single apostrophes,
// hyphens, stops and commas inside ("don't", "good-natured", "1,000").
func Words(text string) []string {
	var out []string
	start := -1
	runes := []rune(text)
	inner := func(i int) bool {
		if i == 0 || i+1 >= len(runes) || !letterOrDigit(runes[i-1]) || !letterOrDigit(runes[i+1]) {
			return false
		}
		switch runes[i] {
		case '\'', '’', '-', '‐', '‑':
			return true
		case '.', ',':
			return unicode.IsDigit(runes[i-1]) && unicode.IsDigit(runes[i+1])
		}
		return false
	}
	for i, r := range runes {
		if letterOrDigit(r) || start >= 0 && inner(i) {
			if start < 0 {
				start = i
			}
			continue
		}
		if start >= 0 {
			out = append(out, string(runes[start:i]))
			start = -1
		}
	}
	if start >= 0 {
		out = append(out, string(runes[start:]))
	}
	return out
}

func letterOrDigit(r rune) bool {
	return unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.IsMark(r)
}

var titles = map[string]bool{
	"mr": true, "mrs": true, "ms": true, "dr": true, "st": true, "messrs": true, "rev": true, "prof": true, "capt": true,
	"col": true, "gen": true, "lieut": true, "sergt": true, "jr": true, "sr": true, "esq": true, "vs": true, "no": true,
}

// Sentences cuts a text as told at [OfText]. Pieces without a word are left out.
func Sentences(text string) []string {
	var out []string
	runes := []rune(strings.ReplaceAll(text, "\r\n", "\n"))
	start := 0
	cut := func(end int) {
		if s := strings.TrimSpace(string(runes[start:end])); len(Words(s)) > 0 {
			out = append(out, s)
		}
		start = end
	}
	for i := 0; i < len(runes); i++ {
		if runes[i] == '\n' && i+1 < len(runes) && runes[i+1] == '\n' {
			cut(i)
			continue
		}
		if !strings.ContainsRune(".!?…", runes[i]) {
			continue
		}
		end := i + 1
		for end < len(runes) && strings.ContainsRune(".!?…", runes[end]) {
			end++
		}
		for end < len(runes) && strings.ContainsRune("”’\"')]_*", runes[end]) {
			end++
		}
		next := end
		for next < len(runes) && unicode.IsSpace(runes[next]) {
			next++
		}
		first := next
		for first < len(runes) && strings.ContainsRune("“‘\"'([_*", runes[first]) {
			first++
		}
		switch {
		case next == end && end < len(runes): // no space: "3.5", "a.m."
		case first < len(runes) && unicode.IsLower(runes[first]):
		case runes[i] == '.' && end == i+1 && abbreviation(runes[start:i]):
		default:
			cut(end)
		}
		i = end - 1
	}
	cut(len(runes))
	return out
}

// abbreviation reports that the word before a full stop is a title or an initial.
func abbreviation(before []rune) bool {
	at := len(before)
	for at > 0 && unicode.IsLetter(before[at-1]) {
		at--
	}
	word := string(before[at:])
	return titles[strings.ToLower(word)] || len(word) == 1 && word != "I" && unicode.IsUpper(before[at])
}
