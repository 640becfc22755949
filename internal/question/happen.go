package question

import (
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/lang/inflect"
)

// occasions asks what happened, or what somebody did, when something else did:
// from the clauses of time that hang on c.
func (a *asker) occasions(c *clause) {
	e := a.engine
	for _, k := range e.kids[c.root] {
		if e.rel(k) != "advcl" || e.sayingAt[k] != e.sayingAt[c.root] {
			continue
		}
		words, _ := e.marks(k)
		subject := e.child(k, "nsubj")
		switch words {
		case "when", "after", "as", "as soon as", "while", "once", "until", "till", "before", "whenever", "if":
			if subject < 0 || words == "as" && (e.stative(k) || !a.guessing && (e.lemma(k) == "do" || e.child(k, "aux") >= 0)) {
				continue
			}
		case "":
			if e.d.Tokens[k].XPOS == "VBG" && c.spoken < 0 && subject < 0 {
				a.participle(c, k)
			}
			continue
		default:
			continue
		}
		t := a.voice(c)
		cond := a.phrase(t, k)
		if len(strings.Fields(cond)) > 14 {
			t = a.voice(c)
			cond = t.say(e.tidy(e.shorter(e.subtree(k), k)), nil)
		}
		when := cond
		base := a.state(t.again(), c, true, k)
		full := upperFirst(cond) + ", " + a.restate(t.again(), c, k)
		if base == "" {
			continue
		}
		going := len(c.aux) > 0 && e.lemma(c.aux[0]) == "be" && e.d.Tokens[c.root].XPOS == "VBG"
		if !a.guessing && len(c.aux) > 0 && e.lemma(c.aux[0]) == "have" {
			continue // it had happened before
		}
		if (a.guessing || !going) && words != "until" && words != "till" && words != "before" && words != "if" {
			a.add("happened-"+words, askOutcome, c, "What happened "+when+"?", t, base, full)
		}
		if e.animateAt(c.subject) && c.cop < 0 {
			st := a.voice(c)
			s := st.subjectOf(c)
			wt := st.again()
			w := a.phrase(wt, k)
			if s != "" && len(strings.Fields(w)) <= 14 {
				a.add("do-"+words, askAction, c, "What "+e.did(c)+" "+s+" do "+w+"?", wt, e.doing(wt.again(), c, true, k), full)
				a.add("do-"+words+"+", askAction, c, "What "+e.did(c)+" "+s+" do "+w+"?", wt, e.deeds(wt.again(), c, k), full)
			}
		}
		if words == "when" || words == "after" || words == "while" || words == "as soon as" {
			q, qt := e.question(c, "When", "", k)
			a.add("when-clause", askSetting, c, q, qt, a.phrase(qt.again(), k), full)
		}
	}
}

// participle asks what somebody did on seeing or hearing something: "the
// princess, seeing the frog, ran away".
func (a *asker) participle(c *clause, k int) {
	e := a.engine
	if !set("see hear find hope fear know wish notice")[e.lemma(k)] || !e.animateAt(c.subject) || e.child(k, "aux") >= 0 {
		return
	}
	for _, j := range e.kids[k] {
		if e.lower(j) == "not" || e.lower(j) == "never" {
			return
		}
	}
	if k > c.root && e.subtree(k)[0] > 0 && e.lower(e.subtree(k)[0]) != "," && e.lower(e.subtree(k)[0]-1) != "," {
		return
	}
	t := a.voice(c)
	s := t.subjectOf(c)
	if s == "" {
		return
	}
	part := a.phrase(t, k)
	a.add("do-seeing", askAction, c, "What did "+s+" do after "+part+"?", t, e.doing(t.again(), c, true, k), "After "+part+", "+a.state(a.voice(c), c, true, k))
	q, qt := e.question(c, "Why", "", k)
	at := qt.again()
	saw := pronounFor(a, c) + " " + at.say(e.tidy(e.subtree(k)), map[int]string{k: pastOf(e, k)})
	a.add("why-seeing", askCause, c, q, qt, saw, a.state(a.voice(c), c, true, k)+" because "+saw)
}

