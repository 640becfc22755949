package answer

import (
	"slices"
	"strings"

	"bookstead/internal/lexicon"
)

// meaning is what WordNet knows of a word, gathered once for each word.
type meaning struct {
	synsets  []lexicon.SynsetID // of the most usual senses
	wider    map[lexicon.SynsetID]int
	near     []lexicon.SynsetID
	derived  []string
	opposite []string
}

// The most usual senses of a part of speech that are compared; rarer ones make
// more false friends than true ones.
const mostSenses = 4

// meaning looks a word up; nil for one that WordNet lacks.
func (j *Judge) meaning(w *word) *meaning {
	key := strings.Join(w.lemmas, " ")
	if m, ok := j.meanings.Load(key); ok {
		return m.(*meaning)
	}
	m := &meaning{wider: map[lexicon.SynsetID]int{}}
	for _, pos := range lexicon.PartsOfSpeech() {
		for _, lemma := range w.lemmas {
			senses := j.lex.Senses(lemma, pos)
			for _, s := range senses[:min(len(senses), mostSenses)] {
				j.gather(m, s)
			}
		}
	}
	if len(m.synsets) == 0 {
		m = nil
	}
	j.meanings.Store(key, m)
	return m
}

func (j *Judge) gather(m *meaning, s lexicon.Sense) {
	if slices.Contains(m.synsets, s.Synset) {
		return
	}
	m.synsets = append(m.synsets, s.Synset)
	m.near = append(m.near, j.lex.Similar(s.Synset)...)
	m.near = append(m.near, j.lex.AlsoSee(s.Synset)...)
	m.near = append(m.near, j.lex.Entails(s.Synset)...)
	level := []lexicon.SynsetID{s.Synset}
	for depth := 1; depth <= 3; depth++ {
		var up []lexicon.SynsetID
		for _, id := range level {
			up = append(up, j.lex.Hypernyms(id)...)
		}
		for _, id := range up {
			if d, ok := m.wider[id]; !ok || depth < d {
				m.wider[id] = depth
			}
		}
		level = up
	}
	for _, a := range j.lex.Antonyms(s) {
		m.opposite = append(m.opposite, normal(a.Lemma))
	}
	for _, d := range j.lex.Derivations(s) {
		m.derived = append(m.derived, normal(d.Lemma))
	}
}

// opposites that WordNet lacks or has between rarer senses: ours.
var opposites = pairs("more less most least up down increase decrease open closed open close on off same different hot cold high low in out before after always never all none everything nothing up down many few big small long short fast slow start stop begin end inside outside above below over under connected disconnected connect disconnect positive negative heavy light hard soft near far left right true false day night loud quiet wet dry strong weak remember forget win lose love hate like dislike happy sad alive dead rich poor early late first last buy sell give take come go lower higher smaller bigger faster slower complete incomplete equal unequal float sink push pull warm cool")

func pairs(s string) map[string][]string {
	m := map[string][]string{}
	f := strings.Fields(s)
	for i := 0; i+1 < len(f); i += 2 {
		m[f[i]] = append(m[f[i]], f[i+1])
		m[f[i+1]] = append(m[f[i+1]], f[i])
	}
	return m
}

// opposed reports whether two words say the contrary of each other.
func opposed(a, b *word) bool {
	for _, x := range a.lemmas {
		for _, o := range opposites[x] {
			if slices.Contains(b.lemmas, o) {
				return true
			}
		}
	}
	if a.sense == nil || b.sense == nil {
		return false
	}
	for _, o := range a.sense.opposite {
		if slices.Contains(b.lemmas, o) {
			return true
		}
	}
	return false
}

// like says how nearly two words mean the same, 0 to 1.
func like(a, b *word) float64 {
	if a.number != "" || b.number != "" {
		if a.number == b.number {
			return 1
		}
		return 0
	}
	if a.form == b.form || share(a.lemmas, b.lemmas) {
		return 1
	}
	if opposed(a, b) {
		return 0
	}
	best := 0.0
	if n := len(common(a.form, b.form)); n >= 5 && 3*n >= 2*max(len(a.form), len(b.form)) {
		best = 0.85
	}
	if a.sense == nil || b.sense == nil {
		return best
	}
	for _, d := range a.sense.derived {
		if slices.Contains(b.lemmas, d) {
			return 0.9
		}
	}
	for i, x := range a.sense.synsets {
		for k, y := range b.sense.synsets {
			switch {
			case x == y:
				best = max(best, 0.9-0.05*float64(min(i+k, 6)))
			case slices.Contains(a.sense.near, y) || slices.Contains(b.sense.near, x):
				best = max(best, 0.6)
			}
			if d, ok := a.sense.wider[y]; ok {
				best = max(best, 0.7-0.15*float64(d))
			}
			if d, ok := b.sense.wider[x]; ok {
				best = max(best, 0.7-0.15*float64(d))
			}
		}
	}
	if best < 0.3 {
		for id, d := range a.sense.wider {
			if e, ok := b.sense.wider[id]; ok && d+e <= 2 {
				best = 0.3
			}
		}
	}
	return best
}

func share(a, b []string) bool {
	for _, x := range a {
		if slices.Contains(b, x) {
			return true
		}
	}
	return false
}

// common is what two words begin with alike.
func common(a, b string) string {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return a[:n]
}
