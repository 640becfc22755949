package question

import (
	"bookstead/internal/lang"
)

// saying is a stretch of direct speech with who says it to whom, as entities, -1
// when not known.
type saying struct {
	first, last        int // tokens, with the words between its parts: [first, last)
	verb               int // of saying, -1 when none stands beside it
	speaker, addressee int
	sure               float64
}

// tellers are verbs of saying (our list).
var tellers = set("say ask cry answer reply exclaim whisper call shout tell add remark continue inquire enquire return murmur mutter begin think bark growl roar sigh observe demand beg repeat declare scream laugh sob order command suggest explain respond croak sing wonder retort implore plead snap gasp stammer chuckle groan moan scold coax urge assent interrupt falter announce pursue mumble snort sniff giggle rejoin object protest")

// findSayings marks the spoken tokens: those of the quotations that were found
// and, for what was missed, those between double marks in a paragraph.
func (e *engine) findSayings() {
	d := e.d
	e.sayingAt = make([]int, len(d.Tokens))
	for i := range e.sayingAt {
		e.sayingAt[i] = -1
	}
	for _, q := range d.Quotations {
		s := saying{first: d.TokenAt(q.Start), last: d.TokenAt(q.End), verb: -1, speaker: -1, addressee: -1}
		for s.last > s.first && d.Tokens[s.last-1].Start >= q.End {
			s.last--
		}
		parts := q.Parts
		if len(parts) == 0 {
			parts = []lang.Span{{Start: q.Start, End: q.End}}
		}
		for _, p := range parts {
			for t := d.TokenAt(p.Start); t < len(d.Tokens) && d.Tokens[t].Start < p.End; t++ {
				e.sayingAt[t] = len(e.sayings)
			}
		}
		if q.Cue.End > q.Cue.Start {
			for t := d.TokenAt(q.Cue.Start); t < len(d.Tokens) && d.Tokens[t].Start < q.Cue.End; t++ {
				if d.Tokens[t].UPOS == "VERB" && tellers[e.lemma(t)] {
					s.verb = t
					break
				}
			}
		}
		e.sayings = append(e.sayings, s)
	}
	paragraph, open := -1, -1
	for si := range d.Sentences {
		s := d.Sentences[si]
		if s.Paragraph != paragraph {
			paragraph, open = s.Paragraph, -1
		}
		for i := s.First; i < s.Last; i++ {
			f := d.Tokens[i].Form
			if e.sayingAt[i] >= 0 {
				open = -1
				continue
			}
			opens := f == "“" || f == "``" || f == "\"" && open < 0
			closes := f == "”" || f == "''" || f == "\"" && open >= 0
			switch {
			case opens:
				open = len(e.sayings)
				e.sayings = append(e.sayings, saying{first: i, last: i + 1, verb: -1, speaker: -1, addressee: -1})
				e.sayingAt[i] = open
			case open >= 0:
				e.sayingAt[i] = open
				e.sayings[open].last = i + 1
				if closes {
					open = -1
				}
			}
		}
	}
}

// attribute finds who speaks: the speaker that was found for the quotation, or
// the subject of the verb of saying beside it.
func (e *engine) attribute() {
	d := e.d
	byMember := map[string]int{}
	for x, n := range e.entities {
		if n.member != nil {
			byMember[n.member.ID] = x
		}
	}
	for k := range e.sayings {
		s := &e.sayings[k]
		if s.verb < 0 {
			s.verb = e.teller(s)
		}
		if s.verb >= 0 {
			if sub := e.child(s.verb, "nsubj"); sub >= 0 {
				if x := e.refs[sub]; x.entity >= 0 && !e.entities[x.entity].thing {
					s.speaker, s.sure = x.entity, x.sure
				} else if d.Tokens[sub].Form == "I" {
					s.speaker, s.sure = e.narrator, 0.9
				}
			}
			for _, j := range e.kids[s.verb] {
				r := e.rel(j)
				toObl := r == "obl" && e.child(j, "case") >= 0 && e.lower(e.child(j, "case")) == "to"
				if x := e.refs[j]; (toObl || r == "iobj" || r == "obj" && e.lemma(s.verb) != "say") && e.sayingAt[j] < 0 && x.entity >= 0 && !e.entities[x.entity].thing && x.entity != s.speaker {
					s.addressee = x.entity
				}
			}
		}
		if k < len(d.Quotations) {
			q := d.Quotations[k]
			if x, ok := byMember[q.Speaker]; ok && q.Confidence > s.sure {
				s.speaker, s.sure = x, q.Confidence
			}
			if x, ok := byMember[q.Addressee]; ok && s.addressee < 0 && x != s.speaker {
				s.addressee = x
			}
		}
	}
}

// teller is the verb of saying that stands in the telling beside a saying: right
// behind it, between its parts, or right before it.
func (e *engine) teller(s *saying) int {
	d := e.d
	near := func(from, to, step int) int {
		for i := from; i != to && i >= 0 && i < len(d.Tokens); i += step {
			if e.sayingAt[i] >= 0 && (i < s.first || i >= s.last) {
				return -1
			}
			if e.sayingAt[i] < 0 && d.Tokens[i].UPOS == "VERB" && tellers[e.lemma(i)] && e.child(i, "nsubj") >= 0 {
				return i
			}
		}
		return -1
	}
	if s.first >= len(d.Tokens) || s.last <= s.first {
		return -1
	}
	paragraph := d.Sentences[e.sentence[s.first]].Paragraph
	if v := near(s.first, s.last, 1); v >= 0 {
		return v
	}
	if v := near(s.last, s.last+8, 1); v >= 0 && d.Sentences[e.sentence[v]].Paragraph == paragraph {
		return v
	}
	if v := near(s.first-1, s.first-14, -1); v >= 0 && d.Sentences[e.sentence[v]].Paragraph == paragraph {
		return v
	}
	return -1
}
