package people

import (
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// story is what is known of a text while it is read.
type story struct {
	d        *lang.Doc
	lex      *lexicon.Lexicon
	ms       []mention
	es       []*entity
	byHead   map[int]int // the mention whose head a token is; the longest
	said     []int32     // the quotation that a token stands in, -1 for telling
	sentence []int32     // of each token
	classes  map[string]byte
	narrator int      // entity, -1: the teller keeps out
	roles    []roleOf // who is meant by "the beadle"
	who      []told   // of each quotation
	last     []turn   // as they were read last
	ids      []string // Member.ID of each entity, "" for those left out
}

func newStory(d *lang.Doc, lex *lexicon.Lexicon, seen []Seen) *story {
	s := &story{d: d, lex: lex, byHead: map[int]int{}, classes: map[string]byte{}, narrator: -1}
	s.said = make([]int32, len(d.Tokens))
	for t := range s.said {
		s.said[t] = -1
	}
	for q := range d.Quotations {
		for _, p := range d.Quotations[q].Parts {
			for t := d.TokenAt(p.Start); t < len(d.Tokens) && d.Tokens[t].Start < p.End; t++ {
				s.said[t] = int32(q)
			}
		}
	}
	s.sentence = make([]int32, len(d.Tokens))
	for i, x := range d.Sentences {
		for t := x.First; t < x.Last; t++ {
			s.sentence[t] = int32(i)
		}
	}
	s.ms = find(d, seen)
	s.es = gather(d, s.ms, s.sentence)
	s.index()
	return s
}

func (s *story) index() {
	clear(s.byHead)
	for i := range s.ms {
		if _, ok := s.byHead[s.ms[i].head]; !ok || s.ms[i].form == named {
			s.byHead[s.ms[i].head] = i
		}
	}
}

// Classes of nouns, by the most usual sense in WordNet.
const (
	isPerson = 'p'
	isAnimal = 'a'
	isGroup  = 'g'
	isOther  = 'o'
)

func (s *story) class(noun string) byte {
	noun = strings.ToLower(noun)
	if c, ok := s.classes[noun]; ok {
		return c
	}
	c := byte(isOther)
	if _, ok := nounGender[noun]; ok {
		c = isPerson
	} else if s.lex != nil {
		for i, x := range s.lex.Senses(noun, lexicon.Noun) {
			if i > 1 {
				break
			}
			switch x.Lexname {
			case "noun.person":
				c = isPerson
			case "noun.animal":
				c = isAnimal
			case "noun.group":
				c = isGroup
			}
			if c != isOther {
				break
			}
		}
	}
	s.classes[noun] = c
	return c
}

// role of a token in its clause: how much it is what the sentence is about.
func (s *story) role(t int) float64 {
	r, sub, _ := strings.Cut(s.d.Tokens[t].Deprel, ":")
	switch r {
	case "nsubj", "csubj", "root", "vocative", "parataxis":
		return 1
	case "obj", "iobj":
		return 0.6
	case "nmod":
		if sub == "poss" {
			return 0.5
		}
		return 0.3
	case "obl":
		return 0.45
	case "conj":
		if h := s.d.Tokens[t].Head; h >= 0 && h < t {
			return 0.8 * s.role(h)
		}
	case "appos":
		return 0.5
	}
	return 0.4
}

func isSubject(d *lang.Doc, t int) bool {
	for range 3 {
		r := d.Tokens[t].Deprel
		if strings.HasPrefix(r, "nsubj") {
			return true
		}
		if r != "conj" || d.Tokens[t].Head < 0 {
			return false
		}
		t = d.Tokens[t].Head
	}
	return false
}

// mentionAt is the mention whose head or one of whose words is token t, -1 for none.
func (s *story) mentionAt(t int) int {
	if i, ok := s.byHead[t]; ok {
		return i
	}
	for k := t; k >= max(0, t-6); k-- {
		if i, ok := s.byHead[k]; ok && s.ms[i].first <= t && t < s.ms[i].last && s.ms[i].form == named {
			return i
		}
	}
	for k := t + 1; k <= min(len(s.d.Tokens)-1, t+6); k++ {
		if i, ok := s.byHead[k]; ok && s.ms[i].first <= t && t < s.ms[i].last && s.ms[i].form == named {
			return i
		}
	}
	return -1
}

// evidence gathers what the text says of gender and kind: the next pronoun when
// nobody else comes between, and what somebody is said to be.
func (s *story) evidence() {
	d := s.d
	for i := range s.ms {
		m := &s.ms[i]
		if m.form != named || m.kind != "PER" || m.entity < 0 {
			continue
		}
		e := s.es[m.entity]
		s.describedAs(m, e)
		if m.plural || s.said[m.head] >= 0 {
			continue
		}
		end := min(len(d.Tokens), m.last+30)
		if si := int(s.sentence[m.head]) + 2; si < len(d.Sentences) {
			end = min(end, d.Sentences[si].First)
		}
		w := 1.0
		if !isSubject(d, m.head) {
			w = 0.4
		}
	scan:
		for t := m.last; t < end; t++ {
			if s.said[t] >= 0 {
				continue
			}
			if k, ok := s.byHead[t]; ok && s.ms[k].kind == "PER" && s.ms[k].entity != m.entity && !s.ms[k].plural {
				break
			}
			switch strings.ToLower(d.Tokens[t].Form) {
			case "he", "his", "him", "himself":
				e.he += w
				break scan
			case "she", "her", "hers", "herself":
				e.she += w
				break scan
			case "it", "its", "itself":
				if strings.EqualFold(d.Tokens[t].Form, "its") {
					e.it += 0.5 * w
				}
				break scan
			}
		}
	}
}

// describedAs notes the nouns that somebody is said to be: "Toto was a dog",
// "her dog Toto", "Toto, the dog".
func (s *story) describedAs(m *mention, e *entity) {
	d := s.d
	note := func(t int) {
		l := strings.ToLower(d.Tokens[t].Lemma)
		switch s.class(l) {
		case isAnimal:
			e.nouns[l] = true
			e.beast++
		case isPerson:
			e.nouns[l] = true
		}
		switch nounGender[l] {
		case male:
			e.he++
		case female:
			e.she++
		}
	}
	if h := d.Tokens[m.head].Head; h >= 0 {
		switch r := d.Tokens[m.head].Deprel; {
		case strings.HasPrefix(r, "nsubj") && d.Tokens[h].UPOS == "NOUN" && s.cop(h):
			note(h)
		case r == "appos" && d.Tokens[h].UPOS == "NOUN":
			note(h)
		}
	}
	for t := m.first; t < min(len(d.Tokens), m.last+8); t++ {
		x := &d.Tokens[t]
		if x.Head == m.head && x.UPOS == "NOUN" && (x.Deprel == "appos" || x.Deprel == "compound" || x.Deprel == "flat") {
			note(t)
		}
	}
	if w := m.words; len(w) > 0 { // "the Cat", "the March Hare"
		if l := strings.ToLower(w[len(w)-1]); m.article == "the" && s.class(l) == isAnimal {
			e.beast += 3
		}
	}
}

func (s *story) cop(t int) bool {
	for k := t - 1; k >= max(0, t-8); k-- {
		if s.d.Tokens[k].Head == t && s.d.Tokens[k].Deprel == "cop" {
			return true
		}
	}
	return false
}
