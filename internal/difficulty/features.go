package difficulty

import (
	"math"
	"strconv"
	"strings"

	"bookstead/internal/lexicon"
)

const interceptName = "one"

// features tells what can be said of a word in lower case, in a fixed order:
//
//	heard novels spread stories tales   Zipf frequencies and shares of books
//	heard-often heard-seldom            what is above 4, below 2.5
//	letters root-letters syllables      length; the root of the number of letters
//	senses tagged depth                 in WordNet: meanings, times tagged, levels below the top
//	family family-tales                 how much more frequent the word is that it comes from
//	root parts                          the same of the word without a prefix or suffix,
//	                                    and of the rarer of two words written as one
//	base base-tales                     how frequent its dictionary form is
//	defines                             definitions that use it
//	listed-first listed                 it stands on Spache's list, on Dale and Chall's
//	kind:…  is:…                        the class of its most usual meaning and what lies above it
//	starts:… ends:…                     one to four letters
func features(lex *lexicon.Lexicon, word string, add func(name string, value float64)) {
	describe(lex, word, add)
	if lex.Familiar(lexicon.Spache, word) {
		add("listed-first", 1)
	}
	if lex.Familiar(lexicon.DaleChall, word) {
		add("listed", 1)
	}
}

// What is not met at all is put below the rarest that is.
const (
	unheard  = 1.0
	unread   = 1.5
	untold   = 3.0
	farthest = 15
)

// describe is features without the lists, which the weights are learned from.
func describe(lex *lexicon.Lexicon, word string, add func(name string, value float64)) {
	heard := zipfOr(lex.Zipf, word, unheard)
	read := zipfOr(lex.BookZipf, word, unread)
	told, tales := story(lex, word)
	letters := float64(len(word))
	add("heard", heard)
	add("novels", read)
	add("spread", lex.BookRange(word))
	add("stories", told)
	add("tales", tales)
	add("letters", letters)
	add("root-letters", math.Sqrt(letters))
	add("syllables", float64(lex.Syllables(word)))
	add("defines", math.Log1p(float64(lex.Defining(word))))
	for n := 1; n <= 4 && len(word) > n+1; n++ {
		add("starts:"+word[:n], 1)
		add("ends:"+word[len(word)-n:], 1)
	}

	root, parts := madeOf(lex, word)
	add("root", max(0, root-heard))
	add("parts", max(0, parts-heard))
	add("heard-often", math.Max(0, heard-4))
	add("heard-seldom", math.Max(0, 2.5-heard))

	u := usual(lex, word)
	base := max(heard, zipfOr(lex.Zipf, u.lemma, unheard))
	baseTold, _ := story(lex, u.lemma)
	add("base", base)
	add("base-tales", max(told, baseTold))
	add("senses", math.Log1p(float64(u.senses)))
	add("tagged", math.Log1p(float64(u.tagged)))
	if !u.ok {
		add("kind:none", 1)
		return
	}
	add("kind:"+u.sense.Lexname, 1)
	add("part:"+string(rune(u.sense.POS)), 1)
	family, familyTold := 0.0, 0.0
	for _, r := range lex.Derivations(u.sense) {
		if strings.EqualFold(r.Lemma, word) {
			continue
		}
		family = max(family, zipfOr(lex.Zipf, r.Lemma, 0))
		t, _ := story(lex, r.Lemma)
		familyTold = max(familyTold, t)
	}
	add("family", max(0, family-heard))
	add("family-tales", max(0, familyTold-told))
	depth := 0
	for id, up := u.sense.Synset, lex.Hypernyms(u.sense.Synset); len(up) > 0 && depth < farthest; up = lex.Hypernyms(id) {
		id = up[0]
		depth++
	}
	add("depth", float64(depth))
	for _, id := range above(lex, u.sense.Synset) {
		add("is:"+strconv.Itoa(int(id)), 1)
	}
}

func zipfOr(f func(string) (float64, bool), word string, otherwise float64) float64 {
	if z, ok := f(word); ok {
		return z
	}
	return otherwise
}

