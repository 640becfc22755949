package sense

import (
	"context"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// Judge tells the senses of the words of one text. It keeps what it found out
// and is not safe for use by several goroutines at once: make one for each.
type Judge struct {
	lex *lexicon.Lexicon
	d   *lang.Doc

	senses     map[entry][]lexicon.Sense
	signatures map[lexicon.SynsetID]signature
	neighbours map[lexicon.SynsetID][]lexicon.SynsetID
	vectors    map[string][]float32
	units      map[int][]Unit
	places     map[entry][]int // tokens of each lemma and part of speech
	local      map[place][]evidence
	multi      map[string][]string
	fits       map[lang.Span]func(string) float64
}

type entry struct {
	lemma string
	pos   lexicon.POS
}

// place is an entry where it stands.
type place struct {
	head  int
	tried bool
	entry
}

// New returns the judge of a text whose tokens have tags and lemmas.
func New(lex *lexicon.Lexicon, d *lang.Doc) *Judge {
	j := &Judge{lex: lex, d: d, senses: map[entry][]lexicon.Sense{}, signatures: map[lexicon.SynsetID]signature{},
		neighbours: map[lexicon.SynsetID][]lexicon.SynsetID{}, vectors: map[string][]float32{}, units: map[int][]Unit{},
		places: map[entry][]int{}, local: map[place][]evidence{}, multi: map[string][]string{}, fits: map[lang.Span]func(string) float64{}}
	for i := range d.Tokens {
		t := &d.Tokens[i]
		if pos, ok := POSOf(t.UPOS); ok {
			e := entry{strings.ToLower(t.Lemma), pos}
			j.places[e] = append(j.places[e], i)
		}
	}
	return j
}

// POSOf turns a universal part of speech into WordNet's; ok is false for words
// that WordNet does not hold.
func POSOf(upos string) (p lexicon.POS, ok bool) {
	switch upos {
	case "NOUN":
		return lexicon.Noun, true
	case "VERB":
		return lexicon.Verb, true
	case "ADJ":
		return lexicon.Adjective, true
	case "ADV":
		return lexicon.Adverb, true
	}
	return 0, false
}

// Ranked is a sense with how likely it is.
type Ranked struct {
	lexicon.Sense
	// Score is how likely the sense is among those of the word; all add up to 1.
	// Senses that do not belong on a child's page come last whatever their score.
	Score float64
	// Why says in a few words what speaks for it.
	Why   string
	parts evidence
}

// Rank orders the senses of a unit, the likeliest first. Nil when WordNet does
// not have it.
func (j *Judge) Rank(u Unit) []Ranked {
	senses := j.sensesOf(u.Lemma, u.POS)
	if len(senses) == 0 {
		return nil
	}
	out := make([]Ranked, len(senses))
	all := slices.Clone(j.evidence(u, senses, true))
	j.elsewhere(all, u, senses)
	for i, x := range chances(all) {
		out[i] = Ranked{Sense: senses[i], Score: x, parts: all[i]}
	}
	slices.SortStableFunc(out, func(a, b Ranked) int {
		switch {
		case a.Offensive != b.Offensive:
			if a.Offensive {
				return 1
			}
			return -1
		case a.Score > b.Score:
			return -1
		case a.Score < b.Score:
			return 1
		}
		return 0
	})
	for i := range out {
		other := 0
		if i == 0 && len(out) > 1 {
			other = 1
		}
		out[i].Why = why(out, i, other)
	}
	return out
}

// fewPlaces is how many other places of a word are looked at, the nearest.
const fewPlaces = 6

// elsewhere adds what the same word means in the other places of the text, since
// a book seldom uses a word in two meanings.
func (j *Judge) elsewhere(out []evidence, u Unit, senses []lexicon.Sense) {
	places := j.places[entry{u.Lemma, u.POS}]
	at, _ := slices.BinarySearch(places, u.Head)
	lo, hi := max(0, at-fewPlaces/2), min(len(places), at+1+fewPlaces/2)
	sum, n := make([]float64, len(senses)), 0.0
	for _, p := range places[lo:hi] {
		if p == u.Head {
			continue
		}
		n++
		for i, x := range chances(j.evidence(Unit{First: p, Last: p + 1, Head: p, Lemma: u.Lemma, POS: u.POS}, senses, false)) {
			sum[i] += x
		}
	}
	for i := range out {
		// as if one place more were undecided
		out[i][text] = math.Log((sum[i] + 1/float64(len(senses))) / (n + 1) * float64(len(senses)))
	}
}

// chances turns evidence into probabilities.
func chances(all []evidence) []float64 {
	out := make([]float64, len(all))
	top, sum := math.Inf(-1), 0.0
	for i, e := range all {
		out[i] = e.sum()
		top = max(top, out[i])
	}
	for i := range out {
		out[i] = math.Exp(out[i] - top)
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}

// ReadAhead reads the places of many units on all processors, so that asking for
// each is quicker later.
func (j *Judge) ReadAhead(ctx context.Context, units []Unit) error {
	if j.d.Meanings == nil {
		return nil
	}
	var todo []lang.Span
	for _, u := range units {
		key := lang.Span{Start: u.First, End: u.Last}
		if _, ok := j.fits[key]; !ok {
			j.fits[key] = nil
			todo = append(todo, key)
		}
	}
	out := make([]func(string) float64, len(todo))
	var next atomic.Int64
	var wg sync.WaitGroup
	for range max(1, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= len(todo) || ctx.Err() != nil {
					return
				}
				out[i] = j.d.Meanings.Fits(j.d, todo[i].Start, todo[i].End)
			}
		})
	}
	wg.Wait()
	for i, key := range todo {
		if ctx.Err() != nil {
			delete(j.fits, key)
			continue
		}
		j.fits[key] = out[i]
	}
	return ctx.Err()
}

