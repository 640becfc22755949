package question

import (
	"slices"
	"strings"

	"bookstead/internal/lang/inflect"
	"bookstead/internal/lexicon"
)

// asker gathers the candidates of one passage.
type asker struct {
	*engine
	first, last int // sentences [first, last)
	clauses     []*clause
	out         []candidate
	seen        map[string]bool
	guessing    bool // make also what the text only suggests
}

// candidates makes every question that sentences [first, last) allow and, when
// guessing, those whose answer they only suggest.
func (e *engine) candidates(first, last int, guessing bool) []candidate {
	a := &asker{engine: e, guessing: guessing, first: first, last: last, seen: map[string]bool{}}
	for si := first; si < last; si++ {
		if e.prose(si) {
			a.clauses = append(a.clauses, e.clausesOf(si)...)
		}
	}
	for k, c := range a.clauses {
		if c.spoken >= 0 && (e.sayings[c.spoken].speaker < 0 || e.d.Sentences[c.sentence].Type == "question") {
			continue
		}
		a.parts(c)
		a.reasons(c)
		a.occasions(c)
		a.feels(c, a.before(k))
		if c.spoken < 0 {
			for n, p := 1, a.before(k); p != nil && (n == 1 || guessing && n <= 3); n++ {
				a.sequence(c, p, n)
				j := slices.Index(a.clauses, p)
				p = a.before(j)
			}
			if guessing {
				a.nearby(k)
				a.guess(c)
			}
		}
	}
	a.says()
	a.named()
	return a.out
}

// before is the told main clause before clause k, nil when none is near.
func (a *asker) before(k int) *clause {
	c := a.clauses[k]
	for j := k - 1; j >= 0; j-- {
		p := a.clauses[j]
		if p.sentence < c.sentence-2 {
			return nil
		}
		if p.spoken < 0 && (p.rel == "root" || p.rel == "conj" || p.rel == "parataxis") {
			return p
		}
	}
	return nil
}

// add takes a candidate when it can be said at all.
func (a *asker) add(form, kind string, c *clause, q string, t *telling, answer, full string) {
	if q == "" || answer == "" || full == "" {
		return
	}
	if len(strings.Fields(q)) < 3 || len(strings.Fields(q)) > 24 || len(strings.Fields(answer)) > 36 || strings.ContainsAny(q, "“”\";:()[]*") || strings.Contains(q, "--") || strings.Contains(q, "—") {
		return
	}
	if form != "say" && form != "say-ask" && strings.ContainsAny(answer, "“”\"()[]*") {
		return
	}
	key := strings.ToLower(q + "|" + answer)
	if a.seen[key] {
		return
	}
	a.seen[key] = true
	x := candidate{form: form, kind: kind, q: upperFirst(q), a: answer, full: sentence(full), c: c, first: c.sentence, last: c.sentence, sure: t.sure, open: t.open}
	a.out = append(a.out, x)
}

// proof widens the proof of the candidate added last to another clause.
func (a *asker) proof(n int, other *clause) {
	for ; n < len(a.out); n++ {
		a.out[n].first = min(a.out[n].first, other.sentence)
		a.out[n].last = max(a.out[n].last, other.sentence)
		a.out[n].with = other
	}
}

// whole is the clause as a full sentence.
func (a *asker) whole(c *clause) string {
	t := a.voice(c)
	s := a.state(t, c, true)
	if t.open > 0 || len(strings.Fields(s)) < 3 {
		return ""
	}
	return s
}

var (
	// light verbs alone tell nothing: "What did she have?"
	light = set("be do seem let mean happen")
	// wanting takes what somebody wants to do; reporting what somebody knows or says.
	motion = set("go come run walk return travel ride fly sail wander climb hurry march creep arrive journey drive hasten rush escape flee sink fall jump leap swim crawl move ascend descend enter proceed")
	locate = set("in on at under beside behind near inside into beneath above among between outside across to from toward towards upon over through along up down around round against by within onto out off beyond")
)

