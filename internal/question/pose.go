package question

import (
	"strings"

	"bookstead/internal/lang/inflect"
)

// Kinds of question, after the seven of FairytaleQA (Xu et al. 2022).
const (
	askCharacter  = "character"
	askSetting    = "setting"
	askAction     = "action"
	askFeeling    = "feeling"
	askCause      = "cause"
	askOutcome    = "outcome"
	askPrediction = "prediction"
)

// candidate is a question that could be asked.
type candidate struct {
	form   string // the pattern that made it, for the ranking
	kind   string
	q      string
	a      string // short, as a child says it
	full   string // a sentence, as a teacher writes it
	c      *clause
	with   *clause // that the question speaks of besides
	from   *clause // in which the answer stands, when it is another
	first  int     // sentences that prove it: [first, last]
	last   int
	sure   float64 // of the least certain pronoun that became a name
	open   int     // words left dangling
	score  float64
	chosen bool
	stated bool // sound
	slight bool // asked only where nothing better is
}

// voice readies a telling for the clause: in spoken words "I" is the speaker.
func (e *engine) voice(c *clause) *telling {
	t := e.tell()
	if c.spoken >= 0 {
		s := e.sayings[c.spoken]
		t.speaker, t.addressee, t.back = s.speaker, s.addressee, true
		t.sure = s.sure
	}
	return t
}

// subjectOf says the subject by name, as one says it of something known; ""
// when it cannot be said.
func (t *telling) subjectOf(c *clause) string {
	e := t.e
	i := c.subject
	switch tok := e.d.Tokens[i]; tok.UPOS {
	case "PRON":
		l := e.lower(i)
		if e.child(i, "conj") >= 0 { // "he and Harry"
			if l == "i" || l == "we" || l == "you" {
				return ""
			}
			return t.say(e.tidy(e.shorter(e.bare(i), i)), nil)
		}
		if l == "i" || l == "you" || l == "we" {
			if l == "we" {
				return ""
			}
			t.at = i
			return t.person(map[bool]int{true: t.speaker, false: t.addressee}[l == "i"], l, tok.Form)
		}
		if pronounGender[l] != 0 {
			r := e.refs[i]
			if r.entity < 0 {
				t.open++
				return l
			}
			n := e.name(r.entity)
			t.named = append(t.named, r.entity)
			t.sure = min(t.sure, r.sure)
			if n == "" {
				t.open++
				return l
			}
			return n
		}
		switch l {
		case "everybody", "everyone":
			return l
		}
		return ""
	case "NOUN", "PROPN":
		if r := e.refs[i]; r.entity >= 0 && e.entities[r.entity].member != nil && tok.UPOS == "PROPN" {
			if len(e.subtree(i)) <= 2 || e.child(i, "conj") < 0 {
				t.named = append(t.named, r.entity)
				return e.name(r.entity)
			}
		}
		if r := e.refs[i]; r.entity >= 0 && e.entities[r.entity].member != nil && i+1 < len(e.d.Tokens) && e.d.Tokens[i+1].UPOS == "PROPN" && e.d.Tokens[i+1].Head == i {
			t.named = append(t.named, r.entity) // "her grandson Wilfred"
			return e.name(r.entity)
		}
		s := t.noun(i, 8)
		if len(s) > 0 && lowerFirst(s) == s && tok.UPOS == "NOUN" && tok.XPOS != "NNS" && e.child(i, "det", "nmod") < 0 && lowerFirst(tok.Form) == tok.Form {
			s = "the " + s
		}
		return s
	case "NUM", "ADJ", "DET":
		if len(e.kids[i]) == 0 {
			return ""
		}
		return t.noun(i, 8)
	}
	return ""
}

var contracted = map[string]string{"will": "won’t", "shall": "shan’t", "can": "can’t", "ca": "can’t", "wo": "won’t", "sha": "shan’t", "am": "", "may": "", "might": "", "'ll": "", "’ll": "", "'d": "", "’d": ""}

// question asks word of the clause without the parts headed by drop: an
// auxiliary or a form of "do" before the subject. It returns "" when that cannot
// be said.
func (e *engine) question(c *clause, word string, tail string, drop ...int) (string, *telling) {
	t := e.voice(c)
	subject := t.subjectOf(c)
	pred := e.predicate(c, true, drop...)
	if subject == "" || len(pred) == 0 || transitive[e.lemma(c.root)] && c.object < 0 && c.iobj < 0 && !c.passive && e.child(c.root, "ccomp", "xcomp") < 0 {
		return "", t
	}
	over := map[int]string{}
	aux := ""
	first := e.first(c)
	negated := c.negation >= 0 && e.lower(c.negation) != "never"
	if first != c.root {
		aux = strings.ToLower(t.word(first))
		switch aux {
		case "'ll", "’ll":
			aux = "will"
		case "'d", "’d":
			aux = "had"
			if e.d.Tokens[first].XPOS == "MD" {
				aux = "would"
			}
		case "'s", "’s", "'m", "’m", "'re", "’re", "'ve", "’ve":
			aux = inflect.Verb(e.lemma(first), inflect.Past)
			if e.lemma(first) == "be" && e.entityPlural(c) {
				aux = "were"
			}
		}
		if t.back && e.d.Tokens[first].XPOS == "MD" && aux == "would" && e.lemma(first) != "would" {
			aux = "will" // what somebody says will be, is still to come
		}
		aux = e.agree(c, t, aux)
		pred = without(pred, first)
	} else {
		switch e.d.Tokens[c.root].XPOS {
		case "VBD":
			aux = "did"
		case "VBZ":
			aux = "does"
		case "VBP":
			aux = "do"
		}
		if t.back {
			aux = "did"
		}
		if e.lemma(c.root) == "be" {
			return "", t
		}
		over[c.root] = e.lemma(c.root)
		if aux == "do" && !e.entityPlural(c) && e.lower(c.subject) != "they" {
			aux = "does"
		}
	}
	if negated {
		pred = without(pred, c.negation)
		n, ok := contracted[aux]
		if ok && n == "" {
			return "", t
		}
		if !ok {
			n = aux + "n’t"
		}
		aux = n
	}
	rest := t.say(pred, over)
	q := strings.Join(strings.Fields(word+" "+aux+" "+subject+" "+rest+" "+tail), " ") + "?"
	return q, t
}

