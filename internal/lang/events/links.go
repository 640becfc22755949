package events

import (
	"cmp"
	"slices"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// links finds what the text states of how events hang together.
func (f *finder) links() {
	for k := range f.out {
		e := &f.out[k]
		i := e.Verb
		t := &f.d.Tokens[i]
		switch r := lang.Relation(t.Deprel); {
		case t.Head < 0:
			f.across(k)
		case r == "advcl" || r == "ccomp" && f.degree(t.Head) != "":
			f.adverbial(k)
		case r == "conj" || r == "parataxis":
			f.joined(k)
		case (r == "ccomp" || r == "xcomp") && f.event[t.Head] >= 0:
			f.complement(k)
		}
		f.nominal(e)
	}
	slices.SortStableFunc(f.linked, func(a, b lang.Link) int { return cmp.Or(a.To-b.To, a.From-b.From) })
}

func (f *finder) link(kind lang.LinkKind, from, to, cueFirst, cueLast int) {
	if from == to || from < 0 || to < 0 {
		return
	}
	l := lang.Link{Kind: kind, From: from, To: to}
	if cueFirst >= 0 {
		l.Cue = lang.Span{Start: f.d.Tokens[cueFirst].Start, End: f.d.Tokens[max(cueFirst, cueLast)].End}
	}
	f.linked = append(f.linked, l)
	switch kind {
	case lang.Causes:
		// What makes somebody do it is no answer to "why" by its words alone.
		if e := &f.out[to]; e.Cause == (lang.Span{}) && f.out[from].Sentence == e.Sentence && !(cueFirst < 0 && f.d.Tokens[f.out[to].Verb].Head == f.out[from].Verb) {
			e.Cause = f.stated(from, to)
		}
	case lang.Serves:
		if e := &f.out[from]; e.Purpose == (lang.Span{}) {
			e.Purpose = f.stated(to, from)
		}
	}
}

// stated is the words of a clause that gives a reason for another: all that
// hangs on it but that other, without the word that joins them.
func (f *finder) stated(reason, other int) lang.Span {
	i := f.out[reason].Verb
	governs := f.below(f.out[other].Verb, i)
	drop := func(c int) bool {
		t := &f.d.Tokens[c]
		switch r := lang.Relation(t.Deprel); {
		case r == "cc", r == "advcl" && governs:
			return true
		case r == "mark" && f.low(c) != "to":
			return true
		case r == "conj" || r == "parataxis":
			return f.below(f.out[other].Verb, c) || r == "parataxis"
		case f.out[other].Verb == c:
			return true
		}
		return false
	}
	return f.tree.Span(i, drop)
}

// below reports whether token i is c or hangs on it.
func (f *finder) below(i, c int) bool {
	for n := 0; i >= 0 && n < 64; n++ {
		if i == c {
			return true
		}
		i = f.d.Tokens[i].Head
	}
	return false
}

// governor is the event that a clause hangs on, -1.
func (f *finder) governor(i int) int {
	for h, n := f.d.Tokens[i].Head, 0; h >= 0 && n < 8; h, n = f.d.Tokens[h].Head, n+1 {
		if f.event[h] >= 0 {
			return int(f.event[h])
		}
	}
	return -1
}

// degree is "so", "too", "such" or "enough" where it measures token i.
func (f *finder) degree(i int) string {
	for k := range f.tree.Children(i) {
		switch w := f.low(k); w {
		case "so", "too", "enough", "such":
			if r := lang.Relation(f.d.Tokens[k].Deprel); r == "advmod" || r == "det" || r == "amod" {
				return w
			}
		}
	}
	return ""
}

// purpose reports whether the clause at i says what the one it hangs on is done
// for.
func (f *finder) purpose(i int) bool {
	t := &f.d.Tokens[i]
	if lang.Relation(t.Deprel) != "advcl" || t.Head < 0 {
		return false
	}
	switch m := f.marker(i); m {
	case "in order", "so as":
		return true
	case "so that":
		return f.auxiliary(i) == lang.Supposed || f.tree.Child(i, "aux") >= 0
	case "to":
		if t.XPOS != "VB" || f.event[t.Head] < 0 || f.degree(t.Head) != "" || f.tree.Child(t.Head, "cop") >= 0 || f.lemma(t.Head) == "go" && f.lemma(i) == "sleep" {
			return false // "too tired to go", "glad to see"
		}
		// What is done for a purpose is done on purpose, and by somebody.
		if e := f.event[t.Head]; e >= 0 && !f.out[e].Subject.None() {
			if h := f.out[e].Subject.Head; f.d.Tokens[h].UPOS == "NOUN" && !f.living(h) {
				return false
			}
		}
		if f.event[t.Head] >= 0 && f.out[f.event[t.Head]].Stative && f.lemma(t.Head) != "want" {
			return false
		}
		switch f.lemma(t.Head) {
		case "wake", "awake", "live", "grow", "prove", "happen", "turn", "seem", "surprise", "startle", "rejoice":
			return false // "woke to find"
		}
		return true
	}
	return false
}

// adverbial links a clause that hangs on another.
func (f *finder) adverbial(k int) {
	i := f.out[k].Verb
	g := f.governor(i)
	if g < 0 {
		return
	}
	h := f.d.Tokens[i].Head
	mark := f.marker(i)
	at := f.tree.Child(i, "mark")
	last := at
	if at >= 0 && strings.Contains(mark, " ") {
		if f.low(at+1) == strings.Fields(mark)[1] {
			last = at + 1
		} else if at > 0 && f.low(at-1) == strings.Fields(mark)[0] {
			at, last = at-1, at
		}
	}
	if f.purpose(i) {
		f.link(lang.Serves, g, k, at, last)
		return
	}
	switch deg := f.degree(h); {
	case (deg == "so" || deg == "such") && (mark == "that" || mark == "so that" || mark == "") && k > g && f.finite(i):
		f.link(lang.Causes, g, k, at, last) // "so tired that she slept"
		return
	case (deg == "too" || deg == "enough") && mark == "to":
		if f.event[h] >= 0 {
			f.link(lang.Causes, g, k, at, last)
			if deg == "too" {
				f.out[k].Negated = true
			}
		}
		return
	}
	when := f.wh(i)
	switch mark {
	case "because", "seeing", "inasmuch":
		f.link(lang.Causes, k, g, at, last)
	case "for":
		if f.finite(i) {
			f.link(lang.Causes, k, g, at, last)
		}
	case "since", "now that":
		if f.out[g].Earlier || f.perfect(f.out[g].Verb) || mark == "since" && !f.finite(i) {
			f.link(lang.Precedes, k, g, at, last)
		} else {
			f.link(lang.Causes, k, g, at, last)
		}
	case "as":
		if f.finite(i) {
			if i < h && f.out[k].Earlier && !f.out[g].Earlier { // "As he had lost his way, he …"
				f.link(lang.Causes, k, g, at, last)
			} else if f.out[k].Stative && !f.progressive(i) && !f.out[g].Stative {
				if i < h && !pleasing[f.lemma(i)] { // "did as he pleased" gives no reason
					f.link(lang.Causes, k, g, at, last)
				}
			} else if !f.out[k].Stative {
				f.link(lang.Overlaps, k, g, at, last)
			}
		}
	case "so that", "so", "that":
		if mark != "that" && f.finite(i) {
			f.link(lang.Causes, g, k, at, last) // "so that" of what came of it
		}
	case "after", "once", "as soon":
		f.link(lang.Precedes, k, g, at, last)
	case "before", "till", "until", "ere":
		f.link(lang.Precedes, g, k, at, last)
	case "while", "whilst":
		f.link(lang.Overlaps, k, g, at, last)
	case "if", "unless", "even if":
		f.link(lang.IfThen, k, g, at, last)
	case "though", "although", "even though":
		f.link(lang.Although, k, g, at, last)
	case "when", "whenever":
		f.link(lang.Precedes, k, g, at, last)
	case "":
		switch {
		case when >= 0 && f.finite(i):
			f.link(lang.Precedes, k, g, when, when)
		case i < h && f.being(i), f.d.Tokens[i].XPOS == "VBG" && i < h && f.minded(i):
			f.link(lang.Causes, k, g, -1, -1) // "Hearing the bell, she ran"
		case i < h && f.tree.Child(i, "aux") >= 0 && f.low(f.tree.Child(i, "aux")) == "having":
			f.link(lang.Precedes, k, g, -1, -1)
		case f.d.Tokens[i].XPOS == "VBG":
			f.link(lang.Overlaps, k, g, -1, -1)
		}
	}
}

// wh is the "when" or "while" that opens a clause as an adverb, -1.
func (f *finder) wh(i int) int {
	for k := range f.tree.Children(i) {
		if w := f.low(k); (w == "when" || w == "whenever") && k < i && lang.Relation(f.d.Tokens[k].Deprel) == "advmod" {
			return k
		}
	}
	return -1
}

// being reports whether a clause tells how somebody is by "being": "Being tired,
// he slept".
func (f *finder) being(i int) bool {
	c := f.tree.Child(i, "cop")
	return c >= 0 && f.low(c) == "being"
}

// minded reports whether a participle tells what somebody perceives, knows or
// feels: a reason for what follows.
func (f *finder) minded(i int) bool {
	switch f.lemma(i) {
	case "see", "hear", "notice", "find", "know", "think", "fear", "feel", "perceive", "remember", "hope", "wish", "want", "believe", "discover", "observe", "suppose", "fancy", "dread", "realize", "realise", "recognize", "expect":
		return true
	}
	return false
}

func (f *finder) perfect(i int) bool {
	for k := range f.tree.Children(i) {
		if lang.Relation(f.d.Tokens[k].Deprel) == "aux" && f.lemma(k) == "have" {
			return true
		}
	}
	return false
}

func (f *finder) progressive(i int) bool {
	return f.d.Tokens[i].XPOS == "VBG"
}

// joined links a clause joined to the one before it: "so", "for", "and then".
func (f *finder) joined(k int) {
	i := f.out[k].Verb
	h := f.d.Tokens[i].Head
	g := f.governor(i)
	if h < 0 || g < 0 || f.saying[i] != f.saying[f.out[g].Verb] {
		return
	}
	// The clause just before it in a chain of several is the one that it follows.
	for c := range f.tree.Children(h) {
		if c < i && f.event[c] >= 0 && lang.Relation(f.d.Tokens[c].Deprel) == "conj" {
			g = int(f.event[c])
		}
	}
	for c := range f.tree.Children(i) {
		if c > i {
			break
		}
		r := lang.Relation(f.d.Tokens[c].Deprel)
		if r != "cc" && r != "advmod" && r != "mark" || f.low(c) == "so" && f.low(c+1) == "you" && f.low(c+2) == "see" {
			continue
		}
		switch w := f.low(c); {
		case w == "so" && r != "advmod", w == "so" && c+1 < len(f.d.Tokens) && f.firstOf(i, c), w == "therefore", w == "consequently", w == "hence", w == "thus" && r == "advmod":
			f.link(lang.Causes, g, k, c, c)
			return
		case w == "for" && r != "advmod":
			f.link(lang.Causes, k, g, c, c)
			return
		case w == "then" || w == "afterwards" || w == "afterward" || w == "presently":
			f.link(lang.Precedes, g, k, c, c)
			return
		}
	}
}

// firstOf reports whether c stands at the head of the clause of i, behind "and"
// at most, and does not measure the word behind it.
func (f *finder) firstOf(i, c int) bool {
	for k := range f.tree.Children(i) {
		if k >= c {
			break
		}
		if r := lang.Relation(f.d.Tokens[k].Deprel); r != "cc" && r != "punct" {
			return false
		}
	}
	return true
}

// complement links what is said, thought, wanted or ordered to who does so; and
// what is made to happen to what makes it.
func (f *finder) complement(k int) {
	i := f.out[k].Verb
	h := f.d.Tokens[i].Head
	g := int(f.event[h])
	switch l := f.lemma(h); {
	case (l == "make" || l == "cause" || l == "force" || l == "oblige" || l == "compel") && f.tree.Child(h, "obj") >= 0 || l == "make" && f.tree.Child(i, "nsubj") >= 0:
		f.link(lang.Causes, g, k, -1, -1)
	case governs[l] != lang.Told:
		f.link(lang.Reporting, g, k, -1, -1)
	}
}

// openings are words at the head of a sentence that give the one before it as
// its reason.
var openings = [][]string{{"so"}, {"therefore"}, {"consequently"}, {"accordingly"}, {"hence"}, {"and", "so"}, {"that", "was", "why"}, {"that", "is", "why"}, {"that", "'s", "why"}, {"this", "was", "why"}, {"for", "this", "reason"}, {"for", "that", "reason"}, {"on", "that", "account"}, {"as", "a", "result"}, {"because", "of", "this"}, {"because", "of", "that"}}

// across links the main event of a sentence to that of the sentence before it.
func (f *finder) across(k int) {
	e := &f.out[k]
	s := f.d.Sentences[e.Sentence]
	if e.Sentence == 0 || f.d.Sentences[e.Sentence-1].Paragraph != s.Paragraph {
		return
	}
	prev := -1
	p := f.d.Sentences[e.Sentence-1]
	for i := p.First; i < p.Last; i++ {
		if f.d.Tokens[i].Deprel == "root" && f.event[i] >= 0 {
			prev = int(f.event[i])
		}
	}
	if prev < 0 || f.saying[f.out[prev].Verb] != f.saying[e.Verb] {
		return
	}
	at := s.First
	for at < s.Last && f.d.Tokens[at].UPOS == "PUNCT" {
		at++
	}
	for _, o := range openings {
		n := 0
		for n < len(o) && at+n < s.Last && f.low(at+n) == o[n] {
			n++
		}
		if n < len(o) {
			continue
		}
		if o[len(o)-1] == "so" {
			// "So she went" gives a reason; "So tired was she", "So far", "So he was" do not.
			next := at + n
			if next >= s.Last || lang.Relation(f.d.Tokens[at+n-1].Deprel) == "advmod" && f.d.Tokens[at+n-1].Head != e.Verb {
				return
			}
			if u := f.d.Tokens[next].UPOS; u == "AUX" || u == "ADV" || u == "ADJ" || f.d.Tokens[next].Form == "," {
				return
			}
		}
		f.link(lang.Causes, prev, k, at, at+n-1)
		return
	}
	if f.low(at) == "for" && f.finite(e.Verb) && (f.d.Tokens[at].Deprel == "cc" || f.d.Tokens[at].Deprel == "mark") {
		f.link(lang.Causes, k, prev, at, at)
	}
	if w := f.low(at); w == "then" || w == "afterwards" || w == "next" && f.d.Tokens[at].UPOS == "ADV" {
		f.link(lang.Precedes, prev, k, at, at)
	}
}

// nominal finds a cause that is told by a noun: "because of the rain", "cried
// for joy".
func (f *finder) nominal(e *lang.Event) {
	if e.Cause != (lang.Span{}) {
		return
	}
	for k := range f.tree.Children(e.Verb) {
		if lang.Relation(f.d.Tokens[k].Deprel) != "obl" {
			continue
		}
		c := f.tree.Child(k, "case")
		if c < 0 {
			continue
		}
		switch p := f.low(c) + " " + f.low(c+1); {
		case p == "because of" || p == "on account" || p == "owing to" || p == "thanks to" || p == "in consequence":
			e.Cause = f.tree.Span(k, func(j int) bool { return lang.Relation(f.d.Tokens[j].Deprel) == "case" })
			return
		case (f.low(c) == "for" || f.low(c) == "from" || f.low(c) == "with" && trembling[f.lemma(e.Verb)]) && f.d.Tokens[k].UPOS == "NOUN" && !e.Stative:
			if cl := f.class(f.lemma(k), lexicon.Noun); cl == "noun.feeling" || hardships[f.lemma(k)] {
				e.Cause = f.tree.Span(k, func(j int) bool { return lang.Relation(f.d.Tokens[j].Deprel) == "case" })
				return
			}
		}
	}
}

var (
	pleasing  = words("please like wish want choose will")
	trembling = words("tremble shake cry weep laugh sob shiver blush scream shriek jump dance faint gasp glow beam roar howl")
	hardships = words("hunger cold want thirst fatigue weariness pain exhaustion fright terror fear joy shame pity weakness")
)
