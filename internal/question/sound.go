package question

import (
	"strings"

	"bookstead/internal/lexicon"
)

// guesses are forms whose answer the text suggests rather than states. They find
// what experts ask of a text that they know by heart, but a teacher would have
// to check each.
func guesses(form string) bool {
	form = strings.TrimSuffix(form, "+")
	return strings.HasPrefix(form, "guess-") || strings.HasPrefix(form, "will-") || form == "why-prev" || form == "why-next" ||
		strings.HasSuffix(form, "-2") || strings.HasSuffix(form, "-3")
}

// surest is the least sureness of a pronoun that became a name.
const surest = 0.7

// sound reports whether a candidate can go before a teacher: nothing left open
// or doubtful in it, nothing said twice, no form that guesses, nothing trivial,
// and a full answer that holds the short one.
func (e *engine) sound(x *candidate) bool {
	return e.flaw(x) == ""
}

// flaw says what is wrong with a candidate, "" when nothing is.
func (e *engine) flaw(x *candidate) string {
	q := strings.Fields(strings.ToLower(strings.Trim(x.q, "?")))
	c := x.c
	switch {
	case guesses(x.form):
		return "guesses"
	case x.open > 0:
		return "leaves a word open"
	case x.sure < surest:
		return "not sure who is meant"
	case len(q) < 4 || len(q) > 18:
		return "too short or too long"
	case len(strings.Fields(x.full)) > 36 || strings.Count(x.full, ",") > 3:
		return "answer too long"
	case strings.Contains(x.q, ",") && !strings.HasPrefix(x.form, "happened") && !strings.HasPrefix(x.form, "do-"), strings.Count(x.q, ",") > 1:
		return "asks with an aside"
	case c.spoken >= 0 && x.form != "told-to" && x.form != "say" && x.form != "say-ask":
		return "stands in speech"
	case x.form != "say" && x.form != "say-ask" && odd(x.full), odd(x.q) || odd(x.a) && x.form != "say" && x.form != "say-ask":
		return "marks left over"
	case x.form == "feel-bare" || x.form == "feel-noun-bare" || x.form == "like":
		return "trivial"
	case tellers[e.lemma(c.root)] && c.spoken < 0 && c.object < 0 && x.form != "ccomp" && x.form != "xcomp":
		return "asks about saying without what is said"
	case strings.HasPrefix(x.form, "why-to") && len(c.aux) > 0 && e.d.Tokens[c.aux[0]].XPOS == "MD":
		return "asks for the purpose of what could be"
	case strings.HasPrefix(x.form, "why-to") && set("try begin seem want go come ought have need learn stop wait like love")[e.lemma(c.root)] && len(q) < 6:
		return "trivial"
	case strings.HasPrefix(x.q, "Why") && len(q) < 5:
		return "trivial"
	case strings.HasPrefix(x.form, "who-") && c.subject >= 0 && (e.d.Tokens[c.subject].XPOS == "NNS") && (c.rel == "relcl" || q[1] == "are" || q[1] == "have" || e.d.Tokens[e.first(c)].XPOS == "VBP"):
		return "asks who of many"
	case x.form == "what-subject" && e.d.Tokens[e.first(c)].XPOS == "VBP":
		return "does not agree"
	case x.form == "what-prep" && !e.worthPrep(x):
		return "trivial"
	case strings.HasPrefix(x.form, "where") && !e.worthWhere(x):
		return "not a place"
	case c.spoken < 0 && c.root >= 0 && e.pastTold && !e.past(c) && c.rel != "name" && c.rel != "say":
		return "not told as past"
	case c.spoken < 0 && e.d.Tokens[e.first(c)].XPOS == "MD" && (strings.HasPrefix(x.form, "happened") || strings.HasPrefix(x.form, "do-") || strings.HasPrefix(x.form, "who")):
		return "not told as fact"
	case strings.HasPrefix(x.form, "feel") && c.rel != "root" && c.rel != "conj" && c.rel != "parataxis":
		return "not told as fact"
	case strings.HasPrefix(x.form, "feel-noun") && e.feltBy(c):
		return "a word for something else"
	case (strings.Contains(x.form, "-seq") || strings.Contains(x.form, "-before")) && (x.with == nil || !e.step(c) && strings.Contains(x.form, "-seq") || !e.step(x.with) || !e.eventful(x.with)):
		return "no step of the story"
	case strings.HasPrefix(x.form, "happened-") && !strings.Contains(x.form, "-seq") && !e.step(c):
		return "no step of the story"
	case strings.HasPrefix(x.form, "obj") && (e.idle(c) || e.lemma(c.root) == "try" || e.lemma(c.root) == "use"):
		return "trivial"
	case c.spoken < 0 && e.unreal[c.root]:
		return "not told as fact"
	case strings.HasPrefix(x.form, "happened-seq-same"), strings.HasPrefix(x.form, "feel-before") && x.first != x.last, strings.HasPrefix(x.form, "feel-noun-before") && x.first != x.last:
		return "loosely joined"
	case strings.HasPrefix(x.form, "do-") && (c.passive || set("hear have feel know seem look become dream find see notice remember")[e.lemma(c.root)]):
		return "nothing is done"
	case strings.HasPrefix(x.form, "obj") && !e.animateAt(c.subject):
		return "nobody does it"
	case c.spoken < 0 && c.rel != "say" && e.tellsSpeech(c):
		return "asks about saying without what is said"
	case x.form == "happened-as" && strings.Contains(x.q, " might "):
		return "not told as fact"
	case strings.HasPrefix(x.form, "obj") && c.object >= 0 && e.lexname(e.lemma(c.object), lexicon.Noun) == "noun.body":
		return "trivial"
	case strings.HasPrefix(x.form, "obj-W") && strings.Contains(x.form, "What") && !concrete[e.lexname(e.lemma(c.object), lexicon.Noun)] && !set("letter story song book tale poem note message secret promise")[e.lemma(c.object)]:
		return "trivial"
	case strings.HasPrefix(x.form, "happened-") && e.d.Tokens[c.subject].UPOS == "PRON" && e.lower(c.subject) == "it":
		return "nobody does it"
	case x.form == "happened-seq-other" && len(strings.Fields(x.a)) < 5:
		return "trivial"
	case x.form == "agent" && !e.animateAt(c.subject):
		return "nobody does it"
	case strings.HasPrefix(x.form, "do-") && e.contentWords(x.a) < 3 && len(strings.Fields(x.a)) < 5:
		return "trivial"
	case x.form == "what-subject" && (!concrete[e.lexname(e.lemma(c.subject), lexicon.Noun)] || e.lexname(e.lemma(c.subject), lexicon.Noun) == "noun.phenomenon" || e.lexname(e.lemma(c.subject), lexicon.Noun) == "noun.possession"):
		return "trivial"
	case (x.form == "appos" || x.form == "name") && c.root >= 0 && e.d.Tokens[c.root].XPOS == "NNS":
		return "does not agree"
	case x.form == "agent" && !e.animateLast(x):
		return "nobody does it"
	case breaksOff(x.full) || e.endsSaying(x.full) && e.speaks(x) && x.form != "say" && x.form != "say-ask" && x.form != "told-to":
		return "breaks off"
	case strings.Contains(x.q, " not ") && !strings.HasPrefix(x.q, "Who"):
		return "asks with not"
	case strings.HasPrefix(x.form, "who-cop") && e.d.Tokens[c.root].UPOS == "ADJ" && e.child(c.root, "ccomp", "advcl", "parataxis") >= 0:
		return "breaks off"
	case strings.HasPrefix(x.form, "happened") && len(strings.Fields(x.a)) < 5 && e.contentWords(x.a) < 3:
		return "trivial"
	case strings.HasPrefix(x.form, "do-") && !e.step(c):
		return "no step of the story"
	case strings.HasPrefix(x.form, "when") && hasWord(x.a, "same first last once moment"):
		return "trivial"
	case strings.HasPrefix(x.form, "why-to") && (strings.HasPrefix(x.a, "to find herself") || strings.HasPrefix(x.a, "to find himself") || strings.HasPrefix(x.a, "to ask") || strings.HasPrefix(x.a, "to see") && e.contentWords(x.a) < 2):
		return "no purpose"
	case e.narrator >= 0 && strings.Count(x.full, e.name(e.narrator)) > 2:
		return "names one twice"
	case strings.Contains(x.form, "-seq") && len(strings.Fields(x.q[strings.LastIndex(x.q, " after ")+1:])) < 5:
		return "trivial"
	case x.form == "why-state" && !feeling(e, x.c.root) && x.with != nil && !feeling(e, x.with.root) && !wishing[e.lemma(x.with.root)]:
		return "the reason is not stated"
	case strings.HasPrefix(x.form, "obj") && e.child(c.root, "xcomp", "ccomp") >= 0 && x.form != "obj-short-What":
		return "breaks off"
	case strings.HasPrefix(x.form, "feel") && c.passive && e.child(c.root, "obl") > c.root && e.prep(e.child(c.root, "obl")) == "by":
		return "a word for something else"
	case x.form == "why-since" && e.past(c) && len(c.aux) > 0:
		return "tells since when, not why"
	case strings.HasPrefix(x.form, "when") && strings.HasPrefix(x.a, "for "):
		return "tells how long, not when"
	case strings.HasPrefix(x.q, "How many") && strings.Contains(x.q, "-"):
		return "half a number"
	case breaksOff(x.a) || strings.HasSuffix(x.a, " was") || strings.HasSuffix(x.a, " had"):
		return "breaks off"
	case twice(x.a):
		return "names one twice"
	case x.form == "xcomp" && e.lemma(c.root) == "use":
		return "trivial"
	case x.form == "xcomp" && set("begin start continue go appear seem wonder happen")[e.lemma(c.root)]:
		return "trivial"
	case strings.Count(" "+strings.ToLower(x.q), " what ") > 1 || strings.HasSuffix(x.q, " what?"), e.halfCompared(x.q), e.halfCompared(x.full):
		return "breaks off"
	case strings.HasPrefix(x.form, "who-") && e.contentWords(x.q) < 3:
		return "trivial"
	case strings.HasPrefix(x.a, "but ") || strings.HasPrefix(x.a, "and "):
		return "breaks off"
	case !e.holds(x.full, x.a) && x.form != "why-seeing":
		return "the answer is not in the full answer"
	}
	seen := map[string]bool{}
	for _, w := range q {
		w = strings.Trim(w, ",")
		w = strings.TrimSuffix(strings.TrimSuffix(strings.TrimSuffix(w, "’s"), "'s"), "’")
		if (len(w) > 3 || strings.Contains(x.q, upperFirst(w))) && !e.lex.Function(w) {
			if seen[w] {
				return "says a word twice"
			}
			seen[w] = true
		}
	}
	return ""
}

