package tagger

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"bookstead/internal/lang"
)

// Settings of a training run, with what the shipped model used.
type Settings struct {
	Epochs int    // 10
	Seed   uint64 // 1
	// Keep is how many features survive, those that sway most.
	Keep int
	// Clusters gives words, in small letters, the number of their company,
	// 1 to 255.
	Clusters map[string]uint8
	Progress func(epoch int, right float64)
}

// Sentence is a training sentence; Weight counts how often it is shown.
type Sentence struct {
	Tokens []lang.Token
}

// Sentences splits a gold Doc.
func Sentences(d *lang.Doc) []Sentence {
	out := make([]Sentence, len(d.Sentences))
	for i, s := range d.Sentences {
		out[i] = Sentence{d.Tokens[s.First:s.Last]}
	}
	return out
}

// Train learns a model. The same sentences and settings give the same model.
func Train(gold []Sentence, o Settings) *Model {
	m := &Model{words: map[uint32]entry{}, feats: map[featKey]string{}}
	labels := m.learnLabels(gold)
	m.learnWords(gold, labels, o.Clusters)
	m.learnFeats(gold, labels)
	p := perceptron{m: m, rows: map[uint32]*trained{}}
	rng := rand.New(rand.NewPCG(o.Seed, o.Seed))
	order := rng.Perm(len(gold))
	t := m.NewTagger()
	p.score = make([]float64, len(m.labels))
	for e := range o.Epochs {
		rng.Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
		right, all := 0, 0
		for _, s := range order {
			r, a := p.learn(t, gold[s].Tokens, labels[s])
			right, all = right+r, all+a
		}
		if o.Progress != nil {
			o.Progress(e+1, float64(right)/float64(all))
		}
	}
	p.finish(o.Keep)
	return m
}

// core cuts features down to what tags are chosen by: all but remarks on
// spelling and style, which are left out, and, unless the label keeps them,
// what follows from the word.
func core(feats string) string {
	if feats == "" {
		return ""
	}
	fs := strings.Split(feats, "|")
	fs = slices.DeleteFunc(fs, func(f string) bool {
		name, _, _ := strings.Cut(f, "=")
		switch name {
		case "Typo", "ExtPos", "Style", "Foreign", "Abbr":
			return true
		}
		return false
	})
	return strings.Join(fs, "|")
}

// sub is the part of the features that makes labels of their own.
func sub(t *lang.Token) string {
	f := core(t.Feats)
	switch t.XPOS {
	case "VB", "VBN", "VBG", "VBD", "VBP", "WP", "WRB", "WDT":
		return f
	case "PRP":
		switch {
		case strings.Contains(f, "Case=Nom"):
			return "Nom"
		case strings.Contains(f, "Case=Acc"):
			return "Acc"
		}
	}
	return ""
}

type labelKey struct{ upos, xpos, sub string }

// learnLabels collects the labels and returns each token's, by sentence. Rare
// ones are joined to the commonest label of their tags.
func (m *Model) learnLabels(gold []Sentence) [][]uint8 {
	counts := map[labelKey]int{}
	feats := map[labelKey]map[string]int{}
	for _, s := range gold {
		for i := range s.Tokens {
			t := &s.Tokens[i]
			k := labelKey{t.UPOS, t.XPOS, sub(t)}
			counts[k]++
			if feats[k] == nil {
				feats[k] = map[string]int{}
			}
			feats[k][core(t.Feats)]++
		}
	}
	keys := make([]labelKey, 0, len(counts))
	for k := range counts {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b labelKey) int {
		return cmp.Or(counts[b]-counts[a], cmp.Compare(a.upos, b.upos), cmp.Compare(a.xpos, b.xpos), cmp.Compare(a.sub, b.sub))
	})
	ids := map[labelKey]uint8{}
	first := map[[2]string]uint8{} // by tags alone
	for _, k := range keys {
		tags := [2]string{k.upos, k.xpos}
		if id, ok := first[tags]; ok && counts[k] < 20 {
			ids[k] = id
			continue
		}
		if _, ok := first[tags]; !ok && counts[k] < 4 || len(m.labels) >= noLabel {
			ids[k] = noLabel
			continue
		}
		id := uint8(len(m.labels))
		ids[k] = id
		if _, ok := first[tags]; !ok {
			first[tags] = id
		}
		m.labels = append(m.labels, Label{k.upos, k.xpos, commonest(feats[k])})
	}
	out := make([][]uint8, len(gold))
	for n, s := range gold {
		out[n] = make([]uint8, len(s.Tokens))
		for i := range s.Tokens {
			t := &s.Tokens[i]
			out[n][i] = ids[labelKey{t.UPOS, t.XPOS, sub(t)}]
		}
	}
	return out
}

func commonest(counts map[string]int) string {
	best, n := "", -1
	for f, c := range counts {
		if c > n || c == n && f < best {
			best, n = f, c
		}
	}
	return best
}

// learnWords fills the lexicon: which labels a word had, and its company.
func (m *Model) learnWords(gold []Sentence, labels [][]uint8, clusters map[string]uint8) {
	counts := map[uint32]map[uint8]int{}
	for n, s := range gold {
		for i := range s.Tokens {
			h := m.newWord(s.Tokens[i].Form).hash
			if counts[h] == nil {
				counts[h] = map[uint8]int{}
			}
			counts[h][labels[n][i]]++
		}
	}
	for h, c := range counts {
		total, best, most := 0, uint8(0), 0
		for l, n := range c {
			total += n
			if n > most || n == most && l < best {
				best, most = l, n
			}
		}
		if total < 3 {
			continue
		}
		var e entry
		// The class is a hash of the labels that make up a good part.
		sum := uint32(1)
		for l, n := range c {
			if n*12 >= total {
				sum += mix(7, uint32(l)+1) | 1
			}
		}
		e.class = uint8(1 + sum%255)
		e.common = total >= 60
		if total >= 40 && most*400 >= total*399 && best != noLabel {
			e.sure = best + 1
		}
		m.words[h] = e
	}
	for w, c := range clusters {
		h := hashBytes(0, []byte(w))
		e := m.words[h]
		e.cluster = c
		m.words[h] = e
	}
}

