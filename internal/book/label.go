package book

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Label is the numbered front of a heading, "CHAPTER IV." or "PART TWO", and
// what follows it.
type Label struct {
	Word    string // "Chapter", "Part", "Book" ...; "" for a bare number
	Part    bool   // the word names a group of chapters (part, book, volume)
	Number  int    // the ordinal, at least 1
	Numeral string // the number as printed: "IV", "4", "Twenty-One", "the Second"
	Rest    string // the title behind it on the same line, "" when there is none
}

// String is the label as Bookstead writes it, "Chapter IV"; the word of a bare
// number is "Chapter".
func (l Label) String() string {
	word := l.Word
	if word == "" {
		word = "Chapter"
	}
	return word + " " + l.Numeral
}

// labelWords are the words that number the divisions of a novel (common
// practice, no source); true for those that hold chapters.
var labelWords = map[string]struct {
	name string
	part bool
}{
	"chapter": {"Chapter", false}, "chap": {"Chapter", false}, "chapt": {"Chapter", false}, "stave": {"Stave", false},
	"letter": {"Letter", false}, "canto": {"Canto", false}, "episode": {"Episode", false}, "adventure": {"Adventure", false},
	"story": {"Story", false}, "tale": {"Tale", false}, "section": {"Section", false}, "night": {"Night", false},
	"part": {"Part", true}, "book": {"Book", true}, "volume": {"Volume", true}, "vol": {"Volume", true},
	"phase": {"Phase", true}, "period": {"Period", true}, "narrative": {"Narrative", true},
}

// ParseLabel reads a heading's line that begins with a number of its own:
// "CHAPTER IV. The Road", "Chapter Twenty-One", "Book the Second", "FIRST
// PERIOD", "IV", "7. Nest Building". A bare number must stand alone or be
// followed by a stop, a colon, a bracket, a dash or a wide space; a capital may
// follow it at once ("2 The Hunt"), but not "I", which is a word ("I Am Born").
// ok is false for everything else.
func ParseLabel(line string) (l Label, ok bool) {
	line = strings.TrimFunc(line, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune("_*=~#", r) })
	if n := len(line); n > 2 && (line[0] == '[' && line[n-1] == ']' || line[0] == '(' && line[n-1] == ')') {
		line = strings.TrimSpace(line[1 : n-1])
	}
	first, rest := firstWord(line)
	if w, is := labelWords[strings.ToLower(first)]; is {
		return labelAfterWord(w.name, w.part, rest)
	}
	if l, ok := labelBeforeWord(line); ok {
		return l, true
	}
	return bareLabel(line)
}

// labelAfterWord reads what follows "Chapter": " IV. Title", ". the First".
func labelAfterWord(word string, part bool, s string) (Label, bool) {
	s = strings.TrimLeft(s, ". \u00a0\t\n#:")
	article := ""
	if w, after := firstWord(s); strings.EqualFold(w, "the") {
		article, s = "the ", strings.TrimLeft(after, " \u00a0\n")
	}
	numeral, n, rest := number(s)
	if n == 0 {
		return Label{}, false
	}
	r, _ := utf8.DecodeRuneInString(rest)
	if rest != "" && (unicode.IsLetter(r) || unicode.IsDigit(r)) {
		return Label{}, false
	}
	gap := strings.IndexFunc(rest, func(r rune) bool { return !unicode.IsSpace(r) })
	rest = afterMark(rest)
	if r, _ = utf8.DecodeRuneInString(rest); gap > 0 && unicode.IsLower(r) {
		return Label{}, false // "Chapter one of my life" is a sentence
	}
	return Label{Word: word, Part: part, Number: n, Numeral: article + tidyNumeral(numeral), Rest: rest}, true
}

// labelBeforeWord reads "FIRST PERIOD", "THE SECOND BOOK": nothing may follow
// but a mark and a title.
func labelBeforeWord(line string) (Label, bool) {
	f := strings.Fields(line)
	if len(f) > 0 && strings.EqualFold(f[0], "the") {
		f = f[1:]
	}
	n, took := wordNumber(f)
	if took == 0 || took >= len(f) || !ordinal(f[took-1]) {
		return Label{}, false
	}
	bare := strings.TrimRight(f[took], ".:,")
	w, is := labelWords[strings.ToLower(bare)]
	if !is || took+1 < len(f) && bare == f[took] {
		return Label{}, false
	}
	return Label{Word: w.name, Part: w.part, Number: n, Numeral: "the " + tidyNumeral(strings.Join(f[:took], " ")),
		Rest: afterMark(strings.Join(f[took+1:], " "))}, true
}

