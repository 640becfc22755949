package figures

import (
	"fmt"
	"strings"

	"bookstead/internal/lexicon"
)

// vehicles are the classes of noun that something else is likened to, and how
// surely a comparison with one is a figure.
var vehicles = map[string]float64{"noun.animal": 0.9, "noun.plant": 0.85, "noun.phenomenon": 0.85, "noun.artifact": 0.75, "noun.object": 0.8, "noun.food": 0.8, "noun.substance": 0.85, "noun.person": 0.6,
	"noun.time": 0.6, "noun.event": 0.55, "noun.location": 0.5, "noun.shape": 0.5, "noun.feeling": 0.4, "noun.group": 0.5, "noun.body": 0.45, "noun.communication": 0.5, "noun.cognition": 0.5, "noun.act": 0.4, "noun.state": 0.4}

// notVehicles are nouns behind "like" that compare with nothing.
var notVehicles = words("way thing kind sort manner place time rest other one body people fellow folk lot bit name fashion reason case deal matter word look sound noise something anything nothing everything everybody anybody somebody nobody")

// likeAny are adjectives with which a comparison stays within one kind.
var likeAny = words("other same different real true usual ordinary former similar")

// seeming are verbs by which a likeness is seen or heard, and may be meant as it
// stands: "it sounded like a carriage".
var seeming = words("look sound smell taste feel seem")

// like finds "NOUN/VERB like NOUN".
func (f *finder) like(i int) {
	t := f.d.Tokens
	if f.low(i) != "like" || t[i].UPOS == "VERB" || t[i].Head < 0 {
		return
	}
	head := t[i].Head
	if f.rel(i) != "case" && f.rel(i) != "mark" || head <= i {
		return
	}
	score, ok := f.vehicle(head)
	if !ok {
		return
	}
	first, last := f.phrase(head)
	if first <= i {
		first = i + 1
	}
	if last < head || last-first > 12 {
		return
	}
	governor := t[head].Head
	predicate := f.tree.Child(head, "cop") >= 0
	tenor := -1
	ground := -1
	switch {
	case predicate:
		tenor = f.tree.Child(head, "nsubj")
	case governor < 0 || governor >= head:
		return
	case f.rel(head) == "nmod" || f.rel(head) == "acl":
		tenor = governor
	default:
		ground = governor
		tenor = f.tree.Child(governor, "nsubj")
		if tenor < 0 && f.rel(governor) == "conj" {
			tenor = f.tree.Child(t[governor].Head, "nsubj")
		}
		if t[governor].UPOS == "VERB" && seeming[f.lemma(governor)] {
			score *= 0.8
		}
		if l := f.lemma(governor); l == "feel" && t[head].XPOS == "VBG" || l == "something" || l == "nothing" || l == "anything" {
			return
		}
	}
	// "with eyes like jewels" likens the eyes, whatever the tree says.
	if n := i - 1; ground >= 0 && n > f.s.First && t[n].UPOS == "NOUN" && f.rel(n) == "obl" && t[n].Head == ground {
		switch c := f.tree.Child(n, "case"); f.low(c) {
		case "with", "in", "of", "by":
			tenor, ground = n, -1
		}
	}
	// In "harness him like a horse" it is he, in "follow him like a dog" it is
	// not: where there is an object, who is likened is left open.
	if ground >= 0 && (f.tree.Child(ground, "obj") >= 0 || t[ground].XPOS == "VBN") {
		tenor = -1
	}
	tenor = f.antecedent(tenor)
	score = f.unlike(tenor, head, score)
	start := i
	if ground >= 0 && i-ground <= 8 && ground < i {
		start = ground
	} else if predicate {
		if c := f.tree.Child(head, "cop"); c >= 0 && c < i && i-c <= 4 {
			start = c
		}
	} else if tenor >= 0 && tenor < i && i-tenor <= 3 {
		start, _ = f.phrase(tenor)
		if start > i {
			start = tenor
		}
	}
	if start == i && score < 0.7 {
		return
	}
	f.add(Simile, start, last, score, f.compare(tenor, first, last, ground))
}

