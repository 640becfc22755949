package people

import (
	"math"
	"slices"
	"strings"
)

// roleKey is what a description calls somebody: its noun, with an adjective
// where the noun alone may mean anybody ("old gentleman").
func (s *story) roleKey(m *mention) string {
	d := s.d
	noun := strings.ToLower(d.Tokens[m.head].Lemma)
	if !common[noun] {
		return noun
	}
	for t := m.head - 1; t >= m.first; t-- {
		if x := &d.Tokens[t]; x.Head == m.head && (x.UPOS == "ADJ" || x.Deprel == "compound") {
			return strings.ToLower(x.Form) + " " + noun
		}
	}
	return noun
}

const (
	near       = 5 // sentences
	roleLeast  = 5 // descriptions that make a role
	roleShare  = 0.6
	roleBeside = 0.3
)

// findRoles finds for "the beadle" and "the old gentleman" the one who is named
// again and again close by, far more often than elsewhere, but seldom in the
// same sentence, and teaches the entity that noun.
func (s *story) findRoles() {
	d := s.d
	byKey := map[string][]int{}
	var keys []string
	for i := range s.ms {
		m := &s.ms[i]
		if m.form != described || m.kind != "PER" || m.plural || m.article != "the" || s.said[m.head] >= 0 {
			continue
		}
		k := s.roleKey(m)
		if common[k] || s.class(k[strings.LastIndexByte(k, 32)+1:]) == isOther { // "the man" is any man
			continue
		}
		if byKey[k] == nil {
			keys = append(keys, k)
		}
		byKey[k] = append(byKey[k], i)
	}
	// In which sentences is everybody named?
	named1 := make([]map[int]bool, len(s.es)) // sentence
	count := make([]map[int]bool, len(s.es))  // blocks of sentences
	for i := range s.ms {
		m := &s.ms[i]
		if m.form != named || m.entity < 0 || m.kind != "PER" || m.plural || !s.es[m.entity].named {
			continue
		}
		if named1[m.entity] == nil {
			named1[m.entity], count[m.entity] = map[int]bool{}, map[int]bool{}
		}
		si := int(s.sentence[m.head])
		named1[m.entity][si] = true
		count[m.entity][si/(2*near+1)] = true
	}
	// Who answers "the beadle" is not the beadle.
	apart := map[string]map[int]int{}
	for i := 1; i < len(s.last); i++ {
		a, b := &s.last[i-1], &s.last[i]
		if b.gap > 1 || a.cue < 0 || b.cue < 0 {
			continue
		}
		for _, x := range [2][2]int{{a.cue, b.cue}, {b.cue, a.cue}} {
			m, n := &s.ms[x[0]], &s.ms[x[1]]
			if m.form == described && n.form == named && n.entity >= 0 {
				k := s.roleKey(m)
				if apart[k] == nil {
					apart[k] = map[int]int{}
				}
				apart[k][n.entity]++
			}
		}
	}
	blocks := float64(len(d.Sentences)/(2*near+1) + 1)
	for _, k := range keys {
		ms := byKey[k]
		if len(ms) < roleLeast {
			continue
		}
		noun := k[strings.LastIndexByte(k, ' ')+1:]
		g := nounGender[noun]
		best, one, two := -1, 0.0, 0.0
		for e := range s.es {
			x := s.es[e]
			if named1[e] == nil || x.total < roleLeast || x.merged >= 0 || g != 0 && x.allows(g) == 0 || x.nouns[noun] && !common[noun] {
				continue
			}
			close, beside := 0, 0
			for _, i := range ms {
				si := int(s.sentence[s.ms[i].head])
				if named1[e][si] {
					beside++
				}
				for j := si - near; j <= si+near; j++ {
					if named1[e][j] && j != si {
						close++
						break
					}
				}
			}
			n := float64(len(ms))
			if 8*apart[k][e] > len(ms) {
				continue
			}
			share := float64(close) / n
			if share < roleShare || float64(beside) > roleBeside*n {
				continue
			}
			base := (float64(len(count[e])) + 1) / (blocks + 1)
			v := share * math.Log(share/base)
			if g != 0 && x.allows(g) < 1 {
				v *= 0.5
			}
			switch {
			case v > one:
				best, one, two = e, v, one
			case v > two:
				two = v
			}
		}
		if best < 0 || one < 1.2 || one < 1.25*two {
			continue
		}
		if s.class(noun) == isGroup {
			continue
		}
		if s.class(noun) == isAnimal {
			s.es[best].beast += float64(len(ms))
		}
		s.roles = append(s.roles, roleOf{k, best})
	}
	slices.SortFunc(s.roles, func(a, b roleOf) int { return strings.Compare(a.key, b.key) })
}

type roleOf struct {
	key    string
	entity int
}
