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
	byOwner  map[owned]int
	fixed    map[int]int // tokens whose entity is known from the speech
}

// resolve ties every description and pronoun of the third person to an entity,
// or leaves it open. fixed says who is meant at some tokens.
func (s *story) resolve(ctx context.Context, fixed map[int]int) error {
	d := s.d
	r := &resolver{story: s, lastSeen: map[int]int{}, byNoun: map[string][]int{}, byOwner: map[owned]int{}, fixed: fixed}
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
				not := -1
				if q := s.said[t]; q >= 0 && int(q) < len(s.who) {
					not = s.who[q].speaker // nobody says "he" of himself
				}
				e, conf = r.pronoun(t, si, g, not, anyAge)
				if s.said[t] >= 0 {
					conf *= 0.75
				}
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
		// "Mary helped her": her is not Mary.
		if ev.sentence == si && !possessive && !reflexive && !subject && ev.subject && d.Tokens[ev.token].Head == d.Tokens[t].Head {
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
