package question

import (
	"slices"
	"strings"

	"bookstead/internal/lang"
)

// clause is a finite clause with its parts, as token indices into the Doc.
type clause struct {
	sentence int
	root     int // the predicate
	subject  int // head of the subject
	aux      []int
	cop      int // -1 when the predicate is a verb
	object   int // -1
	children map[int][]int
	first    int // tokens of the sentence [first, last)
	last     int
	member   *lang.Member // of the subject, nil when not in the cast
}

// clauses finds the main clause of a told sentence, nil when the sentence is
// not one that a question can be made of.
func (e *engine) clause(si int) *clause {
	s := e.d.Sentences[si]
	n := s.Last - s.First
	if n < 5 || n > 55 || s.Type != lang.Statement && s.Type != "" {
		return nil
	}
	c := &clause{sentence: si, root: -1, subject: -1, cop: -1, object: -1, children: map[int][]int{}, first: s.First, last: s.Last}
	quoted := 0
	for i := s.First; i < s.Last; i++ {
		if e.quoted[i] {
			quoted++
		}
		h := e.d.Tokens[i].Head
		if h < 0 {
			c.root = i
		} else {
			c.children[h] = append(c.children[h], i)
		}
	}
	if c.root < 0 || quoted > 0 {
		return nil
	}
	for _, k := range c.children[c.root] {
		switch rel(e.d.Tokens[k].Deprel) {
		case "nsubj":
			if c.subject >= 0 {
				return nil
			}
			c.subject = k
		case "aux":
			c.aux = append(c.aux, k)
		case "cop":
			c.cop = k
		case "obj":
			c.object = k
		case "expl", "csubj":
			return nil
		}
	}
	root := e.d.Tokens[c.root]
	if c.subject < 0 || c.subject > c.root || c.cop < 0 && root.UPOS != "VERB" {
		return nil
	}
	if !e.finite(c) {
		return nil
	}
	c.member = e.who[c.subject]
	return c
}

// finite reports whether the clause is told in a tense that can be asked about.
func (e *engine) finite(c *clause) bool {
	if len(c.aux) > 0 {
		return e.d.Tokens[c.aux[0]].UPOS == "AUX"
	}
	v := c.root
	if c.cop >= 0 {
		v = c.cop
	}
	x := e.d.Tokens[v].XPOS
	return x == "VBD" || x == "VBZ" || x == "VBP"
}

// rel cuts the subtype off a relation.
func rel(deprel string) string {
	r, _, _ := strings.Cut(deprel, ":")
	return r
}

// subtree returns the tokens below and at i, in order.
func (c *clause) subtree(i int) []int {
	out := []int{i}
	for k := 0; k < len(out); k++ {
		out = append(out, c.children[out[k]]...)
	}
	slices.Sort(out)
	return out
}

// whole reports whether the tokens are one unbroken stretch.
func whole(toks []int) bool { return len(toks) > 0 && toks[len(toks)-1]-toks[0] == len(toks)-1 }

// say writes tokens as they stand in the text. Gaps between them become one
// space; punctuation at either end is left out.
func (e *engine) say(toks []int) string {
	for len(toks) > 0 && e.d.Tokens[toks[0]].UPOS == "PUNCT" {
		toks = toks[1:]
	}
	for len(toks) > 0 && e.d.Tokens[toks[len(toks)-1]].UPOS == "PUNCT" && !strings.ContainsAny(e.d.Tokens[toks[len(toks)-1]].Form, "”’)") {
		toks = toks[:len(toks)-1]
	}
	var b strings.Builder
	for k, t := range toks {
		if k > 0 && (toks[k-1] != t-1 || e.d.SpaceAfter(toks[k-1])) {
			b.WriteByte(' ')
		}
		b.WriteString(e.d.Tokens[t].Form)
	}
	s := strings.Join(strings.Fields(b.String()), " ")
	return strings.ReplaceAll(strings.ReplaceAll(s, " ,", ","), " ;", ";")
}

// name says who the subject is, by the name the book uses; ok is false when it
// is a pronoun that was not resolved, or too long to repeat.
func (e *engine) name(c *clause) (s string, ok bool) {
	t := e.d.Tokens[c.subject]
	toks := c.subtree(c.subject)
	if t.UPOS == "PRON" {
		if c.member == nil {
			return "", false
		}
		return c.member.Name, true
	}
	if t.UPOS == "PROPN" && c.member != nil && len(toks) <= 3 {
		return e.say(toks), true
	}
	if len(toks) > 6 || !whole(toks) || len(toks) == 1 && t.UPOS != "PROPN" && t.XPOS != "NNS" {
		return "", false
	}
	for _, k := range toks {
		if x := e.d.Tokens[k]; x.UPOS == "PRON" && x.XPOS != "PRP$" || rel(x.Deprel) == "acl" || rel(x.Deprel) == "appos" {
			return "", false
		}
	}
	s = e.say(toks)
	if t.UPOS != "PROPN" && toks[0] == c.first {
		s = lowerFirst(s)
	}
	return s, true
}

func lowerFirst(s string) string {
	if s == "" || strings.HasPrefix(s, "I ") || s == "I" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// resolved writes tokens with pronouns that the cast resolves replaced by
// names, each name once; ok is false when a third-person pronoun stays open
// that is not the subject's own.
func (e *engine) resolved(toks []int, subject *lang.Member) (s string, ok bool) {
	var b strings.Builder
	named := map[string]bool{}
	if subject != nil {
		named[subject.ID] = true
	}
	for k, t := range toks {
		if k > 0 && (toks[k-1] != t-1 || e.d.SpaceAfter(toks[k-1])) {
			b.WriteByte(' ')
		}
		tok := e.d.Tokens[t]
		form := tok.Form
		if tok.UPOS == "PRON" && (tok.XPOS == "PRP" || tok.XPOS == "PRP$") {
			switch strings.ToLower(form) {
			case "he", "she", "him", "her", "his", "they", "them", "their":
				m := e.who[t]
				if m == nil && subject == nil {
					return "", false
				}
				if m != nil && !named[m.ID] {
					named[m.ID] = true
					form = m.Name
					if tok.XPOS == "PRP$" {
						form += "’s"
					}
				} else if m == nil && len(named) > 1 {
					return "", false
				}
			case "i", "me", "my", "we", "us", "our", "you", "your":
				return "", false
			}
		}
		b.WriteString(form)
	}
	s = strings.Join(strings.Fields(b.String()), " ")
	s = strings.Trim(s, " ,;:—-")
	return strings.ReplaceAll(s, " ,", ","), s != ""
}
