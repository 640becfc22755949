package lexicon

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// affixes are the rules of Hunspell's affix file that English needs
// (hunspell(5): PFX, SFX, REP, ONLYINCOMPOUND, NOSUGGEST).
type affixes struct {
	prefixes     []affix
	suffixes     map[byte][]affix // by the last letter that they add
	replacements [][2]string      // misspelling, meant
	compoundOnly byte
	noSuggest    byte
}

type affix struct {
	flag       byte
	cross      bool // goes together with an affix at the other end
	strip, add string
	condition  []class
}

// class is one place of a condition: a letter, or some, or any but some.
type class struct {
	letters string
	not     bool
}

func (c class) matches(b byte) bool {
	return c.letters == "." || strings.IndexByte(c.letters, b) >= 0 != c.not
}

func readAffixes(text string) (*affixes, error) {
	a := &affixes{suffixes: map[byte][]affix{}}
	cross := map[string]bool{}
	counts := map[string]bool{}
	for s := bufio.NewScanner(strings.NewReader(text)); s.Scan(); {
		f := strings.Fields(s.Text())
		if len(f) < 2 {
			continue
		}
		switch f[0] {
		case "ONLYINCOMPOUND":
			a.compoundOnly = f[1][0]
		case "NOSUGGEST":
			a.noSuggest = f[1][0]
		case "REP":
			if len(f) == 3 {
				a.replacements = append(a.replacements, [2]string{f[1], strings.ReplaceAll(f[2], "_", " ")})
			}
		case "PFX", "SFX":
			if len(f) < 4 || len(f[1]) != 1 {
				return nil, fmt.Errorf("line %q", s.Text())
			}
			if head := f[0] + f[1]; !counts[head] { // "SFX V N 2" comes before its rules
				counts[head], cross[head] = true, f[2] == "Y"
				continue
			}
			if len(f) < 5 {
				return nil, fmt.Errorf("line %q", s.Text())
			}
			r := affix{flag: f[1][0], cross: cross[f[0]+f[1]], strip: strings.Trim(f[2], "0"), add: f[3], condition: readCondition(f[4])}
			if f[0] == "PFX" {
				a.prefixes = append(a.prefixes, r)
			} else {
				last := r.add[len(r.add)-1]
				a.suffixes[last] = append(a.suffixes[last], r)
			}
		}
	}
	return a, nil
}

func readCondition(text string) []class {
	var out []class
	for text != "" {
		if text[0] != '[' {
			out, text = append(out, class{letters: text[:1]}), text[1:]
			continue
		}
		in, rest, _ := strings.Cut(text[1:], "]")
		in, not := strings.CutPrefix(in, "^")
		out, text = append(out, class{in, not}), rest
	}
	return out
}

// endsSo reports whether the end of a stem meets the condition of a suffix.
func (r affix) endsSo(stem string) bool {
	n := len(r.condition)
	if n == 1 && r.condition[0].letters == "." {
		return true
	}
	if len(stem) < n {
		return false
	}
	for i, c := range r.condition {
		if !c.matches(stem[len(stem)-n+i]) {
			return false
		}
	}
	return true
}

// The two spellings, as bits.
const (
	american = 1 << iota
	british
)

// stem tells in which spellings a stem exists with these flags (0 for none).
func (l *Lexicon) stem(stem string, flag1, flag2 byte) (spellings int) {
	value, ok := l.stems.Get(stem)
	if !ok {
		return 0
	}
	for bit := american; bit <= british; bit <<= 1 {
		n, size := binary.Uvarint(value)
		value = value[size:]
		if n == 0 {
			continue
		}
		flags := string(value[:n-1])
		value = value[n-1:]
		if (flag1 == 0 || strings.IndexByte(flags, flag1) >= 0) && (flag2 == 0 || strings.IndexByte(flags, flag2) >= 0) &&
			strings.IndexByte(flags, l.affixes.compoundOnly) < 0 {
			spellings |= bit
		}
	}
	return spellings
}

// formSpellings tells in which spellings a form exists, case as it stands.
func (l *Lexicon) formSpellings(word string) (spellings int) {
	if word == "" {
		return 0
	}
	spellings = l.stem(word, 0, 0)
	suffixes := l.affixes.suffixes[word[len(word)-1]]
	for _, r := range suffixes {
		if base, ok := strings.CutSuffix(word, r.add); ok && base != "" {
			if s := base + r.strip; r.endsSo(s) {
				spellings |= l.stem(s, r.flag, 0)
			}
		}
	}
	for _, p := range l.affixes.prefixes {
		rest, ok := strings.CutPrefix(word, p.add)
		if !ok || rest == "" {
			continue
		}
		spellings |= l.stem(rest, p.flag, 0)
		for _, r := range suffixes {
			if base, ok := strings.CutSuffix(rest, r.add); ok && base != "" && p.cross && r.cross {
				if s := base + r.strip; r.endsSo(s) {
					spellings |= l.stem(s, r.flag, p.flag)
				}
			}
		}
	}
	return spellings
}

// Spelled reports whether a word is spelled as in American and as in British
// English. Case counts as in a sentence: "london" is wrong, "Garden" and
// "GARDEN" are right. Hyphenated words are right when their parts are; numbers
// in figures are right.
func (l *Lexicon) Spelled(word string) (inAmerican, inBritish bool) {
	s := l.spelled(strings.TrimRight(straight(strings.TrimSpace(word)), "."))
	return s&american != 0, s&british != 0
}

// Correct reports whether a word is spelled rightly in American or British
// English, as told at [Lexicon.Spelled].
func (l *Lexicon) Correct(word string) bool {
	us, gb := l.Spelled(word)
	return us || gb
}

func (l *Lexicon) spelled(word string) int {
	if word == "" || word[0] == '^' {
		return 0
	}
	if !hasLetter(word) {
		if strings.ContainsFunc(word, unicode.IsDigit) {
			return american | british
		}
		return 0
	}
	s := l.formSpellings(word)
	lower := strings.ToLower(word)
	if s != american|british && lower != word {
		first, size := utf8.DecodeRuneInString(word)
		capital := string(first) + strings.ToLower(word[size:])
		switch {
		case word == strings.ToUpper(word): // all capitals
			s |= l.formSpellings(capital) | l.formSpellings(lower) | l.formSpellings("^"+capital)
		case word == capital && unicode.IsUpper(first):
			s |= l.formSpellings(lower)
		}
	}
	if s == 0 && ordinal(lower) {
		s = american | british
	}
	if s == 0 {
		word = strings.Trim(word, "-")
		for i := 1; i < len(word)-1; i++ {
			if word[i] == '-' {
				if s = l.spelled(word[:i]) & l.spelled(word[i+1:]); s != 0 {
					return s
				}
			}
		}
	}
	return s
}

// ordinal reports "21st", "112th": the compound rules of the affix file.
func ordinal(word string) bool {
	digits := strings.TrimRight(word, "stndrh")
	if digits == "" || strings.Trim(digits, "0123456789") != "" {
		return false
	}
	end, last := word[len(digits):], digits[len(digits)-1]
	if len(digits) > 1 && digits[len(digits)-2] == '1' {
		return end == "th"
	}
	switch last {
	case '1':
		return end == "st"
	case '2':
		return end == "nd"
	case '3':
		return end == "rd"
	}
	return end == "th"
}
