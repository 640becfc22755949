package people

import "strings"

// describe finds whom a description means: somebody described so before,
// somebody with such a title, or somebody new.
func (r *resolver) describe(i, si int) {
	d := r.d
	m := &r.ms[i]
	h := &d.Tokens[m.head]
	noun := strings.ToLower(h.Lemma)
	if noun == "voice" || noun == "tone" || noun == "head" { // "the voice of John Reed" is his
		for t := m.first; t < m.last+3 && t < len(d.Tokens); t++ {
			if x := &d.Tokens[t]; x.Head == m.head && strings.HasPrefix(x.Deprel, "nmod") {
				if k := r.mentionAt(t); k >= 0 && r.ms[k].entity >= 0 {
					m.entity, m.conf = r.ms[k].entity, 0.7
					return
				}
			}
		}
	}
	cls := r.class(noun)
	// "Toto, the dog" and "the gardener was Ben" mean one.
	if h.Deprel == "appos" && h.Head >= 0 {
		if k := r.mentionAt(h.Head); k >= 0 && r.ms[k].entity >= 0 && !r.ms[k].plural && r.ms[k].kind == "PER" {
			m.entity, m.conf = r.ms[k].entity, 0.8
			r.es[m.entity].learn(noun, r)
			return
		}
	}
	if r.cop(m.head) { // what somebody is said to be names nobody new
		for t := max(0, m.first-8); t < m.first; t++ {
			if d.Tokens[t].Head == m.head && strings.HasPrefix(d.Tokens[t].Deprel, "nsubj") {
				if k := r.mentionAt(t); k >= 0 && r.ms[k].entity >= 0 && r.ms[k].form == named {
					r.es[r.ms[k].entity].learn(noun, r)
				} else if k >= 0 && r.ms[k].entity >= 0 && cls == isAnimal && r.said[t] < 0 && r.ms[k].conf > 0.7 {
					r.es[r.ms[k].entity].beast += 2
				}
				return
			}
		}
	}
	owner := -1
	if honour[noun] && r.said[m.head] >= 0 {
		return
	}
	switch m.article {
	case "a", "an", "another", "some", "any", "no", "every", "each", "one":
		r.create(i, noun, cls, -1)
		r.es[m.entity].introduced = si + 1
		return
	}
	for t := m.first; t < m.head; t++ {
		x := &d.Tokens[t]
		if honour[noun] || x.Head != m.head || x.XPOS != "PRP$" && !strings.HasSuffix(x.Deprel, "poss") {
			continue
		}
		l := strings.ToLower(x.Form)
		switch {
		case first[l] && r.said[t] < 0:
			owner = r.narrator
		case third[l] != 0:
			if k, ok := r.byHead[t]; ok && r.ms[k].entity >= 0 {
				owner = r.ms[k].entity
			} else if r.said[t] < 0 {
				if e, c := r.pronoun(t, si, third[l], -1, anyAge); c > 0.4 {
					owner = e
				}
			}
		case x.UPOS == "PROPN" || x.UPOS == "NOUN":
			if k := r.mentionAt(t); k >= 0 {
				owner = r.ms[k].entity
			}
		}
		if owner < 0 {
			if kin[noun] || r.said[m.head] >= 0 {
				return // whose mother is not known
			}
			owner = -2
		}
		break
	}
	if (common[noun] || kin[noun] || m.article == "my") && r.said[m.head] < 0 {
		if g := nounGender[noun]; g != 0 || m.article == "my" || m.article == "our" || m.article == "the" {
			if e, c := r.pronoun(m.head, si, g, owner, ageOf(d, m)); c > 0.45 && r.es[e].named {
				m.maybe = e
				r.es[e].seenAs(ageOf(d, m))
			}
		}
	}
	if owner >= 0 {
		k := owned{owner, noun}
		if e, ok := r.byOwner[k]; ok {
			m.entity, m.conf = e, 0.7
			return
		}
		if e := r.spouse(owner, noun); e >= 0 {
			m.entity, m.conf = e, 0.7
			r.byOwner[k] = e
			return
		}
		r.create(i, noun, cls, owner)
		r.byOwner[k] = m.entity
		return
	}
	if r.said[m.head] >= 0 && m.article != "the" {
		return
	}
	// The latest that goes by this noun.
	best, when := -1, -1
	window := 60
	if !common[noun] {
		window = 4000
	}
	if k := r.roleKey(m); k != noun {
		for _, e := range r.byNoun[k] {
			if at, ok := r.lastSeen[e]; ok && si-at < 25 && at > when {
				best, when = e, at
			}
		}
		if best >= 0 {
			m.entity, m.conf = best, 0.45
			return
		}
	}
	for _, e := range r.byNoun[noun] {
		at, ok := r.lastSeen[e]
		if !ok || si-at > window {
			continue
		}
		if r.es[e].named && common[noun] && (si-at > 8 || !r.es[e].fits(ageOf(d, m))) {
			continue
		}
		if r.es[e].named && si-at < 30 {
			at += 30 // Doctor Brown before any other doctor
		}
		if at > when {
			best, when = e, at
		}
	}
	// "The girl" who was never introduced is somebody known.
	if best >= 0 && !r.es[best].named && m.maybe >= 0 && plain[noun] && (r.es[best].introduced == 0 || si-r.es[best].introduced > 40) {
		best = -1
	}
	if best >= 0 {
		m.entity = best
		m.conf = 0.7
		r.es[best].seenAs(ageOf(d, m))
		if r.es[best].named {
			m.conf = 0.6
		}
		return
	}
	if m.maybe >= 0 && plain[noun] && (m.article == "the" || honour[noun]) && r.said[m.head] < 0 {
		m.entity, m.conf = m.maybe, 0.4
		return
	}
	r.create(i, noun, cls, -1)
}

