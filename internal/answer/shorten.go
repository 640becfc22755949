package answer

import (
	"slices"
	"strings"

	"bookstead/internal/lang"
)

// shortener works on the sentences of one full answer.
type shortener struct {
	judge    *Judge
	q, a     *text
	d        *lang.Doc
	room     int
	asked    []bool // words of the answer that the question has
	word     []int  // of each token, -1 for none
	children [][]int
}

func (s *shortener) prepare() {
	s.word = make([]int, len(s.d.Tokens))
	s.children = make([][]int, len(s.d.Tokens))
	for i := range s.d.Tokens {
		s.word[i] = -1
		if h := s.d.Tokens[i].Head; h >= 0 {
			s.children[h] = append(s.children[h], i)
		}
	}
	for i := range s.a.words {
		s.word[s.a.words[i].token] = i
	}
}

// fresh is the weight of what tokens say that the question does not.
func (s *shortener) fresh(tokens []int) float64 {
	sum := 0.0
	for _, t := range tokens {
		if w := s.word[t]; w >= 0 && s.a.words[w].content && !s.asked[w] {
			sum += s.a.words[w].weight
		}
	}
	return sum
}

// chosen are the sentences that answer: the one that says most that is new, and
// from grade 3 the next if it says nearly as much.
func (s *shortener) chosen(grade int) []int {
	type scored struct {
		i     int
		fresh float64
	}
	var all []scored
	for i, x := range s.d.Sentences {
		if wordsIn(s.d, x) {
			all = append(all, scored{i, s.fresh(between(x.First, x.Last)) + 0.01})
		}
	}
	if len(all) == 0 {
		return nil
	}
	slices.SortStableFunc(all, func(a, b scored) int {
		switch {
		case a.fresh > b.fresh:
			return -1
		case a.fresh < b.fresh:
			return 1
		}
		return a.i - b.i
	})
	out := []int{all[0].i}
	if grade >= 3 && len(all) > 1 && all[1].fresh >= 0.7*all[0].fresh {
		out = append(out, all[1].i)
	}
	slices.Sort(out)
	return out
}

func between(a, b int) []int {
	var out []int
	for i := a; i < b; i++ {
		out = append(out, i)
	}
	return out
}

// tree is a token with all that hangs on it, in order.
func (s *shortener) tree(t int) []int {
	out := []int{t}
	for i := 0; i < len(out); i++ {
		out = append(out, s.children[out[i]]...)
	}
	slices.Sort(out)
	return out
}

// deletable constituents by relation, with the order in which they go: what is
// said by the way first, what describes last.
var goes = map[string]int{
	"discourse": 1, "vocative": 1, "parataxis": 1, "appos": 2, "acl:relcl": 3, "acl": 4,
	"advcl": 5, "obl": 6, "obl:tmod": 6, "obl:npmod": 6, "obl:unmarked": 6, "conj": 7, "advmod": 8, "amod": 9,
}

// shorten returns a sentence without what can go, and the part that answers.
func (s *shortener) shorten(i int) (written, answers string) {
	x := s.d.Sentences[i]
	keep := map[int]bool{}
	root := -1
	for t := x.First; t < x.Last; t++ {
		keep[t] = true
		if s.d.Tokens[t].Head < 0 {
			root = t
		}
	}
	if root < 0 {
		return words(s.d, x.First, x.Last), ""
	}
	held := s.answering(root)
	whole := words(s.d, x.First, x.Last)
	if strings.ContainsAny(whole, "—–()") || strings.Contains(whole, "--") { // a tree across a dash is seldom right
		return whole, ""
	}
	for s.size(keep) > s.room {
		t := s.next(keep, root, held)
		if t < 0 {
			break
		}
		for _, k := range s.tree(t) {
			delete(keep, k)
		}
	}
	for _, h := range held {
		if strings.Contains(normal(s.q.raw), "what happen") { // the whole sentence answers
			break
		}
		if s.fresh(s.tree(h)) > 0 {
			if said := s.say(s.tree(h), keep, false); len(strings.Fields(said)) <= s.room {
				answers = said
			}
			break
		}
	}
	return s.say(between(x.First, x.Last), keep, true), answers
}

func (s *shortener) size(keep map[int]bool) int {
	n := 0
	for t := range keep {
		if s.word[t] >= 0 {
			n++
		}
	}
	return n
}

