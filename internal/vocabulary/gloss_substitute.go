package vocabulary

import (
	"math"
	"slices"
	"strings"

	"bookstead/internal/difficulty"
	"bookstead/internal/lang"
	"bookstead/internal/lang/inflect"
	"bookstead/internal/lexicon"
	"bookstead/internal/sense"
)

// Glosser says what the words of one text mean, in easier words. It is not safe
// for use by several goroutines at once.
type Glosser struct {
	lex     *lexicon.Lexicon
	d       *lang.Doc
	judge   *sense.Judge
	measure *difficulty.Measure
	vectors map[string][]float32
}

// NewGlosser returns the glosser of an analysed text.
func NewGlosser(lex *lexicon.Lexicon, d *lang.Doc) *Glosser {
	return &Glosser{lex: lex, d: d, judge: sense.New(lex, d), measure: difficulty.New(lex), vectors: map[string][]float32{}}
}

// relation is how a word may stand for another.
type relation byte

const (
	asSynonym relation = iota
	asSimilar          // adjectives that WordNet puts beside it
	asKind             // a word for the kind of thing
	asExample          // a word for one of its kinds
	asSeen
	relations
)

// Substitute is a word that may stand in the place of another.
type Substitute struct {
	Lemma string
	Form  string // inflected to fit
	Score float64
	// Sense is the meaning that the replaced word then has.
	Sense lexicon.Sense
	how   relation
	parts substituteParts
}

// substituteParts are what the score is made of.
type substituteParts struct {
	sure   float64 // how sure the meaning is, 0..1, summed over meanings that share the word
	how    [relations]float64
	alike  float64 // product of the vectors of the two forms
	fits   float64 // how much better than the word itself it fits the place
	heard  float64 // Zipf frequency
	tag    float64 // log share of its uses that have the meaning
	phrase float64 // 1 for several words
}

// vector of a form, kept.
func (g *Glosser) vector(form string) []float32 {
	v, ok := g.vectors[form]
	if !ok && g.d.Meanings != nil {
		v = g.d.Meanings.Word(form)
		g.vectors[form] = v
	}
	return v
}

func product(a, b []float32) float64 {
	sum := float32(0)
	for i := range min(len(a), len(b)) {
		sum += a[i] * b[i]
	}
	return float64(sum)
}

// Substitutes returns the words that may stand in the place of a unit, best first.
func (g *Glosser) Substitutes(u sense.Unit) []Substitute {
	return g.substitutes(u, g.judge.Rank(u), nil)
}