// sequence asks what came after what: p and then c, both told.
func (a *asker) sequence(c, p *clause, far int) {
	e := a.engine
	if p == nil || !a.guessing && (!e.step(p) || !e.step(c)) || c.rel != "root" && c.rel != "conj" && c.rel != "parataxis" || !a.eventful(p) || !a.eventful(c) {
		return
	}
	if p.sentence < c.sentence-far {
		return
	}
	n := len(a.out)
	pt := a.tell()
	before := a.state(pt, p, true)
	if before == "" || len(strings.Fields(before)) > 14 {
		return
	}
	after := a.state(pt.again(), c, true)
	if after == "" {
		return
	}
	full := "After " + before + ", " + a.restate(pt.again(), c)
	same := e.refs[p.subject].entity == e.refs[c.subject].entity && e.refs[c.subject].entity >= 0 || c.subject == p.subject
	kind := "seq-other"
	if same {
		kind = "seq-same"
	}
	if far > 1 {
		kind += fmt.Sprint("-", far)
	} else if c.sentence == p.sentence {
		kind += "-near"
	}
	a.add("happened-"+kind, askOutcome, c, "What happened after "+before+"?", pt, after, full)
	if e.animateAt(c.subject) {
		st := a.tell()
		s := st.subjectOf(c)
		wt := st.again()
		w := a.state(wt, p, true)
		if same {
			w = a.selfsame(wt, c, p)
		}
		if s != "" && w != "" {
			a.add("do-"+kind, askAction, c, "What did "+s+" do after "+w+"?", wt, e.doing(wt.again(), c, true), full)
			a.add("do-"+kind+"+", askAction, c, "What "+e.did(c)+" "+s+" do after "+w+"?", wt, e.deeds(wt.again(), c), full)
		}
	}
	ft := a.tell()
	if !a.guessing {
		a.proof(n, p)
		return
	}
	if now := a.present(ft, p); now != "" && len(strings.Fields(now)) <= 12 {
		a.add("will-"+kind, askPrediction, c, "What will happen after "+now+"?", ft, a.state(ft.again(), c, true), full)
		if e.animateAt(c.subject) && e.d.Tokens[c.root].XPOS == "VBD" {
			st := a.tell()
			s := st.subjectOf(c)
			w := a.present(st, p)
			a.add("will-do-"+kind, askPrediction, c, "What will "+s+" do after "+w+"?", st, st.again().say(e.predicate(c, true), map[int]string{c.root: e.lemma(c.root)}), full)
		}
	}
	a.proof(n, p)
}

// pronounFor is the pronoun of a clause's subject.
func pronounFor(a *asker, c *clause) string {
	if a.entityPlural(c) {
		return "they"
	}
	r := a.refs[c.subject]
	if r.entity >= 0 {
		switch a.entities[r.entity].gender {
		case 'm':
			return "he"
		case 'f':
			return "she"
		}
		if a.entities[r.entity].thing {
			return "it"
		}
	}
	t := a.voice(c)
	return t.subjectOf(c)
}

func pastOf(e *engine, k int) string { return inflect.Verb(e.lemma(k), inflect.Past) }

// eventful reports whether something happens in a clause.
func (e *engine) eventful(c *clause) bool {
	l := e.lemma(c.root)
	return c.spoken < 0 && c.cop < 0 && !c.there && c.rel != "relcl" && c.rel != "ccomp" && c.rel != "advcl" && e.d.Tokens[c.root].UPOS == "VERB" && !light[l] && !tellers[l] && e.past(c) &&
		!set("have know want wish love hate live own belong wear resemble contain consist")[l]
}

