// Package lemma finds the dictionary form of a word from its form and tags.
//
// What was learned from the treebanks stands in model.txt, one line each, in
// tabs, and can be read and corrected by hand:
//
//	case  UPOS/XPOS  shape  keep|lower       are capitals kept?
//	rule  UPOS/XPOS  ending  cut  add        the longest ending that fits decides
//	word  UPOS/XPOS  form  lemma             and is overruled by words of their own
//
// irregular.txt holds forms that no rule tells, from grammar. Past tenses and
// participles share their rules and words, whatever the verb is used for.
//
// Start with [Load] and [Model.Of]; [Train] writes the file.
package lemma

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"bookstead/internal/lang"
)

//go:embed model.txt
var learned string

//go:embed irregular.txt
var irregular string

// Load returns the model that is built in.
func Load() (*Model, error) { return Read(learned) }

// Model holds what was learned. It does not change once loaded.
type Model struct {
	tags map[string]*tag // by "UPOS/XPOS"
}

type tag struct {
	keep  [shapes]bool
	rules map[string]rule // by ending
	words map[string]string
}

type rule struct {
	cut int
	add string
}

// Longest ending that rules look at, in bytes.
const longestEnding = 7

// shape tells how capitals lie.
const (
	small   = iota // word, or no letters
	letter         // I, A
	title          // Word
	capital        // WORD
	mixed          // eBook
	shapes
)

var shapeNames = [shapes]string{"small", "letter", "title", "capital", "mixed"}

func shapeOf(form string) int {
	upper, lower, first := 0, 0, false
	for i, r := range form {
		switch {
		case unicode.IsUpper(r):
			upper++
			first = first || i == 0
		case unicode.IsLower(r):
			lower++
		}
	}
	switch {
	case upper == 0:
		return small
	case first && upper == 1 && lower > 0:
		return title
	case upper == 1 && len(form) <= 2:
		return letter
	case lower == 0:
		return capital
	}
	return mixed
}

// Of returns the lemma of a form with these tags.
func (m *Model) Of(form, upos, xpos string) string {
	if len(form) > 100 {
		return form // no word; its copies would only cost memory
	}
	t := m.tags[key(upos, xpos)]
	low := lower(form)
	if t == nil {
		return low
	}
	if l, ok := t.words[low]; ok {
		return l
	}
	base := low
	if t.keep[shapeOf(form)] {
		base = form
	}
	for n := min(longestEnding, len(low)); n >= 0; n-- {
		r, ok := t.rules[low[len(low)-n:]]
		if !ok {
			continue
		}
		if r.cut == 0 {
			return base + r.add
		}
		if r.cut < len(base) && utf8.RuneStart(base[len(base)-r.cut]) {
			return base[:len(base)-r.cut] + r.add
		}
	}
	return base
}

// key names the tags under which lemmas are kept.
func key(upos, xpos string) string {
	switch xpos {
	case "VBD", "VBN":
		return "VERB/VBD"
	case "VBZ":
		if upos == "VERB" {
			return "VERB/VBZ"
		}
	}
	return upos + "/" + xpos
}

// lower writes in small letters, with plain apostrophes, without copying when
// nothing changes.
func lower(form string) string {
	for i := 0; i < len(form); i++ {
		if c := form[i]; c >= utf8.RuneSelf || c >= 'A' && c <= 'Z' {
			return strings.NewReplacer("’", "'", "‘", "'").Replace(strings.ToLower(form))
		}
	}
	return form
}

// Fill gives all tokens their lemmas. Tags must be there.
func (m *Model) Fill(tokens []lang.Token) {
	for i := range tokens {
		t := &tokens[i]
		t.Lemma = m.Of(t.Form, t.UPOS, t.XPOS)
		if t.UPOS == "AUX" && t.XPOS == "VBZ" && t.Lemma == "be" && len(t.Form) < 5 && has(tokens, i) {
			t.Lemma = "have"
		}
	}
}

// has reports whether the 's at i stands for "has": "she's been", "it's got".
func has(tokens []lang.Token, i int) bool {
	if f := lower(tokens[i].Form); f != "'s" && f != "s" {
		return false
	}
	for i++; i < len(tokens); i++ {
		switch t := &tokens[i]; {
		case t.XPOS == "RB":
		case t.XPOS == "VBN":
			f := lower(t.Form)
			return f == "been" || f == "got" || f == "had" || t.UPOS == "AUX" && f != "being"
		default:
			return false
		}
	}
	return false
}

// Read takes the text of a model. The irregular forms overrule what it says.
func Read(text string) (*Model, error) {
	m := &Model{tags: map[string]*tag{}}
	n := 0
	for line := range strings.SplitSeq(text, "\n") {
		n++
		if line == "" || line[0] == '#' {
			continue
		}
		if err := m.line(strings.Split(line, "\t")); err != nil {
			return nil, fmt.Errorf("reading the lemma model: line %d: %w", n, err)
		}
	}
	m.addIrregular()
	return m, nil
}

// sections are the tags that a line of irregular.txt stands for.
var sections = map[string][]string{
	"past":   {"VERB/VBD"},
	"third":  {"VERB/VBZ", "AUX/VBZ"},
	"plural": {"NOUN/NNS"},
	"more":   {"ADJ/JJR"},
	"most":   {"ADJ/JJS"},
	"clitic": {"AUX/VBP", "VERB/VBP", "VERB/VB", "AUX/VB"},
	"modal":  {"AUX/MD"},
	"not":    {"PART/RB", "ADV/RB"},
}

func (m *Model) addIrregular() {
	for line := range strings.SplitSeq(irregular, "\n") {
		f := strings.Fields(line)
		if len(f) < 3 || f[0] == "#" {
			continue
		}
		for _, k := range sections[f[0]] {
			t := m.tag(k)
			for _, form := range f[2:] {
				t.words[form] = f[1]
			}
		}
	}
}

func (m *Model) tag(key string) *tag {
	t := m.tags[key]
	if t == nil {
		t = &tag{rules: map[string]rule{}, words: map[string]string{}}
		m.tags[key] = t
	}
	return t
}

func (m *Model) line(f []string) error {
	if len(f) < 4 {
		return fmt.Errorf("%d columns", len(f))
	}
	t := m.tag(f[1])
	switch {
	case f[0] == "case" && len(f) == 4:
		for s, name := range shapeNames {
			if name == f[2] {
				t.keep[s] = f[3] == "keep"
			}
		}
	case f[0] == "rule" && len(f) == 5:
		cut, err := strconv.Atoi(f[3])
		if err != nil || cut < 0 {
			return fmt.Errorf("%q is no number of bytes", f[3])
		}
		t.rules[f[2]] = rule{cut, f[4]}
	case f[0] == "word" && len(f) == 4:
		t.words[f[2]] = f[3]
	default:
		return fmt.Errorf("no such line: %q", strings.Join(f, " "))
	}
	return nil
}