// animateAt reports whether the noun or pronoun at i names a person or animal.
func (e *engine) animateAt(i int) bool {
	t := e.d.Tokens[i]
	if t.UPOS == "NOUN" {
		a, _ := e.kindOf(e.lemma(i))
		return a
	}
	if t.UPOS == "PRON" {
		switch e.lower(i) {
		case "i", "you", "we", "he", "she", "him", "her", "me", "us", "everybody", "everyone", "somebody", "someone", "nobody":
			return true
		case "they", "them":
			r := e.refs[i]
			return r.entity < 0 || !e.entities[r.entity].thing
		case "it":
			r := e.refs[i]
			return r.entity >= 0 && !e.entities[r.entity].thing
		}
		return false
	}
	if r := e.refs[i]; r.entity >= 0 {
		return !e.entities[r.entity].thing
	}
	return t.UPOS == "PROPN"
}

// prep is the preposition of an oblique, "" when it has none.
func (e *engine) prep(k int) string {
	var w []string
	for _, j := range e.kids[k] {
		if e.rel(j) == "case" && j < k {
			w = append(w, e.lower(j))
			for _, f := range e.kids[j] {
				if e.rel(f) == "fixed" {
					w = append(w, e.lower(f))
				}
			}
		}
	}
	return strings.Join(w, " ")
}

func (e *engine) timeNoun(k int) bool {
	return e.d.Tokens[k].UPOS == "NOUN" && (e.lexname(e.lemma(k), lexicon.Noun) == "noun.time" || set("time moment day night morning evening hour year week month summer winter autumn spring while")[e.lemma(k)])
}

// phrase says the tokens at and under k, without clauses when it is long.
func (a *asker) phrase(t *telling, k int, drop ...int) string {
	toks := a.subtree(k)
	if len(toks) > 14 {
		toks = a.shorter(toks, k)
	}
	toks = without(toks, drop...)
	return t.say(a.tidy(toks), nil)
}

