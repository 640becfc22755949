package events

import (
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// clausal are the relations by which a predicate hangs on another or on a noun.
var clausal = map[string]bool{"root": true, "conj": true, "advcl": true, "ccomp": true, "xcomp": true, "acl": true, "parataxis": true, "csubj": true}

// sentence finds the events of sentence si.
func (f *finder) sentence(si int) {
	s := f.d.Sentences[si]
	for i := s.First; i < s.Last; i++ {
		if f.predicate(i) {
			f.event[i] = int32(len(f.out))
			f.out = append(f.out, lang.Event{Verb: i, Sentence: si})
		}
	}
	for i := s.First; i < s.Last; i++ {
		if k := f.event[i]; k >= 0 {
			f.fill(&f.out[k])
		}
	}
	for i := s.First; i < s.Last; i++ { // once all have their parts
		if k := f.event[i]; k >= 0 {
			f.out[k].Modality = f.modality(i)
		}
	}
}

// predicate reports whether token i is the predicate of a clause.
func (f *finder) predicate(i int) bool {
	t := &f.d.Tokens[i]
	r := lang.Relation(t.Deprel)
	if !clausal[r] {
		return false
	}
	if f.tree.Child(i, "cop") >= 0 {
		return true
	}
	if t.UPOS != "VERB" {
		return false
	}
	switch {
	case r == "acl" && t.Deprel != "acl:relcl":
		// "a boy running away" tells something; "a boy named Tom", "a thing to eat" do not.
		return t.XPOS == "VBG"
	case r == "conj": // "cooked and eaten food" is no clause
		h := t.Head
		for h >= 0 && lang.Relation(f.d.Tokens[h].Deprel) == "conj" {
			h = f.d.Tokens[h].Head
		}
		if h < 0 {
			return true
		}
		hr := lang.Relation(f.d.Tokens[h].Deprel)
		return clausal[hr] || f.tree.Child(i, "nsubj", "aux") >= 0
	case r == "root" || r == "parataxis":
		return true
	}
	return true
}

// low is the lower-case form of token i.
func (f *finder) low(i int) string {
	if i < 0 || i >= len(f.d.Tokens) {
		return ""
	}
	return strings.ReplaceAll(strings.ToLower(f.d.Tokens[i].Form), "’", "'")
}

// lemma is the lower-case lemma of token i.
func (f *finder) lemma(i int) string { return strings.ToLower(f.d.Tokens[i].Lemma) }

// finite reports whether a clause has a tense of its own.
func (f *finder) finite(i int) bool {
	for k := range f.tree.Children(i) {
		if r := lang.Relation(f.d.Tokens[k].Deprel); r == "aux" || r == "cop" {
			switch f.d.Tokens[k].XPOS {
			case "VBD", "VBZ", "VBP", "MD":
				return true
			}
		}
	}
	switch f.d.Tokens[i].XPOS {
	case "VBD", "VBZ", "VBP":
		return true
	}
	return false
}

// passive reports whether the grammatical subject undergoes.
func (f *finder) passive(i int) bool {
	for k := range f.tree.Children(i) {
		switch f.d.Tokens[k].Deprel {
		case "nsubj:pass", "aux:pass":
			return true
		}
	}
	// "was knocked down and run over"
	t := &f.d.Tokens[i]
	return t.XPOS == "VBN" && lang.Relation(t.Deprel) == "conj" && t.Head >= 0 && f.event[t.Head] >= 0 && f.tree.Child(i, "nsubj", "aux") < 0 && f.passive(t.Head)
}

// fill finds the parts of the event.
func (f *finder) fill(e *lang.Event) {
	i := e.Verb
	t := &f.d.Tokens[i]
	e.Saying = f.saying[i]
	sp := f.tree.Span(i, func(c int) bool {
		return f.event[c] >= 0 && lang.Relation(f.d.Tokens[c].Deprel) != "csubj"
	})
	e.Start, e.End = sp.Start, sp.End
	e.Main = t.Deprel == "root" || lang.Relation(t.Deprel) == "parataxis"
	for h := i; !e.Main && lang.Relation(f.d.Tokens[h].Deprel) == "conj" && f.d.Tokens[h].Head >= 0; {
		h = f.d.Tokens[h].Head
		e.Main = f.d.Tokens[h].Deprel == "root"
	}
	e.Lemma = f.lemma(i)
	cop := f.tree.Child(i, "cop")
	if cop >= 0 {
		e.Lemma = "be " + e.Lemma
		e.Stative = true
	} else {
		e.Stative = f.stative(i)
	}
	had := false
	for k := range f.tree.Children(i) {
		kt := &f.d.Tokens[k]
		switch {
		case kt.Deprel == "compound:prt":
			e.Lemma += " " + f.low(k)
		case lang.Relation(kt.Deprel) == "aux" && f.low(k) == "had", lang.Relation(kt.Deprel) == "aux" && f.low(k) == "'d" && kt.Lemma == "have":
			had = true
		}
	}
	e.Earlier = had && t.XPOS == "VBN" || had && cop >= 0
	e.Negated = f.negated(i)
	f.roles(e)
}

// negated reports whether the clause denies its event.
func (f *finder) negated(i int) bool {
	for k := range f.tree.Children(i) {
		t := &f.d.Tokens[k]
		r := lang.Relation(t.Deprel)
		switch w := f.low(k); {
		case r == "advmod" && (w == "not" || w == "n't" || w == "never" || w == "nowhere" || w == "no"):
			return true
		case (r == "nsubj" || r == "obj" || r == "obl") && (w == "nobody" || w == "nothing" || w == "none" || w == "no-one"):
			return true
		case r == "nsubj" || r == "obj":
			for j := range f.tree.Children(k) {
				if n := f.low(j); (n == "no" || n == "neither" || n == "not") && j < k && lang.Relation(f.d.Tokens[j].Deprel) != "conj" {
					return true
				}
			}
		case r == "det" && w == "no": // "was no friend"
			return true
		}
	}
	t := &f.d.Tokens[i]
	if lang.Relation(t.Deprel) == "conj" && t.Head >= 0 && f.event[t.Head] >= 0 && f.tree.Child(i, "nsubj") < 0 {
		// "did not stop or turn"; a second "not" is its own.
		if cc := f.tree.Child(i, "cc"); cc >= 0 && (f.low(cc) == "or" || f.low(cc) == "nor") {
			return f.negated(t.Head)
		}
	}
	return false
}

// states are verbs of being so, beside WordNet's class of stative verbs, which
// holds many that tell of deeds ("begin", "stop", "wait").
var states = words("have own belong contain consist resemble lack possess know believe like love hate want wish hope need mean understand remember suppose seem appear look feel think prefer fear matter deserve depend cost weigh fit suit concern remain live lie stand sit exist last owe doubt dislike please involve include equal require")

// stative reports whether a verb tells how things are.
func (f *finder) stative(i int) bool {
	l := f.lemma(i)
	if l == "stand" || l == "lie" || l == "sit" || l == "look" || l == "live" {
		// "sat down", "looked up" are deeds.
		return f.tree.Child(i, "compound") < 0 && f.tree.Child(i, "advmod") < 0 && l != "look" || l == "look" && f.tree.Child(i, "xcomp") >= 0
	}
	if l == "feel" || l == "appear" {
		return f.tree.Child(i, "obj") < 0 && f.tree.Child(i, "xcomp") >= 0
	}
	if l == "have" { // "had tea", "had a fall" are deeds; who knows which
		return true
	}
	return states[l] || f.class(l, lexicon.Verb) == "verb.stative" && f.tree.Child(i, "cop") >= 0
}

func words(s string) map[string]bool {
	m := map[string]bool{}
	for w := range strings.FieldsSeq(s) {
		m[w] = true
	}
	return m
}
