package vocabulary

import (
	"slices"
	"strings"

	"bookstead/internal/kit"
	"bookstead/internal/lexicon"
)

// Clash reports that the meaning told for one of two words fits the other too,
// so that a child could not say which belongs to which: in a matching exercise
// they may not stand together.
func Clash(lex *lexicon.Lexicon, a, b kit.Content) bool {
	of := func(c kit.Content) told {
		s, ok := lex.SenseByKey(c.Sense)
		if !ok {
			s = lexicon.Sense{Lemma: c.Lemma}
		}
		return told{sense: s, gloss: gloss{meaning: c.Meaning, synonym: c.Synonym}, ok: true}
	}
	e := &engine{lex: lex}
	return e.clash(of(a), fold(a.Lemma), of(b), fold(b.Lemma))
}

// clash compares by what is told and by where the senses lie in WordNet.
func (e *engine) clash(a told, aLemma string, b told, bLemma string) bool {
	if alike(a.gloss.meaning, b.gloss.meaning) || a.gloss.synonym != "" && (a.gloss.synonym == b.gloss.synonym || a.gloss.synonym == b.gloss.meaning) || b.gloss.synonym != "" && b.gloss.synonym == a.gloss.meaning {
		return true
	}
	if says(a, bLemma) || says(b, aLemma) || aLemma != "" && aLemma == bLemma {
		return true
	}
	sa, sb := a.sense.Synset, b.sense.Synset
	if sa == 0 || sb == 0 || sa.POS() != sb.POS() {
		return false
	}
	if sa == sb || slices.Contains(e.lex.Hypernyms(sa), sb) || slices.Contains(e.lex.Hypernyms(sb), sa) {
		return true
	}
	na, nb := append(e.lex.Similar(sa), sa), append(e.lex.Similar(sb), sb)
	for _, x := range na {
		if slices.Contains(nb, x) { // one is like the other, or both are like a third
			return true
		}
	}
	if sa.POS() == lexicon.Verb {
		for _, x := range e.lex.Hypernyms(sa) { // two ways of doing one thing: "stagger" and "stroll" are not told apart by "walk"
			if slices.Contains(e.lex.Hypernyms(sb), x) && (oneWord(a.gloss.meaning) || oneWord(b.gloss.meaning)) {
				return true
			}
		}
	}
	return false
}

func oneWord(s string) bool { return !strings.Contains(s, " ") }

// says reports that what is told of a word is, or names, the other word.
func says(t told, lemma string) bool {
	if lemma == "" {
		return false
	}
	for _, s := range t.sense.Synonyms {
		if fold(s.Lemma) == lemma {
			return true
		}
	}
	return t.gloss.synonym == lemma || slices.Contains(strings.Fields(t.gloss.meaning), lemma)
}

// alike reports two meanings that tell the same: the same words of content, or
// all but one of them.
func alike(a, b string) bool {
	wa, wb := content(a), content(b)
	if len(wa) == 0 || len(wb) == 0 {
		return a == b
	}
	common := 0
	for _, w := range wa {
		if slices.Contains(wb, w) {
			common++
		}
	}
	return common == min(len(wa), len(wb)) || common >= 3
}

func content(s string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(fold(s), func(r rune) bool { return r < 'a' || r > 'z' }) {
		if len(w) > 3 && w != "something" && w != "someone" && w != "with" && w != "from" && w != "very" {
			out = append(out, w)
		}
	}
	return out
}