// Fit tells how well a form would stand in the place of a unit, as
// [lang.Meanings] does; nil where that cannot be told.
func (j *Judge) Fit(u Unit) func(form string) float64 {
	if j.d.Meanings == nil {
		return nil
	}
	key := lang.Span{Start: u.First, End: u.Last}
	f, ok := j.fits[key]
	if !ok {
		f = j.d.Meanings.Fits(j.d, u.First, u.Last)
		j.fits[key] = f
	}
	return f
}

func (j *Judge) sensesOf(lemma string, pos lexicon.POS) []lexicon.Sense {
	e := entry{lemma, pos}
	s, ok := j.senses[e]
	if !ok {
		s = j.lex.Senses(lemma, pos)
		j.senses[e] = s
	}
	return s
}

// signature are the words that tell of a synset, with weights.
type signature struct {
	weight map[string]float64
	order  []string
	size   float64
	vector []float32 // their mean
}

// fewNeighbours keeps the words of a general synset from being those of all the
// world.
const fewNeighbours = 40

func (j *Judge) signature(id lexicon.SynsetID) signature {
	if s, ok := j.signatures[id]; ok {
		return s
	}
	s := signature{weight: map[string]float64{}}
	add := func(text string, weight float64) {
		for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return (r < 'a' || r > 'z') && r != '\'' && r != '-' }) {
			if len(w) < 3 || j.lex.Function(w) {
				continue
			}
			w = j.base(w)
			if _, ok := s.weight[w]; !ok {
				s.order = append(s.order, w)
			}
			s.weight[w] = max(s.weight[w], weight)
		}
	}
	one := func(id lexicon.SynsetID, weight float64) {
		sy, ok := j.lex.Synset(id)
		if !ok {
			return
		}
		add(sy.Gloss, weight)
		for _, e := range sy.Examples {
			add(e, weight)
		}
		for _, l := range sy.Lemmas {
			add(l.Lemma, weight)
		}
	}
	one(id, 1)
	for _, n := range j.near(id) {
		one(n, 0.5)
	}
	for _, w := range s.order {
		s.size += s.weight[w] * j.rarity(w)
	}
	s.vector = j.mean(s.order, s.weight)
	j.signatures[id] = s
	return s
}

// base is a rough lemma, without asking for the part of speech.
func (j *Judge) base(w string) string {
	for _, p := range []lexicon.POS{lexicon.Verb, lexicon.Noun} {
		for _, l := range j.lex.Lemmas(w, p) {
			if l != w {
				return l
			}
		}
	}
	return w
}

func (j *Judge) near(id lexicon.SynsetID) []lexicon.SynsetID {
	if n, ok := j.neighbours[id]; ok {
		return n
	}
	var out []lexicon.SynsetID
	for _, ids := range [][]lexicon.SynsetID{j.lex.Hypernyms(id), j.lex.Similar(id), j.lex.AlsoSee(id), j.lex.Entails(id), j.lex.Hyponyms(id), j.lex.Parts(id), j.lex.Wholes(id)} {
		for _, n := range ids {
			if !slices.Contains(out, n) && len(out) < fewNeighbours {
				out = append(out, n)
			}
		}
	}
	j.neighbours[id] = out
	return out
}

// rarity is how much it says that two texts share a word.
func (j *Judge) rarity(w string) float64 {
	z, ok := j.lex.Zipf(w)
	if !ok {
		z = 1.5
	}
	return math.Max(0, 7-z)
}

func (j *Judge) vector(w string) []float32 {
	v, ok := j.vectors[w]
	if !ok {
		v = j.d.Meanings.Word(w)
		j.vectors[w] = v
	}
	return v
}

// mean is the sum of the vectors of words by weight and rarity; nil where there
// are no vectors.
func (j *Judge) mean(words []string, weight map[string]float64) []float32 {
	if j.d.Meanings == nil {
		return nil
	}
	var out []float32
	for _, w := range words {
		v := j.vector(w)
		if out == nil {
			out = make([]float32, len(v))
		}
		r := float32(weight[w] * j.rarity(w))
		for i := range v {
			out[i] += float32(r * v[i])
		}
	}
	return out
}

func cosine(a, b []float32) float64 {
	var ab, aa, bb float64
	for i := range min(len(a), len(b)) {
		ab += float64(a[i]) * float64(b[i])
		aa += float64(a[i]) * float64(a[i])
		bb += float64(b[i]) * float64(b[i])
	}
	if aa == 0 || bb == 0 {
		return 0
	}
	return ab / math.Sqrt(aa*bb)
}
