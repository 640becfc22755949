package events

import (
	"math"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// What an event's parts add to its importance; together they can reach 1. The
// sizes are ours, chosen by reading what comes first in six novels; Reasons
// give them back in words.
const (
	forActor    = 0.20 // times how much the book is about who acts
	forMeeting  = 0.12 // somebody of the cast acts on another
	forChange   = 0.10 // a deed that changes something
	forDeed     = 0.12 // a deed such as stories turn on
	forLink     = 0.14 // the text states its cause, purpose or outcome
	forTurn     = 0.14 // words of turning stand by it
	forReturn   = 0.12 // what it is done to returns later in the book
	forMain     = 0.08 // told in a main clause
	forFirst    = 0.10 // the first time that these two meet
	forFeelings = 0.06 // it moves somebody
)

// turning are words with which tellers mark a turn.
var turning = words("suddenly finally instantly immediately unexpectedly alas abruptly unfortunately luckily fortunately")

// deeds are verbs of what stories turn on: finding and losing, coming and going
// for good, saving and harming, deciding and confessing. Our list.
var deeds = words("find discover lose die kill save rescue escape break steal hide marry vanish disappear attack wound confess forgive win drown burn fight promise decide refuse free unlock catch capture trap recognize recognise reveal betray defeat destroy melt faint adopt inherit bury")

// turns are phrases with which tellers mark a turn.
var turns = [][]string{{"at", "last"}, {"at", "once"}, {"all", "at", "once"}, {"all", "of", "a", "sudden"}, {"for", "the", "first", "time"}, {"never", "again"}, {"no", "longer"}, {"in", "an", "instant"}, {"just", "then"}, {"at", "that", "moment"}, {"at", "that", "very", "moment"}, {"to", "her", "surprise"}, {"to", "his", "surprise"}, {"from", "that", "day"}, {"that", "instant"}}

// weigh fills Importance and Reasons.
func (f *finder) weigh() {
	most := 1
	mentions := map[string]int{}
	for i := range f.d.Cast {
		m := &f.d.Cast[i]
		if m.Kind == lang.Place {
			continue
		}
		mentions[m.ID] = len(m.Mentions)
		most = max(most, len(m.Mentions))
	}
	linked := make([]lang.LinkKind, len(f.out))
	for _, l := range f.linked {
		switch l.Kind {
		case lang.Causes, lang.Serves:
			linked[l.From], linked[l.To] = l.Kind, l.Kind
		case lang.IfThen, lang.Although, lang.Precedes:
			for _, k := range []int{l.From, l.To} {
				if linked[k] == "" {
					linked[k] = l.Kind
				}
			}
		}
	}
	later := f.later()
	met := map[[2]string]bool{}
	for k := range f.out {
		e := &f.out[k]
		w := 0.0
		add := func(x float64, why string) {
			w += x
			if why != "" {
				e.Reasons = append(e.Reasons, why)
			}
		}
		if n := mentions[e.Agent]; n > 0 {
			share := math.Log1p(float64(n)) / math.Log1p(float64(most))
			why := ""
			if share > 0.7 {
				why = "one of the main characters acts"
			}
			add(forActor*share, why)
		}
		other := e.Patient
		if other == "" {
			other = e.Recipient.Member
		}
		if e.Agent != "" && other != "" && e.Agent != other && mentions[e.Agent] > 0 && mentions[other] > 0 {
			pair := [2]string{min(e.Agent, other), max(e.Agent, other)}
			if e.Saying < 0 && !met[pair] {
				met[pair] = true
				add(forFirst, "the first time that one does something to the other")
			}
			add(forMeeting, "two of the cast are in it")
		}
		if class := f.class(f.lemma(e.Verb), lexicon.Verb); !e.Stative {
			switch class {
			case "verb.change", "verb.motion", "verb.contact", "verb.possession", "verb.creation", "verb.competition", "verb.social", "verb.consumption", "verb.body":
				if !light[f.lemma(e.Verb)] {
					add(forChange, "")
				}
			case "verb.emotion":
				add(forFeelings, "it moves somebody")
			}
		} else if f.d.Tokens[e.Verb].UPOS == "ADJ" && mentions[e.Agent] > 0 && f.moved(f.lemma(e.Verb)) {
			add(forFeelings, "it tells what somebody feels")
		}
		if !e.Stative && deeds[f.lemma(e.Verb)] && (e.Agent != "" || e.Patient != "") {
			add(forDeed, "stories turn on such deeds")
		}
		switch {
		case linked[k] == lang.Causes || e.Cause != (lang.Span{}):
			add(forLink, "the text states a cause or an outcome")
		case linked[k] == lang.Serves:
			add(forLink, "the text states a purpose")
		case linked[k] != "":
			add(forLink/3, "")
		}
		if t := f.turn(e); t != "" {
			add(forTurn, "a word of turning: "+t)
		}
		x := 0.0
		for _, r := range []lang.Role{e.Object, e.Place, e.Recipient} {
			if !r.None() {
				x = max(x, later[r.Head])
			}
		}
		if x > 0 {
			why := ""
			if x > 0.6 {
				why = "what it is about returns later"
			}
			add(forReturn*x, why)
		}
		if x := f.named(e, later); x > 0 {
			add((forReturn+forDeed)*x, "it tells what was there, and that returns later")
		}
		if e.Main {
			add(forMain, "")
		}
		// What is not told as having happened counts for less, and so does what is
		// merely so.
		if e.Saying >= 0 {
			w *= 0.6
		}
		switch e.Modality {
		case lang.Told, lang.Said:
		case lang.Ordered, lang.Wished:
			w *= 0.8
		default:
			w *= 0.6
		}
		if e.Stative {
			w *= 0.8
		}
		if e.Negated {
			w *= 0.9
		}
		if e.Subject.None() && e.Object.None() {
			w *= 0.5
		}
		e.Importance = math.Round(1000*min(1, w)) / 1000
	}
}

// named says, 0 to 1, how much "It was the knob of a door" is of what returns
// later: its predicate, or what the predicate is of.
func (f *finder) named(e *lang.Event, later map[int]float64) float64 {
	if !e.Main || e.Saying >= 0 || e.Subject.None() || f.low(e.Subject.Head) != "it" || f.d.Tokens[e.Verb].UPOS != "NOUN" {
		return 0
	}
	x := later[e.Verb]
	for k := range f.tree.Children(e.Verb) {
		if lang.Relation(f.d.Tokens[k].Deprel) == "nmod" {
			x = max(x, later[k])
		}
	}
	return x
}

// light verbs say little by themselves.
var light = words("have do get take make give go come put let keep turn hold begin")

// moved reports whether an adjective tells of a feeling, by WordNet's relations
// to nouns of feeling.
func (f *finder) moved(adjective string) bool {
	if c, ok := f.classes["feeling:"+adjective]; ok {
		return c != ""
	}
	found := ""
	senses := f.lex.Senses(adjective, lexicon.Adjective)
	for _, s := range senses[:min(2, len(senses))] {
		for _, d := range f.lex.Derivations(s) {
			if d.Lexname == "noun.feeling" {
				found = d.Lexname
			}
		}
	}
	f.classes["feeling:"+adjective] = found
	return found != ""
}

// later says for each noun token, 0 to 1, how much its word is met again in
// what follows and how little elsewhere: a key, not a hand.
func (f *finder) later() map[int]float64 {
	left := map[string]int{}
	for i := range f.d.Tokens {
		if f.d.Tokens[i].UPOS == "NOUN" {
			left[f.lemma(i)]++
		}
	}
	total := left
	left = map[string]int{}
	usual := map[string]float64{}
	out := map[int]float64{}
	for i := range f.d.Tokens {
		if f.d.Tokens[i].UPOS != "NOUN" {
			continue
		}
		w := f.lemma(i)
		left[w]++
		n := total[w] - left[w]
		if n < 3 {
			continue
		}
		z, ok := usual[w]
		if !ok {
			z, _ = f.lex.BookZipf(w)
			usual[w] = z
		}
		// How often it comes in this book against how often in any: per thousand
		// million words, as Zipf values are.
		here := math.Log10(float64(total[w]) / float64(len(f.d.Tokens)) * 1e9)
		if x := (here - z) / 1.5; x > 0 {
			out[i] = min(1, x)
		}
	}
	return out
}

// turn is the word of turning by the clause, "" if none.
func (f *finder) turn(e *lang.Event) string {
	for k := range f.tree.Children(e.Verb) {
		if w := f.low(k); turning[w] {
			return w
		}
	}
	first, last := f.d.TokenAt(e.Start), f.d.TokenAt(e.End)
	for i := max(0, first-4); i < min(last, first+40); i++ {
		if f.saying[i] != e.Saying {
			continue
		}
		for _, t := range turns {
			n := 0
			for n < len(t) && i+n < len(f.d.Tokens) && f.low(i+n) == t[n] {
				n++
			}
			if n == len(t) {
				if v := f.nearest(i); v == e.Verb {
					return strings.Join(t, " ")
				}
			}
		}
	}
	return ""
}

// nearest is the predicate that token i hangs under.
func (f *finder) nearest(i int) int {
	for n := 0; f.event[i] < 0 && f.d.Tokens[i].Head >= 0 && n < 12; n++ {
		i = f.d.Tokens[i].Head
	}
	return i
}