func story(lex *lexicon.Lexicon, word string) (zipf, share float64) {
	if z, s, ok := lex.StoryZipf(word); ok {
		return z, s
	}
	return untold, 0
}

// usage is the most usual part of speech and dictionary form of a word.
type usage struct {
	lemma          string
	sense          lexicon.Sense
	senses, tagged int // of all parts of speech and forms together
	ok             bool
}

func usual(lex *lexicon.Lexicon, word string) usage {
	u := usage{lemma: word}
	best := -1
	for _, p := range lexicon.PartsOfSpeech() {
		for _, lemma := range lex.Lemmas(word, p) {
			senses := lex.Senses(lemma, p)
			sum := 0
			for _, s := range senses {
				sum += s.Count + 1
			}
			u.senses += len(senses)
			u.tagged += sum
			if sum > best && len(senses) > 0 {
				best = sum
				u.lemma, u.sense, u.ok = lemma, senses[0], true
			}
		}
	}
	return u
}

// above returns what lies above a synset, and for an adjective its neighbours.
func above(lex *lexicon.Lexicon, id lexicon.SynsetID) []lexicon.SynsetID {
	seen := map[lexicon.SynsetID]bool{id: true}
	var out []lexicon.SynsetID
	add := func(ids []lexicon.SynsetID) {
		for _, h := range ids {
			if !seen[h] && len(out) < 60 {
				seen[h] = true
				out = append(out, h)
			}
		}
	}
	add(lex.Hypernyms(id))
	add(lex.Similar(id))
	for i := 0; i < len(out) && id.POS() != lexicon.Adjective; i++ {
		add(lex.Hypernyms(out[i]))
	}
	return out
}

// Describe returns what the weights are learned from; for cmd/difficultytrain.
func Describe(lex *lexicon.Lexicon, word string) map[string]float64 {
	out := map[string]float64{}
	describe(lex, word, func(name string, value float64) { out[name] += value })
	return out
}

var (
	prefixes = []string{"un", "re", "dis", "mis", "over", "out", "under", "fore", "non", "in", "im"}
	suffixes = []string{"able", "ness", "less", "ful", "ment", "ing", "ed", "er", "or", "est", "ly", "ish", "ie", "y", "s", "en", "ship", "hood", "like", "let"}
)

// madeOf returns how often the word is heard that is left without a prefix or
// suffix, and the rarer part of a compound, 0 when there is none.
func madeOf(lex *lexicon.Lexicon, word string) (root, parts float64) {
	try := func(w string) {
		if len(w) >= 3 && (lex.HasLemma(w, lexicon.Noun) || lex.HasLemma(w, lexicon.Verb) || lex.HasLemma(w, lexicon.Adjective)) {
			root = max(root, zipfOr(lex.Zipf, w, 0))
		}
	}
	for _, p := range prefixes {
		if w, ok := strings.CutPrefix(word, p); ok {
			try(w)
		}
	}
	for _, s := range suffixes {
		w, ok := strings.CutSuffix(word, s)
		if !ok || len(w) < 2 {
			continue
		}
		try(w)
		try(w + "e")
		if n := len(w); n > 2 && w[n-1] == w[n-2] {
			try(w[:n-1])
		}
		if b, ok := strings.CutSuffix(w, "i"); ok {
			try(b + "y")
		}
	}
	for i := 3; i+3 <= len(word); i++ {
		a, b := word[:i], strings.TrimPrefix(word[i:], "-")
		if len(b) < 3 || !lex.HasLemma(a, lexicon.Noun) && !lex.HasLemma(a, lexicon.Adjective) && !lex.HasLemma(a, lexicon.Verb) || !lex.HasLemma(b, lexicon.Noun) && !lex.HasLemma(b, lexicon.Verb) {
			continue
		}
		parts = max(parts, min(zipfOr(lex.Zipf, a, 0), zipfOr(lex.Zipf, b, 0)))
	}
	return root, parts
}
