package people

import (
	"context"
	"math"
	"strings"
)

// event is somebody's being meant at a place, for what comes after.
type event struct {
	entity, token, sentence, paragraph int
	role                               float64
	subject                            bool
	quoted                             bool
}

const (
	reach = 6 // sentences back that a pronoun may point to
	keep  = 64
)

// resolver goes through the text once and ties descriptions and pronouns to
// those who were meant before.
type resolver struct {
	*story
	recent   []event
	lastSeen map[int]int // entity -> sentence
	byNoun   map[string][]int
	byOwner  map[string]int
	fixed    map[int]int // tokens whose entity is known from the speech
}

// resolve ties every description and pronoun of the third person to an entity,
// or leaves it open. fixed says who is meant at some tokens.
func (s *story) resolve(ctx context.Context, fixed map[int]int) error {
	d := s.d
	r := &resolver{story: s, lastSeen: map[int]int{}, byNoun: map[string][]int{}, byOwner: map[string]int{}, fixed: fixed}
	// What an earlier pass found is found anew.
	kept := s.ms[:0]
	for _, m := range s.ms {
		if m.form == pronoun {
			continue
		}
		if m.form == described && (m.entity < 0 || !s.es[m.entity].named && !s.es[m.entity].narrator) {
			m.entity, m.maybe = -1, -1
		} else if m.form == described {
			m.maybe = -1
		}
		kept = append(kept, m)
	}
	s.ms = kept
	// Descriptions that were joined to a name stay so; the others are made anew.
	last := 0
	for i, e := range s.es {
		if e.named || e.narrator || i == s.narrator {
			last = i + 1
		}
	}
	s.es = s.es[:last]
	for i, e := range s.es {
		if !e.named || e.merged >= 0 {
			continue
		}
		for n := range e.nouns {
			r.byNoun[n] = append(r.byNoun[n], i)
		}
	}
	for _, x := range s.roles {
		e := x.entity
		for s.es[e].merged >= 0 {
			e = s.es[e].merged
		}
		r.byNoun[x.key] = append(r.byNoun[x.key], e)
	}
	s.index()
	starts := map[int][]int{}
	for i := range s.ms {
		if s.ms[i].kind == "PER" {
			starts[s.ms[i].head] = append(starts[s.ms[i].head], i)
		}
	}
	for si, sen := range d.Sentences {
		if si%512 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if k := d.Paragraphs[sen.Paragraph].Kind; k == "heading" || k == "scenebreak" {
			r.recent = r.recent[:0]
		}
		for t := sen.First; t < sen.Last; t++ {
			for _, i := range starts[t] {
				m := &s.ms[i]
				switch {
				case m.form == named:
				case m.plural || m.entity >= 0 && s.es[m.entity].merged < 0:
				default:
					r.describe(i, si)
				}
				if m.entity >= 0 {
					r.note(m.entity, t, si)
				}
			}
			if len(starts[t]) > 0 {
				continue
			}
			l := strings.ToLower(d.Tokens[t].Form)
			g := third[l]
			if g == 0 || d.Tokens[t].UPOS != "PRON" {
				if s.narrator >= 0 && s.said[t] < 0 && first[l] && d.Tokens[t].UPOS == "PRON" {
					s.ms = append(s.ms, mention{first: t, last: t + 1, head: t, form: pronoun, kind: "PER", conf: 0.95, entity: s.narrator})
				}
				continue
			}
			e, conf := -1, 0.0
			if f, ok := fixed[t]; ok && f < last {
				e, conf = f, 0.85
			} else {
				e, conf = r.pronoun(t, si, g, -1, anyAge)
			}
			if e < 0 {
				continue
			}
			s.ms = append(s.ms, mention{first: t, last: t + 1, head: t, form: pronoun, kind: "PER", conf: conf, entity: e})
			if s.said[t] < 0 {
				r.note(e, t, si)
			}
		}
	}
	s.index()
	return nil
}

func (r *resolver) note(e, t, si int) {
	if e == r.narrator {
		return
	}
	r.recent = append(r.recent, event{e, t, si, r.d.Sentences[si].Paragraph, r.role(t), isSubject(r.d, t), r.said[t] >= 0})
	if len(r.recent) > 2*keep {
		r.recent = append(r.recent[:0], r.recent[len(r.recent)-keep:]...)
	}
	r.lastSeen[e] = si
}

// pronoun finds whom a pronoun of gender g at token t means.
func (r *resolver) pronoun(t, si int, g byte, not int, a age) (int, float64) {
	d := r.d
	score := map[int]float64{}
	var order []int
	par := d.Sentences[si].Paragraph
	subject := isSubject(d, t)
	clause := clauseOf(d.Tokens[t].Head, r)
	reflexive := strings.HasSuffix(strings.ToLower(d.Tokens[t].Form), "self")
	possessive := d.Tokens[t].XPOS == "PRP$" || strings.HasSuffix(d.Tokens[t].Deprel, "poss")
	barred := map[int]bool{}
	for k := len(r.recent) - 1; k >= 0; k-- {
		ev := r.recent[k]
		if ev.sentence < si-reach {
			break
		}
		e := r.es[ev.entity]
		ok := e.allows(g)
		if ok == 0 || e.plural || ev.entity == not || !e.fits(a) {
			continue
		}
		inSpeech := r.said[t] >= 0
		if ev.quoted && !inSpeech && ev.sentence == si && false {
			continue
		}
		// "Mary helped her": her is not Mary.
		if ev.sentence == si && !possessive && !reflexive && !subject && ev.subject && clauseOf(d.Tokens[ev.token].Head, r) == clause && d.Tokens[ev.token].Head == d.Tokens[t].Head {
			barred[ev.entity] = true
		}
		w := ev.role * math.Pow(0.6, float64(si-ev.sentence))
		if ev.quoted && !inSpeech {
			w *= 0.3
		}
		if ev.paragraph != par {
			w *= 0.8
		}
		if subject && ev.subject {
			w *= 1.35
		}
		if ok < 1 {
			w *= 0.4
		}
		if !e.named && !e.narrator && r.class(e.noun) == isOther {
			w *= 0.3
		}
		if _, seen := score[ev.entity]; !seen {
			order = append(order, ev.entity)
			w *= 1.3 // the latest word for each counts most
		} else {
			w *= 0.5
		}
		score[ev.entity] += w
	}
	best, one, two := -1, 0.0, 0.0
	for _, e := range order {
		if barred[e] {
			continue
		}
		switch v := score[e]; {
		case v > one:
			best, one, two = e, v, one
		case v > two:
			two = v
		}
	}
	if best < 0 {
		return -1, 0
	}
	conf := 0.35 + 0.6*(one-two)/one
	if r.es[best].allows(g) < 1 {
		conf *= 0.75
	}
	if one < 0.25 {
		conf *= 0.7
	}
	return best, conf
}

func clauseOf(h int, r *resolver) int { return h }

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
		k := key2(owner, noun)
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

// plain are nouns that any grown-up or child may be called by.
var plain = wordSet("man woman boy girl lady gentleman child fellow creature lad lass youth speaker companion other ladyship lordship majesty highness")

func key2(owner int, noun string) string { return string(rune(owner+1)) + noun }

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
		return -1
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