// parts asks for each part of a clause: who, what, where, when, how, how many.
func (a *asker) parts(c *clause) {
	full := a.whole(c)
	if full == "" {
		return
	}
	e := a.engine
	verb := e.lemma(c.root)
	told := c.cop < 0 && e.d.Tokens[c.root].UPOS == "VERB"
	subjectAnimate := e.animateAt(c.subject)

	a.who(c, full)
	if c.cop >= 0 {
		a.copula(c, full)
		return
	}
	if !told || c.there {
		return
	}
	if c.object >= 0 && c.object > c.root && !light[verb] && (a.guessing || !e.idle(c)) && e.d.Tokens[c.object].UPOS != "PRON" {
		word := "What"
		if e.person(c.object) {
			word = "Who"
		}
		if word == "Who" && !a.guessing && (!subjectAnimate || verb == "have") {
			return
		}
		q, t := e.question(c, word, "", c.object)
		kind := askAction
		if word == "Who" {
			kind = askCharacter
		}
		a.add("obj-"+word, kind, c, q, t, a.phrase(t.again(), c.object), full)
		if len(strings.Fields(q)) > 8 { // the same without what else is told
			var more []int
			for _, k := range e.kids[c.root] {
				if r := e.rel(k); (r == "obl" || r == "xcomp" || r == "ccomp" || r == "advmod") && k > c.root {
					more = append(more, k)
				}
			}
			q, t := e.question(c, word, "", append(more, c.object)...)
			a.add("obj-short-"+word, kind, c, q, t, a.phrase(t.again(), c.object), full)
		}
		for _, k := range e.kids[c.object] {
			if e.rel(k) == "nummod" && !strings.ContainsAny(e.lower(k), "0123456789") && e.lower(k) != "one" {
				ot := e.voice(c)
				noun := ot.say(without(e.tidy(e.shorter(e.bare(c.object), c.object)), k), nil)
				q, t := e.question(c, "How many "+noun, "", c.object)
				a.add("many", askAction, c, q, t, a.phrase(t.again(), k), full)
			}
		}
	}
	for _, k := range e.kids[c.root] {
		if k < c.root {
			if e.rel(k) == "obl" && e.timeNoun(k) && k < c.subject {
				q, t := e.question(c, "When", "", k)
				a.add("when-front", askSetting, c, q, t, a.phrase(t.again(), k), full)
				if subjectAnimate && e.rel(c.root) != "ccomp" {
					t := e.voice(c)
					s := t.subjectOf(c)
					if s != "" {
						q := "What " + e.did(c) + " " + s + " do " + a.phrase(t, k) + "?"
						a.add("do-when", askAction, c, q, t, e.doing(t.again(), c, true), full)
						a.add("do-when+", askAction, c, q, t, e.deeds(t.again(), c), full)
					}
				}
			}
			continue
		}
		switch e.rel(k) {
		case "obl":
			a.oblique(c, k, full)
		case "xcomp":
			a.complement(c, k, full)
		case "ccomp":
			if e.sayingAt[k] == e.sayingAt[c.root] && told {
				words, marks := e.marks(k)
				if words != "" && words != "that" {
					continue
				}
				q, t := e.question(c, "What", "", k)
				a.add("ccomp", askAction, c, q, t, a.phrase(t.again(), k, marks...), fullOr(a, c, full))
			}
		case "advcl":
			if w, _ := e.marks(k); w == "by" {
				q, t := e.question(c, "How", "", k)
				a.add("how-by", askAction, c, q, t, a.phrase(t.again(), k), fullWith(a, c, full))
			}
		}
	}
	if subjectAnimate && told && (c.rel == "root" || c.rel == "conj") && c.spoken < 0 {
		t := e.voice(c)
		s := t.subjectOf(c)
		if s == "" {
			return
		}
		// what somebody did with or to somebody, or with a thing
		if c.object >= 0 && e.d.Tokens[c.object].UPOS == "NOUN" && c.object > c.root {
			t := e.voice(c)
			s := t.subjectOf(c)
			q := "What " + e.did(c) + " " + s + " do with " + t.noun(c.object, 5) + "?"
			if e.animateAt(c.object) {
				q = "What " + e.did(c) + " " + s + " do to " + t.noun(c.object, 5) + "?"
			}
			if e.child(c.root, "obl", "xcomp", "compound") > c.root && concrete[e.lexname(e.lemma(c.object), lexicon.Noun)] && !set("have get give take make keep hold find see hear know like love hate enter reach leave")[verb] && e.lexname(e.lemma(c.object), lexicon.Noun) != "noun.body" {
				a.add("do-with", askAction, c, q, t, e.doing(t.again(), c, true), full)
			}
		}
	}
}

func fullOr(a *asker, c *clause, full string) string { return fullWith(a, c, full) }

// fullWith is the clause with the clauses that hang on it, or without them.
func fullWith(a *asker, c *clause, full string) string {
	t := a.voice(c)
	if s := a.state(t, c, false); s != "" && t.open == 0 && len(strings.Fields(s)) < 40 {
		return s
	}
	return full
}

// who asks for the subject.
func (a *asker) who(c *clause, full string) {
	e := a.engine
	tok := e.d.Tokens[c.subject]
	if tok.UPOS == "PRON" && e.refs[c.subject].entity < 0 {
		return
	}
	t := e.voice(c)
	var answer string
	if tok.UPOS == "NOUN" || tok.UPOS == "PROPN" && e.refs[c.subject].entity >= 0 && e.entities[e.refs[c.subject].entity].member == nil {
		toks := e.tidy(e.shorter(e.bare(c.subject), c.subject))
		if len(toks) > 12 {
			return
		}
		answer = t.say(toks, nil)
	} else {
		answer = t.subjectOf(c)
	}
	if answer == "" || t.open > 0 {
		return
	}
	word, kind := "What", askAction
	if e.animateAt(c.subject) {
		word, kind = "Who", askCharacter
	}
	pred := e.predicate(c, true)
	if len(pred) < 3 {
		return
	}
	qt := e.voice(c)
	rest := qt.say(pred, e.verbOver(c, qt))
	if c.there {
		if c.relative < 0 {
			return
		}
	}
	qt.sure = min(qt.sure, t.sure)
	form := "who-" + c.rel
	if c.cop >= 0 {
		form = "who-cop-" + c.rel
	}
	if word == "What" {
		form = "what-subject"
	}
	if mentioned(rest, answer) {
		return
	}
	a.add(form, kind, c, word+" "+rest+"?", qt, answer, full)
	if word == "Who" {
		qt := e.voice(c)
		if more := e.deeds(qt, c); more != "" && !mentioned(more, answer) {
			a.add(form+"+", kind, c, "Who "+more+"?", qt, answer, full)
		}
	}
}

