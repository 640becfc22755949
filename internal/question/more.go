package question

import (
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/lang"
	"bookstead/internal/passage"
)

// sureOf is how certain a speaker must be for a child to be asked.
const sureOf = 0.7

// quotations takes the sayings worth identifying: a known speaker, six to
// thirty-two words, and words that tell of this story (a purpose, a wish, a
// command, uncommon words) rather than any. The answer tells who, to whom, when
// and, where the words show it, why they matter.
func (e *engine) quotations(p passage.Passage, n int) []kit.Draft {
	if n <= 0 || p.First >= p.Last {
		return nil
	}
	type option struct {
		d       kit.Draft
		speaker int
	}
	var options []option
	first, last := p.Tokens()
	seen := map[int]bool{}
	for i := first; i < last; i++ {
		k := e.sayingAt[i]
		if k < 0 || seen[k] {
			continue
		}
		seen[k] = true
		s := e.sayings[k]
		if s.speaker < 0 || s.sure < sureOf || e.entities[s.speaker].member == nil && s.speaker != e.narrator {
			continue
		}
		toks := e.longestPart(k)
		if len(toks) == 0 || toks[0] < first || toks[len(toks)-1] >= last {
			continue
		}
		words := verbatim(e, toks)
		count := len(strings.Fields(words))
		who := e.name(s.speaker)
		if count < 6 || count > 32 || strings.Contains(words, who) {
			continue
		}
		score := min(1, float64(count)/14) + e.rare(words)
		why, plus := e.tells(toks, who)
		score += plus
		c := kit.Content{Sentence: words, Speaker: who, Head: "Who says this?"}
		if f := words[0]; f < 'A' || f > 'Z' && f < 0x80 {
			continue // it begins in the middle
		}
		answer := upperFirst(who) + " says this"
		if s.addressee >= 0 && e.name(s.addressee) != "" {
			c.Addressee, c.Head = e.name(s.addressee), "Who says this, and to whom?"
			answer += " to " + c.Addressee
		}
		if when := e.whenSaid(p, toks[0], s.speaker); when != "" {
			answer += ", after " + when
			score += 0.3
		}
		c.Answer = sentence(answer)
		if why != "" {
			c.Answer += " " + why
		}
		place := p.Book.Place(book.Span{Start: e.d.Tokens[toks[0]].Start, End: e.d.Tokens[toks[len(toks)-1]].End})
		options = append(options, option{kit.Draft{ID: kit.NewItemID(kit.Quotation, place, who), Kind: kit.Quotation, Place: place, Content: c, Score: score,
			Why: "The speaker is known, and the words belong to this story."}, s.speaker})
	}
	slices.SortStableFunc(options, func(a, b option) int { return compare(b.d.Score, a.d.Score) })
	var out []kit.Draft
	by := map[int]int{}
	used := 0
	for _, o := range options {
		if len(out) >= n+3 {
			break
		}
		if by[o.speaker] > n/2 && used < n && len(options) > n {
			continue // not one voice alone
		}
		by[o.speaker]++
		o.d.Spare = used >= n
		used++
		out = append(out, o.d)
	}
	return out
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// longestPart returns the tokens of the longest unbroken stretch of a saying,
// without its quotation marks.
func (e *engine) longestPart(k int) []int {
	s := e.sayings[k]
	var best, now []int
	for i := s.first; i <= s.last && i < len(e.d.Tokens); i++ {
		f := e.d.Tokens[i].Form
		if i < s.last && e.sayingAt[i] == k && f != "“" && f != "”" && f != "\"" && f != "``" && f != "''" {
			now = append(now, i)
			continue
		}
		if len(now) > len(best) {
			best = now
		}
		now = nil
	}
	return best
}

// tells says why a saying matters, by the words in it that show a purpose, a
// wish, a duty or a command; "" when none does.
func (e *engine) tells(toks []int, who string) (why string, score float64) {
	for n, i := range toks {
		l := e.lower(i)
		next := ""
		if n+1 < len(toks) {
			next = e.lower(toks[n+1])
		}
		if l == "i" {
			switch next {
			case "will", "shall", "'ll", "’ll":
				return "It tells what " + who + " means to do.", 0.8
			case "wish", "want", "hope":
				return "It tells what " + who + " wishes for.", 0.7
			case "must":
				return "It tells what " + who + " has to do.", 0.6
			case "promise":
				return "It is a promise, and the reader can watch whether it is kept.", 1
			case "never":
				return "", 0.4
			}
		}
		if l == "because" {
			return "", 0.5
		}
	}
	return "", 0
}

// whenSaid is what was told last before the token: a clause in which something
// happens, with nothing left open; "" when none is near.
func (e *engine) whenSaid(p passage.Passage, i, speaker int) string {
	si := e.sentence[i]
	for k := si; k >= max(p.First, si-4); k-- {
		cs := e.clausesOf(k)
		for n := len(cs) - 1; n >= 0; n-- {
			c := cs[n]
			if c.root >= i || c.rel != "root" && c.rel != "conj" || !e.eventful(c) || !e.step(c) {
				continue
			}
			if s := e.soundly(c); s != "" && len(strings.Fields(s)) >= 4 && len(strings.Fields(s)) <= 14 {
				t := e.tell()
				t.named = append(t.named, speaker)
				return (&asker{engine: e}).restate(t, c)
			}
		}
	}
	return ""
}

// soundly is a clause as a statement with nothing doubtful in it, "" when there is.
func (e *engine) soundly(c *clause) string {
	t := e.voice(c)
	s := e.state(t, c, true)
	if t.open > 0 || t.sure < surest || len(strings.Fields(s)) < 3 || strings.ContainsAny(s, "“”\";:()[]*_—") || strings.Contains(s, "--") {
		return ""
	}
	return s
}

// rare is how many uncommon words a saying holds, 0 to 1.
func (e *engine) rare(s string) float64 {
	n, all := 0, 0
	for _, w := range strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r < 'a' || r > 'z' }) {
		if len(w) < 4 {
			continue
		}
		all++
		if z, ok := e.lex.Zipf(w); !ok || z < 4 {
			n++
		}
	}
	if all == 0 {
		return 0
	}
	return min(1, 3*float64(n)/float64(all))
}

