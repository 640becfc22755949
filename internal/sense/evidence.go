package sense

import (
	"math"
	"strings"
)

// evidence is what speaks for a sense, part by part.
type evidence [parts]float64

const (
	read      = iota // what the network makes of the word where it stands: log probability
	usual            // log share of its tagged uses
	first            // 1/number in WordNet's order
	sentence         // words that the sentence shares with what tells of the sense
	nearby           // the same for three sentences on each side
	likeHere         // the sentence is about such things: cosine of the vectors
	synonyms         // the best synonym fits the place, against the word itself
	relatives        // so does the best of its neighbours in WordNet
	average          // so do all of them on average
	hasSyn           // it has a synonym at all
	hasRel           // it has neighbours at all
	text             // it has the sense in the other places of the text, too: log chance against an even one
	parts
)

// weights of the parts: conditional logistic regression on semeval2007 and on the
// SemCor documents that the network did not see, with the counts of those
// documents taken out of WordNet's (docs/words.md).
var weights = evidence{read: 0.6, usual: -0.125, first: 0.9, sentence: 1.66, nearby: 0.8, likeHere: 3.26,
	synonyms: 0.098, relatives: 0.006, average: 0.15, hasSyn: -0.176, hasRel: -0.072, text: 0.1}

func (e evidence) sum() float64 {
	s := 0.0
	for i, v := range e {
		s += weights[i] * v
	}
	return s
}

// reach is how many sentences on each side are looked at.
const reach = 3

// fewRelatives is how many neighbours of a sense are tried in its place.
const fewRelatives = 12

func (j *Judge) evidence(u Unit, senses []sense) []evidence {
	key := place{u.Head, entry{u.Lemma, u.POS}}
	if got, ok := j.local[key]; ok {
		return got
	}
	out := make([]evidence, len(senses))
	j.local[key] = out
	j.asRead(out, u, senses)
	here, around := j.window(u, 0), j.window(u, reach)
	about := j.mean(here.order, here.weight)
	total := 0.0
	for _, s := range senses {
		total += float64(s.Count) + 1
	}
	for i, s := range senses {
		e := &out[i]
		e[usual] = math.Log((float64(s.Count) + 1) / total)
		e[first] = 1 / float64(s.Number)
		sig := j.signature(s.Synset)
		scale := math.Sqrt(sig.size + 20)
		for _, w := range sig.order {
			if w == u.Lemma {
				continue
			}
			x := sig.weight[w] * j.rarity(w) / scale
			if here.weight[w] > 0 {
				e[sentence] += x
			}
			if around.weight[w] > 0 {
				e[nearby] += x
			}
		}
		if sig.vector != nil {
			e[likeHere] = cosine(sig.vector, about)
		}
	}
	j.inPlace(out, u, senses)
	return out
}

// asRead asks the network.
func (j *Judge) asRead(out []evidence, u Unit, senses []sense) {
	if j.d.Meanings == nil {
		return
	}
	keys := make([]string, len(senses))
	for i, s := range senses {
		keys[i] = s.Key
	}
	for i, p := range j.d.Meanings.Senses(u.Head, keys) {
		out[i][read] = math.Log(p + 1e-4)
	}
}

// window are the content lemmas around a unit.
func (j *Judge) window(u Unit, sentences int) signature {
	s := signature{weight: map[string]float64{}}
	at := j.d.SentenceAt(j.d.Tokens[u.Head].Start)
	for k := max(0, at-sentences); k <= min(len(j.d.Sentences)-1, at+sentences); k++ {
		for i := j.d.Sentences[k].First; i < j.d.Sentences[k].Last; i++ {
			if _, ok := POSOf(j.d.Tokens[i].UPOS); !ok || i >= u.First && i < u.Last {
				continue
			}
			w := strings.ToLower(j.d.Tokens[i].Lemma)
			if s.weight[w] == 0 {
				s.order = append(s.order, w)
			}
			s.weight[w] = 1
		}
	}
	return s
}

// inPlace tries the synonyms and neighbours of each sense in the word's place.
func (j *Judge) inPlace(out []evidence, u Unit, senses []sense) {
	if j.d.Meanings == nil {
		return
	}
	type owner struct {
		sense int
		part  int
	}
	forms := []string{u.Lemma}
	owners := []owner{{}}
	for i, s := range senses {
		for _, y := range s.Synonyms {
			if !strings.Contains(y.Lemma, " ") {
				forms, owners = append(forms, y.Lemma), append(owners, owner{i, synonyms})
			}
		}
		near := j.near(s.Synset)
		for _, n := range near[:min(len(near), fewRelatives)] {
			sy, _ := j.lex.Synset(n)
			for _, y := range sy.Lemmas {
				if !strings.Contains(y.Lemma, " ") {
					forms, owners = append(forms, y.Lemma), append(owners, owner{i, relatives})
				}
			}
		}
	}
	fits := j.d.Meanings.Fits(j.d, u.First, u.Last, forms)
	if fits == nil {
		return
	}
	count := make([]float64, len(senses))
	for k := 1; k < len(forms); k++ {
		e, x := &out[owners[k].sense], fits[k]-fits[0]
		has := hasSyn
		if owners[k].part == relatives {
			has = hasRel
		}
		if e[has] == 0 || x > e[owners[k].part] {
			e[owners[k].part] = x
		}
		e[has] = 1
		e[average] += x
		count[owners[k].sense]++
	}
	for i := range out {
		if count[i] > 0 {
			out[i][average] /= count[i]
		}
	}
}

// why says what speaks most for a sense against another.
func why(ranked []Ranked, i, other int) string {
	if len(ranked) == 1 {
		return "its only meaning"
	}
	best, most := usual, math.Inf(-1)
	for p := range parts {
		if d := weights[p] * (ranked[i].parts[p] - ranked[other].parts[p]); d > most {
			best, most = p, d
		}
	}
	switch best {
	case read:
		return "it is so used in such sentences"
	case usual, first:
		if ranked[i].Number == 1 {
			return "its most usual meaning"
		}
		return "a usual meaning"
	case sentence, likeHere:
		return "the sentence speaks of such things"
	case text:
		return "it has this meaning elsewhere in the text"
	case nearby:
		return "the sentences around speak of such things"
	}
	return "words of that meaning fit the place"
}