// feelings are words of feeling (our list), with what a child would call them
// when the word is a noun or an adverb.
var feelings = set("afraid alarmed amazed amused angry annoyed anxious ashamed astonished bewildered bored calm cheerful comfortable content contented cross curious delighted desperate despairing disappointed discontented discouraged disgusted dismayed displeased dissatisfied distressed disturbed doubtful eager embarrassed enraged enchanted excited exhausted fearful frantic friendless frightened furious glad gloomy grateful grieved guilty happy heartbroken helpless homesick hopeful hopeless horrified hungry hurt impatient indignant insulted interested jealous jolly joyful joyous lonely lonesome mad melancholy merry miserable moved nervous offended overjoyed pained perplexed pleased proud puzzled relieved sad satisfied scared shocked shy sick sorrowful sorry startled stunned sulky surprised terrified thankful thirsty thrilled tired touched triumphant troubled uncomfortable uneasy unhappy upset vexed weary wild worried wretched wrathful")

var feelingNouns = set("joy anger rage fear terror horror grief sorrow delight surprise astonishment amazement shame pride envy jealousy pity despair wrath fury fright sadness happiness gratitude disgust love hatred anxiety dismay alarm wonder pleasure gladness admiration disappointment")

// implied feelings: what somebody does, and what that tells.
var implied = map[string]string{"weep": "sad", "sob": "sad", "laugh": "happy", "smile": "happy", "tremble": "scared", "shudder": "scared", "dance": "happy", "groan": "sad", "mourn": "sad", "lament": "sad", "rejoice": "happy"}

func feeling(e *engine, i int) bool { return feelings[e.lower(i)] }

