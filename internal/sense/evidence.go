package sense

import (
	"math"
	"slices"
	"strings"

	"bookstead/internal/lexicon"
)

// evidence is what speaks for a sense, part by part.
type evidence [parts]float64

const (
	read     = iota // what the network makes of the word where it stands: log probability
	usual           // log share of its tagged uses
	first           // 1/number in WordNet's order
	sentence        // words that the sentence shares with what tells of the sense
	nearby          // the same for three sentences on each side
	likeHere        // the sentence is about such things: cosine of the vectors
	synonyms        // the best synonym fits the place, against the word itself
	average         // so do all synonyms and neighbours in WordNet on average
	hasSyn          // it has a synonym at all
	frames          // the verb's sentence has what the sense asks for
	kindred         // likeness to its three likest synonyms and neighbours by the vectors alone, for words seldom tagged
	text            // it has the sense in the other places of the text, too: log chance against an even one
	parts
)

// weights of the parts: conditional logistic regression on the SemCor documents
// that the network did not see, with the counts of those documents taken out of
// WordNet's. Their order cannot be taken out of WordNet's, so the weight of the
// first sense comes out too high; 0.3 of it is left. That and the round weights of
// likeHere and frames, which SemCor puts lower (1.5 and 0.1), were chosen on
// semeval2007 (docs/words.md). That of kindred is ours: the words of old books for which it
// speaks are hardly tagged anywhere.
var weights = evidence{read: 0.655, usual: -0.196, first: 0.433, sentence: 1.475, nearby: 1.092, likeHere: 3,
	synonyms: 0.054, average: 0.146, hasSyn: -0.111, frames: 0.3, kindred: 3, text: 0.07}

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

// evidence looks at one place. With tried, synonyms are tried in the place, which
// takes most of the time.
func (j *Judge) evidence(u Unit, senses []sense, tried bool) []evidence {
	key := place{u.Head, tried, entry{u.Lemma, u.POS}}
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
	if tried {
		j.inPlace(out, u, senses)
	}
	if u.POS == lexicon.Verb {
		p := j.patternOf(u)
		for i, s := range senses {
			out[i][frames] = p.match(j.lex.Frames(s.Synset))
		}
	}
	return out
}

// asRead asks the network. Where there is none, how often a sense is tagged stands
// for it: the network has learned that too.
func (j *Judge) asRead(out []evidence, u Unit, senses []sense) {
	if j.d.Meanings == nil {
		total := 0.0
		for _, s := range senses {
			total += float64(s.Count) + 1/float64(s.Number)
		}
		for i, s := range senses {
			out[i][read] = math.Log((float64(s.Count) + 1/float64(s.Number)) / total)
		}
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
	forms, owners, synonym := []string{u.Lemma}, []int{-1}, []bool{false}
	for i, s := range senses {
		add := func(lemma string, same bool) {
			if at := strings.LastIndexByte(lemma, ' '); at >= 0 {
				if u.POS != lexicon.Noun {
					return
				}
				lemma = lemma[at+1:] // a hand shovel is a shovel
			}
			if lemma != u.Lemma {
				forms, owners, synonym = append(forms, lemma), append(owners, i), append(synonym, same)
			}
		}
		for _, y := range s.Synonyms {
			add(y.Lemma, true)
		}
		near := j.near(s.Synset)
		for _, n := range near[:min(len(near), fewRelatives)] {
			sy, _ := j.lex.Synset(n)
			for _, y := range sy.Lemmas {
				add(y.Lemma, false)
			}
		}
	}
	own := j.vector(u.Lemma)
	like := make([][]float64, len(senses))
	tagged := 0.0
	for _, s := range senses {
		tagged += float64(s.Count)
	}
	for k := 1; k < len(forms); k++ {
		like[owners[k]] = append(like[owners[k]], dot(own, j.vector(forms[k])))
	}
	for i, l := range like {
		slices.Sort(l)
		slices.Reverse(l)
		for n := range min(3, len(l)) {
			out[i][kindred] += l[n] / float64(min(3, len(l))) / (1 + tagged/3)
		}
	}
	fit := j.Fit(u)
	if fit == nil {
		return
	}
	itself := fit(u.Lemma)
	count := make([]float64, len(senses))
	for k := 1; k < len(forms); k++ {
		e, x := &out[owners[k]], fit(forms[k])-itself
		if synonym[k] && (e[hasSyn] == 0 || x > e[synonyms]) {
			e[synonyms], e[hasSyn] = x, 1
		}
		e[average] += x
		count[owners[k]]++
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
	case frames:
		return "the sentence is built as this meaning asks for"
	case kindred:
		return "books use it like other words of that meaning"
	case text:
		return "it has this meaning elsewhere in the text"
	case nearby:
		return "the sentences around speak of such things"
	}
	return "words of that meaning fit the place"
}

func dot(a, b []float32) float64 {
	sum := float32(0)
	for i := range min(len(a), len(b)) {
		sum += float32(a[i] * b[i])
	}
	return float64(sum)
}
