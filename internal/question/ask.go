package question

import (
	"strings"

	"bookstead/internal/kit"
	"bookstead/internal/lang"
	"bookstead/internal/passage"
)

// Kinds of question, after the seven of FairytaleQA (Xu et al. 2022).
const (
	askCharacter = "character"
	askSetting   = "setting"
	askAction    = "action"
	askFeeling   = "feeling"
	askCause     = "cause"
	askOutcome   = "outcome"
)

// questions makes every question that the passage allows.
func (e *engine) questions(p passage.Passage) []kit.Draft {
	if !e.d.Has(lang.LayerTrees) {
		return nil
	}
	var out []kit.Draft
	for si := p.First; si < p.Last; si++ {
		if !p.Prose(si) {
			continue
		}
		c := e.clause(si)
		if c == nil {
			continue
		}
		subject, ok := e.name(c)
		if !ok {
			continue
		}
		out = append(out, e.ask(p, c, subject)...)
	}
	return out
}

// ask asks for each part of a clause that can be asked for.
func (e *engine) ask(p passage.Passage, c *clause, subject string) (out []kit.Draft) {
	weight := e.weight(c)
	add := func(kind, q, a string, score float64) {
		if q == "" || a == "" || !good(q, a) {
			return
		}
		out = append(out, draft(kit.Question, p, c.sentence, c.sentence,
			kit.Content{Head: q, Answer: a, Note: kind}, score+weight, why(kind)))
	}
	full, fullOK := e.statement(c, subject, nil)
	for _, k := range c.children[c.root] {
		t := e.d.Tokens[k]
		toks := c.subtree(k)
		if len(toks) < 2 || len(toks) > 22 {
			continue
		}
		switch {
		case rel(t.Deprel) == "advcl" && e.marked(c, k, "because", "for", "since") && k > c.root:
			reason, ok := e.resolved(without(toks, e.mark(c, k)), c.member)
			base, baseOK := e.statement(c, subject, toks)
			if ok && baseOK {
				add(askCause, e.question(c, "Why", subject, toks), base+" because "+reason+".", 2.2)
			}
		case rel(t.Deprel) == "advcl" && e.to(c, k) && k > c.root && c.cop < 0:
			purpose, ok := e.resolved(toks, c.member)
			base, baseOK := e.statement(c, subject, toks)
			if ok && baseOK {
				add(askCause, e.question(c, "Why", subject, toks), base+" "+purpose+".", 1.8)
			}
		case rel(t.Deprel) == "advcl" && e.marked(c, k, "when", "as", "after", "before", "until", "while"):
			cond, ok := e.resolved(without(toks), nil)
			rest, restOK := e.statement(c, subject, toks)
			if m := strings.ToLower(e.d.Tokens[e.mark(c, k)].Form); ok && restOK && (m == "when" || m == "after" || m == "as") && e.hasSubject(c, k) {
				add(askOutcome, "What happened "+lowerFirst(cond)+"?", rest+".", 1.5)
			}
		case rel(t.Deprel) == "obl" && k > c.root && fullOK:
			if where := e.place(c, k); where {
				add(askSetting, e.question(c, "Where", subject, toks), full+".", 1.0)
			}
		}
	}
	if !fullOK {
		return out
	}
	root := e.d.Tokens[c.root]
	switch {
	case c.cop >= 0 && root.UPOS == "ADJ" && feelings[strings.ToLower(root.Lemma)] && c.member != nil:
		if q := e.feel(c, subject); q != "" {
			add(askFeeling, q, full+".", 1.7)
		}
	case c.cop < 0 && c.object >= 0 && c.object > c.root && !light[root.Lemma]:
		toks := c.subtree(c.object)
		if len(toks) <= 9 && e.d.Tokens[c.object].UPOS == "NOUN" {
			word := "What"
			add(askAction, e.question(c, word, subject, toks), full+".", 1.2)
		}
	}
	if c.member != nil && c.cop < 0 && e.d.Tokens[c.subject].UPOS == "PROPN" && len(c.aux) == 0 && (c.object >= 0 || len(c.children[c.root]) >= 3) {
		if rest, ok := e.resolved(e.predicate(c, nil), c.member); ok && !mentions(rest, c.member) {
			add(askCharacter, "Who "+rest+"?", full+".", 0.9)
		}
	}
	return out
}

