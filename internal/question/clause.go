package question

import (
	"slices"
	"strings"

	"bookstead/internal/lang"
)

// clause is a finite clause with its parts, as token indices into the Doc; -1
// where a part is missing.
type clause struct {
	sentence int
	root     int // the predicate: a verb, or what somebody is
	subject  int // head of the subject, for a relative clause its antecedent
	relative int // the relative pronoun that stands for the subject
	aux      []int
	cop      int
	negation int
	object   int
	iobj     int
	passive  bool
	joined   bool // the subject is that of the clause to which "and" joins this
	there    bool // "there was a king"
	// rel is the relation by which the clause hangs in its sentence: root, conj,
	// advcl, relcl, ccomp, parataxis.
	rel string
	// spoken is the index of the saying in which the clause stands, or -1.
	spoken int
}

// rel cuts the subtype off a relation.
func rel(deprel string) string {
	r, _, _ := strings.Cut(deprel, ":")
	return r
}

func (e *engine) rel(i int) string   { return rel(e.d.Tokens[i].Deprel) }
func (e *engine) lower(i int) string { return strings.ToLower(e.d.Tokens[i].Form) }
func (e *engine) lemma(i int) string { return strings.ToLower(e.d.Tokens[i].Lemma) }

// child is the first child of i in one of these relations, -1 when none.
func (e *engine) child(i int, rels ...string) int {
	for _, k := range e.kids[i] {
		if slices.Contains(rels, e.rel(k)) {
			return k
		}
	}
	return -1
}

// subtree returns the tokens below and at i, in order.
func (e *engine) subtree(i int) []int {
	out := []int{i}
	for k := 0; k < len(out); k++ {
		out = append(out, e.kids[out[k]]...)
	}
	slices.Sort(out)
	return out
}

// clausesOf finds the finite clauses of a sentence in order of their predicates.
func (e *engine) clausesOf(si int) []*clause {
	s := e.d.Sentences[si]
	if e.d.Paragraphs[s.Paragraph].Skip || s.Last-s.First < 3 || s.Last-s.First > 90 {
		return nil
	}
	var out []*clause
	by := map[int]*clause{}
	for _, i := range e.byDepth(s) {
		if c := e.clauseAt(si, i, by); c != nil {
			by[i] = c
			out = append(out, c)
		}
	}
	slices.SortFunc(out, func(a, b *clause) int { return a.root - b.root })
	return out
}

// byDepth returns the tokens of a sentence, heads before what hangs on them.
func (e *engine) byDepth(s lang.Sentence) []int {
	var out []int
	for i := s.First; i < s.Last; i++ {
		if e.d.Tokens[i].Head < 0 {
			out = append(out, i)
		}
	}
	for k := 0; k < len(out); k++ {
		out = append(out, e.kids[out[k]]...)
	}
	return out
}

