package people

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"bookstead/internal/lang"
)

// Seen is what a reader of sentences took for a mention of a person, a place or
// a thing; tokens are half-open.
type Seen struct {
	First, Last int
	Kind        string  // "PER", "LOC", "GPE", "FAC", "VEH", "ORG"
	Confidence  float64 // 0..1
}

// form of a mention.
type form byte

const (
	named     form = 'n'
	described form = 'd'
	pronoun   form = 'p'
)

// mention is a place where somebody, or some place, is meant.
type mention struct {
	first, last, head int // tokens; head is the one that stands for the whole
	form              form
	kind              string // as in Seen
	conf              float64
	words             []string // of the name, in usual letters, without titles
	titles            []string
	article           string
	maybe             int // entity that a description may mean, -1
	plural            bool
	entity            int // -1: none
}

func capital(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return unicode.IsUpper(r)
}

func allCaps(s string) bool {
	return len(s) > 1 && strings.ToUpper(s) == s && strings.ToLower(s) != s
}

func titleKey(s string) string { return strings.TrimRight(strings.ToLower(s), ".") }

// usual gives a word of a name its usual letters: MARY is Mary.
func usual(s string) string {
	if !allCaps(s) || utf8.RuneCountInString(s) < 3 {
		return s
	}
	r, n := utf8.DecodeRuneInString(s)
	return string(r) + strings.ToLower(s[n:])
}

// nameToken tells whether token t can be part of a name.
func nameToken(d *lang.Doc, t int) bool {
	x := d.Tokens[t]
	return x.UPOS == "PROPN" && capital(x.Form) && x.Form != "I"
}

// finder collects the mentions of a text.
type finder struct {
	d     *lang.Doc
	small map[string]int // how often a word stands in small letters
	large map[string]int // in the midst of a sentence with a capital, as a name
	votes map[string]map[string]float64
	last  map[string]map[string]float64 // by the last word alone
	// speaks are the tokens of those who say something, roles the small words for them.
	speaks map[int]bool
	roles  map[string]bool
}

// find returns all mentions of people, animals, places and other things with a
// name, and the descriptions of people, in order.
func find(d *lang.Doc, seen []Seen) []mention {
	f := &finder{d: d, small: map[string]int{}, large: map[string]int{}, votes: map[string]map[string]float64{}, last: map[string]map[string]float64{}, speaks: map[int]bool{}, roles: map[string]bool{}}
	for _, s := range d.Sentences {
		for t := s.First; t < s.Last; t++ {
			x := d.Tokens[t]
			if !capital(x.Form) {
				if lang.IsWord(x.Form) {
					f.small[x.Form]++
				}
			} else if t > s.First && x.UPOS == "PROPN" {
				f.large[usual(x.Form)]++
			}
		}
	}
	var all []mention
	heads := map[int]bool{}
	for _, s := range seen {
		if s.First >= s.Last || s.Last > len(d.Tokens) {
			continue
		}
		m := mention{first: s.First, last: s.Last, kind: s.Kind, conf: s.Confidence, entity: -1, maybe: -1}
		if !f.shape(&m) {
			continue
		}
		if m.form == named {
			f.extend(&m)
			heads[m.head] = true
			for t := m.first; t < m.last; t++ {
				if nameToken(d, t) {
					heads[t] = true
				}
			}
		}
		all = append(all, m)
	}
	for i := range all {
		if all[i].form == named {
			f.vote(&all[i], all[i].kind, all[i].conf)
		}
	}
	// Who says something is somebody.
	for i := range d.Quotations {
		w := d.Quotations[i].Who
		if w < 0 {
			continue
		}
		if x := d.Tokens[w]; x.UPOS == "NOUN" || x.UPOS == "PROPN" {
			f.speaks[w] = true
			if x.UPOS == "NOUN" && !capital(x.Form) {
				f.roles[strings.ToLower(x.Lemma)] = true
			}
		}
	}
	for i := range all {
		if m := &all[i]; m.form == named && f.speaks[m.head] {
			f.vote(m, "PER", 2)
		}
	}
	for _, m := range f.runs(heads) {
		if f.speaksIn(m.first, m.last) {
			f.vote(&m, "PER", 2)
		}
		f.vote(&m, "O", 0.7)
		all = append(all, m)
	}
	all = f.decide(all)
	all = f.describe(all)
	slices.SortStableFunc(all, func(a, b mention) int { return cmp.Or(a.first-b.first, b.last-a.last) })
	return slices.CompactFunc(all, func(a, b mention) bool { return a.first == b.first && a.last == b.last })
}

