package vocabulary

import (
	"slices"
	"strings"

	"bookstead/internal/lexicon"
)

// kin are the words that can give a word away when they stand near it, by lemma,
// each with the synsets in which it does.
type kin struct {
	same     map[string][]lexicon.SynsetID // means nearly the same
	opposite map[string][]lexicon.SynsetID
	kind     map[string][]lexicon.SynsetID // what it is a kind of
	gloss    map[string]bool               // words of its definition
}

// sensesForKin: only the usual senses, or every word would be kin of every other.
const sensesForKin = 2

// kin of a lemma in its usual senses.
func (e *engine) kin(lemma string, pos lexicon.POS) kin {
	key := string(pos) + lemma
	if k, ok := e.kins[key]; ok {
		return k
	}
	senses := e.lex.Senses(lemma, pos)
	k := e.kinOf(lemma, senses[:min(len(senses), sensesForKin)])
	e.kins[key] = k
	return k
}

// kinOf some senses of a lemma.
func (e *engine) kinOf(lemma string, senses []lexicon.Sense) kin {
	k := kin{map[string][]lexicon.SynsetID{}, map[string][]lexicon.SynsetID{}, map[string][]lexicon.SynsetID{}, map[string]bool{}}
	add := func(m map[string][]lexicon.SynsetID, id lexicon.SynsetID, words ...lexicon.Synonym) {
		for _, w := range words {
			l := fold(w.Lemma)
			if !w.Offensive && plain(l) && len(l) > 2 && !akin(l, lemma) && !e.lex.Function(l) {
				m[l] = append(m[l], id)
			}
		}
	}
	synsets := func(m map[string][]lexicon.SynsetID, ids []lexicon.SynsetID) {
		for _, id := range ids {
			if sy, ok := e.lex.Synset(id); ok {
				add(m, id, sy.Lemmas...)
			}
		}
	}
	for _, s := range senses {
		add(k.same, s.Synset, s.Synonyms...)
		if s.POS == lexicon.Adjective {
			synsets(k.same, e.lex.Similar(s.Synset))
		}
		if s.POS == lexicon.Noun || s.POS == lexicon.Verb {
			synsets(k.kind, e.lex.Hypernyms(s.Synset))
		}
		for _, a := range e.lex.Antonyms(s) {
			add(k.opposite, a.Synset, lexicon.Synonym{Lemma: a.Lemma, Offensive: a.Offensive})
		}
		for _, d := range e.lex.Derivations(s) { // "wonder" beside "wonderful" gives nothing away, "fright" beside "terror" does
			add(k.same, d.Synset, d.Synonyms...)
		}
		for _, w := range strings.FieldsFunc(fold(s.Gloss), func(r rune) bool { return r < 'a' || r > 'z' }) {
			if z, _ := e.zipf(w); len(w) < 3 || z > 5.4 || e.lex.Function(w) || akin(w, lemma) {
				continue
			}
			k.gloss[w] = true
			for _, p := range []lexicon.POS{lexicon.Noun, lexicon.Verb} {
				if ls := e.lex.Lemmas(w, p); len(ls) > 0 {
					k.gloss[ls[0]] = true
				}
			}
		}
	}
	return k
}

// akin reports two words that are built on one: seeing the one explains nothing
// about the other.
func akin(a, b string) bool {
	return strings.Contains(a, b) || strings.Contains(b, a) || family(a) == family(b)
}

// usualRank: a word means what its kin mean only in one of its most usual senses
// ("air" is seldom a melody).
const usualRank = 2

// means reports that a word, as this part of speech, usually has one of the
// meanings.
func (e *engine) means(lemma string, pos lexicon.POS, ids []lexicon.SynsetID) bool {
	if len(ids) == 0 {
		return false
	}
	senses := e.lex.Senses(lemma, pos)
	return slices.ContainsFunc(senses[:min(usualRank, len(senses))], func(s lexicon.Sense) bool { return slices.Contains(ids, s.Synset) })
}

// suffixes that relatives of a word carry, the longest first.
var familyEndings = []string{"fulness", "lessness", "iness", "fully", "ously", "ingly", "edly", "ness", "less", "ment", "able", "ible", "tion", "ful", "ous", "ish", "ily", "ing", "ion", "ly", "er", "ed", "y", "e"}

// family cuts a word down to what its relatives share: "sorrow" for
// "sorrowful". Rough on purpose: two words that look related are not both
// taught.
func family(lemma string) string {
	for _, s := range familyEndings {
		if r, ok := strings.CutSuffix(lemma, s); ok && len(r) >= 4 {
			if n := len(r); n > 4 && r[n-1] == r[n-2] && !strings.ContainsRune("sl", rune(r[n-1])) { // "beggar", but not "stillness"
				return r[:n-1]
			}
			return r
		}
	}
	return lemma
}

// families numbers the families of some lemmas: words that look related, and
// words of one beginning that WordNet derives from each other ("despair",
// "desperate").
func (e *engine) families(lemmas []string) map[string]int {
	parent := map[string]string{}
	var root func(string) string
	root = func(w string) string {
		if p, ok := parent[w]; ok && p != w {
			r := root(p)
			parent[w] = r
			return r
		}
		return w
	}
	have := map[string]bool{}
	for _, l := range lemmas {
		have[l] = true
		parent[root(l)] = root("=" + family(l))
	}
	for _, l := range lemmas {
		for _, pos := range lexicon.PartsOfSpeech() {
			if !e.lex.HasLemma(l, pos) {
				continue
			}
			for _, s := range e.lex.Senses(l, pos) {
				for _, d := range e.lex.Derivations(s) {
					if w := fold(d.Lemma); have[w] && w != l && beginAlike(w, l) {
						parent[root(w)] = root(l)
					}
				}
			}
		}
	}
	sorted := slices.Sorted(slices.Values(lemmas))
	number, of := map[string]int{}, map[string]int{}
	for _, l := range sorted {
		r := root(l)
		if _, ok := number[r]; !ok {
			number[r] = len(number)
		}
		of[l] = number[r]
	}
	return of
}

// beginAlike reports four letters in common at the beginning.
func beginAlike(a, b string) bool {
	return len(a) >= 4 && len(b) >= 4 && a[:4] == b[:4]
}