// feels asks how somebody felt; p is what was told before.
func (a *asker) feels(c, p *clause) {
	e := a.engine
	if !a.guessing && c.rel != "root" && c.rel != "conj" && c.rel != "parataxis" {
		return
	}
	if !e.animateAt(c.subject) || c.negation >= 0 || len(c.aux) > 0 && e.d.Tokens[c.aux[0]].XPOS == "MD" || e.child(c.root, "advmod") >= 0 && e.lower(e.child(c.root, "advmod")) == "too" {
		return
	}
	root := e.d.Tokens[c.root]
	word, drop := -1, -1
	var short string
	form := "feel"
	switch {
	case (c.cop >= 0 || c.passive) && feelings[e.lower(c.root)]:
		word = c.root
	case c.cop < 0 && root.UPOS == "VERB" && (set("feel look seem grow become get turn appear be")[e.lemma(c.root)]):
		for _, k := range e.kids[c.root] {
			if k > c.root && (e.rel(k) == "xcomp" || e.rel(k) == "advmod") && feelings[e.lower(k)] {
				word = k
			}
		}
	}
	if word < 0 && c.cop >= 0 && feelingNouns[e.lemma(c.root)] || word < 0 && e.lemma(c.root) == "feel" && c.object >= 0 && feelingNouns[e.lemma(c.object)] {
		word = c.root
		if c.cop < 0 {
			word = c.object
		}
		short, form = e.lemma(word), "feel-noun"
	}
	if word < 0 && c.spoken < 0 {
		for _, k := range e.subtree(c.root) {
			if feelingNouns[e.lemma(k)] && e.rel(k) == "obl" && e.d.Tokens[k].Head == c.root && (a.guessing || showing[e.lemma(c.root)]) && (e.prep(k) == "with" || e.prep(k) == "in" || e.prep(k) == "for") {
				word, short, form = k, e.lemma(k), "feel-noun"
			}
		}
	}
	if word < 0 {
		f := implied[e.lemma(c.root)]
		if f == "" || c.spoken >= 0 || c.cop >= 0 || root.UPOS != "VERB" {
			return
		}
		word, short, form = c.root, f, "feel-implied"
	}
	full := a.whole(c)
	if full == "" {
		return
	}
	for _, k := range e.subtree(word) {
		if k < word && (e.lower(k) == "too" || e.lower(k) == "as") {
			return
		}
	}
	if short == "" {
		short = e.d.Tokens[word].Form
		for _, k := range e.kids[word] {
			if e.rel(k) == "advmod" && k == word-1 && e.lower(k) != "so" && e.lower(k) != "too" && e.lower(k) != "not" {
				short = e.lower(k) + " " + short
			}
		}
	}
	short = strings.ToLower(short)
	t := a.voice(c)
	s := t.subjectOf(c)
	if s == "" {
		return
	}
	verb := "How did " + s + " feel"
	done := false
	for _, k := range append(e.kids[c.root], e.kids[word]...) {
		r := e.rel(k)
		words, _ := e.marks(k)
		switch {
		case e.sayingAt[k] != e.sayingAt[c.root]:
		case r == "advcl" && (words == "when" || words == "as" || words == "after" || words == "at" || words == "while"):
			wt := t.again()
			w := a.phrase(wt, k)
			a.add(form+"-when", askFeeling, c, verb+" "+w+"?", wt, short, fullWith(a, c, full))
			done = true
		case (r == "advcl" || r == "xcomp" || r == "ccomp") && words == "to" && k > word && e.d.Tokens[k].XPOS == "VB":
			wt := t.again()
			_, m := e.marks(k)
			w := pronounFor(a, c) + " " + wt.say(e.tidy(without(e.subtree(k), m...)), map[int]string{k: pastOf(e, k)})
			a.add(form+"-to", askFeeling, c, verb+" when "+w+"?", wt, short, fullWith(a, c, full))
			done = true
		case r == "obl" && k > word && k != c.object && k != drop && (e.d.Tokens[k].UPOS == "NOUN" || e.d.Tokens[k].UPOS == "PROPN") && (e.prep(k) == "at" || e.prep(k) == "of" || e.prep(k) == "with" || e.prep(k) == "about"):
			wt := t.again()
			prep := "about"
			if form == "feel-noun" && k == word {
				continue
			}
			a.add(form+"-about", askFeeling, c, verb+" "+prep+" "+wt.say(e.tidy(without(e.shorter(e.subtree(k), k), e.caseTokens(k)...)), nil)+"?", wt, short, full)
			done = true
		}
	}
	if p != nil && p.root != c.root && (a.guessing || e.eventful(p) && e.step(p)) {
		n := len(a.out)
		wt := t.again()
		w := ""
		if e.refs[p.subject].entity == e.refs[c.subject].entity && e.refs[c.subject].entity >= 0 {
			w = a.selfsame(wt, c, p)
		} else {
			w = a.state(wt, p, true)
		}
		if w != "" && len(strings.Fields(w)) <= 14 {
			f := form + "-before"
			if done {
				f += "-too"
			}
			a.add(f, askFeeling, c, verb+" after "+w+"?", wt, short, full)
			a.proof(n, p)
		}
	}
	if form == "feel-implied" {
		wt := t.again()
		a.add("feel-implied-bare", askFeeling, c, verb+" when "+a.selfsame(wt, c, c)+"?", wt, short, full)
	} else if !done {
		a.add(form+"-bare", askFeeling, c, verb+"?", t, short, full)
	}
}

// says asks what somebody said, asked or told another to do.
func (a *asker) says() {
	e := a.engine
	seen := map[int]bool{}
	for si := a.first; si < a.last; si++ {
		s := e.d.Sentences[si]
		for i := s.First; i < s.Last; i++ {
			k := e.sayingAt[i]
			if k < 0 || seen[k] {
				continue
			}
			seen[k] = true
			a.say(k)
		}
	}
}

