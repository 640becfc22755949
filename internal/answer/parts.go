package answer

import (
	"slices"
	"strings"
)

// clauses returns the least and the most that the answer has of a clause of
// the reference.
func clauses(r *text, a aligned) (least, most float64) {
	least = 1
	any := false
	for _, c := range cut(r) {
		s, n := 0.0, 0.0
		for _, i := range c {
			if r.words[i].content {
				s += a.got[i] * r.words[i].weight
				n += r.words[i].weight
			}
		}
		if n > 0 {
			any = true
			least, most = min(least, s/n), max(most, s/n)
		}
	}
	if !any {
		least = 0
	}
	return least, most
}

// cut parts a text into its clauses, before "and", "because" and their kind and
// at the ends of sentences, each of at least three words: their indices.
func cut(t *text) [][]int {
	var out [][]int
	var now []int
	for i := range t.words {
		d := t.doc.Tokens[t.words[i].token]
		rel, _, _ := strings.Cut(d.Deprel, ":")
		boundary := t.words[i].token > 0 && strings.ContainsAny(t.doc.Tokens[t.words[i].token-1].Form, ".;!?")
		if (rel == "cc" || rel == "mark" && d.UPOS == "SCONJ" || boundary) && len(now) >= 3 {
			out = append(out, now)
			now = nil
		}
		now = append(now, i)
	}
	if len(now) > 0 {
		out = append(out, now)
	}
	return out
}

// sentences are the indices of the words of each sentence of a text; what
// stands in brackets is one of its own.
func sentences(t *text) [][]int {
	var out [][]int
	var now []int
	last := -1
	for i := range t.words {
		tok := t.words[i].token
		for k := last + 1; k < tok; k++ {
			if strings.ContainsAny(t.doc.Tokens[k].Form, ".;!?()[]") && len(now) > 0 {
				out = append(out, now)
				now = nil
			}
		}
		last = tok
		now = append(now, i)
	}
	if len(now) > 0 {
		out = append(out, now)
	}
	return out
}

// letter is the choice that an answer begins with: "B" of "B. It is wider."
func letter(t *text) string {
	s := strings.TrimSpace(t.raw)
	if s == "" || s[0] < 'A' || s[0] > 'H' {
		return ""
	}
	if len(s) == 1 || strings.IndexByte(".,:)", s[1]) >= 0 || s[1] == ' ' && s[0] != 'A' {
		return s[:1]
	}
	return ""
}

// choice is 1 when both choose the same letter, -1 when they choose different
// ones, 0 when one chooses none.
func choice(r, ans *text) float64 {
	a, b := letter(r), letter(ans)
	switch {
	case a == "" || b == "":
		return 0
	case a == b:
		return 1
	}
	return -1
}

// yes is 1 for a text that begins with yes, -1 for no, 0 for neither.
func yes(t *text) int {
	if len(t.words) == 0 {
		return 0
	}
	switch t.words[0].typed {
	case "yes", "yeah":
		return 1
	case "no":
		return -1
	}
	return 0
}

// dontKnow reports an answer that declines.
func dontKnow(t *text) bool {
	s := normal(t.raw)
	for _, p := range []string{"do not know", "dont know", "don't know", "no idea", "not sure", "idk"} {
		if strings.Contains(s, p) && len(t.words) <= 8 {
			return true
		}
	}
	return false
}

// kindOf marks the kind of a question by its words: why, how, what, which or
// who or where or when, explain, and those that yes or no answers.
func kindOf(q string) []float64 {
	q = " " + normal(q)
	has := func(ws ...string) float64 {
		for _, w := range ws {
			if strings.Contains(q, w) {
				return 1
			}
		}
		return 0
	}
	yesNo := 0.0
	if f := strings.Fields(q); len(f) > 0 && slices.Contains([]string{"is", "are", "do", "does", "did", "can", "could", "will", "would", "should", "was", "were", "if"}, f[0]) {
		yesNo = 1
	}
	return []float64{has(" why", "explain your", "how do you know"), has(" how "), has(" what"), has(" which", " who", " where", " when"), has("explain", "describe"), yesNo}
}