// odd reports leftovers of marks and of letters that stand for speech.
func odd(s string) bool {
	return strings.Contains(" "+s, " '") || strings.Contains(" "+s, " ‘") || strings.Contains(" "+s, " ’") || strings.Contains(s, "*") || strings.Contains(s, "--") || strings.Contains(s, "—") || strings.Contains(s, ";") || strings.Contains(s, "(")
}

// holds reports whether most content words of an answer stand in a text.
func (e *engine) holds(text, answer string) bool {
	have := map[string]bool{}
	for _, w := range rougeWords(text) {
		have[w] = true
	}
	n, all := 0, 0
	for _, w := range rougeWords(answer) {
		if e.lex.Function(w) || len(w) < 3 {
			continue
		}
		all++
		if have[w] {
			n++
		}
	}
	if all == 0 {
		return strings.Contains(strings.ToLower(text), strings.ToLower(answer))
	}
	return 10*n >= 7*all
}

// part is the head of the oblique that a candidate's answer names, found by its
// last words; -1 when none is.
func (e *engine) part(x *candidate) int {
	f := rougeWords(x.a)
	for _, k := range e.kids[x.c.root] {
		if e.rel(k) != "obl" || k < x.c.root {
			continue
		}
		for _, w := range f {
			if w == e.lower(k) {
				return k
			}
		}
	}
	if e.rel(x.c.root) != "" && x.c.cop >= 0 {
		return x.c.root
	}
	return -1
}

