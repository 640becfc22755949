package people

import (
	"context"
	"math"
	"slices"
	"strings"

	"bookstead/internal/lang"
)

// told is who speaks a quotation, and to whom; -1 not known.
type told struct {
	speaker, to int
	sure        float64
}

// turn is a quotation with what tells who speaks it.
type turn struct {
	q          *lang.Quotation
	first      int // token
	last       int
	paragraph  int
	cue        int  // mention that is the subject of the verb of saying, -1
	cueGender  byte // of a pronoun there
	cueI       bool
	vocatives  []int // entities called
	vocGender  byte  // "sir"
	to         int   // entity that it is said to, by the cue
	candidates []candidate
	gap        int  // paragraphs of telling since the turn before
	goesOn     bool // the turn before was left open
}

// candidate is somebody who may speak a turn, with the features of that.
type candidate struct {
	entity int // -1: somebody else
	f      []feature
	base   float64 // weighted sum of f
}

type feature struct {
	name  int
	value float64
}

// Features of a candidate and of a step from one turn to the next.
const (
	cueNamed = iota
	cueOther
	cueDescribed
	cueDescribedMay
	cueDescribedMaybe
	cueClash
	cuePronounFits
	cuePronounOpen
	cuePronounIs
	cueIs1
	cueIsNot1
	beatBefore
	beatAfter
	beatMention
	beatOther
	called
	spokenOf
	lastSubject
	lastMention
	often
	unnamed
	teller
	nobodyKnown
	longAgo
	distance
	nextBeat
	cueUnknown
	stepSame0
	stepBack0
	stepNew0
	stepSame1
	stepBack1
	stepNew1
	stepSame2
	stepBack2
	stepNew2
	stepGoesOn
	stepCalled
	stepTold
	stepSir
	stepSirNot
	stepUnknown
	stepSameBeat
	stepSirNext
	stepSirNextNot
	features
)

// most are the candidates of a turn beside "somebody else".
const most = 12

// turns reads every quotation for what tells its speaker.
func (s *story) turns() []turn {
	d := s.d
	out := make([]turn, len(d.Quotations))
	order := make([]int, 0, len(s.ms)) // mentions by place
	for i := range s.ms {
		if m := &s.ms[i]; m.entity >= 0 && m.kind == "PER" && !m.plural && (m.form != pronoun || m.conf > 0.3) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return s.ms[a].head - s.ms[b].head })
	paragraphOf := func(t int) int { return d.Sentences[s.sentence[t]].Paragraph }
	starts := make([]int, len(d.Paragraphs)+1) // first token of each paragraph
	for i := range starts {
		starts[i] = len(d.Tokens)
	}
	for i := len(d.Sentences) - 1; i >= 0; i-- {
		starts[d.Sentences[i].Paragraph] = d.Sentences[i].First
	}
	for i := len(starts) - 2; i >= 0; i-- {
		starts[i] = min(starts[i], starts[i+1])
	}
	for i := range d.Quotations {
		q := &d.Quotations[i]
		x := turn{q: q, first: d.TokenAt(q.Start), last: d.TokenAt(q.End), cue: -1, to: -1}
		x.paragraph = paragraphOf(min(x.first, len(d.Tokens)-1))
		if q.Who >= 0 {
			l := strings.ToLower(d.Tokens[q.Who].Form)
			switch {
			case first[l] && d.Tokens[q.Who].UPOS == "PRON":
				x.cueI = true
			case third[l] != 0:
				x.cueGender = third[l]
				if k, ok := s.byHead[q.Who]; ok {
					x.cue = k
				}
			default:
				x.cue = s.mentionAt(q.Who)
			}
		}
		if q.To >= 0 {
			if k := s.mentionAt(q.To); k >= 0 {
				x.to = s.ms[k].entity
			}
		}
		s.calls(&x)
		if i > 0 {
			p := &out[i-1]
			x.gap = x.paragraph - p.paragraph - 1
			if x.paragraph == p.paragraph {
				x.gap = -1
			}
			for k := p.paragraph + 1; k <= x.paragraph; k++ {
				if kind := d.Paragraphs[k].Kind; kind == "heading" || kind == "scenebreak" {
					x.gap = 99
				}
			}
			end := d.Text[p.q.Start:p.q.End]
			x.goesOn = x.gap == 0 && q.Start == d.Paragraphs[x.paragraph].Start && p.q.End == d.Paragraphs[p.paragraph].End && !strings.HasSuffix(end, "”") && !strings.HasSuffix(end, "\"") && !strings.HasSuffix(end, "’") && !strings.HasSuffix(end, "'")
		}
		out[i] = x
	}
	for i := range out {
		s.candidates(out, i, order, starts)
	}
	return out
}