// answering are the constituents that answer: by the word that asks, else those
// that say most that is new.
func (s *shortener) answering(root int) []int {
	q := " " + normal(s.q.raw) + " "
	has := func(w string) bool { return strings.Contains(q, w) }
	var wanted []string
	switch {
	case has(" why "):
		// The reason may hang on any verb of the sentence.
		x := s.d.Sentences[s.d.SentenceAt(s.d.Tokens[root].Start)]
		for t := x.First; t < x.Last; t++ {
			if j := s.joint(t); rel(s.d.Tokens[t].Deprel) == "advcl" && (j == "because" || j == "since" || j == "so") && s.fresh(s.tree(t)) > 0 {
				return []int{t}
			}
		}
		wanted = []string{"because", "for", "since", "so", "to", "as"}
	case has(" where "):
		wanted = []string{"in", "on", "at", "under", "behind", "into", "near", "by", "beside", "inside", "outside", "from", "to", "through", "over"}
	case has(" when "):
		wanted = []string{"when", "after", "before", "at", "on", "in", "until", "as", "while"}
	}
	var out []int
	for _, t := range s.heads(root) {
		if r := rel(s.d.Tokens[t].Deprel); r == "xcomp" || r == "ccomp" || r == "csubj" { // what the verb is about, not why or where
			continue
		}
		if joint := s.joint(t); joint != "" && slices.Contains(wanted, joint) {
			out = append(out, t)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int { // what is new first
		x, y := s.fresh(s.tree(a)), s.fresh(s.tree(b))
		switch {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return a - b
	})
	if len(out) > 1 {
		out = out[:1]
	}
	if len(out) == 0 && has(" feel") {
		for _, t := range s.children[root] {
			if r := rel(s.d.Tokens[t].Deprel); r == "xcomp" || r == "obj" {
				return []int{t}
			}
		}
	}
	if len(out) == 0 {
		best, most := -1, 0.0
		for _, t := range s.children[root] {
			f := s.fresh(s.tree(t))
			switch rel(s.d.Tokens[t].Deprel) {
			case "advcl", "conj", "parataxis", "appos", "vocative", "discourse": // beside the clause, not of it
				f *= 0.4
			}
			if f > most {
				best, most = t, f
			}
		}
		if best >= 0 {
			out = append(out, best)
		}
	}
	return out
}

// heads are the constituents of the main clause and those of its complements.
func (s *shortener) heads(root int) []int {
	out := slices.Clone(s.children[root])
	for _, t := range s.children[root] {
		switch rel(s.d.Tokens[t].Deprel) {
		case "xcomp", "ccomp", "obj", "conj":
			out = append(out, s.children[t]...)
		}
	}
	return out
}

// joint is the word that joins a constituent on: "because", "in", "to".
func (s *shortener) joint(t int) string {
	for _, c := range s.children[t] {
		switch rel(s.d.Tokens[c].Deprel) {
		case "mark", "case":
			return normal(s.d.Tokens[c].Form)
		}
	}
	if normal(s.d.Tokens[t].Form) == "so" {
		return "so"
	}
	return ""
}

func rel(deprel string) string {
	r, _, _ := strings.Cut(deprel, ":")
	return r
}

// next is the constituent that goes next, -1 for none.
func (s *shortener) next(keep map[int]bool, root int, held []int) int {
	best, rank, worth := -1, 0, 0.0
	inside := map[int]bool{} // the part that answers
	for _, h := range held {
		for _, t := range s.tree(h) {
			inside[t] = true
		}
	}
	for t := range s.d.Tokens {
		if !keep[t] || t == root {
			continue
		}
		order, ok := goes[s.d.Tokens[t].Deprel]
		if !ok {
			order, ok = goes[rel(s.d.Tokens[t].Deprel)]
		}
		if !ok || !s.mayGo(t, root, held) {
			continue
		}
		worthOf := s.fresh(s.tree(t))
		if worthOf == 0 { // the question has it already
			order -= 4
		}
		if inside[t] {
			order += 5
		}
		if best < 0 || order < rank || order == rank && worthOf < worth {
			best, rank, worth = t, order, worthOf
		}
	}
	return best
}

// say writes what is kept of some tokens: with its own spaces, without marks
// that have lost their words, and as a sentence if asked.
func (s *shortener) say(tokens []int, keep map[int]bool, sentence bool) string {
	var b strings.Builder
	last := -1
	for _, t := range tokens {
		if !keep[t] {
			continue
		}
		f := s.d.Tokens[t].Form
		if s.word[t] < 0 && (f == "," || f == ";" || f == ":" || f == "—" || f == "--" || f == "–" || f == "(" || f == ")") {
			// A mark stays between two words that it stood between.
			if last < 0 || last != t-1 || !keepsNext(tokens, keep, t) || s.word[last] < 0 {
				continue
			}
		}
		if last >= 0 && (last != t-1 || s.d.SpaceAfter(last)) && !closing(f) {
			b.WriteByte(' ')
		}
		if low := normal(f); (low == "a" || low == "an") && s.wrong(low, tokens, keep, t) {
			f = cased(map[string]string{"a": "an", "an": "a"}[low], f)
		}
		b.WriteString(f)
		last = t
	}
	out := strings.TrimSpace(b.String())
	if !sentence {
		return strings.TrimRight(out, ".,;:!?")
	}
	out = strings.TrimRight(out, " ,;:—–-")
	if out != "" && !strings.ContainsAny(out[max(0, len(out)-4):], ".!?…") {
		out += "."
	}
	return upperFirst(out)
}

// wrong reports an article that no longer fits the next word that is kept.
func (s *shortener) wrong(article string, tokens []int, keep map[int]bool, t int) bool {
	for _, k := range tokens {
		if k > t && keep[k] {
			return s.judge.wrongArticle(article, s.d.Tokens[k].Form)
		}
	}
	return false
}

func keepsNext(tokens []int, keep map[int]bool, t int) bool {
	i := slices.Index(tokens, t)
	return i+1 < len(tokens) && tokens[i+1] == t+1 && keep[t+1]
}

func closing(f string) bool {
	return strings.Trim(f, ".,;:!?’'”)…") == "" || f == "n’t" || f == "n't"
}
