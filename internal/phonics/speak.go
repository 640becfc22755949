package phonics

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode"

	"bookstead/internal/lexicon"
	"bookstead/internal/phonics/g2p"
)

// Source says where a pronunciation comes from.
type Source string

const (
	// Dictionary: the word stands there.
	Dictionary Source = "dictionary"
	// Derived: from a word that stands there, by a regular ending or by joining.
	Derived Source = "derived"
	// Predicted: guessed by the model. It can be wrong.
	Predicted Source = "predicted"
)

// Spoken is how a word is said.
type Spoken struct {
	Phones []string // ARPAbet with stress
	Source Source
}

// Plain is the phones without stress.
func (s Spoken) Plain() []string { return bare(s.Phones) }

// Part is what a homograph is in its sentence.
type Part byte

const (
	AnyPart   Part = 0
	Noun      Part = 'n'
	Verb      Part = 'v' // in its base or present
	Past      Part = 'p' // verb in its past or participle
	Adjective Part = 'a'
	Adverb    Part = 'r'
)

// Speaker says how words are said. It is safe for use by many goroutines.
type Speaker struct {
	lex   *lexicon.Lexicon
	model *g2p.Model
}

// NewSpeaker returns a speaker with the shipped model.
func NewSpeaker(lex *lexicon.Lexicon) (*Speaker, error) {
	m, err := g2p.Load()
	if err != nil {
		return nil, fmt.Errorf("loading the model of spelling and sound: %w", err)
	}
	return &Speaker{lex, m}, nil
}

//go:embed homographs.tsv
var homographsText string

type way struct {
	parts  string
	phones []string
}

var homographs = sync.OnceValue(func() map[string][]way {
	m := map[string][]way{}
	for _, line := range strings.Split(homographsText, "\n") {
		if f := strings.Split(line, "\t"); len(f) == 3 {
			m[f[0]] = append(m[f[0]], way{f[1], strings.Fields(f[2])})
		}
	}
	return m
})

// Ways returns the ways in which a homograph is said, the usual first; nil for
// other words.
func Ways(word string) [][]string {
	var out [][]string
	for _, w := range homographs()[fold(word)] {
		out = append(out, w.phones)
	}
	return out
}

// Say tells how a word is said: by the dictionary, else by a regular ending on a
// word of the dictionary, else by the model. ok is false for what is no word:
// figures, lone signs, letters in a row that cannot be said.
func (s *Speaker) Say(word string, part Part) (sp Spoken, ok bool) {
	w := fold(word)
	if ways := homographs()[w]; ways != nil && part != AnyPart {
		for _, h := range ways {
			if strings.IndexByte(h.parts, byte(part)) >= 0 {
				return Spoken{h.phones, Dictionary}, true
			}
		}
	}
	if ways := homographs()[w]; ways != nil {
		return Spoken{ways[0].phones, Dictionary}, true
	}
	if p := s.lex.Pronunciations(w); p != nil {
		return Spoken{p[0], Dictionary}, true
	}
	if p := s.derived(w); p != nil {
		return Spoken{p, Derived}, true
	}
	if !strings.ContainsAny(w, "aeiouy") || len(word) > 1 && strings.Trim(word, "IVXLC") == "" { // "xkcd" is spelled, XIV a number
		return Spoken{}, false
	}
	return s.Predict(w)
}

// Predict is Say by the model alone. Words of several parts are said part by
// part.
func (s *Speaker) Predict(word string) (sp Spoken, ok bool) {
	var phones []string
	for _, part := range strings.FieldsFunc(fold(word), func(r rune) bool { return r == '-' || r == ' ' || r == '.' }) {
		if !sayable(part) {
			return Spoken{}, false
		}
		g := s.model.Predict(part, 1)
		if len(g) == 0 {
			return Spoken{}, false
		}
		phones = append(phones, AddStress(part, g[0].Phones)...)
	}
	if phones == nil {
		return Spoken{}, false
	}
	return Spoken{phones, Predicted}, true
}

// sayable reports letters only (and apostrophes), and not too many for a word.
func sayable(w string) bool {
	letters := 0
	for _, r := range w {
		switch {
		case r >= 'a' && r <= 'z':
			letters++
		case r != '\'':
			return false
		}
	}
	return letters > 0 && letters <= 40
}

// derived says a word by its parts or its ending.
func (s *Speaker) derived(w string) []string {
	if strings.ContainsAny(w, "- ") {
		var out []string
		for _, part := range strings.FieldsFunc(w, func(r rune) bool { return r == '-' || r == ' ' }) {
			p := s.known(part)
			if p == nil {
				return nil
			}
			out = append(out, p...)
		}
		return out
	}
	if p := clipped[w]; p != "" {
		return strings.Fields(p)
	}
	if base, ok := strings.CutSuffix(w, "in'"); ok { // "runnin'"
		if p := s.known(base + "ing"); p != nil && p[len(p)-1] == "NG" {
			return append(slices.Clone(p[:len(p)-1]), "N")
		}
	}
	for _, e := range endings {
		stem, ok := strings.CutSuffix(w, e.spelling)
		if !ok || len(stem) < 2 {
			continue
		}
		for _, base := range e.bases(stem) {
			if p := s.lex.Pronunciations(base); p != nil {
				if said := e.say(p[0]); said != nil {
					return said
				}
			}
		}
	}
	return nil
}

