package people

import (
	"math"
	"slices"
	"strings"
)

// farBack and farOn are the tokens before and behind a turn in which candidates
// are looked for, whatever the paragraphs are like.
const farBack, farOn = 2500, 800

// candidates gives turn i those who may speak it.
func (s *story) candidates(ts []turn, i int, order, starts []int) {
	d := s.d
	x := &ts[i]
	type near struct {
		score                          float64
		last                           int // token of the latest mention before the turn
		before, after, mention         bool
		lastSubject, lastMention, next bool
		of, called                     bool
	}
	found := map[int]*near{}
	var names []int
	get := func(e int) *near {
		n := found[e]
		if n == nil {
			n = &near{last: -1}
			found[e] = n
			names = append(names, e)
		}
		return n
	}
	from := max(starts[max(0, x.paragraph-12)], x.first-farBack)
	to := min(starts[min(len(starts)-1, x.paragraph+2)], x.last+farOn)
	own, ownEnd := starts[x.paragraph], starts[x.paragraph+1]
	prev := starts[max(0, x.paragraph-1)]
	k, _ := slices.BinarySearchFunc(order, from, func(m, t int) int { return s.ms[m].head - t })
	lastSub, lastAny, nextSub := -1, -1, -1
	beat := -1
	for ; k < len(order) && s.ms[order[k]].head < to; k++ {
		m := &s.ms[order[k]]
		e := m.entity
		n := get(e)
		t := m.head
		q := int(s.said[t])
		w := 1.0
		if m.form == pronoun {
			w = 0.7 * m.conf
		}
		if q >= 0 {
			w *= 0.5
		}
		switch {
		case t < own:
			n.score += w * math.Pow(0.8, float64(x.paragraph-d.Sentences[s.sentence[t]].Paragraph))
			n.last = t
			if t >= prev && q < 0 {
				if isSubject(d, t) {
					lastSub = e
				}
				lastAny = e
			}
		case t < ownEnd:
			n.score += w
			if q == i {
				n.of = true
				break
			}
			if q >= 0 {
				break
			}
			n.score += w
			n.mention = true
			if isSubject(d, t) {
				if t < x.first && t > x.first-60 {
					n.before = true
					beat = e
				} else if t >= x.last || x.first < t {
					if !n.after && beat < 0 {
						beat = e
					}
					n.after = true
				}
			}
			if t < x.first {
				n.last = t
			}
		default:
			n.score += 0.3 * w
			if q < 0 && isSubject(d, t) && nextSub < 0 {
				nextSub = e
			}
		}
	}
	if lastSub >= 0 {
		get(lastSub).lastSubject = true
	}
	if lastAny >= 0 {
		get(lastAny).lastMention = true
	}
	if nextSub >= 0 {
		get(nextSub).next = true
	}
	for _, e := range x.vocatives {
		get(e).called = true
	}
	recent := map[int]bool{}
	for j := max(0, i-6); j < min(len(ts), i+5); j++ {
		if k := ts[j].cue; k >= 0 && s.ms[k].entity >= 0 {
			if j < i {
				recent[s.ms[k].entity] = true
			}
			get(s.ms[k].entity).score += 1.5 / float64(1+max(i-j, j-i))
		}
		if ts[j].cueI && s.narrator >= 0 {
			if j < i {
				recent[s.narrator] = true
			}
			get(s.narrator).score += 1.5
		}
		for _, e := range ts[j].vocatives {
			if j != i {
				get(e).score += 1 / float64(1+max(i-j, j-i))
			}
		}
	}
	if s.narrator >= 0 {
		get(s.narrator).score += 0.5
	}
	cueEntity := -1
	if x.cue >= 0 {
		cueEntity = s.ms[x.cue].entity
		if cueEntity >= 0 {
			get(cueEntity).score += 100
		}
	}
	slices.SortStableFunc(names, func(a, b int) int {
		switch {
		case found[a].score > found[b].score:
			return -1
		case found[a].score < found[b].score:
			return 1
		}
		return a - b
	})
	for _, e := range names {
		if len(x.candidates) == most {
			break
		}
		n, en := found[e], s.es[e]
		if en.merged >= 0 || en.kind != "PER" || en.plural && e != cueEntity {
			continue
		}
		c := candidate{entity: e, recent: recent[e]}
		add := func(f int, v float64) { c.f = append(c.f, feature{f, v}) }
		hasCue := x.q.Who >= 0
		switch {
		case x.cueI:
			if e == s.narrator {
				add(cueIs1, 1)
			} else {
				add(cueIsNot1, 1)
			}
		case x.cueGender != 0:
			switch en.allows(x.cueGender) {
			case 0:
				add(cueClash, 1)
			case 1:
				add(cuePronounFits, 1)
			default:
				add(cuePronounOpen, 1)
			}
			if e == cueEntity {
				add(cuePronounIs, s.ms[x.cue].conf)
			}
			if e == s.narrator {
				add(cueIsNot1, 1)
			}
		case cueEntity >= 0:
			m := &s.ms[x.cue]
			g := s.es[cueEntity].gender()
			switch {
			case e == cueEntity && m.form == named:
				add(cueNamed, 1)
			case e == cueEntity && s.newcomer(cueEntity, m):
				add(cueDescribedSure, 1)
			case e == cueEntity && e == m.maybe:
				add(cueDescribedMay, 1)
				add(cueDescribedMaybe, 1)
			case e == cueEntity:
				add(cueDescribed, 1)
			case m.form == named:
				add(cueOther, 1)
			case g != 0 && en.allows(g) == 0:
				add(cueClash, 1)
			case s.newcomer(cueEntity, m):
				add(cueDescribedNot, 1)
			default:
				add(cueDescribedMay, 1)
				if e == m.maybe {
					add(cueDescribedMaybe, 1)
				}
			}
			if e == s.narrator && e != cueEntity {
				add(cueIsNot1, 1)
			}
		case hasCue:
			add(cueUnknown, 1)
		}
		if !hasCue {
			if n.before {
				add(beatBefore, 1)
			}
			if n.after {
				add(beatAfter, 1)
			}
			if n.mention && !n.before && !n.after {
				add(beatMention, 1)
			}
			if beat >= 0 && beat != e {
				add(beatOther, 1)
			}
			if n.lastSubject {
				add(lastSubject, 1)
			}
			if n.lastMention && !n.lastSubject {
				add(lastMention, 1)
			}
			if n.next {
				add(nextBeat, 1)
			}
		}
		if n.called {
			add(called, 1)
		} else if n.of {
			add(spokenOf, 1)
		}
		add(often, math.Log1p(min(20, n.score)))
		if !en.named && e != s.narrator {
			add(unnamed, 1)
		}
		if e == s.narrator {
			add(teller, 1)
		}
		if n.last < 0 && e != s.narrator {
			add(longAgo, 1)
		} else if n.last >= 0 {
			add(distance, math.Log1p(float64(x.first-n.last)/20))
		}
		x.candidates = append(x.candidates, c)
	}
	c := candidate{entity: -1, f: []feature{{nobodyKnown, 1}}}
	if x.q.Who >= 0 {
		c.f = append(c.f, feature{cueOther, 1})
	}
	x.candidates = append(x.candidates, c)
}