// mentioned reports whether a text holds an answer's last word.
func mentioned(text, answer string) bool {
	f := strings.Fields(answer)
	if len(f) == 0 {
		return false
	}
	for _, w := range strings.Fields(text) {
		if strings.EqualFold(strings.Trim(w, "’s,.'"), strings.Trim(f[len(f)-1], "’s,.'")) {
			return true
		}
	}
	return false
}

// copula asks of what somebody or something is.
func (a *asker) copula(c *clause, full string) {
	e := a.engine
	root := e.d.Tokens[c.root]
	switch {
	case root.UPOS == "NOUN" && e.prep(c.root) != "": // was in the garden
		prep, _, _ := strings.Cut(e.prep(c.root), " ")
		if !locate[prep] || e.timeNoun(c.root) {
			return
		}
		t := e.voice(c)
		s := t.subjectOf(c)
		be := e.be(c)
		if s == "" {
			return
		}
		answer := t.again().say(e.tidy(e.shorter(without(e.predicate(c, true), append([]int{c.cop}, c.aux...)...), c.root)), nil)
		a.add("where-be", askSetting, c, "Where "+be+" "+s+"?", t, answer, full)
	case root.UPOS == "NOUN":
		t := e.voice(c)
		s := t.subjectOf(c)
		if s == "" || len(e.d.Tokens) == 0 {
			return
		}
		answer := t.again().say(e.tidy(e.shorter(e.bare(c.root), c.root)), nil)
		if det := e.child(c.subject, "det"); det >= 0 && (e.lower(det) == "a" || e.lower(det) == "an") {
			return
		}
		if e.animateAt(c.subject) {
			a.add("who-is", askCharacter, c, "Who "+e.be(c)+" "+s+"?", t, answer, full)
		} else {
			a.add("what-is", askAction, c, "What "+e.be(c)+" "+s+"?", t, answer, full)
		}
	case root.UPOS == "ADJ" && c.spoken < 0 && e.animateAt(c.subject) && !feeling(e, c.root):
		t := e.voice(c)
		if s := t.subjectOf(c); s != "" {
			a.add("like", askCharacter, c, "What "+e.be(c)+" "+s+" like?", t, t.again().say(without(e.predicate(c, true), append([]int{c.cop}, c.aux...)...), nil), full)
		}
	}
}