// say asks for the words of saying k.
func (a *asker) say(k int) {
	e := a.engine
	s := e.sayings[k]
	if s.speaker < 0 || s.sure < 0.5 {
		return
	}
	last := min(s.last, len(e.d.Tokens)) - 1
	c := &clause{sentence: e.sentence[s.first], root: s.first, subject: -1, relative: -1, cop: -1, negation: -1, object: -1, iobj: -1, rel: "say", spoken: k}
	t := e.tell()
	t.sure = s.sure
	t.named = append(t.named, s.speaker)
	speaker := e.name(s.speaker)
	if speaker == "" {
		return
	}
	to := ""
	if s.addressee >= 0 {
		to = e.name(s.addressee)
		t.named = append(t.named, s.addressee)
	}
	// the first sentence of the words
	var toks []int
	lastSentence := e.sentence[s.first]
	for i := s.first; i <= last; i++ {
		if e.sayingAt[i] != k {
			continue
		}
		f := e.d.Tokens[i].Form
		if f == "“" || f == "”" || f == "\"" || f == "``" || f == "''" {
			continue
		}
		toks = append(toks, i)
	}
	if len(toks) < 3 {
		return
	}
	words := verbatim(e, toks)
	n := len(strings.Fields(words))
	type_ := e.d.Sentences[e.sentence[toks[len(toks)/2]]].Type
	lastSentence = e.sentence[toks[len(toks)-1]]
	full := speaker + " said, “" + words + "”"
	if to != "" {
		full = speaker + " said to " + to + ", “" + words + "”"
	}
	m := len(a.out)
	if n >= 4 && n <= 22 {
		asks := strings.HasSuffix(words, "?")
		q := "What did " + speaker + " say"
		form := "say"
		if asks {
			q, form = "What did "+speaker+" ask", "say-ask"
			if to != "" {
				q += " " + to
			}
		} else if to != "" {
			q += " to " + to
		}
		a.add(form, askAction, c, q+"?", t, words, full)
	}
	if type_ == "command" || e.d.Tokens[toks[0]].XPOS == "VB" {
		a.command(c, k, toks, speaker, to)
	}
	for ; m < len(a.out); m++ {
		a.out[m].last = max(a.out[m].last, lastSentence)
	}
}

// command asks what somebody told another to do, from a command in speech.
func (a *asker) command(c *clause, k int, toks []int, speaker, to string) {
	e := a.engine
	for _, i := range toks {
		t := e.d.Tokens[i]
		if (e.rel(i) != "root" && t.Head >= 0 && e.sayingAt[t.Head] >= 0) || t.XPOS != "VB" || t.UPOS != "VERB" || len(e.kids[i]) == 0 || e.child(i, "nsubj", "aux", "mark") >= 0 || e.lemma(i) == "let" {
			continue
		}
		if set("bless thank excuse pardon forgive look see listen wait mind hush come go think tell say stop take hold speak remember believe")[e.lemma(i)] && e.child(i, "obj") < 0 || set("bless thank excuse pardon mind serve")[e.lemma(i)] {
			continue
		}
		at := e.tell()
		at.speaker, at.addressee, at.back = e.sayings[k].speaker, e.sayings[k].addressee, true
		at.sure = e.sayings[k].sure
		at.named = append(at.named, e.sayings[k].speaker)
		q := "What did " + speaker + " tell "
		if to == "" {
			continue
		}
		at.named = append(at.named, e.sayings[k].addressee)
		q += to + " to do?"
		d := &clause{sentence: e.sentence[i], root: i, subject: -1, relative: -1, cop: -1, negation: -1, object: -1, iobj: -1, rel: "root", spoken: k}
		pred := e.predicate(d, true)
		var here []int
		for _, p := range pred {
			if e.sayingAt[p] == k {
				here = append(here, p)
			}
		}
		answer := lowerFirst(at.say(e.tidy(here), nil))
		end := e.d.Tokens[e.d.Sentences[e.sentence[i]].Last-1].Form
		if len(strings.Fields(answer)) < 3 || end == "?" || e.d.Tokens[e.d.Sentences[e.sentence[i]].Last-1].UPOS != "PUNCT" {
			continue
		}
		a.add("told-to", askAction, c, q, at, answer, speaker+" told "+to+" to "+answer)
		return
	}
}