// common are nouns that may mean many people of one book.
var common = wordSet("ladyship lordship majesty highness cousin husband wife man woman boy girl lady gentleman person people child fellow creature stranger voice thing figure friend lad lass chap baby youth master mistress sir one other companion visitor speaker servant maid doctor officer soldier animal horse dog bird daughter son sister brother mother father")

// owned is a description by whose somebody is: "Mary's father".
type owned struct {
	owner int
	noun  string
}

// plain are nouns that any grown-up or child may be called by.
var plain = wordSet("man woman boy girl lady gentleman child fellow creature lad lass youth speaker companion other ladyship lordship majesty highness")

func (e *entity) learn(noun string, r *resolver) {
	if e.nouns[noun] {
		return
	}
	e.nouns[noun] = true
	for i := range r.es {
		if r.es[i] == e {
			r.byNoun[noun] = append(r.byNoun[noun], i)
			break
		}
	}
	switch nounGender[noun] {
	case male:
		e.he++
	case female:
		e.she++
	}
}

func (r *resolver) create(i int, noun string, cls byte, owner int) {
	m := &r.ms[i]
	e := &entity{kind: "PER", owner: owner, noun: noun, merged: -1, nouns: map[string]bool{noun: true}}
	if cls == isGroup || noun == "couple" || noun == "pair" {
		e.plural = true
	}
	if cls == isAnimal {
		e.beast = 5
	}
	switch nounGender[noun] {
	case male:
		e.he += 4
	case female:
		e.she += 4
	}
	r.es = append(r.es, e)
	m.entity, m.conf = len(r.es)-1, 0.6
	if owner < 0 {
		r.byNoun[noun] = append(r.byNoun[noun], m.entity)
	}
}

// spouse is Mrs. Bennet for the wife of Mr. Bennet or the mother of Jane Bennet,
// -1 when not known.
func (r *resolver) spouse(owner int, noun string) int {
	want := ""
	switch noun {
	case "wife", "lady":
		want = "mrs"
	case "husband":
		want = "mr"
	case "mother", "mamma", "mama":
		want = "mrs"
	case "father", "papa":
		want = "mr"
	default:
		if noun != "aunt" && noun != "uncle" {
			return -1
		}
	}
	if noun == "aunt" || noun == "uncle" { // "his aunt" is Aunt Polly
		best := -1
		for i, e := range r.es {
			if e.named && e.merged < 0 && i != owner && e.nouns[noun] && (best < 0 || r.lastSeen[i] > r.lastSeen[best]) {
				for _, f := range e.forms {
					if f.title() == noun {
						best = i
					}
				}
			}
		}
		if best >= 0 {
			return best
		}
	}
	if !r.es[owner].named {
		return -1
	}
	for _, f := range r.es[owner].forms {
		if len(f.words) == 0 || (noun == "wife" || noun == "lady" || noun == "husband") && f.title() != "mr" && f.title() != "mrs" {
			continue
		}
		for i, e := range r.es {
			if !e.named || i == owner {
				continue
			}
			for _, g := range e.forms {
				if g.title() == want && g.last() == f.last() {
					return i
				}
			}
		}
	}
	return -1
}
