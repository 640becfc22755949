package events

import (
	"slices"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// person finds first and second persons in speech and the cast in the telling.
func (f *finder) member(i int) (string, float64) {
	if r := f.refs[i]; r.Member != nil {
		return r.Member.ID, r.Confidence
	}
	if q := f.saying[i]; q >= 0 {
		switch f.low(i) {
		case "i", "me", "myself":
			return f.d.Quotations[q].Speaker, f.d.Quotations[q].Confidence
		case "you", "thou", "thee", "yourself":
			return f.d.Quotations[q].Addressee, 0.7 * f.d.Quotations[q].Confidence
		}
	}
	return "", 0
}

// whole makes the role whose head is token i, with its preposition.
func (f *finder) whole(i int) lang.Role { return f.role(i, "acl", "parataxis", "advcl") }

// bare makes it without.
func (f *finder) bare(i int) lang.Role { return f.role(i, "acl", "parataxis", "advcl", "case") }

func (f *finder) role(i int, leave ...string) lang.Role {
	sp := f.tree.Span(i, func(c int) bool {
		t := &f.d.Tokens[c]
		switch f.low(c) {
		case "alone", "again", "together": // belong to the verb
			return c > i
		}
		return slices.Contains(leave, lang.Relation(t.Deprel)) && (c < i || t.Deprel != "case") // not the "'s" behind a name
	})
	r := lang.Role{Start: sp.Start, End: sp.End, Head: i}
	r.Member, r.Confidence = f.member(i)
	return r
}

// roles finds the participants and circumstances of an event.
func (f *finder) roles(e *lang.Event) {
	i := e.Verb
	passive := f.passive(i)
	if g := f.subject(i, 0); g >= 0 {
		if passive {
			e.Object = f.bare(g)
		} else {
			e.Subject = f.bare(g)
		}
	} else if q := e.Saying; q >= 0 && f.command(i) {
		e.Subject.Member, e.Subject.Confidence = f.d.Quotations[q].Addressee, 0.7*f.d.Quotations[q].Confidence
	}
	copular := f.tree.Child(i, "cop") >= 0
	for k := range f.tree.Children(i) {
		t := &f.d.Tokens[k]
		switch r := lang.Relation(t.Deprel); {
		case r == "obj" && !copular && !passive:
			e.Object = f.bare(f.antecedent(k, i))
		case r == "obj" && passive && e.Recipient.None(): // "was given a book"
			e.Recipient, e.Object = e.Object, f.bare(k)
		case r == "iobj":
			e.Recipient = f.bare(f.antecedent(k, i))
		case t.Deprel == "obl:agent":
			e.Subject = f.bare(k)
		case r == "obl":
			f.circumstance(e, k)
		case r == "advmod" && placeAdverbs[f.low(k)] && e.Place.None() && k > i:
			e.Place = f.whole(k)
		case r == "advmod" && timeAdverbs[f.low(k)] && e.Time.None():
			e.Time = f.whole(k)
		}
	}
	if passive && e.Subject.None() {
		for k := range f.tree.Children(i) { // where the agent is a plain oblique
			if lang.Relation(f.d.Tokens[k].Deprel) == "obl" && f.preposition(k) == "by" && f.living(k) {
				e.Subject = f.bare(k)
			}
		}
	}
	e.Agent, e.Patient = e.Subject.Member, e.Object.Member
}

// withObject are verbs that take what they reach by a preposition ("looked at
// the robin"), with these prepositions.
var withObject = map[string]string{"look": "at for after into", "stare": "at", "gaze": "at", "glance": "at", "peep": "at", "listen": "to", "think": "of about", "laugh": "at", "smile": "at", "speak": "to of about", "talk": "to about of", "wait": "for",
	"point": "at to", "call": "to for", "ask": "for about", "dream": "of about", "shout": "at to", "send": "for", "search": "for", "long": "for", "hear": "of from about", "care": "for", "believe": "in", "depend": "on", "knock": "at on", "throw": "at", "nod": "to at", "bow": "to", "come": "upon across", "hope": "for", "wish": "for", "tell": "of about"}

// giving are verbs whose "to somebody" receives.
var giving = words("give say speak tell show send bring hand offer lend sell write read sing throw pass pay promise explain leave return whisper")

// circumstance sorts an oblique: who receives, what is reached, where, when,
// with what or whom.
func (f *finder) circumstance(e *lang.Event, k int) {
	l := f.lemma(e.Verb)
	p := f.preposition(k)
	noun := f.lemma(k)
	class := ""
	if u := f.d.Tokens[k].UPOS; u == "NOUN" || u == "PROPN" {
		class = f.class(noun, lexicon.Noun)
	}
	ref := f.refs[k].Member
	place := ref != nil && ref.Kind == lang.Place
	switch {
	case strings.HasSuffix(f.d.Tokens[k].Deprel, ":tmod") || timeNouns[noun] || p == "" && class == "noun.time":
		if e.Time.None() {
			e.Time = f.whole(k)
		}
	case p == "to" && giving[l] && f.living(k):
		e.Recipient = f.bare(k)
	case e.Object.None() && p != "" && has(withObject[l], p):
		e.Object = f.bare(f.antecedent(k, e.Verb))
		e.Lemma += " " + p
	case p == "with" || p == "without" && class == "noun.artifact":
		if e.With.None() && (f.living(k) || class == "noun.artifact" || class == "noun.body" || class == "noun.object") {
			e.With = f.whole(k)
		}
	case class == "noun.time" && timePrepositions[p]:
		if e.Time.None() {
			e.Time = f.whole(k)
		}
	case placePrepositions[p] && (place || (placeClasses[class] || alsoPlaces[noun]) && !f.living(k) && !notPlaces[noun]):
		if e.Place.None() {
			e.Place = f.whole(k)
		}
	}
}

func has(list, word string) bool {
	for w := range strings.FieldsSeq(list) {
		if w == word {
			return true
		}
	}
	return false
}

var (
	placePrepositions = words("in on at under beside behind near inside into beneath above among between outside across by to from through toward towards over round around along up down off out onto upon below within beyond against past underneath")
	timePrepositions  = words("in on at during after before till until since for by from through within about")
	placeClasses      = words("noun.artifact noun.location noun.object noun.plant")
	alsoPlaces        = words("village school church court market store farm camp country neighborhood neighbourhood circus fair college") // WordNet's first sense is no place
	notPlaces         = words("way side sort kind rest part thing end bit lot other one voice")
	timeNouns         = words("morning evening night day noon afternoon midnight dawn dusk sunset sunrise week month year hour minute moment spring summer autumn winter yesterday today tomorrow to-day to-morrow to-night breakfast dinner supper lunch tea time daybreak nightfall Monday Tuesday Wednesday Thursday Friday Saturday Sunday Christmas")
	placeAdverbs      = words("here there home upstairs downstairs indoors outside inside away abroad everywhere somewhere anywhere nowhere ashore outdoors underground below above near")
	timeAdverbs       = words("now then yesterday today tomorrow to-day to-morrow tonight to-night soon presently afterwards afterward before already once again always often sometimes never early late immediately directly instantly meanwhile lately ago")
)

// preposition is the word that joins an oblique to its verb, "" if none.
func (f *finder) preposition(k int) string {
	if c := f.tree.Child(k, "case"); c >= 0 {
		return f.low(c)
	}
	return ""
}

// living reports whether token i names a person or an animal.
func (f *finder) living(i int) bool {
	if m := f.refs[i].Member; m != nil {
		return m.Kind != lang.Place
	}
	t := &f.d.Tokens[i]
	switch t.UPOS {
	case "PRON":
		switch f.low(i) {
		case "i", "me", "you", "he", "him", "she", "her", "we", "us", "they", "them", "who", "whom", "everybody", "everyone", "somebody", "someone", "anybody", "anyone", "nobody", "himself", "herself", "myself", "yourself", "themselves", "thee", "thou":
			return true
		}
		return false
	case "NOUN", "PROPN":
		c := f.class(f.lemma(i), lexicon.Noun)
		return c == "noun.person" || c == "noun.animal"
	}
	return false
}

// antecedent is what a relative pronoun stands for in the clause of verb i; any
// other token stands for itself.
func (f *finder) antecedent(k, i int) int {
	switch f.low(k) {
	case "who", "whom", "which", "that", "as": // "them as looked down on us"
	default:
		return k
	}
	for v := i; v >= 0; v = f.d.Tokens[v].Head {
		t := &f.d.Tokens[v]
		switch {
		case strings.HasPrefix(t.Deprel, "acl") && t.Head >= 0 && t.Head < k:
			return t.Head
		case !clausal[lang.Relation(t.Deprel)]:
			return k
		}
	}
	return k
}

// objectControl are verbs whose object does what the verb behind it says:
// "told her to go".
func (f *finder) objectControl(h int) bool { return !subjectControl[f.lemma(h)] }

var subjectControl = words("promise threaten swear vow")

// subject is the head of the grammatical subject of the clause at i, -1 when it
// has none or it is left open.
func (f *finder) subject(i, depth int) int {
	for k := range f.tree.Children(i) {
		if d := f.d.Tokens[k].Deprel; lang.Relation(d) == "nsubj" && d != "nsubj:outer" {
			return f.antecedent(k, i)
		}
	}
	t := &f.d.Tokens[i]
	if depth > 8 || t.Head < 0 || f.tree.Child(i, "csubj", "expl") >= 0 {
		return -1
	}
	h := t.Head
	if !sameZone(f, i, h) {
		return -1 // what is said takes nothing from who says it
	}
	switch r := lang.Relation(t.Deprel); {
	case r == "conj" && f.event[h] >= 0:
		if f.finite(i) != f.finite(h) && f.finite(i) && f.command(h) {
			return -1
		}
		return f.subject(h, depth+1)
	case r == "xcomp" && f.event[h] >= 0:
		if o := f.tree.Child(h, "obj", "iobj"); o >= 0 && f.objectControl(h) {
			return f.antecedent(o, h)
		}
		return f.subject(h, depth+1)
	case r == "advcl" && f.event[h] >= 0 && !f.finite(i):
		return f.subject(h, depth+1)
	case r == "ccomp" && f.event[h] >= 0 && !f.finite(i): // "told her to go", "saw him run"
		if o := f.tree.Child(h, "obj", "iobj"); o >= 0 && f.objectControl(h) {
			return f.antecedent(o, h)
		}
		return f.subject(h, depth+1)
	case r == "acl" && t.Deprel != "acl:relcl":
		return h
	}
	return -1
}

// command reports whether the clause is an order: a bare verb without subject.
func (f *finder) command(i int) bool {
	t := &f.d.Tokens[i]
	if t.XPOS != "VB" || f.tree.Child(i, "nsubj") >= 0 {
		return false
	}
	for k := range f.tree.Children(i) {
		switch r := lang.Relation(f.d.Tokens[k].Deprel); r {
		case "mark":
			return false
		case "aux":
			if f.low(k) != "do" && f.low(k) != "n't" {
				return false
			}
		}
	}
	r := lang.Relation(t.Deprel)
	return r == "root" || r == "parataxis" || r == "ccomp" || r == "conj" && t.Head >= 0 && f.d.Tokens[t.Head].XPOS == "VB"
}