// verbatim writes tokens as they stand.
func verbatim(e *engine, toks []int) string {
	var b strings.Builder
	for n, i := range toks {
		if n > 0 && (toks[n-1] != i-1 || e.d.SpaceAfter(i-1)) {
			b.WriteByte(' ')
		}
		b.WriteString(e.d.Tokens[i].Form)
	}
	return strings.TrimRight(strings.TrimSpace(b.String()), ",;: ")
}

// named asks who somebody is whom the text explains, and for names.
func (a *asker) named() {
	e := a.engine
	for si := a.first; si < a.last; si++ {
		s := e.d.Sentences[si]
		for i := s.First; i < s.Last; i++ {
			t := e.d.Tokens[i]
			if e.sayingAt[i] >= 0 {
				continue
			}
			c := &clause{sentence: si, root: i, subject: -1, relative: -1, cop: -1, negation: -1, object: -1, iobj: -1, rel: "name", spoken: -1}
			switch {
			case rel(t.Deprel) == "appos" && t.Head >= 0 && t.Head < i:
				if !e.animateAt(t.Head) || e.d.Tokens[t.Head].UPOS == "PRON" {
					continue
				}
				tt := e.tell()
				who := tt.noun(t.Head, 5)
				what := tt.say(e.tidy(e.shorter(e.bare(i), i)), nil)
				if who == "" || what == "" || tt.open > 0 {
					continue
				}
				a.add("appos", askCharacter, c, "Who was "+who+"?", tt, what, who+" was "+what)
			case t.UPOS == "VERB" && (e.lemma(i) == "call" || e.lemma(i) == "name") && t.XPOS == "VBN":
				name := e.child(i, "xcomp", "obj")
				if name < 0 || e.d.Tokens[name].UPOS != "PROPN" {
					continue
				}
				who := e.child(i, "nsubj")
				if rel(t.Deprel) == "acl" {
					who = t.Head
				}
				if who < 0 || e.d.Tokens[who].UPOS == "PRON" && e.refs[who].entity < 0 {
					continue
				}
				tt := e.tell()
				x := ""
				if e.d.Tokens[who].UPOS == "PRON" {
					x = tt.word(who)
				} else {
					x = tt.noun(who, 5)
				}
				n := tt.say(e.tidy(e.shorter(e.bare(name), name)), nil)
				if x == "" || strings.Contains(x, n) {
					continue
				}
				a.add("name", askCharacter, c, "What was the name of "+x+"?", tt, n, x+" was called "+n)
			}
		}
	}
}

// nearby asks why, with what stands beside for the reason though no word says
// so: "He was quite hoarse. He could not bark."
func (a *asker) nearby(k int) {
	e := a.engine
	c := a.clauses[k]
	if c.rel == "relcl" || c.rel == "ccomp" || c.rel == "advcl" || c.there || light[e.lemma(c.root)] && c.cop < 0 || tellers[e.lemma(c.root)] {
		return
	}
	try := func(form string, r *clause) {
		if r == nil || r.spoken >= 0 || r.there || r.rel == "relcl" || r.sentence < c.sentence-2 || r.sentence > c.sentence+2 {
			return
		}
		q, t := a.question(c, "Why", "")
		reason := a.state(t.again(), r, false)
		full, base := a.whole(c), a.whole(r)
		if full == "" || base == "" {
			return
		}
		n := len(a.out)
		a.add(form, askCause, c, q, t, reason, full+" because "+base)
		a.proof(n, r)
		if n < len(a.out) {
			a.out[n].from = r
		}
	}
	try("why-prev", a.before(k))
	for j := k + 1; j < len(a.clauses) && j <= k+4; j++ {
		if n := a.clauses[j]; n.spoken < 0 && (n.rel == "root" || n.rel == "conj" || n.rel == "parataxis") {
			try("why-next", n)
			break
		}
	}
}

