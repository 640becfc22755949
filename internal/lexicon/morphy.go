package lexicon

import (
	"iter"
	"slices"
	"strings"
)

// The endings that WordNet's morphy takes off, morphy(7WN).
var detachments = map[POS][][2]string{
	Noun:      {{"s", ""}, {"ses", "s"}, {"xes", "x"}, {"zes", "z"}, {"ches", "ch"}, {"shes", "sh"}, {"men", "man"}, {"ies", "y"}},
	Verb:      {{"s", ""}, {"ies", "y"}, {"es", "e"}, {"es", ""}, {"ed", "e"}, {"ed", ""}, {"ing", "e"}, {"ing", ""}},
	Adjective: {{"er", ""}, {"est", ""}, {"er", "e"}, {"est", "e"}},
	Adverb:    {},
}

// Lemmas returns the lemmas that a form may belong to as this part of speech,
// by WordNet's exception lists and endings: "mice" gives "mouse". The form
// itself comes first when it is a lemma; lemmas by the exception lists stand
// before those by endings. Of several words each may be inflected ("went out"
// gives "go out"). Nil when nothing is found. All are in lower case.
func (l *Lexicon) Lemmas(form string, pos POS) []string {
	form = strings.ReplaceAll(normal(form), "_", " ")
	var out []string
	add := func(lemma string) {
		if !slices.Contains(out, lemma) && l.HasLemma(lemma, pos) {
			out = append(out, lemma)
		}
	}
	add(form)
	exceptions := l.exception(form, pos)
	for _, lemma := range exceptions {
		add(lemma)
	}
	if len(exceptions) == 0 {
		for _, lemma := range detached(form, pos) {
			add(lemma)
		}
	}
	if len(out) == 0 && strings.ContainsAny(form, " -") {
		for _, lemma := range l.phraseBases(form, pos) {
			add(lemma)
		}
	}
	return out
}

// exception looks a form up in the exception lists.
func (l *Lexicon) exception(form string, pos POS) []string {
	value, ok := l.exceptions.Get(form)
	if !ok {
		return nil
	}
	var out []string
	for r := (reader{value}); len(r.rest) > 0; {
		p := POS(r.byte())
		if lemma := string(r.bytes(r.varint())); p == pos {
			out = append(out, lemma)
		}
	}
	return out
}

// detached takes endings off; the results need not be words.
func detached(form string, pos POS) []string {
	if pos == Noun {
		if base, ok := strings.CutSuffix(form, "ful"); ok {
			var out []string
			for _, b := range detached(base, pos) { // "boxesful"
				out = append(out, b+"ful")
			}
			return out
		}
		if strings.HasSuffix(form, "ss") || len(form) <= 2 {
			return nil
		}
	}
	var out []string
	for _, d := range detachments[pos] {
		if base, ok := strings.CutSuffix(form, d[0]); ok && base != "" {
			out = append(out, base+d[1])
		}
	}
	return out
}

// phraseBases tries base forms for the words of a phrase, in all ways together.
func (l *Lexicon) phraseBases(form string, pos POS) []string {
	type part struct{ word, separator string }
	var parts []part
	for rest := form; rest != ""; {
		at := strings.IndexAny(rest, " -")
		if at < 0 {
			parts = append(parts, part{rest, ""})
			break
		}
		parts = append(parts, part{rest[:at], rest[at : at+1]})
		rest = rest[at+1:]
	}
	if len(parts) > 6 {
		return nil
	}
	ways := []string{""}
	for _, p := range parts {
		bases := []string{p.word}
		for _, b := range append(l.exception(p.word, pos), detached(p.word, pos)...) {
			if l.HasLemma(b, pos) && !slices.Contains(bases, b) {
				bases = append(bases, b)
			}
		}
		var longer []string
		for _, w := range ways {
			for _, b := range bases {
				longer = append(longer, w+b+p.separator)
			}
		}
		ways = longer
	}
	return ways
}

// Multiword returns the lemmas of several words that start with this word, in
// order of the alphabet: "set" gives "set about", "set ablaze", … Look a verb up
// by its lemma.
func (l *Lexicon) Multiword(first string) []string {
	var out []string
	for lemma := range l.lemmas.Prefix(normal(first) + " ") {
		out = append(out, lemma)
	}
	return out
}

// Words yields all lemmas of one word, in order of the alphabet.
func (l *Lexicon) Words() iter.Seq[string] {
	return func(yield func(string) bool) {
		for lemma := range l.lemmas.Prefix("") {
			if !strings.Contains(lemma, " ") && !yield(lemma) {
				return
			}
		}
	}
}