// clauseAt reads the clause whose predicate is token i, nil when there is none
// that can be asked about. by holds the clauses that stand higher.
func (e *engine) clauseAt(si, i int, by map[int]*clause) *clause {
	t := e.d.Tokens[i]
	c := &clause{sentence: si, root: i, subject: -1, relative: -1, cop: -1, negation: -1, object: -1, iobj: -1, rel: e.rel(i), spoken: e.sayingAt[i]}
	switch c.rel {
	case "root", "conj", "advcl", "ccomp", "parataxis":
	case "acl":
		if t.Deprel != "acl:relcl" {
			return nil
		}
		c.rel = "relcl"
	default:
		return nil
	}
	for _, k := range e.kids[i] {
		switch r := e.d.Tokens[k].Deprel; rel(r) {
		case "nsubj":
			if r == "nsubj:outer" {
				return nil
			}
			if c.subject < 0 {
				c.subject = k
			}
			c.passive = c.passive || strings.HasSuffix(r, ":pass")
		case "csubj":
			return nil
		case "mark":
			if e.lower(k) == "to" {
				return nil // "was to be seen" is read otherwise
			}
		case "expl":
			if e.lower(k) != "there" {
				return nil
			}
			c.there = true
		case "aux":
			c.aux = append(c.aux, k)
			c.passive = c.passive || r == "aux:pass"
		case "cop":
			c.cop = k
		case "obj":
			if c.object < 0 {
				c.object = k
			}
		case "iobj":
			c.iobj = k
		case "advmod":
			if f := e.lower(k); f == "not" || f == "n't" || f == "n’t" || f == "never" {
				c.negation = k
			}
		}
	}
	if t.UPOS != "VERB" && c.cop < 0 && !(c.rel == "conj" && t.UPOS == "ADJ") {
		return nil
	}
	if c.rel == "conj" {
		h := by[t.Head]
		switch {
		case h == nil:
			return nil
		case c.subject < 0:
			c.subject, c.joined, c.relative, c.there = h.subject, true, h.relative, h.there
			if c.cop < 0 && len(c.aux) == 0 && (t.XPOS == "VBN" || t.XPOS == "VB") && h.cop < 0 && len(h.aux) > 0 {
				c.aux, c.passive, c.negation = h.aux, h.passive, h.negation
			}
		}
		if t.UPOS != "VERB" && c.cop < 0 { // "was cold and hungry": one more word of h
			return nil
		}
		if h.rel != "root" {
			c.rel = h.rel
		}
	}
	if c.rel == "relcl" && c.subject >= 0 && !c.joined {
		switch e.lower(c.subject) {
		case "who", "which", "that":
			c.relative, c.subject = c.subject, t.Head
		default:
			return nil // "which he knew": the relative word is no subject
		}
	}
	if c.subject < 0 || !e.finite(c) {
		return nil
	}
	return c
}

// finite reports whether the clause is told in a tense that can be asked about.
func (e *engine) finite(c *clause) bool {
	v := e.first(c)
	switch e.d.Tokens[v].XPOS {
	case "VBD", "VBZ", "VBP":
		return true
	case "MD":
		return v != c.root
	}
	return false
}

// first is the verb of the clause that carries the tense.
func (e *engine) first(c *clause) int {
	if len(c.aux) > 0 {
		if c.cop >= 0 && c.cop < c.aux[0] {
			return c.cop
		}
		return c.aux[0]
	}
	if c.cop >= 0 {
		return c.cop
	}
	return c.root
}

// past reports whether the clause is told in the past.
func (e *engine) past(c *clause) bool {
	switch x := e.d.Tokens[e.first(c)]; x.XPOS {
	case "VBD":
		return true
	case "MD":
		switch strings.ToLower(x.Form) {
		case "could", "would", "might", "should":
			return true
		}
	}
	return false
}

// marks returns the words that join the clause at i to its sentence, in small
// letters ("because", "so that", "when"), and their tokens.
func (e *engine) marks(i int) (words string, toks []int) {
	var w []string
	for _, k := range e.kids[i] {
		switch e.rel(k) {
		case "mark":
			w, toks = append(w, e.lower(k)), append(toks, k)
			for _, j := range e.kids[k] {
				if e.rel(j) == "fixed" {
					w, toks = append(w, e.lower(j)), append(toks, j)
				}
			}
		case "advmod":
			switch f := e.lower(k); f {
			case "when", "whenever", "where", "wherever", "how", "why":
				w, toks = append(w, f), append(toks, k)
			}
		}
	}
	return strings.Join(w, " "), toks
}

// connective words tie a sentence to the one before and mean nothing alone.
var connective = set("then so thus therefore also too however now indeed moreover besides meanwhile thereupon next")

// predicate returns the tokens of the clause behind its subject: auxiliaries,
// verb and what belongs to them, without the subtrees headed by drop and
// without what is loosely joined (other main clauses, names called, asides) or
// stands before the subject. With short, clauses and explanations that hang on
// it are left out too.
func (e *engine) predicate(c *clause, short bool, drop ...int) []int {
	return e.predicateWith(c, short, false, drop...)
}