// vehicle says how surely a comparison with the noun at i is a figure; ok is
// false when it is none.
func (f *finder) vehicle(i int) (score float64, ok bool) {
	t := &f.d.Tokens[i]
	if t.UPOS != "NOUN" || f.refs[i].Member != nil || notVehicles[f.lemma(i)] {
		return 0, false
	}
	det := f.tree.Child(i, "det")
	switch {
	case det >= 0:
		switch w := f.low(det); w {
		case "a", "an":
		case "the", "some":
			if t.XPOS == "NNS" {
				score -= 0.05
			}
			score -= 0.1
		default: // this, that, any, every, no, other
			return 0, false
		}
	case t.XPOS == "NNS", f.tree.Child(i, "nummod") >= 0:
	default: // a mass noun ("like fire") or one with a possessive
		score -= 0.05
	}
	for k := range f.tree.Children(i) {
		switch {
		case f.d.Tokens[k].XPOS == "PRP$", f.d.Tokens[k].Deprel == "nmod:poss": // "like his father"
			score -= 0.4
		case likeAny[f.lemma(k)]:
			return 0, false
		}
	}
	c := f.class(f.lemma(i), lexicon.Noun)
	v, known := vehicles[c]
	if !known {
		return 0, false
	}
	return score + v, true
}

// unlike lowers the score where both sides are of one kind: a boy like a sailor
// may be meant as it stands, a girl like a flower is not.
func (f *finder) unlike(tenor, vehicle int, score float64) float64 {
	if tenor < 0 {
		return score - 0.05
	}
	c := f.class(f.lemma(vehicle), lexicon.Noun)
	if m := f.refs[tenor].Member; m != nil || f.isPerson(tenor) {
		if c == "noun.person" {
			return score - 0.12
		}
		return score
	}
	if f.d.Tokens[tenor].UPOS == "NOUN" {
		if a := f.class(f.lemma(tenor), lexicon.Noun); a == c {
			if f.lemma(tenor) == f.lemma(vehicle) {
				return 0
			}
			return score - 0.2
		}
	}
	return score
}

// antecedent is what a relative pronoun stands for.
func (f *finder) antecedent(i int) int {
	if i < 0 {
		return i
	}
	switch f.low(i) {
	case "which", "that", "who":
		for v := f.d.Tokens[i].Head; v >= 0; v = f.d.Tokens[v].Head {
			if f.rel(v) == "acl" && f.d.Tokens[v].Head >= 0 && f.d.Tokens[v].Head < i {
				return f.d.Tokens[v].Head
			}
			if f.rel(v) == "root" {
				break
			}
		}
	}
	return i
}

func (f *finder) isPerson(i int) bool {
	t := &f.d.Tokens[i]
	switch t.UPOS {
	case "PROPN":
		return true
	case "PRON":
		switch f.low(i) {
		case "i", "you", "he", "she", "we", "they", "him", "her", "them", "me", "us", "who":
			return true
		}
		return false
	case "NOUN":
		return f.class(f.lemma(i), lexicon.Noun) == "noun.person"
	}
	return false
}

// compare says what is compared with what.
func (f *finder) compare(tenor, first, last, ground int) string {
	what := f.text(first, last)
	who := ""
	if tenor >= 0 {
		if m := f.refs[tenor].Member; m != nil && f.d.Tokens[tenor].UPOS == "PRON" && f.refs[tenor].Confidence >= 0.5 {
			who = m.Name
		} else if f.d.Tokens[tenor].UPOS != "PRON" {
			a, z := f.phrase(tenor)
			for z >= tenor && z >= first-1 && tenor < first { // "flowers", not "flowers like bells"
				z--
			}
			for z > tenor && f.d.Tokens[z].UPOS != "NOUN" && f.d.Tokens[z].UPOS != "PROPN" {
				z--
			}
			if z >= tenor && z-a <= 5 {
				who = lowerFirst(f.text(a, z), f.d.Tokens[a].UPOS)
			}
		}
	}
	how := ""
	if ground >= 0 && (f.d.Tokens[ground].UPOS == "VERB" || f.d.Tokens[ground].UPOS == "ADJ") && !light[f.lemma(ground)] {
		switch f.d.Tokens[ground].UPOS {
		case "ADJ":
			how = ", to show how " + f.low(ground)
		default:
			how = ": both are said to " + f.lemma(ground)
		}
	}
	if who == "" {
		if strings.HasPrefix(how, ":") {
			how = ""
		}
		return fmt.Sprintf("It compares with %s%s.", what, how)
	}
	return fmt.Sprintf("It compares %s with %s%s.", who, what, how)
}