// runs are the runs of proper nouns that the reader passed over.
func (f *finder) runs(taken map[int]bool) (out []mention) {
	d := f.d
	for _, s := range d.Sentences {
		for t := s.First; t < s.Last; t++ {
			if taken[t] || !nameToken(d, t) {
				continue
			}
			z := t + 1
			for z < s.Last && !taken[z] && nameToken(d, z) {
				z++
			}
			m := mention{first: t, last: z, entity: -1, maybe: -1, kind: "O", conf: 0.6}
			m.head = d.HeadOf(t, z)
			m.form = named
			f.name(&m)
			// The determiner and the adjectives before belong to the name.
			for m.first > s.First && (d.Tokens[m.first-1].UPOS == "DET" || d.Tokens[m.first-1].UPOS == "ADJ") && d.Tokens[m.first-1].Head >= t && d.Tokens[m.first-1].Head < z {
				m.first--
			}
			if d.Tokens[m.first].UPOS == "DET" {
				m.article = strings.ToLower(d.Tokens[m.first].Form)
			}
			out = append(out, m)
			t = z - 1
		}
	}
	return out
}

func (f *finder) speaksIn(first, last int) bool {
	for t := first; t < last; t++ {
		if f.speaks[t] {
			return true
		}
	}
	return false
}

// describe adds what the reader passed over: those who speak, and wherever the
// same word stands for somebody ("the cat").
func (f *finder) describe(all []mention) []mention {
	d := f.d
	heads := map[int]bool{}
	for _, m := range all {
		heads[m.head] = true
		for t := m.first; t < m.last && m.form == named; t++ {
			heads[t] = true
		}
	}
	for t := range d.Tokens {
		x := &d.Tokens[t]
		if heads[t] || x.UPOS != "NOUN" || x.XPOS != "NN" || !f.speaks[t] && !f.roles[strings.ToLower(x.Lemma)] || notSomebody[strings.ToLower(x.Lemma)] && !f.speaks[t] {
			continue
		}
		first, last := d.PhraseOf(t)
		m := mention{first: first, last: last, head: t, form: described, kind: "PER", conf: 0.7, entity: -1, maybe: -1}
		if u := d.Tokens[first]; u.UPOS == "DET" || u.XPOS == "PRP$" {
			m.article = strings.ToLower(u.Form)
		} else if !f.speaks[t] {
			continue
		}
		all = append(all, m)
	}
	return all
}

// notSomebody are words that speak for somebody now and then, without being
// anybody elsewhere.
var notSomebody = wordSet("tone look silence glance smile laugh voice chorus answer reply one other another heart mind face letter paper book note eye lip world crowd people company party rest word tongue thing time day way hand night door")

func key(m *mention) string {
	if len(m.words) == 0 {
		return strings.Join(m.titles, " ")
	}
	return strings.Join(m.words, " ")
}

func (f *finder) vote(m *mention, kind string, n float64) {
	add := func(t map[string]map[string]float64, k string) {
		if t[k] == nil {
			t[k] = map[string]float64{}
		}
		t[k][kind] += n
	}
	k := key(m)
	add(f.votes, k)
	if w := m.words; len(w) > 0 {
		add(f.last, w[len(w)-1])
	}
}

// decide gives each name the kind that the whole text votes for.
func (f *finder) decide(all []mention) []mention {
	out := all[:0]
	for _, m := range all {
		if m.form != named {
			if m.kind == "PER" {
				out = append(out, m)
			}
			continue
		}
		if len(m.words) == 1 && len(m.titles) == 0 && address[strings.ToLower(m.words[0])] && m.article == "" {
			continue
		}
		v := f.votes[key(&m)]
		per, other, open := v["PER"], 0.0, v["O"]
		best, most := "", 0.0
		for _, k := range []string{"GPE", "LOC", "FAC", "ORG", "VEH"} {
			other += v[k]
			if v[k] > most {
				best, most = k, v[k]
			}
		}
		switch m.kind {
		case "O":
			if len(m.titles) > 0 && len(m.words) > 0 && per+1 > other {
				m.kind = "PER"
			} else if per > other && per >= 0.35*(open+other) && !nobody[strings.ToLower(key(&m))] {
				m.kind = "PER"
			} else if other > per && other > open {
				m.kind = best
			} else if len(m.words) > 0 {
				l := f.last[m.words[len(m.words)-1]]
				if l["PER"] > 2*(l["GPE"]+l["LOC"]+l["FAC"]+l["ORG"]+l["VEH"]) && l["PER"] > l["O"] && !nobody[strings.ToLower(key(&m))] {
					m.kind = "PER"
				} else {
					continue
				}
			} else {
				continue
			}
			m.conf = 0.6
		case "PER":
			if other > 2*per && len(m.titles) == 0 {
				m.kind = best
			}
			if m.conf < 0.55 && per < 1.2 && len(m.titles) == 0 {
				continue
			}
		default:
			if per > 2*other {
				m.kind = "PER"
			}
		}
		out = append(out, m)
	}
	return out
}