// oblique asks for what stands behind a preposition.
func (a *asker) oblique(c *clause, k int, full string) {
	e := a.engine
	prep := e.prep(k)
	head, _, _ := strings.Cut(prep, " ")
	tok := e.d.Tokens[k]
	if tok.UPOS == "PRON" || light[e.lemma(c.root)] {
		return
	}
	switch {
	case tok.Deprel == "obl:agent" && head == "by" || c.passive && head == "by" && e.animateAt(k):
		q, t := e.question(c, "By whom", "", k)
		a.add("agent", askCharacter, c, q, t, a.phrase(t.again(), k, e.child(k, "case")), full)
	case e.timeNoun(k):
		if prep == "" && set("moment while time minute instant day")[e.lemma(k)] {
			return
		}
		word := "When"
		if head == "for" && e.child(k, "nummod") >= 0 {
			word = "How long"
		}
		q, t := e.question(c, word, "", k)
		a.add("when-"+word, askSetting, c, q, t, a.phrase(t.again(), k), full)
	case prep == "" || len(e.caseTokens(k)) == 0:
		return
	case e.animateAt(k):
		if c.object >= 0 && e.lexname(e.lemma(c.object), lexicon.Noun) == "noun.body" {
			return
		}
		if head == "of" || head == "like" || head == "as" || head == "than" || head == "by" || head == "in" {
			return
		}
		q, t := e.question(c, "Who", prep, k)
		a.add("who-prep", askCharacter, c, q, t, a.phrase(t.again(), k, e.caseTokens(k)...), full)
	default:
		ln := e.lexname(e.lemma(k), lexicon.Noun)
		place := ln == "noun.location" || ln == "noun.artifact" || ln == "noun.object" || ln == "noun.plant" || ln == "noun.group" || tok.UPOS == "PROPN" || ln == "noun.body" || ln == "noun.substance" || ln == "noun.phenomenon"
		if locate[head] && (place || e.lemma(c.root) == "live") {
			drop := []int{k}
			for _, j := range e.kids[c.root] {
				if e.rel(j) == "obl" && j > c.root && j != k {
					drop = append(drop, j)
				}
			}
			for _, j := range e.kids[c.root] { // went up to London: "Where did he go?"
				if j == k-len(e.caseTokens(k))-1 || j < k && j > c.root && e.d.Tokens[k].UPOS == "NOUN" {
					if set("up down over out back away off on in along round around")[e.lower(j)] && len(e.kids[j]) == 0 && c.object < 0 {
						drop = append(drop, j)
					}
				}
			}
			q, t := e.question(c, "Where", "", drop...)
			a.add("where-"+map[bool]string{true: "go", false: "be"}[motion[e.lemma(c.root)]], askSetting, c, q, t, a.phrase(t.again(), k), full)
			if c.object >= 0 || len(strings.Fields(q)) > 8 {
				var more []int
				for _, j := range e.kids[c.root] {
					if r := e.rel(j); (r == "obl" || r == "advmod") && j > c.root {
						more = append(more, j)
					}
				}
				q, t := e.question(c, "Where", "", more...)
				a.add("where-short", askSetting, c, q, t, a.phrase(t.again(), k), full)
			}
		}
		if !(locate[head] && (place || e.lemma(c.root) == "live")) || head == "at" || head == "with" {
			q, t := e.question(c, "What", prep, k)
			answer := t.again()
			a.add("what-prep", askAction, c, q, t, a.phrase(answer, k, e.caseTokens(k)...), full)
		}
	}
}

func (e *engine) caseTokens(k int) []int {
	var out []int
	for _, j := range e.kids[k] {
		if e.rel(j) == "case" && j < k {
			out = append(out, e.subtree(j)...)
		}
	}
	return out
}

// complement asks what somebody wanted, began, told another to do.
func (a *asker) complement(c *clause, k int, full string) {
	e := a.engine
	if e.d.Tokens[k].UPOS != "VERB" {
		return
	}
	_, marks := e.marks(k)
	if len(marks) == 0 || e.lower(marks[0]) != "to" || e.d.Tokens[k].XPOS != "VB" {
		return
	}
	q, t := e.question(c, "What", "to do", k)
	a.add("xcomp", askAction, c, q, t, a.phrase(t.again(), k, marks...), fullWith(a, c, full))
	if obj := e.child(k, "obj"); obj > k && e.d.Tokens[obj].UPOS == "NOUN" && !e.animateAt(obj) {
		q, t := e.question(c, "What", "", obj)
		a.add("xcomp-obj", askAction, c, q, t, a.phrase(t.again(), obj), full)
	}
}

