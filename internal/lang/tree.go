package lang

import (
	"cmp"
	"slices"
	"strings"
)

// Tree finds the dependents of tokens, which the tokens themselves do not know.
type Tree struct {
	doc   *Doc
	first []int32 // first dependent of a token, -1
	next  []int32 // next dependent of the same head, -1
}

// NewTree reads the heads of all tokens. It needs LayerTrees.
func NewTree(d *Doc) *Tree {
	t := &Tree{doc: d, first: make([]int32, len(d.Tokens)), next: make([]int32, len(d.Tokens))}
	for i := range t.first {
		t.first[i], t.next[i] = -1, -1
	}
	for i := len(d.Tokens) - 1; i >= 0; i-- {
		if h := d.Tokens[i].Head; h >= 0 && h < len(t.first) && h != i {
			t.next[i], t.first[h] = t.first[h], int32(i)
		}
	}
	return t
}

// Children yields the dependents of token i, in order.
func (t *Tree) Children(i int) func(yield func(int) bool) {
	return func(yield func(int) bool) {
		for k := t.first[i]; k >= 0; k = t.next[k] {
			if !yield(int(k)) {
				return
			}
		}
	}
}

// Child returns the first dependent of token i with one of these relations
// (without subtypes), -1 when there is none.
func (t *Tree) Child(i int, relations ...string) int {
	for k := range t.Children(i) {
		if slices.Contains(relations, Relation(t.doc.Tokens[k].Deprel)) {
			return k
		}
	}
	return -1
}

// Subtree appends the token i and all below it to dst, in order of the text.
func (t *Tree) Subtree(dst []int, i int) []int {
	from := len(dst)
	dst = append(dst, i)
	for k := from; k < len(dst); k++ {
		for c := range t.Children(dst[k]) {
			dst = append(dst, c)
		}
	}
	slices.Sort(dst[from:])
	return dst
}

// Span returns the bytes of the subtree of token i without the punctuation at
// its ends, and without the dependents that leave tells to leave out (nil: none).
// Where that breaks the subtree in two, it is the stretch around i.
func (t *Tree) Span(i int, leave func(child int) bool) Span {
	toks := []int{i}
	for k := 0; k < len(toks); k++ {
		for c := range t.Children(toks[k]) {
			if k > 0 || leave == nil || !leave(c) {
				toks = append(toks, c)
			}
		}
	}
	slices.Sort(toks)
	a := slices.Index(toks, i)
	z := a
	for a > 0 && t.near(toks[a-1], toks[a]) {
		a--
	}
	for z+1 < len(toks) && t.near(toks[z], toks[z+1]) {
		z++
	}
	for a < z && t.doc.Tokens[toks[a]].UPOS == "PUNCT" {
		a++
	}
	for z > a && t.doc.Tokens[toks[z]].UPOS == "PUNCT" {
		z--
	}
	return Span{t.doc.Tokens[toks[a]].Start, t.doc.Tokens[toks[z]].End}
}

// near reports whether nothing but punctuation stands between two tokens.
func (t *Tree) near(a, b int) bool {
	for k := a + 1; k < b; k++ {
		if t.doc.Tokens[k].UPOS != "PUNCT" {
			return false
		}
	}
	return true
}

// Relation is a UD relation without its subtype.
func Relation(deprel string) string {
	r, _, _ := strings.Cut(deprel, ":")
	return r
}

// Ref is the member of the cast that a token names or stands for.
type Ref struct {
	Member     *Member // nil when it is none
	Confidence float64
	Form       string // of the mention: "name", "nominal" or "pronoun"
}

// Refs returns for every token the member of the shortest mention that holds
// it: in "Mary's mother" the word "Mary" is Mary and the others her mother.
func (d *Doc) Refs() []Ref {
	type found struct {
		member  *Member
		mention Mention
	}
	var all []found
	for i := range d.Cast {
		for _, m := range d.Cast[i].Mentions {
			all = append(all, found{&d.Cast[i], m})
		}
	}
	slices.SortStableFunc(all, func(a, b found) int {
		return cmp.Or((b.mention.End-b.mention.Start)-(a.mention.End-a.mention.Start), a.mention.Start-b.mention.Start)
	})
	out := make([]Ref, len(d.Tokens))
	for _, f := range all {
		for i := d.TokenAt(f.mention.Start); i < len(d.Tokens) && d.Tokens[i].Start < f.mention.End; i++ {
			out[i] = Ref{f.member, f.mention.Confidence, f.mention.Form}
		}
	}
	return out
}

// Sayings returns for every token the index of the quotation whose spoken part
// holds it, -1 outside speech.
func (d *Doc) Sayings() []int {
	out := make([]int, len(d.Tokens))
	for i := range out {
		out[i] = -1
	}
	for q := range d.Quotations {
		parts := d.Quotations[q].Parts
		if len(parts) == 0 {
			parts = []Span{{d.Quotations[q].Start, d.Quotations[q].End}}
		}
		for _, s := range parts {
			for i := d.TokenAt(s.Start); i < len(d.Tokens) && d.Tokens[i].Start < s.End; i++ {
				out[i] = q
			}
		}
	}
	return out
}