// moods are what an unnamed feeling is called.
var moods = []string{"happy", "sad", "angry", "scared", "surprised"}

// guess asks how somebody felt about what happened, where the text leaves it to
// the reader; the ranking weighs which feeling goes with which event.
func (a *asker) guess(c *clause) {
	e := a.engine
	if !a.eventful(c) || c.negation >= 0 {
		return
	}
	full := a.whole(c)
	if full == "" || len(strings.Fields(full)) > 16 {
		return
	}
	ask := func(role string, i int) {
		t := a.tell()
		s := ""
		if role == "subject" {
			s = t.subjectOf(c)
		} else if e.d.Tokens[i].UPOS == "PRON" {
			if r := e.refs[i]; r.entity >= 0 {
				s = e.name(r.entity)
				t.named, t.sure = append(t.named, r.entity), r.sure
			}
		} else {
			s = t.noun(i, 5)
		}
		if s == "" {
			return
		}
		w := ""
		if role == "subject" {
			w = a.selfsame(t, c, c)
		} else {
			w = a.state(t, c, true)
		}
		for _, m := range moods {
			a.add("guess-"+m, askFeeling, c, "How did "+s+" feel after "+w+"?", t, m, s+" felt "+m+" after "+w)
		}
	}
	if e.animateAt(c.subject) {
		ask("subject", c.subject)
	}
	for _, k := range []int{c.object, c.iobj} {
		if k >= 0 && e.animateAt(k) {
			ask("object", k)
		}
	}
}

// selfsame says what p tells of c's own subject, behind "after": "he opened the
// door", or "opening the door" where no pronoun is known for it.
func (a *asker) selfsame(t *telling, c, p *clause) string {
	e := a.engine
	she := pronounFor(a, c)
	switch she {
	case "he", "she", "it", "they":
		return she + " " + e.doing(t, p, true)
	}
	if e.first(p) != p.root || p.negation >= 0 {
		return she + " " + e.doing(t, p, true)
	}
	return t.say(e.predicate(p, true), map[int]string{p.root: inflect.Verb(e.lemma(p.root), inflect.Ing)})
}

// restate says the clause with a pronoun for a subject that was named already
// and cannot be taken for another.
func (a *asker) restate(t *telling, c *clause, drop ...int) string {
	e := a.engine
	x := e.refs[c.subject].entity
	she := pronounFor(a, c)
	if x >= 0 && slices.Contains(t.named, x) && (she == "he" || she == "she" || she == "they") {
		rivals := 0
		for _, y := range t.named {
			if n, m := e.entities[x], e.entities[y]; y != x && n.plural == m.plural && n.thing == m.thing && (m.gender == 0 || m.gender == n.gender) {
				rivals++
			}
		}
		if rivals == 0 {
			return she + " " + e.doing(t, c, true, drop...)
		}
	}
	return a.state(t, c, true, drop...)
}

// showing are verbs by which a feeling shows.
var showing = set("tremble cry shout scream weep dance jump laugh stare start blush flush shake shiver turn gasp sigh leap exclaim fill overcome mad wild")

// usual reports whether a clause tells what always or often happens.
func (e *engine) usual(c *clause) bool {
	for _, k := range e.kids[c.root] {
		if e.rel(k) == "advmod" && set("always usually often generally never sometimes seldom ever")[e.lower(k)] {
			return true
		}
	}
	return e.lemma(c.root) == "use"
}

// step reports whether an event is a step of the story: no state that goes on,
// nothing that had been or might be, nothing that was only said.
func (e *engine) step(c *clause) bool {
	for _, k := range c.aux {
		if e.lemma(k) == "have" || e.lemma(k) == "be" && e.d.Tokens[c.root].XPOS == "VBG" || e.d.Tokens[k].XPOS == "MD" {
			return false
		}
	}
	return !e.tellsSpeech(c) && !e.usual(c) && !light[e.lemma(c.root)] && e.lemma(c.root) != "try"
}
