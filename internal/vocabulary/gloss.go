package vocabulary

import (
	"slices"
	"strings"

	"bookstead/internal/lang/inflect"
	"bookstead/internal/lexicon"
)

// gloss is what is said about a word: a meaning of at most eight words and a
// synonym that can stand in its place.
type gloss struct{ meaning, synonym string }

// mostWords of a meaning on a child's page.
const mostWords = 8

// explain makes the gloss of a sense for a token with this Penn tag. ok is
// false when neither a short definition nor an easier synonym can be had.
func (e *engine) explain(lemma, xpos string, s lexicon.Sense) (gloss, bool) {
	var g gloss
	g.synonym = e.synonym(lemma, xpos, s)
	if m := shorten(s.Gloss); m != "" && e.simple(m, lemma) {
		g.meaning = m
	}
	if g.meaning == "" && g.synonym != "" {
		g.meaning = g.synonym
	}
	return g, g.meaning != ""
}

// synonym is the easiest other lemma of the synset or, for adjectives, of its
// neighbours, inflected like the word; it must be met clearly more often.
func (e *engine) synonym(lemma, xpos string, s lexicon.Sense) string {
	own, _ := e.lex.Zipf(lemma)
	type option struct {
		word string
		zipf float64
	}
	var options []option
	add := func(w string, bad bool, handicap float64) {
		if bad || strings.EqualFold(w, lemma) || family(fold(w)) == family(lemma) || !words(w) || strings.Contains(fold(w), lemma) {
			return
		}
		if _, off := e.lex.Offensive(w); off {
			return
		}
		z := 9.0
		for _, part := range strings.Fields(w) {
			pz, ok := e.lex.Zipf(part)
			if !ok {
				return
			}
			z = min(z, pz)
		}
		if z > own+0.4 && z > 3.2 {
			options = append(options, option{w, z - handicap})
		}
	}
	for _, y := range s.Synonyms {
		add(y.Lemma, y.Offensive, 0)
	}
	if s.POS == lexicon.Adjective {
		for _, id := range e.lex.Similar(s.Synset) {
			if sy, ok := e.lex.Synset(id); ok && !sy.Offensive {
				for _, y := range sy.Lemmas {
					add(y.Lemma, y.Offensive, 1.5)
				}
			}
		}
	}
	if len(options) == 0 {
		return ""
	}
	slices.SortStableFunc(options, func(a, b option) int { return cmp(b.zipf, a.zipf) })
	return inflect.Like(options[0].word, xpos)
}

// words reports whether s is one or two plain lower-case words.
func words(s string) bool {
	return strings.Count(s, " ") <= 1 && plain(strings.ReplaceAll(s, " ", "")) && s == fold(s)
}

// shorten takes the core of a dictionary definition: its first clause, without
// brackets and without what follows a semicolon, a usage label or a relative
// clause too long for the page. It returns "" when more than eight words are left.
func shorten(g string) string {
	for {
		i, j := strings.IndexByte(g, '('), strings.IndexByte(g, ')')
		if i < 0 || j < i {
			break
		}
		g = g[:i] + g[j+1:]
	}
	g, _, _ = strings.Cut(g, ";")
	g, _, _ = strings.Cut(g, ":")
	g = strings.Join(strings.Fields(g), " ")
	g = strings.TrimSpace(strings.TrimSuffix(g, ","))
	if n := len(strings.Fields(g)); n > mostWords {
		for _, stop := range []string{", ", " that ", " which ", " especially ", " so as to ", " in order to ", " usually ", " or ", " with ", " by "} {
			if i := strings.LastIndex(g, stop); i > 0 {
				if h := strings.TrimSpace(g[:i]); len(strings.Fields(h)) <= mostWords && len(strings.Fields(h)) >= 2 && complete(h) {
					return h
				}
			}
		}
		return ""
	}
	if !complete(g) {
		return ""
	}
	return g
}

// complete refuses a phrase that was cut where it cannot end.
func complete(s string) bool {
	f := strings.Fields(s)
	if len(f) == 0 {
		return false
	}
	switch f[len(f)-1] {
	case "a", "an", "the", "of", "or", "and", "to", "in", "with", "by", "for", "on", "from", "as", "that", "is", "are", "being", "not", "very", "some", "any", "having", "who", "whose", "at", "into":
		return false
	}
	return !strings.HasPrefix(s, "of or relating") && !strings.HasPrefix(s, "relating to") && !strings.HasPrefix(s, "(")
}

// simple refuses a definition that uses the word itself or harder words.
func (e *engine) simple(m, lemma string) bool {
	own, ok := e.lex.Zipf(lemma)
	if !ok {
		own = 1.2
	}
	for _, w := range strings.FieldsFunc(fold(m), func(r rune) bool { return r < 'a' || r > 'z' }) {
		if len(w) < 3 || e.lex.Function(w) {
			continue
		}
		if w == lemma || len(lemma) > 4 && strings.HasPrefix(w, family(lemma)) {
			return false
		}
		if _, bad := e.lex.Offensive(w); bad {
			return false
		}
		z, ok := e.lex.Zipf(w)
		if !ok || z < 2.9 || z < own+0.1 && z < 3.6 {
			return false
		}
	}
	return true
}