// learnFeats notes the words whose features are not their label's.
func (m *Model) learnFeats(gold []Sentence, labels [][]uint8) {
	counts := map[featKey]map[string]int{}
	for n, s := range gold {
		for i := range s.Tokens {
			if labels[n][i] == noLabel {
				continue
			}
			k := featKey{m.newWord(s.Tokens[i].Form).hash, labels[n][i]}
			if counts[k] == nil {
				counts[k] = map[string]int{}
			}
			f := s.Tokens[i].Feats
			if !strings.Contains(f, "Abbr=Yes") {
				f = core(f)
			} else {
				f = abbr(f)
			}
			counts[k][f]++
		}
	}
	for k, c := range counts {
		total := 0
		for _, n := range c {
			total += n
		}
		f := commonest(c)
		if f == m.labels[k.label].Feats || m.labels[k.label].XPOS == "CD" && total < 2 {
			continue
		}
		if c[f] >= 2 || closed(m.labels[k.label].UPOS) {
			m.feats[k] = f
		}
	}
}

// abbr is core, but for Abbr=Yes.
func abbr(feats string) string {
	f := strings.Split(core(feats), "|")
	if f[0] == "" {
		f = nil
	}
	f = append(f, "Abbr=Yes")
	slices.Sort(f)
	return strings.Join(f, "|")
}

func closed(upos string) bool {
	switch upos {
	case "PRON", "DET", "ADP", "AUX", "CCONJ", "SCONJ", "PART":
		return true
	}
	return false
}

// trained is the row of a feature while it is learned.
type trained struct {
	labels []uint8
	now    []float64
	sum    []float64 // of all its values so far
	since  []int     // the step up to which sum counts
	seen   int
}

type perceptron struct {
	m     *Model
	rows  map[uint32]*trained
	step  int
	score []float64
}

func (p *perceptron) learn(t *Tagger, tokens []lang.Token, gold []uint8) (right, all int) {
	t.read(tokens)
	var room [maxFeatures]uint32
	for i := range tokens {
		want := gold[i]
		if want == noLabel || t.words[i+2].sure > 0 {
			t.chose[i+2] = want
			if want == noLabel {
				t.chose[i+2] = 0
			}
			continue
		}
		p.step++
		clear(p.score)
		keys := context{t.words, t.chose, i + 2}.features(room[:0])
		for _, k := range keys {
			if r := p.rows[k]; r != nil {
				for x, l := range r.labels {
					p.score[l] += r.now[x]
				}
			}
		}
		best := 0
		for l, s := range p.score {
			if s > p.score[best] {
				best = l
			}
		}
		all++
		if uint8(best) == want {
			right++
		} else {
			for _, k := range keys {
				r := p.rows[k]
				if r == nil {
					r = &trained{}
					p.rows[k] = r
				}
				r.seen++
				r.add(want, 1, p.step)
				r.add(uint8(best), -1, p.step)
			}
		}
		t.chose[i+2] = uint8(best)
	}
	return right, all
}

func (r *trained) add(label uint8, v float64, step int) {
	x := slices.Index(r.labels, label)
	if x < 0 {
		x = len(r.labels)
		r.labels = append(r.labels, label)
		r.now = append(r.now, 0)
		r.sum = append(r.sum, 0)
		r.since = append(r.since, step)
	}
	r.sum[x] += r.now[x] * float64(step-r.since[x])
	r.since[x] = step
	r.now[x] += v
}

// least is the weight, of 127, below which a feature says nothing to a label.
const least = 3

// finish averages the weights, keeps the features that sway most and rounds
// their weights to a byte.
func (p *perceptron) finish(keep int) {
	type kept struct {
		key   uint32
		sways float64
	}
	var all []kept
	most := 0.0
	for k, r := range p.rows {
		s := 0.0
		for x := range r.labels {
			r.sum[x] = (r.sum[x] + r.now[x]*float64(p.step-r.since[x])) / float64(p.step)
			s += math.Abs(r.sum[x])
			most = max(most, math.Abs(r.sum[x]))
		}
		all = append(all, kept{k, s * math.Sqrt(float64(r.seen))})
	}
	slices.SortFunc(all, func(a, b kept) int {
		return cmp.Or(cmp.Compare(b.sways, a.sways), cmp.Compare(a.key, b.key))
	})
	all = all[:min(keep, len(all))]
	slices.SortFunc(all, func(a, b kept) int { return cmp.Compare(a.key, b.key) })
	unit := 127 / min(most, 24)
	var packed [][]weight
	n := 0
	for _, k := range all {
		r := p.rows[k.key]
		var ws []weight
		for x, l := range r.labels {
			if v := math.Round(max(-127, min(127, r.sum[x]*unit))); math.Abs(v) >= least {
				ws = append(ws, weight{l, int8(v)})
			}
		}
		slices.SortFunc(ws, func(a, b weight) int { return int(a.label) - int(b.label) })
		packed = append(packed, ws)
		n += len(ws)
	}
	p.m.weights = newTable(len(all), n)
	for i, k := range all {
		if len(packed[i]) > 0 {
			p.m.weights.add(k.key, packed[i])
		}
	}
}
