package question

import (
	"slices"
	"strings"

	"bookstead/internal/lang/inflect"
)

// telling is a text being written from tokens: it knows whom it has named, so
// that a pronoun is kept where it is clear and becomes a name where it is not.
type telling struct {
	e     *engine
	named []int // entities, in the order of naming
	*tally
	// speaker and addressee are the entities behind "I" and "you" when spoken
	// words are told, else -1; back puts their verbs into the past.
	speaker, addressee int
	back               bool
	at                 int // the token being written
}

// tally is what is doubtful in a telling and in those that go on behind it.
type tally struct {
	open int     // pronouns and pointing words that nobody could resolve
	sure float64 // of the least certain pronoun that became a name
}

func (e *engine) tell() *telling {
	return &telling{e: e, tally: &tally{sure: 1}, speaker: e.narrator, addressee: -1}
}

// again goes on behind what t wrote, for an answer that follows its question.
func (t *telling) again() *telling {
	n := *t
	n.named = slices.Clone(t.named)
	return &n
}

// name is what an entity is called.
func (e *engine) name(x int) string {
	n := e.entities[x]
	if n.member != nil {
		for _, mine := range []string{"my ", "our ", "My ", "Our "} {
			if rest, ok := strings.CutPrefix(n.member.Name, mine); ok {
				return "the " + rest
			}
		}
		for _, whose := range []string{"his ", "her ", "their ", "its ", "your ", "His ", "Her ", "Their "} {
			if strings.HasPrefix(n.member.Name, whose) {
				return ""
			}
		}
		return n.member.Name
	}
	if n.at < 0 {
		return ""
	}
	if s, ok := e.names[x]; ok {
		return s
	}
	e.names[x] = "" // stops a name that names itself
	t := e.tell()
	s := t.noun(n.at, 6)
	if t.open > 0 || s == "" {
		s = "the " + n.head
		if n.plural {
			s = "the " + inflect.Plural(n.head)
		}
	}
	if f := strings.Fields(s); len(f) > 0 && !n.plural && e.d.Tokens[n.at].UPOS == "NOUN" && lowerFirst(f[0]) == f[0] && e.child(n.at, "det", "nmod") < 0 {
		s = "the " + s
	}
	e.names[x] = s
	return s
}

// noun says the noun phrase at i as one says it of something known: without
// clauses, "the" for "a"; "" when it takes more than most words.
func (t *telling) noun(i, most int) string {
	e := t.e
	toks := e.tidy(e.shorter(e.bare(i), i))
	if len(toks) > 0 && set("such what quite half many no")[e.lower(toks[0])] {
		t.open++ // "such a noise" is nothing known
	}
	over := map[int]string{}
	for _, k := range e.kids[i] { // "only the boy" is the boy
		if e.rel(k) == "advmod" && k < i {
			over[k] = ""
		}
	}
	words := 0
	for _, k := range toks {
		if e.d.Tokens[k].UPOS != "PUNCT" {
			words++
		}
		if e.rel(k) == "det" && e.d.Tokens[k].Head == i {
			switch e.lower(k) {
			case "a", "an", "this", "that", "these", "those", "some", "another":
				over[k] = "the"
			}
		}
	}
	if words > most {
		// the phrase without what stands behind its head
		var front []int
		for _, k := range toks {
			if k <= i {
				front = append(front, k)
			}
		}
		toks = front
		if len(toks) > most {
			return ""
		}
	}
	return t.say(toks, over)
}

// bare is the subtree of a noun without what belongs to the clause rather than
// to it: case, copula, clause parts (where the noun is a predicate).
func (e *engine) bare(i int) []int {
	skip := map[int]bool{}
	for _, k := range e.kids[i] {
		switch e.rel(k) {
		case "case", "cop", "aux", "nsubj", "advcl", "mark", "advmod", "punct", "cc", "parataxis", "expl", "obl", "acl", "appos", "discourse", "vocative", "csubj":
			if r := e.rel(k); r == "advmod" && k < i && e.lower(k) != "not" || r == "punct" || r == "cc" && k > i {
				continue
			}
			for _, j := range e.subtree(k) {
				skip[j] = true
			}
		case "conj":
			if e.clausal(k) {
				for _, j := range e.subtree(k) {
					skip[j] = true
				}
			}
		}
	}
	var out []int
	for _, k := range e.subtree(i) {
		if !skip[k] {
			out = append(out, k)
		}
	}
	return out
}

// say writes tokens in order as they stand in the text, with the forms of over
// in their place ("" leaves one out); a gap becomes one space.
func (t *telling) say(toks []int, over map[int]string) string {
	e := t.e
	var b strings.Builder
	last, before := -1, byte(' ')
	for _, i := range toks {
		form, ok := over[i]
		if !ok {
			form = t.word(i)
		}
		if form == "" {
			continue
		}
		if last >= 0 && (last != i-1 || e.d.SpaceAfter(last) || isLetter(form[0]) && isLetter(before)) {
			b.WriteByte(' ')
		}
		before = form[len(form)-1]
		b.WriteString(form)
		last = i
	}
	s := strings.Join(strings.Fields(b.String()), " ")
	s = strings.NewReplacer(" ,", ",", " ;", ";", " ’s", "’s", " 's", "'s", "_", "").Replace(s)
	return strings.Trim(s, " ,;:—-")
}

// pointing words are left dangling out of their place.
var pointing = set("this that these those here hither such former latter thus yonder")