// substitutes rates the given words as well.
func (g *Glosser) substitutes(u sense.Unit, ranked []sense.Ranked, given []string) []Substitute {
	tok := g.d.Tokens[u.Head]
	found := map[string]*Substitute{}
	var order []*Substitute
	get := func(lemma string) *Substitute {
		s, ok := found[lemma]
		if !ok {
			s = &Substitute{Lemma: lemma, how: relations}
			found[lemma] = s
			order = append(order, s)
		}
		return s
	}
	own := strings.ToLower(u.Lemma)
	for _, r := range ranked {
		add := func(w lexicon.Synonym, how relation, id lexicon.SynsetID) {
			l := strings.ToLower(w.Lemma)
			if w.Offensive || l == own || l != w.Lemma || strings.Count(l, " ") > 2 {
				return
			}
			if _, bad := g.lex.Offensive(l); bad {
				return
			}
			s := get(l)
			s.parts.how[how] = max(s.parts.how[how], r.Score)
			if how < s.how || how == s.how && r.Score > s.parts.sure {
				s.how, s.Sense, s.parts.sure = how, r.Sense, r.Score
				s.parts.tag = g.share(l, id)
			}
		}
		if r.Offensive {
			continue
		}
		for _, y := range r.Synonyms {
			add(y, asSynonym, r.Synset)
		}
		around := func(ids []lexicon.SynsetID, how relation, most int) {
			for _, id := range ids[:min(len(ids), most)] {
				if sy, ok := g.lex.Synset(id); ok && !sy.Offensive {
					for _, y := range sy.Lemmas {
						add(y, how, id)
					}
				}
			}
		}
		around(g.lex.Similar(r.Synset), asSimilar, 20)
		around(g.lex.Hypernyms(r.Synset), asKind, 3)
		around(g.lex.Hyponyms(r.Synset), asExample, 20)
		around(g.lex.AlsoSee(r.Synset), asSeen, 10)
	}
	own2 := g.vector(strings.ToLower(tok.Form))
	for _, w := range given {
		get(w)
	}
	// of several words the last is judged, or the first of a verb
	fit, itself := g.judge.Fit(u), 0.0
	if fit != nil {
		itself = fit(headOf(strings.ToLower(tok.Form), u.POS))
	}
	out := make([]Substitute, len(order))
	for i, s := range order {
		s.Form = likeIn(s.Lemma, tok.XPOS, u.POS)
		if own2 != nil {
			s.parts.alike = product(own2, g.vector(headOf(s.Form, u.POS)))
		}
		if fit != nil {
			s.parts.fits = fit(headOf(s.Form, u.POS)) - itself
		}
		s.parts.heard = 1.5
		if z, ok := g.lex.Zipf(headOf(s.Form, u.POS)); ok {
			s.parts.heard = z
		}
		if strings.Contains(s.Lemma, " ") {
			s.parts.phrase = 1
		}
		s.Score = s.parts.score()
		out[i] = *s
	}
	slices.SortStableFunc(out, func(a, b Substitute) int { return cmp(b.Score, a.Score) })
	return out
}

// likeIn gives a lemma the form that a tag names, where the tag is one of its
// part of speech: an adjective that is tagged as a participle stays as it is.
func likeIn(lemma, xpos string, pos lexicon.POS) string {
	if len(xpos) < 2 || xpos[:2] != map[lexicon.POS]string{lexicon.Noun: "NN", lexicon.Verb: "VB", lexicon.Adjective: "JJ", lexicon.Adverb: "RB"}[pos] {
		return lemma
	}
	if pos == lexicon.Noun && (collective[lemma] || strings.HasSuffix(lemma, "s")) {
		return lemma
	}
	return inflect.Like(lemma, xpos)
}

// collective nouns have no plural beside themselves.
var collective = map[string]bool{"people": true, "folk": true, "cattle": true, "police": true, "clothing": true, "furniture": true, "hair": true, "money": true, "food": true, "advice": true, "weather": true}

func headOf(form string, pos lexicon.POS) string {
	if pos == lexicon.Verb {
		first, _, _ := strings.Cut(form, " ")
		return first
	}
	return form[strings.LastIndexByte(form, ' ')+1:]
}

// share is the logarithm of the share that a meaning has in all uses of a word.
func (g *Glosser) share(lemma string, id lexicon.SynsetID) float64 {
	total, mine := 0.5, 0.1
	for _, p := range lexicon.PartsOfSpeech() {
		for _, s := range g.lex.Senses(lemma, p) {
			c := float64(s.Count) + 0.5/float64(s.Number)
			total += c
			if s.Synset == id {
				mine += c
			}
		}
	}
	return math.Log(mine / total)
}

// score adds the parts up; the weights were fitted, conditional logistic
// regression again, on 677 targets of CoInCo's development part (docs/words.md).
func (p substituteParts) score() float64 {
	return 1.15*math.Sqrt(p.how[asSynonym]) - 0.45*p.how[asSimilar] + 0.7*p.how[asKind] - 0.16*p.how[asExample] + 0.05*p.how[asSeen] +
		1.53*p.alike + 0.19*p.fits + 0.36*p.heard + 0.27*p.tag + several*p.phrase
}

// several is what it costs to be of several words.
const several = -3.97