// worthPrep reports whether what stands behind the preposition is a thing that
// can be asked for: "What did he cover it with?", not "What did he snort with?"
func (e *engine) worthPrep(x *candidate) bool {
	k := e.part(x)
	if k < 0 || !set("with to at for about from on into")[e.prep(k)] {
		return false
	}
	switch e.lexname(e.lemma(k), lexicon.Noun) {
	case "noun.artifact", "noun.object", "noun.plant", "noun.food", "noun.substance", "noun.animal":
		return true
	}
	return e.prep(k) == "about"
}

// worthWhere reports whether an answer to "where" is a place.
func (e *engine) worthWhere(x *candidate) bool {
	k := e.part(x)
	if k < 0 {
		return false
	}
	switch p := e.prep(k); p {
	case "by", "from", "out of", "with", "against", "within", "off", "off of", "down on", "in front", "around", "round", "upon":
		return p == "upon"
	}
	if e.d.Tokens[k].UPOS == "PROPN" {
		return true
	}
	if e.d.Tokens[k].XPOS == "NN" && e.child(k, "det", "nmod", "amod", "compound", "nummod") < 0 && !set("home bed school church town court")[e.lemma(k)] {
		return false // "sat down to rock" has no place
	}
	switch e.lexname(e.lemma(k), lexicon.Noun) {
	case "noun.artifact", "noun.object", "noun.location", "noun.plant":
		return !set("suit gown dress coat clothes voice way side")[e.lemma(k)]
	}
	return e.lemma(x.c.root) == "live"
}