// word is how token i is written.
func (t *telling) word(i int) string {
	e := t.e
	t.at = i
	tok := e.d.Tokens[i]
	form := tok.Form
	l := strings.ToLower(form)
	s := e.d.Sentences[e.sentenceOf(i)]
	kin := tok.UPOS == "NOUN" && tok.XPOS != "NNS" && e.child(i, "det", "nmod", "amod") < 0 // "Uncle", "Father"
	if i == s.First && tok.UPOS != "PROPN" && l != "i" && !kin && (e.lex.Correct(l) || len(l) < 3) {
		form = lowerFirst(form)
	}
	switch tok.UPOS {
	case "NOUN", "PROPN":
		if r := e.refs[i]; r.entity >= 0 && !slices.Contains(t.named, r.entity) {
			t.named = append(t.named, r.entity)
		}
		return form
	case "PRON", "DET":
		switch l {
		case "i", "me", "my", "mine", "myself":
			return t.person(t.speaker, l, form)
		case "you", "your", "yours", "yourself", "thou", "thee", "thy":
			return t.person(t.addressee, l, form)
		case "we", "us", "our", "ours", "ourselves":
			t.open++
			return form
		}
		if pronounGender[l] != 0 && e.rel(i) != "expl" {
			return t.third(i, l, form)
		}
		if l == "one" || l == "ones" {
			t.open++
		}
		if pointing[l] && tok.UPOS == "PRON" && e.rel(i) != "mark" && !strings.Contains(tok.Feats, "PronType=Rel") {
			t.open++
		} else if pointing[l] && tok.UPOS == "DET" && l != "such" && l != "that" {
			t.open++
		}
	case "ADV":
		if h := tok.Head; l == "there" && h >= 0 && (e.d.Tokens[h].UPOS != "VERB" || !motion[e.lemma(h)] && !set("be put live stay sit stand lie keep leave")[e.lemma(h)]) {
			return "" // "heard a scratching there": it adds nothing
		}
		if l == "here" || l == "hither" || l == "thus" || l == "yonder" || l == "there" && e.rel(i) != "expl" {
			t.open++
		}
	case "VERB", "AUX":
		if t.back {
			return e.pastForm(i, form)
		}
	}
	return form
}

// third writes a pronoun of the third person: as it stands when whom it means
// was named and nobody else could be meant, else the name.
func (t *telling) third(i int, l, form string) string {
	e := t.e
	r := e.refs[i]
	if r.entity < 0 {
		t.open++
		return form
	}
	if k := slices.Index(t.named, r.entity); k >= 0 {
		rivals := 0
		for _, x := range t.named {
			a, b := e.entities[x], e.entities[r.entity]
			if x != r.entity && a.plural == b.plural && a.thing == b.thing && (a.gender == b.gender || a.gender == 0 || b.gender == 0) {
				rivals++
			}
		}
		if rivals == 0 || k == 0 {
			t.sure = min(t.sure, r.sure)
			return form
		}
	} else {
		for _, x := range t.named {
			if e.name(x) == e.name(r.entity) { // one and the same under two heads
				t.sure = min(t.sure, r.sure)
				return form
			}
		}
		t.named = append(t.named, r.entity)
	}
	name := e.name(r.entity)
	if name == "" {
		t.open++
		return form
	}
	t.sure = min(t.sure, r.sure)
	if l == "his" || l == "its" || l == "their" || l == "her" && (e.d.Tokens[i].XPOS == "PRP$" || strings.HasPrefix(e.d.Tokens[i].Deprel, "nmod")) {
		return possessive(name)
	}
	return name
}

func possessive(name string) string {
	if strings.HasSuffix(name, "s") && strings.HasPrefix(name, "the ") {
		return name + "’"
	}
	return name + "’s"
}

// person writes a pronoun of the first or second person for whom it means.
func (t *telling) person(x int, l, form string) string {
	e := t.e
	if x < 0 {
		t.open++
		return form
	}
	mine := l == "my" || l == "your" || l == "thy"
	n := e.entities[x]
	if slices.Contains(t.named, x) && n.gender != 0 && !n.plural {
		he := map[byte][3]string{'m': {"he", "him", "his"}, 'f': {"she", "her", "her"}}[n.gender]
		switch {
		case mine:
			return he[2]
		case strings.HasSuffix(l, "self"):
			if n.gender == 'm' {
				return "himself"
			}
			return "herself"
		case l == "i" || l == "thou":
			return he[0]
		case l == "mine" || l == "yours":
			t.open++
			return form
		}
		if l == "you" && e.rel(t.at) == "nsubj" {
			return he[0]
		}
		return he[1]
	}
	if strings.HasSuffix(l, "self") || l == "mine" || l == "yours" {
		t.open++
		return form
	}
	if !slices.Contains(t.named, x) {
		t.named = append(t.named, x)
	}
	name := e.name(x)
	if mine {
		return possessive(name)
	}
	return name
}

var pastModals = map[string]string{"can": "could", "ca": "could", "will": "would", "wo": "would", "may": "might", "shall": "would", "'ll": "would", "’ll": "would"}

// pastForm puts a finite verb of spoken words into the past.
func (e *engine) pastForm(i int, form string) string {
	t := e.d.Tokens[i]
	switch t.XPOS {
	case "VBP", "VBZ":
		switch l := e.lemma(i); l {
		case "be":
			if h := strings.ToLower(form); h == "are" || h == "'re" || h == "’re" {
				return "were"
			}
			return "was"
		default:
			return inflect.Verb(l, inflect.Past)
		}
	case "MD":
		if p, ok := pastModals[strings.ToLower(form)]; ok {
			return p
		}
	}
	return form
}

func isLetter(b byte) bool { return b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' }