// weight prefers clauses about the people whom the book is about and of a
// length that makes a question worth asking.
func (e *engine) weight(c *clause) float64 {
	w := 0.0
	if c.member != nil {
		w += min(1, float64(e.main[c.member.ID])/150)
	}
	n := c.last - c.first
	if n >= 9 && n <= 30 {
		w += 0.4
	}
	return w
}

var whys = map[string]string{
	askCause: "The text states the reason.", askOutcome: "The text tells what came of it.", askFeeling: "The text tells how someone feels.",
	askAction: "Something is done here.", askSetting: "The text says where it happens.", askCharacter: "It asks who does it.",
}

func why(kind string) string { return whys[kind] }

// light verbs make questions that are not worth asking: "What did she have?"
var light = map[string]bool{"have": true, "be": true, "do": true, "get": true, "take": true, "make": true, "give": true, "seem": true, "know": true, "say": true, "think": true, "begin": true, "let": true, "feel": true, "want": true, "like": true, "mean": true, "keep": true, "shake": true, "turn": true, "hold": true}

// feelings are adjectives of feeling (our list).
var feelings = func() map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields("afraid angry anxious ashamed astonished bewildered bitter bored calm cheerful comfortable content contented cross curious delighted desperate disappointed discouraged dismayed disgusted eager embarrassed excited frantic frightened furious glad gloomy grateful grieved guilty happy homesick hopeful hurt impatient indignant interested jealous joyful lonely lonesome mad merry miserable nervous pleased proud puzzled relieved sad satisfied scared shocked shy sick sorrowful sorry startled sulky surprised terrified thankful thrilled tired troubled uncomfortable uneasy unhappy upset vexed weary worried wretched") {
		m[w] = true
	}
	return m
}()

func (e *engine) mark(c *clause, k int) int {
	for _, j := range c.children[k] {
		if r := rel(e.d.Tokens[j].Deprel); r == "mark" || r == "advmod" && strings.EqualFold(e.d.Tokens[j].Form, "when") {
			return j
		}
	}
	return k
}

func (e *engine) marked(c *clause, k int, words ...string) bool {
	m := e.mark(c, k)
	if m == k {
		return false
	}
	for _, w := range words {
		if strings.EqualFold(e.d.Tokens[m].Form, w) {
			return true
		}
	}
	return false
}

// to reports whether k heads an infinitive of purpose.
func (e *engine) to(c *clause, k int) bool {
	m := e.mark(c, k)
	return m != k && strings.EqualFold(e.d.Tokens[m].Form, "to") && e.d.Tokens[k].XPOS == "VB"
}

func (e *engine) hasSubject(c *clause, k int) bool {
	for _, j := range c.children[k] {
		if rel(e.d.Tokens[j].Deprel) == "nsubj" {
			return true
		}
	}
	return false
}

// place reports whether an oblique says where: a preposition of place before a
// noun that is a thing or a location.
func (e *engine) place(c *clause, k int) bool {
	if e.d.Tokens[k].UPOS != "NOUN" {
		return false
	}
	prep := ""
	for _, j := range c.children[k] {
		if rel(e.d.Tokens[j].Deprel) == "case" {
			prep = strings.ToLower(e.d.Tokens[j].Form)
		}
	}
	switch prep {
	case "in", "on", "at", "under", "beside", "behind", "near", "inside", "into", "beneath", "above", "among", "between", "outside", "across", "by":
	default:
		return false
	}
	for _, s := range e.lex.Senses(strings.ToLower(e.d.Tokens[k].Lemma), 'n') {
		return s.Lexname == "noun.artifact" || s.Lexname == "noun.location" || s.Lexname == "noun.object" || s.Lexname == "noun.plant"
	}
	return false
}

func mentions(s string, m *lang.Member) bool {
	for _, a := range append([]string{m.Name}, m.Aliases...) {
		if strings.Contains(s, a) {
			return true
		}
	}
	return false
}

// good refuses what no teacher would ask: too short, too long, pronouns
// left open, an answer that the question holds.
func good(q, a string) bool {
	n := len(strings.Fields(q))
	if n < 4 || n > 26 || len(strings.Fields(a)) < 3 || len(strings.Fields(a)) > 45 {
		return false
	}
	for _, bad := range []string{" it ", " it?", " this ", " that?", "“", "”", "\"", ";", ":", "--", "—", " such ", " former", " latter", "(", " thus "} {
		if strings.Contains(q, bad) {
			return false
		}
	}
	return !strings.ContainsAny(a, "“”\"(") && strings.Count(q, ",") <= 1
}
