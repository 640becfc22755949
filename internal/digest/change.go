package digest

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lang/events"
)

// turns are deeds after which something is different, with how much they weigh
// (our choice, from reading children's novels).
var turns = map[string]float64{
	"die": 3, "kill": 3, "marry": 3, "be born": 3, "drown": 3, "murder": 3, "bury": 2,
	"leave": 1, "arrive": 1, "return": 1, "escape": 2, "run away": 2, "go away": 2, "come back": 2, "come home": 2, "go home": 1.5, "move": 0.5, "depart": 1, "disappear": 2, "vanish": 2,
	"find": 1, "discover": 2, "lose": 1.5, "win": 2, "steal": 2, "break": 1, "destroy": 2, "burn": 1, "save": 2, "rescue": 2, "free": 2, "catch": 1, "capture": 2,
	"become": 0.6, "grow up": 2, "recover": 2, "fall ill": 2, "be ill": 1.5, "heal": 2, "sell": 2, "buy": 1.5, "inherit": 2, "promise": 1.5, "swear": 1.5, "vow": 2, "decide": 1.5, "resolve": 1.5, "agree": 1,
	"confess": 2, "forgive": 2, "quarrel": 1.5, "give up": 1.5, "refuse": 1, "reveal": 2, "betray": 2, "melt": 1.5, "shrink": 1, "wake up": 0.5, "change": 1, "begin": 0.3,
}

// says reports whether a verb brings in speech ("he returned").
func (w *writer) says(e *lang.Event) bool {
	at := w.d.Tokens[e.Verb].Start
	for _, q := range w.d.Quotations {
		if q.Start > e.End+200 {
			break
		}
		if q.Cue.Start <= at && at < q.Cue.End {
			return true
		}
	}
	return false
}

// idle reports whether such a deed changes nothing after all: what is found or
// left is a state ("found herself alone"), what is lost or recovered is breath or
// temper, what is buried is a face.
func (w *writer) idle(e *lang.Event) bool {
	o := e.Object
	switch e.Lemma {
	case "find":
		return o.None() || w.d.Tokens[o.Head].UPOS == "PRON"
	case "leave", "lose", "catch":
		return !o.None() && (w.d.Tokens[o.Head].UPOS == "PRON" || mood(w.d.Tokens[o.Head].Lemma))
	case "recover", "bury", "break", "change", "burn":
		return !o.None() && mood(w.d.Tokens[o.Head].Lemma)
	}
	return false
}

func mood(lemma string) bool {
	switch lemma {
	case "breath", "temper", "patience", "voice", "face", "head", "balance", "courage", "sight", "mind", "way", "silence", "fancy", "eye", "clothes", "dress", "color", "colour", "subject":
		return true
	}
	return false
}

// changed lists what is different at the chapter's end.
func (w *writer) changed(who []Person) []Line {
	var out []Line
	for _, p := range who {
		if p.New && p.Times >= 5 && p.acts >= 3 && !anybody(p.Name) && w.firstChapter() < w.span.Start {
			out = append(out, w.line(fmt.Sprintf("%s comes into the story.", p.Name), lang.Span(p.Place.Span), fmt.Sprintf("named or meant %d times here, and not before", p.Times)))
		}
	}
	scenes := w.scenes()
	if first, last := w.d.Member(scenes[0].Place), w.d.Member(scenes[len(scenes)-1].Place); first != nil && last != nil && first.ID != last.ID {
		at := scenes[len(scenes)-1].Where
		if at.End <= at.Start {
			at = lang.Span{Start: scenes[len(scenes)-1].Start, End: scenes[len(scenes)-1].Start}
		}
		out = append(out, w.line(fmt.Sprintf("It begins at %s and ends at %s.", first.Name, last.Name), at))
	}
	return append(out, w.turned(mostChange-len(out))...)
}

// anybody reports whether a name could be that of several people: such a one is
// likely somebody met before under a name.
func anybody(name string) bool {
	f := strings.Fields(strings.ToLower(name))
	if len(f) == 0 || f[0] == "a" || f[0] == "an" {
		return true
	}
	switch f[len(f)-1] {
	case "girl", "boy", "man", "woman", "child", "children", "lady", "gentleman", "fellow", "creature", "people", "person", "mother", "father", "party", "company", "thing":
		return f[0] == "the" || len(f) == 1
	}
	return false
}

// firstChapter is where the story begins: nobody is new there.
func (w *writer) firstChapter() int {
	for _, c := range w.b.Chapters {
		if c.Kind.Told() {
			return c.Body
		}
	}
	return 0
}

// turned are the weightiest deeds that change something, in order.
func (w *writer) turned(n int) []Line {
	type turn struct {
		c     choice
		lemma string
	}
	var all []turn
	first, last := events.InSpan(w.d, w.span)
	for i := range events.Story(w.d) {
		e := &w.d.Events[i]
		if i < first || i >= last || e.Earlier {
			continue
		}
		if weight := turns[e.Lemma]; weight > 0 && (e.Agent != "" || e.Patient != "") && (e.Main || weight >= 2) && !w.says(e) && !w.idle(e) {
			all = append(all, turn{choice{e.Sentence, e, weight + 2*e.Importance}, e.Lemma})
		}
	}
	slices.SortStableFunc(all, func(a, b turn) int { return cmp.Compare(b.c.score, a.c.score) })
	var picked []choice
	for _, t := range all {
		if len(picked) < n && t.c.score >= 1.5 && !slices.ContainsFunc(picked, func(c choice) bool { return c.sentence == t.c.sentence }) {
			picked = append(picked, t.c)
		}
	}
	slices.SortFunc(picked, func(a, b choice) int { return a.sentence - b.sentence })
	var out []Line
	for _, c := range picked {
		l := w.tell(c)
		l.Why = []string{"“" + c.event.Lemma + "” changes something"}
		out = append(out, l)
	}
	return out
}
