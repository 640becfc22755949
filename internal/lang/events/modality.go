package events

import (
	"strings"

	"bookstead/internal/lang"
)

// governs says how verbs tell what hangs on them as a complement. Verbs that
// are not here leave it as it is ("began to run", "made him laugh", "saw her go").
var governs = func() map[string]lang.Modality {
	m := map[string]lang.Modality{}
	for mod, list := range map[lang.Modality]string{
		lang.Wished:   "want wish hope long try attempt intend mean plan like love hate prefer expect decide determine resolve promise agree offer desire yearn choose prepare endeavor endeavour seek strive aim hesitate propose threaten fear dread struggle wait learn",
		lang.Ordered:  "tell order command beg ask bid request urge advise warn implore entreat invite persuade call beseech forbid",
		lang.Said:     "say answer reply cry exclaim declare think believe suppose tell remark explain whisper announce add observe fancy imagine insist shout murmur mutter assure continue admit return repeat claim remember know consider swear write read",
		lang.Supposed: "seem appear pretend need deserve dare",
		lang.Asked:    "wonder inquire enquire ask",
	} {
		for w := range strings.FieldsSeq(list) {
			if old, twice := m[w]; twice && old > mod {
				continue
			}
			m[w] = mod
		}
	}
	return m
}()

// modality says how the event at token i is told.
func (f *finder) modality(i int) lang.Modality {
	m := f.inner(i, 0)
	if m == lang.Told && f.saying[i] >= 0 {
		return lang.Said
	}
	return m
}

// inner is the modality within the speech, or the telling, that the clause
// stands in.
func (f *finder) inner(i, depth int) lang.Modality {
	t := &f.d.Tokens[i]
	r := lang.Relation(t.Deprel)
	mark := f.marker(i)
	switch {
	case mark == "as if" || mark == "as though" || mark == "lest":
		return lang.Supposed
	case (mark == "if" || mark == "unless" || mark == "provided" || mark == "suppose") && r == "advcl":
		return lang.Conditional
	case mark == "if" || mark == "whether":
		return lang.Asked
	}
	if depth == 0 || r != "advcl" {
		if f.command(i) && f.event[i] >= 0 && !f.question(i) && (f.saying[i] >= 0 || t.Deprel == "root") {
			return lang.Ordered
		}
		if (r == "root" || f.saying[i] >= 0 && (r == "parataxis" || r == "ccomp") && !sameZone(f, i, t.Head)) && f.question(i) {
			return lang.Asked
		}
	}
	if m := f.auxiliary(i); m != lang.Told {
		if m == lang.Supposed && f.conditioned(i) {
			return lang.Conditional
		}
		return m
	}
	if t.Head < 0 || depth > 10 {
		return lang.Told
	}
	h := t.Head
	same := sameZone(f, i, h)
	switch {
	case (r == "xcomp" || r == "ccomp") && f.event[h] >= 0:
		l := f.lemma(h)
		m, ok := governs[l]
		to := mark == "to" || t.XPOS == "VB"
		switch {
		case ok && !same: // the words of a quotation
			return lang.Told
		case ok && m == lang.Said && to && (l == "tell"):
			return lang.Ordered
		case ok && m == lang.Ordered && !to:
			m = lang.Said
			if l == "ask" {
				m = lang.Asked
			}
			return m
		case ok && m == lang.Wished && t.XPOS == "VBG" && (l == "like" || l == "love" || l == "hate"): // "liked running"
			return f.inner(h, depth+1)
		case ok:
			return m
		case f.tree.Child(h, "cop") >= 0 && to: // "was glad to see", "was ready to go"
			switch l {
			case "glad", "sorry", "able", "surprised", "astonished", "pleased", "delighted", "quick", "happy", "lucky":
				return f.inner(h, depth+1)
			}
			return lang.Supposed
		case l == "go" && to && f.d.Tokens[h].XPOS == "VBG": // "was going to"
			return lang.Supposed
		case (l == "have" || l == "use" || l == "ought" || l == "need") && to:
			if l == "use" || l == "have" { // "used to go"; "had to go" mostly went
				return f.inner(h, depth+1)
			}
			return lang.Supposed
		}
		if same {
			return f.inner(h, depth+1)
		}
	case r == "conj" && f.event[h] >= 0 && same:
		if f.finite(i) && f.tree.Child(i, "nsubj") >= 0 {
			if t.Deprel == "conj" && f.d.Tokens[h].Deprel == "root" {
				return lang.Told
			}
		}
		m := f.inner(h, depth+1)
		if m == lang.Ordered && !f.command(i) {
			return lang.Told
		}
		return m
	case r == "advcl" && f.event[h] >= 0:
		if f.purpose(i) {
			return lang.Wished
		}
		if !f.finite(i) && same {
			return f.inner(h, depth+1)
		}
	case t.Deprel == "acl" && mark == "to":
		return lang.Supposed
	}
	return lang.Told
}

func sameZone(f *finder, a, b int) bool { return b < 0 || f.saying[a] == f.saying[b] }

// auxiliary is what the modal verbs of a clause make of it.
func (f *finder) auxiliary(i int) lang.Modality {
	for k := range f.tree.Children(i) {
		if lang.Relation(f.d.Tokens[k].Deprel) != "aux" {
			continue
		}
		switch f.low(k) {
		case "may", "might", "should", "must", "ought", "would", "'d", "will", "'ll", "wo", "shall", "shalt", "wilt", "wouldst", "shouldst":
			if f.low(k) == "'d" && f.d.Tokens[k].Lemma == "have" {
				continue
			}
			return lang.Supposed
		case "can", "could", "ca", "canst", "couldst":
			switch f.lemma(i) { // "could see" is seeing
			case "see", "hear", "feel", "smell", "taste", "find", "remember", "understand":
				continue
			}
			return lang.Supposed
		}
	}
	return lang.Told
}

// conditioned reports whether an "if" hangs on the clause.
func (f *finder) conditioned(i int) bool {
	for k := range f.tree.Children(i) {
		if lang.Relation(f.d.Tokens[k].Deprel) == "advcl" {
			if m := f.marker(k); m == "if" || m == "unless" {
				return true
			}
		}
	}
	return false
}

// question reports whether the sentence, or the speech within it, that the
// clause ends in closes with a question mark.
func (f *finder) question(i int) bool {
	s := f.d.Sentences[f.d.SentenceAt(f.d.Tokens[i].Start)]
	for k := i + 1; k < s.Last; k++ {
		if f.saying[k] != f.saying[i] {
			return false
		}
		switch w := f.d.Tokens[k].Form; {
		case strings.HasPrefix(w, "?"):
			return true
		case w == "." || w == "!" || w == ";":
			return false
		}
	}
	return s.Type == lang.Question
}

// marker is the word or words that open a clause: "because", "so that", "to".
func (f *finder) marker(i int) string {
	first := -1
	for k := range f.tree.Children(i) {
		if r := lang.Relation(f.d.Tokens[k].Deprel); r == "mark" && k < i {
			first = k
			break
		}
	}
	if first < 0 {
		return ""
	}
	w := f.low(first)
	two := w + " " + f.low(first+1)
	switch two {
	case "so that", "in order", "as if", "as though", "even though", "even if", "so as", "as soon", "now that", "in case", "rather than":
		return two
	}
	if first > 0 { // the first word may hang elsewhere
		switch two = f.low(first-1) + " " + w; two {
		case "so that", "as if", "as though", "even though", "even if", "just as", "now that", "except that", "order to", "so as":
			if two == "order to" {
				return "in order"
			}
			return two
		}
	}
	return w
}
