package answer

import (
	"context"
	"math"
	"slices"
	"strings"

	"bookstead/internal/lang"
)

// Model is what a child's answer may look like.
type Model struct {
	// Written is one or two sentences.
	Written string
	// Spoken is what a child may say first, which need be no sentence: the part
	// that answers. "" when it can't be told apart.
	Spoken string
	Words  int
	TUnits int // main clauses with all that hangs on them
}

// norm is the mean length, in words, of a T-unit that children of a grade write:
// grade 3 to 6 the mean of Loban (1976) and O'Donnell, Griffin and Norris (1967)
// where both have it; grades 1 and 2 carried on downward by half a word a grade,
// which is no published figure.
func norm(grade int) float64 {
	means := [...]float64{6.6, 7.1, (7.60 + 7.67) / 2, 8.02, (8.76 + 9.34) / 2, 9.04}
	return means[min(max(grade, 1), len(means))-1]
}

// Norm is the mean length of a T-unit at a grade, in words.
func Norm(grade int) float64 { return norm(grade) }

// room is how many words a T-unit of a model has at most: half as many again as
// children write on the mean, so that it leads without outrunning them (common
// practice, no source for the half).
func room(grade int) int { return int(math.Round(1.5 * norm(grade))) }

// Model shortens a full answer to what a child of the grade may write. Whole
// constituents are left out, those first that the question does not ask for; what
// is left is a sentence that the full answer implies.
func (j *Judge) Model(ctx context.Context, question, full string, grade int) (Model, error) {
	q, err := j.read(ctx, clip(question, mostRead), nil)
	if err != nil {
		return Model{}, err
	}
	a, err := j.read(ctx, clip(full, mostRead), nil)
	if err != nil {
		return Model{}, err
	}
	m := Model{}
	s := shortener{judge: j, q: q, a: a, d: a.doc, room: room(grade), asked: asked(a, q)}
	s.prepare()
	var out []string
	for _, i := range s.chosen(grade) {
		text, answers := s.shorten(i)
		if ok, err := s.stands(ctx, i, text); err != nil {
			return Model{}, err
		} else if !ok { // the tree was wrong somewhere
			x := a.doc.Sentences[i]
			text, answers = words(a.doc, x.First, x.Last), ""
		}
		out = append(out, text)
		m.TUnits++
		if m.Spoken == "" {
			m.Spoken = answers
		}
	}
	m.Written = strings.Join(out, " ")
	m.Words = len(strings.Fields(m.Written))
	return m, nil
}

// stands reads a shortened sentence again: it must be as whole as the sentence
// that it was made of, around the same word.
func (s *shortener) stands(ctx context.Context, i int, text string) (bool, error) {
	again, err := s.judge.read(ctx, text, nil)
	if err != nil {
		return false, err
	}
	if len(again.doc.Sentences) != 1 {
		return false, nil
	}
	subject, verb, alone := made(s.d, i)
	subject2, verb2, alone2 := made(again.doc, 0)
	return (subject2 || !subject) && (verb2 || !verb) && (alone2 || !alone) && rootLemma(s.d, i) == rootLemma(again.doc, 0), nil
}

func rootLemma(d *lang.Doc, i int) string {
	for t := d.Sentences[i].First; t < d.Sentences[i].Last; t++ {
		if d.Tokens[t].Head < 0 {
			return d.Tokens[t].Lemma
		}
	}
	return ""
}

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
		wanted = []string{"because", "for", "since", "so", "to", "that", "as"}
	case has(" where "):
		wanted = []string{"in", "on", "at", "under", "behind", "into", "near", "by", "beside", "inside", "outside", "from", "to", "through", "over"}
	case has(" when "):
		wanted = []string{"when", "after", "before", "at", "on", "in", "until", "as", "while"}
	}
	var out []int
	for _, t := range s.heads(root) {
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