var light = words("be have do go come get make look seem feel sound")

func lowerFirst(s, upos string) string {
	if s == "" || upos == "PROPN" || strings.HasPrefix(s, "I ") {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// notDegrees are words between "as" and "as" that compare nothing.
var notDegrees = words("well soon long far much many little few such often same good likely regards quickly early late near possible fast hard best big")

// as finds "as ADJ as NOUN" and "ADJ as NOUN".
func (f *finder) as(i int) {
	t := f.d.Tokens
	if f.low(i) != "as" || i == f.s.First || t[i].Head <= i || f.rel(i) != "case" && f.rel(i) != "mark" && f.rel(i) != "advmod" {
		return
	}
	head := t[i].Head
	adj := i - 1
	if u := t[adj].UPOS; u != "ADJ" && u != "ADV" {
		return
	}
	d := f.low(adj)
	double := f.low(adj-1) == "as" || f.low(adj-1) == "so"
	if f.tree.Child(head, "nsubj") >= 0 || f.tree.Child(head, "cop") >= 0 || f.tree.Child(head, "aux") >= 0 {
		return // "as tall as her brother was"
	}
	score, ok := f.vehicle(head)
	if !ok || t[head].Head != adj && t[head].Head != t[adj].Head {
		return
	}
	if !double && (t[adj].UPOS == "ADV" || f.class(d, lexicon.Adjective) == "") {
		return
	}
	switch {
	case notDegrees[d] && (d != "good" || !double) && d != "quickly" && d != "fast" && d != "hard" && d != "big":
		return
	case !double:
		score -= 0.1 // "white as snow", but "famous as a sailor"
		if c := f.class(f.lemma(head), lexicon.Noun); c == "noun.person" || c == "noun.act" || c == "noun.cognition" || c == "noun.communication" {
			return
		}
	default:
		score += 0.1
	}
	first, last := f.phrase(head)
	if first <= i {
		first = i + 1
	}
	if last < head || last-first > 12 {
		return
	}
	tenor := f.tree.Child(adj, "nsubj")
	if tenor < 0 {
		switch h := t[adj].Head; {
		case h >= 0 && f.rel(adj) == "amod":
			tenor = h
		case h >= 0:
			tenor = f.tree.Child(h, "nsubj")
		}
	}
	score = f.unlike(tenor, head, score)
	start := adj
	if double {
		start = adj - 1
	}
	f.add(Simile, start, last, min(score, 0.97), f.compare(tenor, first, last, adj))
}

// asIf finds "as if it were a living thing", "as though the wind were angry":
// likened to what it cannot be.
func (f *finder) asIf(i int) {
	if f.low(i) != "as" || f.low(i+1) != "if" && f.low(i+1) != "though" {
		return
	}
	for k := i + 2; k < min(f.s.Last, i+9); k++ {
		cop := f.tree.Child(k, "cop")
		if cop < 0 || cop < i || f.low(cop) != "were" && f.low(cop) != "was" {
			continue
		}
		subject := f.tree.Child(k, "nsubj")
		if subject < 0 || subject > k {
			return
		}
		score, ok := f.vehicle(k)
		if !ok {
			return
		}
		score = f.unlike(subject, k, score-0.15)
		first, last := f.phrase(k)
		if first <= cop {
			first = cop + 1
		}
		f.add(Simile, i, max(last, k), score, f.compare(subject, first, max(last, k), -1))
		return
	}
}