// clipped are short forms of dialect in older books that no rule gives.
var clipped = map[string]string{
	"th'": "DH", "o'": "AH0", "an'": "AH0 N", "wi'": "W IH0", "i'": "IH0", "'un": "AH0 N", "'em": "AH0 M", "ha'": "HH AH0",
	"'tis": "T IH1 Z", "'twas": "T W AA1 Z", "'twere": "T W ER1", "'twill": "T W IH1 L", "ye": "Y IY1",
}

// known is the dictionary's way, or one by an ending.
func (s *Speaker) known(w string) []string {
	if h := homographs()[w]; h != nil {
		return h[0].phones
	}
	if p := s.lex.Pronunciations(w); p != nil {
		return p[0]
	}
	if strings.ContainsAny(w, "- ") {
		return nil
	}
	return s.derived(w)
}

// ending is a regular ending: the bases that a stem can come from and what the
// ending adds to their sound (nil when it cannot stand there).
type ending struct {
	spelling string
	bases    func(stem string) []string
	say      func(p []string) []string
}

func plus(p []string, more ...string) []string { return append(slices.Clone(p), more...) }

func sameStem(stem string) []string { return []string{stem} }

// stems undoes a doubled consonant, a dropped e and y made i.
func stems(stem string) []string {
	out := []string{stem, stem + "e"}
	if n := len(stem); n > 2 && stem[n-1] == stem[n-2] && !isVowelLetter(stem[n-1]) {
		out = append(out, stem[:n-1])
	}
	if b, ok := strings.CutSuffix(stem, "i"); ok {
		out = append(out, b+"y")
	}
	return out
}

func sayS(p []string) []string {
	switch last := p[len(p)-1]; last {
	case "S", "Z", "SH", "ZH", "CH", "JH":
		return plus(p, "IH0", "Z")
	case "P", "T", "K", "F", "TH":
		return plus(p, "S")
	}
	return plus(p, "Z")
}

func sayD(p []string) []string {
	switch last := p[len(p)-1]; last {
	case "T", "D":
		return plus(p, "IH0", "D")
	case "P", "K", "F", "TH", "S", "SH", "CH":
		return plus(p, "T")
	}
	return plus(p, "D")
}

func adds(more ...string) func([]string) []string {
	return func(p []string) []string { return plus(p, more...) }
}

var endings = []ending{
	{"'s", sameStem, sayS},
	{"s'", func(stem string) []string { return []string{stem} }, sayS},
	{"n't", sameStem, adds("AH0", "N", "T")},
	{"'ll", sameStem, adds("L")},
	{"'d", sameStem, sayD},
	{"'ve", sameStem, adds("V")},
	{"ies", func(stem string) []string { return []string{stem + "y"} }, adds("Z")},
	{"es", func(stem string) []string { return []string{stem, stem + "e"} }, sayS},
	{"s", sameStem, func(p []string) []string { return sayS(p) }},
	{"ied", func(stem string) []string { return []string{stem + "y"} }, adds("D")},
	{"ed", stems, sayD},
	{"ing", stems, adds("IH0", "NG")},
	{"est", stems, adds("IH0", "S", "T")},
	{"er", stems, adds("ER0")},
	{"ly", func(stem string) []string {
		if b, ok := strings.CutSuffix(stem, "i"); ok {
			return []string{b + "y"}
		}
		return []string{stem}
	}, func(p []string) []string {
		if p[len(p)-1] == "L" {
			return plus(p, "IY0")
		}
		return plus(p, "L", "IY0")
	}},
	{"ness", func(stem string) []string {
		if b, ok := strings.CutSuffix(stem, "i"); ok {
			return []string{b + "y"}
		}
		return []string{stem}
	}, adds("N", "AH0", "S")},
	{"less", sameStem, adds("L", "AH0", "S")},
	{"ful", sameStem, adds("F", "AH0", "L")},
}

// fold makes a word comparable: lower case, straight apostrophes, no accents.
func fold(word string) string {
	return strings.Map(plainLetter, strings.TrimSpace(word))
}

// plainLetter takes capitals and accents off a letter and straightens
// apostrophes.
func plainLetter(r rune) rune {
	r = unicode.ToLower(r)
	switch {
	case r < 0x80:
	case r == '’' || r == '‘':
		return '\''
	case strings.ContainsRune("éèêë", r):
		return 'e'
	case strings.ContainsRune("áàâäåã", r):
		return 'a'
	case strings.ContainsRune("íìîï", r):
		return 'i'
	case strings.ContainsRune("óòôöøõ", r):
		return 'o'
	case strings.ContainsRune("úùûü", r):
		return 'u'
	case r == 'ç':
		return 'c'
	case r == 'ñ':
		return 'n'
	}
	return r
}