// mostFigures of a lesson are printed; the others are spare. leastFigure is how
// surely a printed one must be a figure.
const (
	mostFigures = 2
	leastFigure = 0.6
)

// figures takes what the annotator marked and explained, the surest first.
func (e *engine) figures(p passage.Passage) []kit.Draft {
	if !e.d.Has(lang.LayerFigures) {
		return nil
	}
	var out []kit.Draft
	for _, f := range e.d.Figures {
		if f.Start < p.Lesson.Start || f.End > p.Lesson.End || f.Note == "" {
			continue
		}
		si := e.d.SentenceAt(f.Start)
		if si < p.First || si >= p.Last || len(strings.Fields(p.Sentence(si))) > 45 {
			continue
		}
		place := p.Book.Place(book.Span{Start: f.Start, End: f.End})
		words := strings.Join(strings.Fields(e.d.Text[f.Start:f.End]), " ")
		note := f.Note
		if f.Kind == "hyperbole" {
			last := words[strings.LastIndexByte(words, ' ')+1:]
			if note = "Nobody has counted: it means a great many " + last + "."; last == "times" {
				note = "Nobody has counted: it means again and again."
			}
			if !strings.ContainsAny(words, " ") || !strings.HasSuffix(last, "s") {
				continue
			}
		}
		out = append(out, kit.Draft{ID: kit.NewItemID(kit.Figure, place, words), Kind: kit.Figure, Place: place, Score: f.Score,
			Content: kit.Content{Head: words, Sentence: p.Sentence(si), PartOfSpeech: f.Kind, Answer: note}, Why: "The words mean more than they say."})
	}
	order := make([]int, len(out))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return compare(out[b].Score, out[a].Score) })
	for rank, i := range order {
		out[i].Spare = rank >= mostFigures || out[i].Score < leastFigure
	}
	return out
}

// passages picks a sentence worth returning to, and says what it is worth
// returning to for: the words that paint a place, or the event that most else
// depends on. A lesson without either gets none.
func (e *engine) passages(p passage.Passage) []kit.Draft {
	type option struct {
		si    int
		note  string
		why   string
		score float64
	}
	var best option
	for si := p.First; si < p.Last; si++ {
		s := e.d.Sentences[si]
		if !p.Prose(si) || s.Last-s.First < 12 || s.Last-s.First > 55 {
			continue
		}
		if words := e.painting(si); len(words) >= 4 {
			o := option{si, "Read it aloud for the words to see it by: " + strings.Join(words, ", ") + ".", "It paints a picture in " + fmt.Sprint(len(words)) + " words.", 0.25 * float64(len(words))}
			if o.score > best.score {
				best = o
			}
		}
		for _, c := range e.clausesOf(si) {
			w := e.weight[c.root]
			turn := e.turning(c.root)
			if c.spoken >= 0 || w < 0.5 || turn == "" || c.rel != "root" || !e.eventful(c) {
				continue
			}
			st := e.soundly(c)
			if st == "" {
				continue
			}
			if o := (option{si, sentence(st) + " " + turn, "The story takes a turn here.", 1.4 * w}); o.score > best.score {
				best = o
			}
		}
	}
	if best.note == "" {
		return nil
	}
	return []kit.Draft{draft(kit.Passage, p, best.si, best.si, kit.Content{Sentence: p.Sentence(best.si), Note: best.note}, best.score, best.why)}
}

// painting are the descriptive words of a told sentence with what they describe,
// each as it stands: "dull purplish bushes".
func (e *engine) painting(si int) []string {
	var out []string
	s := e.d.Sentences[si]
	for i := s.First; i < s.Last; i++ {
		if e.sayingAt[i] >= 0 {
			return nil
		}
		t := e.d.Tokens[i]
		if t.UPOS != "NOUN" {
			continue
		}
		switch e.lexname(e.lemma(i), 'n') {
		case "noun.artifact", "noun.object", "noun.plant", "noun.animal", "noun.phenomenon", "noun.substance", "noun.location", "noun.body", "noun.food":
		default:
			continue
		}
		var toks []int
		for _, k := range e.kids[i] {
			if e.rel(k) == "amod" && k < i && !plain[e.lemma(k)] && e.d.Tokens[k].UPOS == "ADJ" {
				toks = append(toks, k)
			}
		}
		if len(toks) > 0 {
			out = append(out, "“"+strings.ToLower(verbatim(e, append(toks, i)))+"”")
		}
	}
	return out
}

// plain adjectives paint nothing.
var plain = set("other same own such many few several much more most last next first second whole only certain little good great old new big long young own same very")

// turning says by which sign an event is a turn of the story, "" when by none.
func (e *engine) turning(verb int) string {
	for _, r := range e.signs[verb] {
		if w, ok := strings.CutPrefix(r, "a word of turning: "); ok {
			return "The words “" + w + "” mark a turn: what was so before, and what is so from now on?"
		}
		if strings.HasPrefix(r, "the first time") {
			return "It is the first time that one of them does something to the other: what does each learn of the other here?"
		}
	}
	return ""
}
