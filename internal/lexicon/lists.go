package lexicon

import "slices"

// SightList is one level of a published list of common words.
type SightList struct {
	Name  string // "pre-primer"
	Words []string
}

// Dolch returns Dolch's 220 service words (1936) in the five levels in use.
func (l *Lexicon) Dolch() []SightList {
	out := slices.Clone(l.dolch)
	for i := range out {
		out[i].Words = slices.Clone(out[i].Words)
	}
	return out
}

// Fry returns Fry's first hundred words (1980) by rank.
func (l *Lexicon) Fry() []string { return slices.Clone(l.fry) }

// Function reports whether a word is one of grammar (articles, pronouns,
// prepositions, auxiliaries, conjunctions), in any form.
func (l *Lexicon) Function(word string) bool { return l.function[normal(word)] }
