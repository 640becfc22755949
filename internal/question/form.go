package question

import (
	"slices"
	"strings"
)

// without returns the tokens but for those given.
func without(toks []int, drop ...int) []int {
	var out []int
	for _, t := range toks {
		if !slices.Contains(drop, t) {
			out = append(out, t)
		}
	}
	return out
}

// predicate returns the tokens of the clause behind its subject: auxiliaries,
// verb and what belongs to them, without drop, without what is loosely joined
// (other main clauses, names called, interjections, asides).
func (e *engine) predicate(c *clause, drop []int) []int {
	var skip []int
	for _, k := range c.children[c.root] {
		switch rel(e.d.Tokens[k].Deprel) {
		case "nsubj", "conj", "cc", "parataxis", "vocative", "discourse", "dislocated", "punct":
			if rel(e.d.Tokens[k].Deprel) == "punct" && k > c.root {
				continue
			}
			skip = append(skip, c.subtree(k)...)
		case "advcl", "advmod", "obl":
			if k < c.subject { // an opening stands before the subject; it is left out
				skip = append(skip, c.subtree(k)...)
			}
		}
	}
	skip = append(skip, drop...)
	var out []int
	for _, t := range c.subtree(c.root) {
		if !slices.Contains(skip, t) {
			out = append(out, t)
		}
	}
	// Trailing commas and full stops, and a comma before what was dropped.
	for len(out) > 0 && e.d.Tokens[out[len(out)-1]].UPOS == "PUNCT" {
		out = out[:len(out)-1]
	}
	return e.tidyCommas(out)
}

// tidyCommas drops a comma whose neighbour on either side was dropped.
func (e *engine) tidyCommas(toks []int) []int {
	var out []int
	for i, t := range toks {
		if e.d.Tokens[t].Form == "," && (i == 0 || i == len(toks)-1 || toks[i-1] != t-1 || toks[i+1] != t+1) {
			continue
		}
		out = append(out, t)
	}
	return out
}

// statement says the clause as a sentence without its full stop: the subject by
// name, then the predicate without drop.
func (e *engine) statement(c *clause, subject string, drop []int) (string, bool) {
	pred, ok := e.resolved(e.predicate(c, drop), c.member)
	if !ok || len(strings.Fields(pred)) < 2 {
		return "", false
	}
	return upperFirst(subject) + " " + pred, true
}

// question asks word of the clause: the auxiliary before the subject, or a form
// of "do". Drop is the part asked for.
func (e *engine) question(c *clause, word, subject string, drop []int) string {
	pred := e.predicate(c, drop)
	first := ""
	switch {
	case len(c.aux) > 0:
		first = e.d.Tokens[c.aux[0]].Form
		pred = without(pred, c.aux[0])
	case c.cop >= 0:
		first = e.d.Tokens[c.cop].Form
		pred = without(pred, c.cop)
	}
	if strings.HasPrefix(strings.ToLower(first), "n") && len(first) <= 3 { // a clitic
		return ""
	}
	rest, ok := "", false
	if first == "" {
		t := e.d.Tokens[c.root]
		switch t.XPOS {
		case "VBD":
			first = "did"
		case "VBZ":
			first = "does"
		case "VBP":
			first = "do"
		default:
			return ""
		}
		i := slices.Index(pred, c.root)
		if i < 0 {
			return ""
		}
		before, okB := "", true
		if i > 0 {
			before, okB = e.resolved(pred[:i], c.member)
		}
		after, okA := "", true
		if i+1 < len(pred) {
			after, okA = e.resolved(pred[i+1:], c.member)
		}
		rest, ok = strings.Join(strings.Fields(before+" "+t.Lemma+" "+after), " "), okB && okA
	} else if len(pred) > 0 {
		rest, ok = e.resolved(pred, c.member)
	}
	if !ok {
		return ""
	}
	return word + " " + strings.ToLower(first) + " " + subject + " " + rest + "?"
}

// feel asks how someone feels, with what the sentence says of the occasion.
func (e *engine) feel(c *clause, subject string) string {
	aux := "did"
	if x := e.d.Tokens[c.cop].XPOS; x == "VBZ" || x == "VBP" {
		aux = "does"
	}
	for _, k := range c.children[c.root] {
		if rel(e.d.Tokens[k].Deprel) == "advcl" && e.marked(c, k, "when", "after", "as") {
			if s, ok := e.resolved(c.subtree(k), c.member); ok {
				return "How " + aux + " " + subject + " feel " + lowerFirst(s) + "?"
			}
		}
	}
	return ""
}