// newcomer tells whether a description means somebody without a name who has
// come in not long ago, or who has a part of their own ("the gardener").
func (s *story) newcomer(e int, m *mention) bool {
	x := s.es[e]
	if x.named || m.form != described {
		return false
	}
	if x.introduced > 0 && int(s.sentence[m.head])-x.introduced < 40 {
		return true
	}
	return !common[strings.ToLower(s.d.Tokens[m.head].Lemma)] && x.owner < 0
}

// step gives the features of speaker c of turn x behind speaker last, before
// whom other spoke; buf is used for the answer.
func (s *story) step(buf []feature, p, x *turn, c, last, other int, recent bool) []feature {
	buf = buf[:0]
	add := func(f int) { buf = append(buf, feature{f, 1}) }
	if x.goesOn {
		if c == last && c >= 0 {
			add(stepGoesOn)
		}
		return buf
	}
	if c < 0 {
		add(stepUnknown)
		return buf
	}
	if x.gap > 8 {
		return buf
	}
	base := stepSame0
	switch {
	case x.certain:
		base = stepSameCued
	case x.gap > 2:
		base = stepSame2
	case x.gap > 0:
		base = stepSame1
	}
	switch {
	case c == last && x.gap < 0:
		add(stepSameBeat)
	case c == last:
		add(base)
	case c == other:
		add(base + 1)
	case recent && x.certain:
		add(stepRecent)
	default:
		add(base + 2)
	}
	if x.gap < 3 && c != last {
		if slices.Contains(p.vocatives, c) {
			add(stepCalled)
		}
		if p.to == c {
			add(stepTold)
		}
	}
	if x.vocGender != 0 && x.gap < 3 && c != last && last >= 0 {
		if s.es[last].allows(x.vocGender) == 0 {
			add(stepSirNot)
		} else if s.es[last].allows(x.vocGender) == 1 {
			add(stepSir)
		}
	}
	if p.vocGender != 0 && x.gap < 3 && c != last {
		if s.es[c].allows(p.vocGender) == 0 {
			add(stepSirNextNot)
		} else if s.es[c].allows(p.vocGender) == 1 {
			add(stepSirNext)
		}
	}
	return buf
}
