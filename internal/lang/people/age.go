package people

import (
	"strings"

	"bookstead/internal/lang"
)

// age keeps "the old gentleman" from being a boy.
type age byte

const (
	anyAge age = iota
	young
	grown
)

var youngNouns = wordSet("boy child lad youngster urchin infant baby orphan youth schoolboy schoolgirl")
var grownNouns = wordSet("man gentleman woman lady stranger clergyman officer doctor magistrate widow matron wife husband landlord landlady master mistress nurse housekeeper")

// ageOf is what a description tells of age.
func ageOf(d *lang.Doc, m *mention) age {
	noun := strings.ToLower(d.Tokens[m.head].Lemma)
	for t := m.first; t < m.head; t++ {
		switch strings.ToLower(d.Tokens[t].Form) {
		case "young", "little":
			return anyAge // "the young gentleman" is said of either, and in jest
		case "old", "elderly", "aged":
			return grown
		}
	}
	switch {
	case youngNouns[noun]:
		return young
	case grownNouns[noun]:
		return grown
	}
	return anyAge
}

func (e *entity) seenAs(a age) {
	switch a {
	case young:
		e.youngN++
	case grown:
		e.grownN++
	}
}

// fits tells whether an age may be the entity's.
func (e *entity) fits(a age) bool {
	return a == anyAge || e.settled == anyAge || e.settled == a
}

// settleAges decides ages by what was seen in a first reading.
func (s *story) settleAges() {
	for _, e := range s.es {
		if !e.named {
			continue
		}
		titled, all := 0, 0
		for _, f := range e.forms {
			all += f.n
			switch f.title() {
			case "mr", "mrs", "sir", "dr", "lady", "lord", "captain", "colonel", "major", "doctor", "aunt", "uncle", "professor":
				titled += f.n
			}
		}
		boy, man := false, false
		for n := range e.nouns {
			boy = boy || youngNouns[n]
			man = man || grownNouns[n] && titles[n] == 0
		}
		switch {
		case 5*titled > all:
			e.settled = grown
		case boy || e.youngN >= 3 && e.youngN > 3*e.grownN:
			e.settled = young
		case man || e.grownN >= 3 && e.grownN > 3*e.youngN:
			e.settled = grown
		}
		e.youngN, e.grownN = 0, 0
	}
}