// predicateWith is predicate; with chain it goes on through the clauses that
// "and" joins and that have the same subject.
func (e *engine) predicateWith(c *clause, short, chain bool, drop ...int) []int {
	skip := map[int]bool{}
	cut := func(i int) {
		for _, t := range e.subtree(i) {
			skip[t] = true
		}
	}
	for _, k := range drop {
		if k >= 0 {
			cut(k)
		}
	}
	start := e.first(c)
	if c.cop > c.root {
		return nil // "afraid was he": too old an order to put right
	}
	for _, k := range e.kids[c.root] {
		if e.sayingAt[k] != e.sayingAt[c.root] || strings.HasSuffix(e.lower(k), "self") && e.rel(k) == "obl" && len(e.kids[k]) == 0 {
			cut(k)
			continue
		}
		switch r := e.rel(k); r {
		case "nsubj", "expl", "parataxis", "vocative", "discourse", "dislocated", "mark", "cc", "list":
			cut(k)
		case "conj":
			if (e.clausal(k) || c.cop < 0) && !(chain && e.d.Tokens[k].UPOS == "VERB" && e.d.Tokens[k].XPOS == e.d.Tokens[c.root].XPOS && e.child(k, "nsubj", "parataxis", "expl") < 0 && e.sayingAt[k] == e.sayingAt[c.root]) {
				cut(k)
			}
		case "advcl":
			if short || k < start {
				cut(k)
			}
		case "obl", "advmod", "obj":
			if f := e.subtree(k)[0]; short && k > c.root && r == "obl" && f > 0 && e.d.Tokens[f-1].Form == "," {
				cut(k) // an aside
				continue
			}
			before := k < start && (r != "advmod" || k < c.subject || c.subject < 0)
			if before || r == "advmod" && connective[e.lower(k)] && len(e.kids[k]) == 0 && !(e.lower(k) == "so" && k+1 == c.root && (c.cop >= 0 || c.passive)) {
				cut(k)
			}
		case "punct":
			if k < start {
				skip[k] = true
			}
		}
	}
	var out []int
	for _, t := range e.subtree(c.root) {
		if !skip[t] && t != c.relative {
			out = append(out, t)
		}
	}
	if len(c.aux) > 0 && !slices.Contains(out, c.aux[0]) { // those of the clause that this is joined to
		lead := slices.Clone(c.aux)
		if c.negation >= 0 && !slices.Contains(out, c.negation) {
			lead = slices.Insert(lead, 1, c.negation)
		}
		out = append(lead, out...)
	}
	if short {
		out = e.shorter(out, c.root)
	}
	return e.tidy(out)
}

// shorter leaves out relative clauses, appositions and clauses that hang on
// parts of what stands under root.
func (e *engine) shorter(toks []int, root int) []int {
	skip := map[int]bool{}
	for _, t := range toks {
		if t == root {
			continue
		}
		if r := e.d.Tokens[t].Deprel; r == "acl:relcl" || rel(r) == "appos" || rel(r) == "parataxis" || rel(r) == "advcl" {
			for _, k := range e.subtree(t) {
				skip[k] = true
			}
			if h := e.d.Tokens[t].Head; rel(r) == "advcl" && h >= 0 && h != root && e.rel(h) == "advmod" {
				for _, k := range e.subtree(h) { // "as fast" of "as fast as she could"
					skip[k] = true
				}
			}
		}
	}
	var out []int
	for _, t := range toks {
		if !skip[t] {
			out = append(out, t)
		}
	}
	return out
}

// clausal reports whether the coordinate at k is a clause of its own rather
// than one more word: "and ran away", not "and poor".
func (e *engine) clausal(k int) bool {
	return e.d.Tokens[k].UPOS == "VERB" || e.child(k, "nsubj", "cop", "aux") >= 0
}

// tidy drops punctuation at the ends and commas beside a gap.
func (e *engine) tidy(toks []int) []int {
	punct := func(t int) bool { return e.d.Tokens[t].UPOS == "PUNCT" && e.d.Tokens[t].Form != "-" }
	for len(toks) > 0 && punct(toks[0]) {
		toks = toks[1:]
	}
	for len(toks) > 0 && (punct(toks[len(toks)-1]) || e.rel(toks[len(toks)-1]) == "cc") {
		toks = toks[:len(toks)-1]
	}
	var out []int
	for i, t := range toks {
		if e.d.Tokens[t].Form == "," && (toks[i-1] != t-1 || toks[i+1] != t+1) {
			continue
		}
		out = append(out, t)
	}
	return out
}

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

func set(words string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(words) {
		m[w] = true
	}
	return m
}

func lowerFirst(s string) string {
	if s == "" || s == "I" || strings.HasPrefix(s, "I ") || strings.HasPrefix(s, "I’") {
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