func ordinal(w string) bool {
	w = strings.ToLower(w)
	return strings.HasSuffix(w, "th") || strings.HasSuffix(w, "first") || strings.HasSuffix(w, "second") || strings.HasSuffix(w, "third")
}

func bareLabel(line string) (Label, bool) {
	numeral, n, rest := number(line)
	if n == 0 {
		return Label{}, false
	}
	l := Label{Number: n, Numeral: tidyNumeral(numeral)}
	if rest == "" {
		return l, true
	}
	r, size := utf8.DecodeRuneInString(rest)
	l.Rest = afterMark(rest)
	digits := unicode.IsDigit(firstLetter(numeral))
	roman := romanNumber(numeral) > 0
	switch {
	case !digits && !roman && !strings.ContainsRune(":—–\n", r):
		return Label{}, false // "Two. The first in the garden" is speech
	case strings.ContainsRune(".:)—–-", r):
		// "1801.--I have returned" and "6-foot" are no headings.
		next, _ := utf8.DecodeRuneInString(rest[size:])
		return l, l.Rest == "" || unicode.IsSpace(next) && !unicode.IsLower(firstLetter(l.Rest))
	case !unicode.IsSpace(r) || unicode.IsLower(firstLetter(l.Rest)):
		return Label{}, false
	case strings.HasPrefix(rest, "\n") || strings.HasPrefix(rest, "  "):
		return l, true
	}
	return l, numeral != "I" && unicode.IsUpper(firstLetter(l.Rest))
}

// number reads a number of any kind from the front of s.
func number(s string) (numeral string, n int, rest string) {
	w, after := firstWord(s)
	if n = digitNumber(w); n == 0 {
		n = romanNumber(w)
	}
	if n > 0 {
		return w, n, after
	}
	words := []string{w}
	if second, behind := firstWord(strings.TrimLeft(after, " \u00a0")); second != "" && strings.HasPrefix(after, " ") {
		if n, took := wordNumber([]string{w, second}); took == 2 {
			return w + " " + second, n, behind
		}
	}
	if n, took := wordNumber(words); took == 1 {
		return w, n, after
	}
	return "", 0, s
}

// firstWord cuts letters, digits and inner hyphens from the front of s.
func firstWord(s string) (word, rest string) {
	for i, r := range s {
		inner := r == '-' && i > 0 && i+1 < len(s) && unicode.IsLetter(rune(s[i+1])) && unicode.IsLetter(rune(s[i-1]))
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) && !inner {
			return s[:i], s[i:]
		}
	}
	return s, ""
}

func firstLetter(s string) rune {
	for _, r := range s {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
	}
	return 0
}

// afterMark drops the marks between a number and its title.
func afterMark(s string) string {
	return strings.TrimSpace(strings.TrimLeftFunc(s, func(r rune) bool {
		return unicode.IsSpace(r) || strings.ContainsRune(".:;,)]—–-_*", r)
	}))
}

// tidyNumeral writes Roman numerals in capitals and words with a capital each.
func tidyNumeral(s string) string {
	if romanNumber(s) > 0 {
		return strings.ToUpper(s)
	}
	up := true
	return strings.Map(func(r rune) rune {
		was := up
		up = !unicode.IsLetter(r)
		if was {
			return unicode.ToUpper(r)
		}
		return unicode.ToLower(r)
	}, s)
}

// First is the label of the first division in the same style: "Part 1" for
// "Part 2", "Book One" for "Book Three".
func (l Label) First() string {
	one := Label{Word: l.Word, Number: 1, Numeral: "One"}
	switch {
	case digitNumber(l.Numeral) > 0:
		one.Numeral = "1"
	case romanNumber(l.Numeral) > 0:
		one.Numeral = "I"
	case strings.HasPrefix(l.Numeral, "the "):
		one.Numeral = "the First"
	}
	return one.String()
}