func (e *engine) entityPlural(c *clause) bool {
	if e.d.Tokens[c.subject].XPOS == "NNS" || e.d.Tokens[c.subject].XPOS == "NNPS" || e.child(c.subject, "conj") >= 0 {
		return true
	}
	r := e.refs[c.subject]
	return r.entity >= 0 && e.entities[r.entity].plural
}

// agree puts a form of "be" or "have" that agreed with "I" or "you" right for a
// name.
func (e *engine) agree(c *clause, t *telling, aux string) string {
	switch l := e.lower(c.subject); l {
	case "i", "you":
		switch aux {
		case "am", "are":
			return "is"
		case "were":
			return "was"
		case "have":
			return "has"
		case "do":
			return "does"
		}
	}
	return aux
}

// verbOver gives the forms that a predicate's first verb takes behind a name.
func (e *engine) verbOver(c *clause, t *telling) map[int]string {
	first := e.first(c)
	over := map[int]string{}
	form := t.word(first)
	l := strings.ToLower(form)
	switch l {
	case "'d", "’d":
		form = "had"
		if e.d.Tokens[first].XPOS == "MD" {
			form = "would"
		}
	case "'ll", "’ll":
		form = "will"
	case "'s", "’s", "'m", "’m", "'re", "’re", "'ve", "’ve":
		form = inflect.Verb(e.lemma(first), inflect.Past)
	case "ca":
		form = "can"
	case "wo":
		form = "will"
	}
	if a := e.agree(c, t, strings.ToLower(form)); a != strings.ToLower(form) {
		form = a
	} else if e.d.Tokens[first].XPOS == "VBP" && !t.back && (e.lower(c.subject) == "i" || e.lower(c.subject) == "you") && first == c.root {
		form = inflect.Verb(e.lemma(first), inflect.Third)
	}
	over[first] = form
	if c.negation >= 0 && (e.lower(c.negation) == "n't" || e.lower(c.negation) == "n’t") && e.d.Tokens[c.negation].Start == e.d.Tokens[first].End {
		over[first], over[c.negation] = strings.TrimSpace(form)+" not", ""
	}
	return over
}

// state says the clause as a sentence without its full stop.
func (e *engine) state(t *telling, c *clause, short bool, drop ...int) string {
	subject := t.subjectOf(c)
	rest := e.doing(t, c, short, drop...)
	if subject == "" || rest == "" {
		return ""
	}
	return subject + " " + rest
}

// doing says the predicate.
func (e *engine) doing(t *telling, c *clause, short bool, drop ...int) string {
	pred := e.predicate(c, short, drop...)
	if len(pred) == 0 {
		return ""
	}
	return t.say(pred, e.verbOver(c, t))
}

// sentence ends a text as one.
func sentence(s string) string {
	if s == "" {
		return ""
	}
	s = upperFirst(strings.TrimSpace(s))
	if strings.HasSuffix(s, ".") || strings.HasSuffix(s, "?”") || strings.HasSuffix(s, "!”") || strings.HasSuffix(s, ".”") {
		return s
	}
	return s + "."
}

// deeds says what the subject does in this clause and in those joined to it; ""
// when none are.
func (e *engine) deeds(t *telling, c *clause, drop ...int) string {
	pred := e.predicateWith(c, true, true, drop...)
	if len(pred) == 0 || len(pred) == len(e.predicate(c, true, drop...)) {
		return ""
	}
	return t.say(pred, e.verbOver(c, t))
}

// did is the form of "do" that asks of the clause.
func (e *engine) did(c *clause) string {
	switch {
	case e.past(c) || e.d.Tokens[e.first(c)].XPOS == "MD":
		return "did"
	case e.entityPlural(c):
		return "do"
	}
	return "does"
}

// be is the form of "be" that asks of the clause's subject.
func (e *engine) be(c *clause) string {
	switch past, many := e.past(c), e.entityPlural(c); {
	case past && many:
		return "were"
	case past:
		return "was"
	case many:
		return "are"
	}
	return "is"
}

// transitive verbs without an object were read wrongly.
var transitive = set("send bring give put make take get hold find carry throw catch show buy want need")