// calls finds whom a turn calls by name.
func (s *story) calls(x *turn) {
	d := s.d
	for _, p := range x.q.Parts {
		for t := d.TokenAt(p.Start); t < len(d.Tokens) && d.Tokens[t].Start < p.End; t++ {
			l := strings.ToLower(d.Tokens[t].Form)
			switch l {
			case "sir", "sirrah", "ma'am", "ma’am", "madam", "miss", "mister", "lad", "lady", "boy", "girl", "gentleman":
				if s.setOff(t, t+1, p) {
					switch l {
					case "sir", "sirrah", "mister", "lad", "boy", "gentleman":
						x.vocGender = male
					default:
						x.vocGender = female
					}
				}
			}
			k, ok := s.byHead[t]
			if !ok || s.ms[k].entity < 0 || s.ms[k].plural || s.ms[k].kind != "PER" || s.ms[k].form == pronoun {
				continue
			}
			if m := &s.ms[k]; s.setOff(m.first, m.last, p) || d.Tokens[m.head].Deprel == "vocative" && m.form == named {
				x.vocatives = append(x.vocatives, m.entity)
			}
		}
	}
}

// setOff tells whether the tokens stand between marks, as a name that is called.
func (s *story) setOff(first, last int, p lang.Span) bool {
	d := s.d
	before, after := "", ""
	if first > 0 {
		before = d.Tokens[first-1].Form
	}
	if last < len(d.Tokens) {
		after = d.Tokens[last].Form
	}
	if d.Tokens[first].Deprel == "conj" || first > 0 && d.Tokens[first].Deprel == "appos" {
		return false
	}
	for n := 0; n < 3 && first > 0; n++ { // "my dear", "oh", "well"
		switch strings.ToLower(before) {
		case "my", "dear", "oh", "o", "well", "yes", "no", "why", "now", "old", "poor", "little", "but", "and", "ah", "good", "come", "please", "sir", "you":
			first--
			before = ""
			if first > 0 {
				before = d.Tokens[first-1].Form
			}
			continue
		}
		break
	}
	opens := d.Tokens[first].Start <= p.Start+1 || before == "," || before == "!" || before == "?" || before == "." || before == ";" || before == "—" || before == "--" || before == "“" || before == "\"" || before == "‘" || before == "'"
	closes := after == "," || after == "." || after == "!" || after == "?" || after == ";" || after == "—" || after == "--" || after == "”" || after == "\"" || after == "’" || after == "'"
	return opens && closes
}

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
	from := starts[max(0, x.paragraph-12)]
	to := starts[min(len(starts)-1, x.paragraph+2)]
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
	for j := max(0, i-6); j < min(len(ts), i+5); j++ {
		if k := ts[j].cue; k >= 0 && s.ms[k].entity >= 0 {
			get(s.ms[k].entity).score += 1.5 / float64(1+max(i-j, j-i))
		}
		if ts[j].cueI && s.narrator >= 0 {
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
		c := candidate{entity: e}
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
			case e == cueEntity && e == m.maybe:
				add(cueDescribedMay, 1)
				add(cueDescribedMaybe, 1)
			case e == cueEntity:
				add(cueDescribed, 1)
			case m.form == named:
				add(cueOther, 1)
			case g != 0 && en.allows(g) == 0:
				add(cueClash, 1)
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

// step gives the features of speaker c of turn x behind speaker last, before
// whom other spoke; buf is used for the answer.
func (s *story) step(buf []feature, p, x *turn, c, last, other int) []feature {
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

// lattice holds the states of all turns: who speaks, and who spoke before.
type lattice struct {
	states [][]state
}

type state struct {
	c           int // index of the candidate
	who, other  int
	in          []edge
	alpha, beta float64
	best        float64
	from        int
}

type edge struct {
	from  int
	score float64
}

// speakers names who speaks each quotation: the best path through all turns,
// and how sure that is.
func (s *story) speakers(ctx context.Context) error {
	ts := s.turns()
	s.last = ts
	s.who = make([]told, len(ts))
	if len(ts) == 0 {
		return nil
	}
	l, err := s.lattice(ctx, ts, weights[:], beam)
	if err != nil {
		return err
	}
	l.forward()
	l.backward()
	post := l.posteriors(ts)
	path := l.path()
	for i := range ts {
		c := l.states[i][path[i]]
		s.who[i] = told{speaker: c.who, to: -1, sure: post[i][c.c]}
	}
	s.spokenTo(ts)
	return nil
}

func (s *story) lattice(ctx context.Context, ts []turn, w []float64, width int) (*lattice, error) {
	l := &lattice{states: make([][]state, len(ts))}
	var buf []feature
	for i := range ts {
		if i%128 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		x := &ts[i]
		for k := range x.candidates {
			c := &x.candidates[k]
			c.base = 0
			for _, f := range c.f {
				c.base += w[f.name] * f.value
			}
		}
		if i == 0 {
			for k, c := range x.candidates {
				l.states[0] = append(l.states[0], state{c: k, who: c.entity, other: -2, in: []edge{{-1, c.base}}})
			}
			continue
		}
		at := map[[2]int]int{}
		var out []state
		for pi := range l.states[i-1] {
			p := &l.states[i-1][pi]
			for k := range x.candidates {
				c := &x.candidates[k]
				other := p.other
				if c.entity != p.who && p.who >= 0 {
					other = p.who
				}
				if x.gap > 8 {
					other = -2
				}
				buf = s.step(buf, &ts[i-1], x, c.entity, p.who, p.other)
				score := c.base
				for _, f := range buf {
					score += w[f.name] * f.value
				}
				key := [2]int{k, other}
				n, ok := at[key]
				if !ok {
					n = len(out)
					at[key] = n
					out = append(out, state{c: k, who: c.entity, other: other})
				}
				out[n].in = append(out[n].in, edge{pi, score})
			}
		}
		l.states[i] = prune(out, l.states[i-1], width)
	}
	return l, nil
}

// beam is how many states of a turn are followed.
const beam = 48

// prune keeps the best states; best is filled on the way.
func prune(out []state, before []state, width int) []state {
	for i := range out {
		st := &out[i]
		st.best = math.Inf(-1)
		for _, e := range st.in {
			v := e.score
			if e.from >= 0 {
				v += before[e.from].best
			}
			if v > st.best {
				st.best, st.from = v, e.from
			}
		}
	}
	if len(out) <= width {
		return out
	}
	slices.SortStableFunc(out, func(a, b state) int {
		switch {
		case a.best > b.best:
			return -1
		case a.best < b.best:
			return 1
		}
		return 0
	})
	return out[:width]
}

func logSum(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	if math.IsInf(b, -1) {
		return a
	}
	return a + math.Log1p(math.Exp(b-a))
}

func (l *lattice) forward() {
	for i := range l.states {
		for k := range l.states[i] {
			st := &l.states[i][k]
			st.alpha = math.Inf(-1)
			st.best = math.Inf(-1)
			for _, e := range st.in {
				a, b := e.score, e.score
				if e.from >= 0 {
					a += l.states[i-1][e.from].alpha
					b += l.states[i-1][e.from].best
				}
				st.alpha = logSum(st.alpha, a)
				if b > st.best {
					st.best, st.from = b, e.from
				}
			}
		}
	}
}

func (l *lattice) backward() {
	for i := len(l.states) - 1; i >= 0; i-- {
		for k := range l.states[i] {
			if i == len(l.states)-1 {
				l.states[i][k].beta = 0
			} else {
				l.states[i][k].beta = math.Inf(-1)
			}
		}
		if i == len(l.states)-1 {
			continue
		}
		for k := range l.states[i+1] {
			st := &l.states[i+1][k]
			for _, e := range st.in {
				b := &l.states[i][e.from].beta
				*b = logSum(*b, st.beta+e.score)
			}
		}
	}
}

func (l *lattice) total() float64 {
	z := math.Inf(-1)
	for _, st := range l.states[len(l.states)-1] {
		z = logSum(z, st.alpha)
	}
	return z
}

// posteriors are how likely each candidate of each turn is.
func (l *lattice) posteriors(ts []turn) [][]float64 {
	z := l.total()
	out := make([][]float64, len(ts))
	for i := range ts {
		out[i] = make([]float64, len(ts[i].candidates))
		for _, st := range l.states[i] {
			out[i][st.c] += math.Exp(st.alpha + st.beta - z)
		}
	}
	return out
}

// path is the best state of each turn.
func (l *lattice) path() []int {
	n := len(l.states)
	out := make([]int, n)
	best := math.Inf(-1)
	for k, st := range l.states[n-1] {
		if st.best > best {
			best, out[n-1] = st.best, k
		}
	}
	for i := n - 1; i > 0; i-- {
		out[i-1] = l.states[i][out[i]].from
	}
	return out
}

// spokenTo fills whom each turn is said to: who is called, who the cue names,
// who spoke before, who speaks next.
func (s *story) spokenTo(ts []turn) {
	other := -1
	for i := range ts {
		x := &ts[i]
		w := &s.who[i]
		if i > 0 && x.gap > 8 {
			other = -1
		}
		if i > 0 && s.who[i-1].speaker >= 0 && s.who[i-1].speaker != w.speaker && x.gap <= 8 {
			other = s.who[i-1].speaker
		}
		for _, v := range x.vocatives {
			if v != w.speaker {
				w.to = v
				break
			}
		}
		if w.to < 0 && x.to >= 0 && x.to != w.speaker {
			w.to = x.to
		}
		if w.to < 0 && other >= 0 && other != w.speaker {
			w.to = other
		}
		if w.to < 0 && i+1 < len(ts) && ts[i+1].gap < 3 && s.who[i+1].speaker != w.speaker {
			w.to = s.who[i+1].speaker
		}
	}
}
