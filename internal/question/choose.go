package question

import (
	"math"
	"slices"
	"strings"

	"bookstead/internal/kit"
	"bookstead/internal/passage"
)

// spares is how many more questions than asked are offered.
const spares = 10

// repeats is what is left of the chance of a candidate that asks nearly what was
// asked already.
const repeats = 0.7

// questions drafts the set of a lesson: those to print, n of them, and spares.
func (e *engine) questions(p passage.Passage, r ranking, n int) []kit.Draft {
	if p.First >= p.Last || n <= 0 {
		return nil
	}
	all := e.candidates(p.First, p.Last, false)
	gathered := e.gathered(all)
	all = append(slices.DeleteFunc(all, func(x candidate) bool {
		return !e.sound(&x) || x.form == "say" || x.form == "say-ask" || e.lex.Warning(x.q, x.full) != ""
	}), gathered...)
	for i := range all {
		x := &all[i]
		x.score = e.worth(p, r, x)
		x.slight = e.slight(x)
	}
	slices.SortStableFunc(all, func(a, b candidate) int {
		if a.first != b.first {
			return a.first - b.first
		}
		return a.last - b.last
	})
	return e.drafts(p, choose(all, p.First, p.Last, n))
}

// worth is how much a question is worth asking: how likely experts would ask
// it, in the logarithm of the odds, with what the story hangs on, and with the
// grade's share of literal and inferential questions.
func (e *engine) worth(p passage.Passage, r ranking, x *candidate) float64 {
	chance := 0.05
	if x.c.root >= 0 {
		chance = r.chance(e.features(x, x.c.sentence-p.First, p.Last-p.First))
	}
	s := math.Log(chance / (1 - chance))
	if w, ok := e.weight[x.c.root]; ok {
		s += 3 * w
	}
	if x.c.subject >= 0 {
		if y := e.refs[x.c.subject]; y.entity >= 0 && e.entities[y.entity].member != nil {
			s += min(1, float64(e.entities[y.entity].count)/100)
		}
	}
	if inferential(x.kind) {
		s += 0.35 * float64(p.Grade-4)
	}
	switch group, _, _ := strings.Cut(x.form, "-"); group {
	case "who", "what":
		s -= 1.2
	case "where", "when":
		s -= 0.5
	case "obj", "appos", "name":
		s -= 0.3
	}
	return s + bonus[x.form]
}

// bonus puts right where the experts of fairy tales are a poor guide to what a
// class of a novel should be asked (our judgement, from reading drafts).
var bonus = map[string]float64{"gathered": 2, "changed": 3, "why-because": 1, "why-to": 0.5, "why-so": 1, "why-for": 1, "told-to": 0.5, "like": -0.5, "many": -1, "when-clause": -1.5, "do-with": -0.7, "happened-as": -0.7, "do-as": -0.7, "feel-before": -0.5, "why-seeing": -0.5}

func inferential(kind string) bool {
	return kind == askCause || kind == askFeeling || kind == askOutcome || kind == askPrediction
}

// choose takes n candidates spread over the sentences [first, last): they are cut
// into n stretches, and each gives its best; kinds and patterns that were taken
// often count for less, and no two ask nearly the same. What is left over is
// spare. The result is in story order.
func choose(all []candidate, first, last, n int) []candidate {
	taken := map[string]int{}
	used := make([]bool, len(all))
	var out []candidate
	take := func(lo, hi int, slight bool) bool {
		best, bestScore := -1, 0.0
		for i, x := range all {
			if used[i] || x.slight != slight || x.first < lo || x.first >= hi {
				continue
			}
			s := x.score - 0.7*float64(taken[x.kind]) - 0.7*float64(taken[x.form])
			if (best < 0 || s > bestScore) && !alike(out, x) {
				best, bestScore = i, s
			}
		}
		if best < 0 {
			return false
		}
		used[best] = true
		taken[all[best].kind]++
		taken[all[best].form]++
		all[best].chosen = true
		out = append(out, all[best])
		return true
	}
	for k := range n {
		take(first+k*(last-first)/n, first+(k+1)*(last-first)/n, false)
	}
	for len(out) < n && (take(first, last, false) || take(first, last, true)) {
	}
	for asked := len(out); len(out) < asked+spares && (take(first, last, false) || take(first, last, true)); {
		out[len(out)-1].chosen = false
	}
	slices.SortStableFunc(out, func(a, b candidate) int { return a.first - b.first })
	return out
}

