package lang

import "strings"

// HeadOf is the token of [first, last) whose own head lies outside, the last
// when the trees don't tell.
func (d *Doc) HeadOf(first, last int) int {
	for t := first; t < last; t++ {
		x := &d.Tokens[t]
		if (x.Head < first || x.Head >= last) && x.UPOS != "PUNCT" && x.UPOS != "DET" {
			return t
		}
	}
	return last - 1
}

// PhraseOf is the stretch of tokens around a noun that belong to its name or
// description, without clauses and without what a comma sets off.
func (d *Doc) PhraseOf(head int) (first, last int) {
	inside := func(t int) bool { // does t hang on head, through words of the phrase?
		for n := 0; n < 6 && t >= 0; n++ {
			if t == head {
				return true
			}
			r, _, _ := strings.Cut(d.Tokens[t].Deprel, ":")
			switch r {
			case "det", "amod", "compound", "flat", "nmod", "nummod", "case", "advmod", "fixed":
			default:
				return false
			}
			t = d.Tokens[t].Head
		}
		return false
	}
	first, last = head, head+1
	for first > 0 && inside(first-1) {
		first--
	}
	for last < len(d.Tokens) && inside(last) {
		last++
	}
	return first, last
}