// reasons asks why.
func (a *asker) reasons(c *clause) {
	e := a.engine
	for _, k := range e.kids[c.root] {
		r := e.rel(k)
		if r != "advcl" && r != "parataxis" && r != "conj" && r != "ccomp" || e.sayingAt[k] != e.sayingAt[c.root] {
			continue
		}
		words, marks := e.marks(k)
		cc := e.child(k, "cc")
		if cc >= 0 && e.lower(cc) == "for" {
			words, marks = "for", []int{cc}
		}
		has := e.child(k, "nsubj") >= 0
		switch {
		case (words == "because" || words == "since" || words == "for" || words == "as" && e.stative(k)) && has && (k > c.root || words != "as"):
			if words == "for" && !a.guessing && (e.perceives(c) || e.sothat(c)) {
				continue // the reason is for something else
			}
			if between := e.child(c.root, "conj"); between > c.root && between < k && e.child(between, "nsubj") >= 0 {
				continue // whose reason it is, is not clear
			}
			q, t := e.question(c, "Why", "", k)
			reason := a.phrase(t.again(), k, marks...)
			a.add("why-"+words, askCause, c, q, t, reason, a.joined(c, k, "because", marks...))
			rt := a.voice(c)
			cond := a.phrase(rt, k, marks...)
			base := a.state(rt.again(), c, true, k)
			a.add("because", askOutcome, c, "What happened because "+cond+"?", rt, base, "Because "+cond+", "+base)
		case words == "so that" && has && k > c.root:
			q, t := e.question(c, "Why", "", k)
			a.add("why-so-that", askCause, c, q, t, a.phrase(t.again(), k), a.joined(c, k, ""))
		case (words == "to" || words == "in order to" || words == "so as to") && !has && k > c.root && r == "advcl" && e.d.Tokens[k].XPOS == "VB" && c.cop < 0:
			q, t := e.question(c, "Why", "", k)
			a.add("why-to", askCause, c, q, t, a.phrase(t.again(), k), a.joined(c, k, ""))
		case words == "that" && has && k > c.root && r == "advcl" && e.so(c, k):
			// so angry that he sent his soldiers
			d := a.clauseOf(k)
			base := a.telled(c, k)
			if d == nil || base == "" {
				continue
			}
			q, t := e.question(d, "Why", "")
			ct := t.again()
			short := a.state(ct, c, false, k)
			n := len(a.out)
			ft := a.voice(d)
			whole := a.state(ft, d, true) + " because " + a.restate(ft, c, k)
			a.add("why-so", askCause, d, q, t, short, whole)
			bt := a.voice(c)
			a.state(bt, c, true, k)
			a.add("because-so", askOutcome, c, "What happened because "+base+"?", a.openOf(c), a.whole(d), base+" that "+a.restate(bt, d))
			a.proof(n, c)
		}
	}
	// one clause and then another joined by "so", or one that begins with "for"
	for _, k := range e.kids[c.root] {
		if e.rel(k) != "conj" {
			continue
		}
		cc := e.child(k, "cc")
		so := cc >= 0 && e.lower(cc) == "so"
		for _, j := range e.kids[k] {
			if e.rel(j) == "advmod" && j < k && (e.lower(j) == "so" || e.lower(j) == "therefore") && len(e.kids[j]) == 0 && cc >= 0 && (j+1 != k || e.d.Tokens[k].UPOS == "VERB") {
				so = true
			}
		}
		d := a.clauseOf(k)
		if d == nil || cc >= 0 && set("but or nor yet")[e.lower(cc)] {
			continue
		}
		form := "why-conj-so"
		if !so {
			if !(c.cop >= 0 && e.d.Tokens[c.root].UPOS == "ADJ" && c.spoken < 0 && (a.guessing || feeling(e, c.root))) && !wishing[e.lemma(c.root)] {
				continue
			}
			form = "why-state"
		}
		a.because(form, c, d)
	}
}

var wishing = set("want wish fear long hope love hate")

// because asks why d, with c for the reason.
func (a *asker) because(form string, c, d *clause) {
	q, t := a.question(d, "Why", "")
	reason := a.state(t.again(), c, false)
	full := a.whole(d)
	base := a.whole(c)
	if full == "" || base == "" {
		return
	}
	ft := a.voice(d)
	whole := a.state(ft, d, true) + " because " + a.restate(ft, c)
	n := len(a.out)
	a.add(form, askCause, d, q, t, reason, whole)
	if form == "why-conj-so" {
		a.add("because-conj", askOutcome, d, "What happened because "+base+"?", a.openOf(c), full, "Because "+base+", "+full)
	}
	a.proof(n, c)
}