// alike reports whether a question stands on the same clause or sentence as one
// that was taken, shares most of its words with it, or gives it away.
func alike(taken []candidate, x candidate) bool {
	words := strings.Fields(strings.ToLower(x.q))
	for _, t := range taken {
		if t.c.root == x.c.root || t.c.sentence == x.c.sentence {
			return true
		}
		other := strings.Fields(strings.ToLower(t.q))
		same := 0
		for _, w := range words {
			if slices.Contains(other, w) {
				same++
			}
		}
		if 10*same >= 8*min(len(words), len(other)) || gives(x.q, t.a) || gives(t.q, x.a) {
			return true
		}
	}
	return false
}

// gives reports whether a question holds another's answer of three words or more.
func gives(q, answer string) bool {
	return len(strings.Fields(answer)) > 2 && strings.Contains(strings.ToLower(q), strings.ToLower(answer))
}

var whys = map[string]string{
	askCause: "The text states the reason.", askOutcome: "The text tells what came of it.", askFeeling: "The text tells how someone feels.",
	askAction: "Something is done or said here.", askSetting: "The text says where or when it happens.", askCharacter: "It asks who it is.",
	askPrediction: "What follows answers it.",
}

func (e *engine) drafts(p passage.Passage, chosen []candidate) []kit.Draft {
	var out []kit.Draft
	for _, x := range chosen {
		d := draft(kit.Question, p, x.first, x.last, kit.Content{Head: x.q, Answer: x.full, Note: x.kind}, x.score, whys[x.kind])
		if x.form == "gathered" || x.form == "changed" {
			d.Why = "The answer is gathered from several places."
		}
		d.Spare = !x.chosen
		out = append(out, d)
	}
	return out
}

// bestFirst orders candidates by their chance and by how little they repeat of
// what stands before them, at most n of them.
func bestFirst(all []candidate, n int) []candidate {
	words := make([][2][]string, len(all))
	left := make([]float64, len(all))
	for i, x := range all {
		words[i] = [2][]string{rougeWords(x.q), rougeWords(x.a)}
		left[i] = x.score
	}
	var out []candidate
	used := make([]bool, len(all))
	for len(out) < n && len(out) < len(all) {
		best := -1
		for i := range all {
			if !used[i] && (best < 0 || left[i] > left[best]) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		used[best] = true
		out = append(out, all[best])
		for i := range all {
			if all[i].q == all[best].q {
				used[i] = true // one answer is enough
			}
			if !used[i] && rouge(words[i][0], words[best][0]) >= 0.5 && rouge(words[i][1], words[best][1]) >= 0.5 {
				left[i] *= repeats
			}
		}
	}
	return out
}

// prose reports whether a sentence is telling that can be asked about: no
// heading, verse or letter, whose "I" is somebody else.
func (e *engine) prose(si int) bool {
	switch e.d.Paragraphs[e.d.Sentences[si].Paragraph].Kind {
	case "heading", "caption", "note", "scenebreak", "verse", "letter", "quote":
		return false
	}
	return true
}

// slight reports whether a sound candidate asks for a part of an event on which
// little hangs. The teller of a story is not in the cast, so that nothing is
// known of what hangs on his deeds.
func (e *engine) slight(x *candidate) bool {
	if x.c.subject >= 0 && e.narrator >= 0 && e.d.Tokens[x.c.subject].Form == "I" {
		return false
	}
	w, ok := e.weight[x.c.root]
	group, _, _ := strings.Cut(x.form, "-")
	switch group {
	case "who", "what", "where", "when", "obj", "happened", "do", "xcomp", "ccomp":
		if ok && w < slightest {
			return true
		}
	}
	switch group {
	case "who", "where", "obj":
		return len(strings.Fields(x.q)) < 6 && len(strings.Fields(x.a)) < 5
	}
	return false
}

// slightest is the least importance of an event that is asked for its parts.
const slightest = 0.34