// tellsSpeech reports whether words of speech hang on the clause.
func (e *engine) tellsSpeech(c *clause) bool {
	for _, k := range e.kids[c.root] {
		if e.sayingAt[k] >= 0 && e.d.Tokens[k].UPOS != "PUNCT" && e.rel(k) != "conj" {
			return true
		}
	}
	return false
}

// contentWords counts the words that carry meaning.
func (e *engine) contentWords(s string) int {
	n := 0
	for _, w := range rougeWords(s) {
		if !e.lex.Function(w) && len(w) > 2 {
			n++
		}
	}
	return n
}

// halfCompared reports an "as" before an adjective or adverb without the "as" of
// what it is compared with.
func (e *engine) halfCompared(s string) bool {
	w := rougeWords(s)
	for i := 0; i+1 < len(w); i++ {
		if w[i] != "as" {
			continue
		}
		for _, later := range w[i+1:] {
			if later == "as" || later == "if" || later == "though" {
				return false
			}
		}
		return e.lex.HasLemma(w[i+1], lexicon.Adverb) || e.lex.HasLemma(w[i+1], lexicon.Adjective) && !e.lex.HasLemma(w[i+1], lexicon.Noun)
	}
	return false
}

// feltBy reports whether a noun of feeling hangs on a verb by which no feeling
// shows: "struggled with his pride".
func (e *engine) feltBy(c *clause) bool {
	for _, k := range e.kids[c.root] {
		if e.rel(k) == "obl" && feelingNouns[e.lemma(k)] && !showing[e.lemma(c.root)] {
			return true
		}
	}
	return false
}

// breaksOff reports a text that ends in a word that wants another.
func breaksOff(s string) bool {
	w := rougeWords(s)
	return len(w) > 0 && set("with of to at from for into upon by between than one ones those that which what such the a an of and or but because so")[w[len(w)-1]]
}

// endsSaying reports a text that ends in a verb of saying: what is said was left out.
func (e *engine) endsSaying(s string) bool {
	w := rougeWords(s)
	if len(w) == 0 {
		return false
	}
	for _, l := range e.lex.Lemmas(w[len(w)-1], lexicon.Verb) {
		if tellers[l] && l != "laugh" && l != "cry" && l != "scream" && l != "sing" && l != "begin" && l != "think" {
			return true
		}
	}
	return false
}

// hasWord reports whether a text has one of some words.
func hasWord(s, words string) bool {
	m := set(words)
	for _, w := range rougeWords(s) {
		if m[w] {
			return true
		}
	}
	return false
}

// twice reports whether a text says a name two times.
func twice(s string) bool {
	seen := map[string]bool{}
	for _, w := range strings.Fields(s) {
		w = strings.TrimSuffix(strings.Trim(w, ",.;:!?"), "’s")
		if w == "" || w[0] < 'A' || w[0] > 'Z' || w == "I" {
			continue
		}
		if seen[w] {
			return true
		}
		seen[w] = true
	}
	return false
}

// animateLast reports whether what did it, behind "by", is somebody.
func (e *engine) animateLast(x *candidate) bool {
	k := e.part(x)
	return k >= 0 && e.animateAt(k)
}

// speaks reports whether words of speech stand in the proof of a candidate.
func (e *engine) speaks(x *candidate) bool {
	for i := e.d.Sentences[x.first].First; i < e.d.Sentences[x.last].Last; i++ {
		if e.sayingAt[i] >= 0 {
			return true
		}
	}
	return false
}