// so reports whether the clause at k is the result of a "so" or "such" in c.
func (e *engine) so(c *clause, k int) bool {
	for _, t := range e.subtree(c.root) {
		if t < k && t >= e.d.Sentences[c.sentence].First && (e.lower(t) == "so" || e.lower(t) == "such") {
			return true
		}
	}
	return false
}

func (e *engine) stative(k int) bool {
	return e.child(k, "cop") >= 0 || set("be have know want wish think love hate fear like seem")[e.lemma(k)]
}

// clauseOf is the clause whose predicate is token k.
func (a *asker) clauseOf(k int) *clause {
	for _, c := range a.clauses {
		if c.root == k {
			return c
		}
	}
	return nil
}

// telled is the clause as a statement without the part headed by k; "" when
// something is left open.
func (a *asker) telled(c *clause, k int) string {
	t := a.voice(c)
	s := a.state(t, c, true, k)
	if t.open > 0 {
		return ""
	}
	return s
}

// joined is the clause with the part headed by k behind it, joined by word.
func (a *asker) joined(c *clause, k int, word string, drop ...int) string {
	t := a.voice(c)
	base := a.state(t, c, true, k)
	part := a.phrase(t, k, drop...)
	if base == "" || part == "" || t.open > 0 {
		return ""
	}
	return strings.Join(strings.Fields(base+" "+word+" "+part), " ")
}

// openOf is the telling that a statement of c leaves.
func (a *asker) openOf(c *clause) *telling {
	t := a.voice(c)
	a.state(t, c, true)
	return t
}

// present puts a told clause into the present, for what is still to come.
func (a *asker) present(t *telling, c *clause) string {
	e := a.engine
	if e.d.Tokens[c.root].XPOS != "VBD" || len(c.aux) > 0 {
		return ""
	}
	s := t.subjectOf(c)
	f := inflect.Third
	if e.entityPlural(c) {
		f = inflect.Base
	}
	pred := e.predicate(c, true)
	if s == "" || len(pred) < 2 {
		return ""
	}
	return s + " " + t.say(pred, map[int]string{c.root: inflect.Verb(e.lemma(c.root), f)})
}

// idle reports whether the object of a clause only says with the verb what one
// verb could: "gave a little scream", "had no idea".
func (e *engine) idle(c *clause) bool {
	if !set("have give take make get keep hold shake turn")[e.lemma(c.root)] {
		return false
	}
	switch e.lexname(e.lemma(c.object), lexicon.Noun) {
	case "noun.artifact", "noun.object", "noun.plant", "noun.animal", "noun.person", "noun.food", "noun.substance", "noun.possession":
		return false
	}
	return true
}

// person reports whether the noun or pronoun at i is asked for by "who": a
// person, or an animal with a name.
func (e *engine) person(i int) bool {
	if !e.animateAt(i) {
		return false
	}
	if e.d.Tokens[i].UPOS != "NOUN" {
		return true
	}
	l := e.lemma(i)
	return males[l] && l != "bull" && l != "stag" && l != "cock" && l != "rooster" || females[l] && l != "hen" && l != "cow" || folk[l] || !set("spirit lookout figure head hand voice soul one party couple")[l] && e.lexname(l, lexicon.Noun) == "noun.person"
}

// concrete are the classes of the word net that hold things which can be pointed
// at.
var concrete = set("noun.artifact noun.object noun.plant noun.animal noun.person noun.food noun.substance noun.possession noun.location noun.phenomenon")

// perceives reports whether the clause tells what somebody saw or heard, which
// has no reason of its own.
func (e *engine) perceives(c *clause) bool { return set("see hear find notice")[e.lemma(c.root)] }

// sothat reports whether a "so … that" hangs on the clause.
func (e *engine) sothat(c *clause) bool {
	for _, k := range e.kids[c.root] {
		if w, _ := e.marks(k); w == "that" && e.rel(k) == "advcl" {
			return true
		}
	}
	return false
}
