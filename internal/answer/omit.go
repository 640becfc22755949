package answer

import (
	"slices"
	"strings"
)

// mayGo reports whether the sentence is still one, and still true, without a
// constituent.
func (s *shortener) mayGo(t, root int, held []int) bool {
	tok := s.d.Tokens[t]
	tree := s.tree(t)
	for _, h := range held {
		if slices.Contains(tree, h) {
			return false
		}
		if t == h {
			return false
		}
	}
	for _, k := range tree {
		if negations[normal(s.d.Tokens[k].Form)] && tok.Head >= 0 && rel(tok.Deprel) == "advmod" {
			return false
		}
		if f := s.d.Tokens[k].Form; strings.ContainsAny(f, "“”\"") {
			return false
		}
	}
	if rel(tok.Deprel) != "conj" && s.joinsBehind(tree[len(tree)-1]) {
		return false
	}
	switch rel(tok.Deprel) {
	case "advmod":
		switch normal(tok.Form) {
		case "not", "n't", "never", "no", "only", "too", "so", "as", "more", "most", "less", "how", "when", "where", "why", "almost", "nearly", "hardly", "enough", "away", "out", "back", "down", "up", "there", "here", "home", "off", "together", "apart", "forward", "inside", "outside", "rather", "little", "far", "much", "well", "badly", "ill", "first", "then", "twice", "once", "even":
			return false
		}
		return len(tree) <= 3 && !s.negated(tok.Head) && !s.holds(tree, measured)
	case "amod":
		// "the secret garden" is another than "the garden", "open windows" than
		// windows; "a low laugh" is a laugh.
		if counting[normal(tok.Form)] {
			return false
		}
		w := s.word[t]
		return w >= 0 && !s.asked[w] && s.d.Tokens[tok.Head].UPOS == "NOUN" && tok.XPOS == "JJ" && t < tok.Head && s.conjuncts(tok.Head) == 0 && s.d.Tokens[tok.Head].Deprel != "conj" && strings.HasPrefix(s.determined(tok.Head), "a")
	case "obl":
		// "put it on the table": the place belongs to the verb.
		if tok.Head >= 0 && needsPlace[s.d.Tokens[tok.Head].Lemma] || s.copula(tok.Head) {
			return false
		}
		if len(tree) == 1 && tok.UPOS == "ADP" { // "the one she slept in"
			return false
		}
		switch s.joint(t) {
		case "of", "as", "than", "like":
			return false
		}
		return tok.Deprel != "obl:agent"
	case "conj":
		// The last of two or more, if the others can stand without it.
		return s.cc(t) && !s.sharedAfter(t) && s.conjuncts(tok.Head) == 1 &&
			!strings.HasPrefix(s.d.Tokens[tok.Head].Deprel, "nsubj") && !s.both(tok.Head)
	case "advcl":
		if s.joint(t) == "to" && s.holds(between(max(0, tree[0]-4), tree[0]), measured) { // "too tired to sing"
			return false
		}
		return s.joint(t) != "if" && s.joint(t) != "unless" && s.joint(t) != "than" && s.joint(t) != "as" && s.joint(t) != "that"
	case "acl":
		if h := s.d.Tokens[tok.Head]; h.UPOS == "PRON" || h.UPOS == "DET" || normal(h.Form) == "one" { // "what she saw"
			return false
		}
		return tok.Deprel == "acl:relcl" || s.commaBefore(tree[0])
	}
	return true
}

func (s *shortener) determined(noun int) string {
	for _, c := range s.children[noun] {
		if rel(s.d.Tokens[c].Deprel) == "det" {
			return normal(s.d.Tokens[c].Form)
		}
	}
	return ""
}

func (s *shortener) copula(t int) bool {
	return t >= 0 && slices.ContainsFunc(s.children[t], func(c int) bool { return s.d.Tokens[c].Deprel == "cop" })
}

func (s *shortener) cc(t int) bool {
	return slices.ContainsFunc(s.children[t], func(c int) bool { return normal(s.d.Tokens[c].Form) == "and" })
}

func (s *shortener) holds(tokens []int, words map[string]bool) bool {
	return slices.ContainsFunc(tokens, func(t int) bool { return words[normal(s.d.Tokens[t].Form)] })
}

// measured words wait for what they are measured by: "so tired that", "too tired to".
var measured = set("so too as such enough any")

// both reports "both" beside a word: it needs two.
func (s *shortener) both(head int) bool {
	i := s.d.SentenceAt(s.d.Tokens[head].Start)
	for k := s.d.Sentences[i].First; k < s.d.Sentences[i].Last; k++ {
		if w := normal(s.d.Tokens[k].Form); w == "both" || w == "between" || w == "either" || w == "neither" {
			return true
		}
	}
	return false
}

func (s *shortener) conjuncts(head int) int {
	n := 0
	for _, c := range s.children[head] {
		if rel(s.d.Tokens[c].Deprel) == "conj" {
			n++
		}
	}
	return n
}

// negated reports "not" or "never" beside a word: what else stands there may be
// just what is denied.
func (s *shortener) negated(head int) bool {
	return head >= 0 && slices.ContainsFunc(s.children[head], func(c int) bool { return negations[normal(s.d.Tokens[c].Form)] })
}

// joinsBehind reports "and", "or" or "but" right behind a token that joins
// something other than a clause, and so would join it to the wrong word.
func (s *shortener) joinsBehind(t int) bool {
	for t++; t < len(s.d.Tokens) && s.d.Tokens[t].Form == ","; t++ {
	}
	if t >= len(s.d.Tokens) || s.d.Tokens[t].Deprel != "cc" {
		return false
	}
	h := s.d.Tokens[t].Head
	return h >= 0 && s.d.Tokens[h].UPOS != "VERB"
}

// sharedAfter reports that something follows which belongs to both conjuncts.
func (s *shortener) sharedAfter(t int) bool {
	tree := s.tree(t)
	head := s.d.Tokens[t].Head
	for _, c := range s.children[head] {
		if c > tree[len(tree)-1] && s.word[c] >= 0 {
			return true
		}
	}
	return false
}

func (s *shortener) commaBefore(t int) bool {
	return t > 0 && s.d.Tokens[t-1].Form == "," || s.d.Tokens[t].Form == ","
}

var _ = 0

// counting adjectives say how many or which.
var counting = set("many few several such other same own last next first second only whole half great more most less least little enough certain")

var needsPlace = set("put place set lay go come live stay stand sit lie lead belong look get fall throw run walk climb turn keep hide return arrive")
