package vocabulary

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"bookstead/internal/lang"
)

//go:embed terms.tsv
var termsFile string

// term is one row of terms.tsv, which tells what it holds.
type term struct {
	key, shown, explanation string
	forms                   []string // as written there
	near, not, before       []string
	name, any               bool
}

// termList finds terms by their form, in lower case with spaces for hyphens.
type termList struct {
	by      map[string][]term
	longest map[string]int // by first token: how many tokens to look at, at most
}

var terms = sync.OnceValue(func() termList {
	l, err := readTerms(termsFile)
	if err != nil {
		panic(err) // the embedded file is wrong: a defect that every run would show
	}
	return l
})

func readTerms(text string) (termList, error) {
	l := termList{map[string][]term{}, map[string]int{}}
	for n, line := range strings.Split(text, "\n") {
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		f := strings.Split(line, "\t")
		if len(f) != 3 && len(f) != 4 {
			return l, fmt.Errorf("reading terms: line %d has %d columns", n+1, len(f))
		}
		t := term{key: f[1], shown: f[1], explanation: f[2], forms: strings.Split(f[0], "|")}
		if len(f) == 4 {
			for _, c := range strings.Fields(f[3]) {
				name, list, _ := strings.Cut(c, "=")
				words := strings.Split(list, ",")
				switch name {
				case "near":
					t.near = words
				case "not":
					t.not = words
				case "before":
					t.before = words
				case "name":
					t.name = true
				case "any":
					t.any = true
				default:
					return l, fmt.Errorf("reading terms: line %d has the condition %q", n+1, c)
				}
			}
		}
		for _, form := range t.forms {
			s := spaced(form)
			l.by[s] = append(l.by[s], t)
			// A hyphen, an apostrophe and each word may be a token of its own.
			tokens := 2*len(strings.Fields(s)) + 2*strings.Count(s, "'")
			first, _, _ := strings.Cut(s, " ")
			for _, w := range []string{first, strings.SplitN(first, "'", 2)[0]} {
				l.longest[w] = max(l.longest[w], tokens)
			}
		}
	}
	return l, nil
}

// spaced is a form as the list keys it.
func spaced(s string) string {
	return strings.Join(strings.Fields(strings.NewReplacer("-", " ", "‐", " ", "‑", " ").Replace(fold(s))), " ")
}

// nearby is how many tokens on either side a condition looks at.
const nearby = 40

// allowed checks a term's conditions at tokens [i, end).
func (t term) allowed(e *engine, d *lang.Doc, i, end int, text string) bool {
	prev, next := wordBeside(d, i-1, -1), wordBeside(d, end, 1)
	if slices.Contains(t.not, prev) || slices.Contains(t.not, next) || len(t.before) > 0 && !slices.Contains(t.before, prev) {
		return false
	}
	tok := &d.Tokens[i]
	single := end == i+1
	switch {
	case t.name:
		// A name stands by itself: "Milton", but not "Ned Milton" or a Milton of the
		// book's own. Names of the list that hold a small letter at the front ("nymph")
		// have no such condition.
		exact := false
		for _, f := range t.forms {
			exact = exact || spaced(f) == spaced(text) && strings.EqualFold(f, text) && f[:1] == text[:1]
		}
		if !exact || text[0] < 'A' || text[0] > 'Z' || single && (proper(d, i-1) && !titleWord(d, i-1) || proper(d, end) || e.cast()[fold(text)]) {
			return false
		}
	case t.any:
		if single && tok.UPOS == "PROPN" && i > 0 && proper(d, i-1) {
			return false
		}
	case single && tok.UPOS != "NOUN":
		return false
	}
	if len(t.near) == 0 {
		return true
	}
	for j := max(0, i-nearby); j < min(len(d.Tokens), end+nearby); j++ {
		if (j < i || j >= end) && (slices.Contains(t.near, fold(d.Tokens[j].Lemma)) || slices.Contains(t.near, fold(d.Tokens[j].Form))) {
			return true
		}
	}
	return false
}

// wordBeside is the word at token i, or behind it in a direction when that is a
// hyphen.
func wordBeside(d *lang.Doc, i, by int) string {
	if i >= 0 && i < len(d.Tokens) && hyphen(d.Tokens[i].Form) {
		i += by
	}
	if i < 0 || i >= len(d.Tokens) {
		return ""
	}
	return fold(d.Tokens[i].Form)
}

func proper(d *lang.Doc, i int) bool {
	return i >= 0 && i < len(d.Tokens) && d.Tokens[i].UPOS == "PROPN"
}

func titleWord(d *lang.Doc, i int) bool {
	switch strings.TrimSuffix(fold(d.Tokens[i].Form), ".") {
	case "sir", "lord", "king", "queen", "saint", "st", "the":
		return true
	}
	return false
}

// mostOfStrangers: a name with more mentions than this belongs to a character of
// the book.
const mostOfStrangers = 4

// cast are the single names of the book's own characters.
func (e *engine) cast() map[string]bool {
	if e.castNames == nil {
		e.castNames = map[string]bool{}
		for _, m := range e.passages[0].Doc.Cast {
			if m.Kind == lang.Place || len(m.Mentions) <= mostOfStrangers {
				continue
			}
			for _, n := range append([]string{m.Name}, m.Aliases...) {
				for _, w := range strings.Fields(fold(n)) {
					e.castNames[w] = true
				}
			}
		}
	}
	return e.castNames
}
