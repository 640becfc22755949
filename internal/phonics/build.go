package phonics

import (
	"strings"

	"bookstead/internal/lexicon"
)

// takes says of which parts of speech the base of an affix is.
var takes = map[string]string{
	"-ness": "a", "-ly": "an", "-est": "a", "-ish": "an", "-less": "n", "-ful": "nv", "-ship": "n", "-hood": "n", "-dom": "na",
	"-some": "nva", "-ward": "n", "-y": "nv", "-ment": "v", "-able": "v", "-ible": "v", "-tion": "v", "-or": "v", "-er": "va",
	"-en": "na", "-ing": "v", "-ed": "v", "-s": "nv", "-es": "nv", "-'s": "n",
	"un-": "av", "re-": "v", "dis-": "va", "mis-": "v", "im-": "a", "in-": "a", "non-": "na", "pre-": "vn", "fore-": "vn",
	"over-": "va", "under-": "vn", "out-": "v", "inter-": "vn", "super-": "na",
}

// Build takes a word apart by what the lexicon knows; see [BuildIn].
func (s *Speaker) Build(word string) (Build, bool) { return BuildIn(s.lex, word) }

// commonBase is how often, on the Zipf scale, a base is heard at least: the
// parts of a word are shown to a child, and a base that nobody says ("sur" of
// "surly") is none.
const commonBase = 2.5

// BuildIn takes a word apart by what a lexicon knows: the base is of a part of
// speech that the affix takes, and unless the affix leaves no doubt, WordNet
// relates the word in its usual meaning to the base ("teacher" to "teach", but not
// "corner" to "corn") or does not have the word at all.
func BuildIn(lex *lexicon.Lexicon, word string) (Build, bool) {
	return BuildOf(word, func(word, base, affix string) bool {
		for _, pos := range takes[affix] {
			if !lex.HasLemma(base, lexicon.POS(pos)) || !sure(affix) && !related(lex, word, base) {
				continue
			}
			if z, heard := lex.Zipf(base); heard && z >= commonBase && lex.Correct(base) || !sure(affix) {
				return true
			}
		}
		return false
	})
}

// related reports that WordNet derives the word, in its first meaning as some
// part of speech, from the base, or that it does not have the word.
func related(lex *lexicon.Lexicon, word, base string) bool {
	has := false
	for _, pos := range lexicon.PartsOfSpeech() {
		senses := lex.Senses(word, pos)
		if len(senses) == 0 {
			continue
		}
		has = true
		for _, d := range lex.Derivations(senses[0]) {
			if strings.EqualFold(d.Lemma, base) {
				return true
			}
		}
	}
	return !has
}
