package vocabulary

import (
	"context"
	"math"
	"slices"
	"strings"

	"bookstead/internal/difficulty"
	"bookstead/internal/lexicon"
	"bookstead/internal/phonics"
	"bookstead/internal/sense"
)

// candidate is one place of one word that may be taught.
type candidate struct {
	passage, sentence, token int
	lemma                    string
	pos                      lexicon.POS
	hard                     float64 // grade in which four fifths know it
	parts                    parts
	value                    float64
	clue                     clue
	settled                  bool // judged by its meaning here
}

// parts are what speaks for a candidate, each 0 to 1.
type parts struct {
	fit      float64 // its difficulty suits the grade
	worth    float64 // it is useful beyond this book
	guess    float64 // its sentence and their neighbours give it away
	again    float64 // the book brings it back after this lesson
	sentence float64 // the sentence is easy to print and to think about
	told     float64 // its meaning is certain, and a word can stand in its place
}

// fold is a word in lower case with straight apostrophes.
func fold(s string) string { return strings.ToLower(strings.ReplaceAll(s, "’", "'")) }

// seen counts where the book has a lemma.
type seen map[string][]int // the passage of each time, in order

// later is how often the lemma comes after a passage, and in which passage next.
func (s seen) later(lemma string, passage int) (times, next int) {
	at := s[lemma]
	i, _ := slices.BinarySearch(at, passage+1)
	if i == len(at) {
		return 0, -1
	}
	return len(at) - i, at[i]
}

// candidates finds the places of all words that may be taught, the best of each
// lemma in each passage.
func (e *engine) candidates(ctx context.Context, terms map[string]bool) ([]candidate, error) {
	e.seen = seen{}
	var all []candidate
	for pi, p := range e.passages {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		for si := p.First; si < p.Last; si++ {
			if !p.Prose(si) {
				continue
			}
			s := p.Doc.Sentences[si]
			for i := s.First; i < s.Last; i++ {
				if t := &p.Doc.Tokens[i]; t.Form[0] >= 'A' {
					l := fold(t.Lemma)
					e.seen[l] = append(e.seen[l], pi)
				}
				if n := s.Last - s.First; n < 5 || n > 60 {
					continue
				}
				if c, ok := e.candidate(pi, si, i, terms); ok {
					all = append(all, c)
				}
			}
		}
	}
	best := map[[2]string]int{} // passage and lemma to the index in out
	var out []candidate
	for _, c := range all {
		e.weigh(&c)
		key := [2]string{c.lemma, string(rune(c.passage))}
		if at, ok := best[key]; !ok {
			best[key] = len(out)
			out = append(out, c)
		} else if c.value > out[at].value {
			out[at] = c
		}
	}
	return out, nil
}

// candidate reports whether token i may be taught, and how well it suits.
func (e *engine) candidate(pi, si, i int, terms map[string]bool) (candidate, bool) {
	d := e.passages[pi].Doc
	t := d.Tokens[i]
	pos, ok := sense.POSOf(t.UPOS)
	lemma := fold(t.Lemma)
	if !ok || len(lemma) < 4 || t.Multi != 0 || !plain(t.Form) || !plain(lemma) || strings.ToUpper(t.Form) == t.Form {
		return candidate{}, false
	}
	if e.names[fold(t.Form)] || i > d.Sentences[si].First && t.Form[0] >= 'A' && t.Form[0] <= 'Z' {
		return candidate{}, false
	}
	if !d.SpaceAfter(i) && i+1 < len(d.Tokens) && hyphen(d.Tokens[i+1].Form) || i > 0 && !d.SpaceAfter(i-1) && hyphen(d.Tokens[i-1].Form) { // part of "panic-stricken"
		return candidate{}, false
	}
	if _, had := e.o.Known[lemma]; had || terms[lemma] || terms[fold(t.Form)] || !e.teachable(lemma, t.Form, pos) {
		return candidate{}, false
	}
	c := candidate{passage: pi, sentence: si, token: i, lemma: lemma, pos: pos}
	if _, met := e.zipf(lemma); !met {
		if _, read := e.lex.BookZipf(lemma); !read { // met neither in talk nor in books: a name or a slip
			return candidate{}, false
		}
	}
	c.hard = e.hard(lemma, t.Form)
	c.parts.fit = fit(c.hard, e.grade)
	return c, c.parts.fit > 0
}

func hyphen(form string) bool { return form == "-" || form == "‐" || form == "‑" }

// teachable reports that a word is English, has a meaning to tell and may stand
// on a child's page.
func (e *engine) teachable(lemma, form string, pos lexicon.POS) bool {
	key := string(pos) + form + "/" + lemma
	if ok, have := e.taught[key]; have {
		return ok
	}
	offence, _ := e.lex.Offensive(lemma) // one with an innocent sense is not chosen either: it would be giggled at
	ok := offence.Level == lexicon.Fine && !e.lex.Function(lemma) && e.lex.HasLemma(lemma, pos) && e.lex.Correct(form)
	e.taught[key] = ok
	return ok
}

// plain reports whether a word is made of lower-case letters but perhaps for
// its first.
func plain(s string) bool {
	for i := range len(s) {
		c := s[i]
		if (c < 'a' || c > 'z') && !(i == 0 && c >= 'A' && c <= 'Z') {
			return false
		}
	}
	return s != ""
}

// The words to teach in a grade are those that somewhat less than half of the
// class knows (our choice: a word that all know teaches nothing, and one that
// nobody has met stays with few): in grades of the measure of difficulty, so far
// above the grade, give or take so much.
const (
	fitAbove  = 1.9
	fitSpread = 1.25
	fitLeast  = 0.03 // less is not offered
)

// fit is how well a difficulty suits the grade, 0 to 1: best in the middle,
// nothing where all or none know the word.
func fit(difficulty float64, grade int) float64 {
	x := (difficulty - float64(grade) - fitAbove) / fitSpread
	v := math.Exp(-x * x / 2)
	if v < fitLeast {
		return 0
	}
	return v
}

// hard is the difficulty of a lemma, or of the form when it is easier: "startled"
// is met before "startle".
func (e *engine) hard(lemma, form string) float64 {
	d := min(e.measure.Word(lemma), e.measure.Word(fold(form)))
	if easy, ok := e.parted[lemma]; ok {
		return min(d, easy)
	}
	easy := e.byParts(lemma, d)
	e.parted[lemma] = easy
	return min(d, easy)
}

// A word whose parts a class knows is half explained by them (our choice).
const (
	partKnown  = 0.85 // of the class knows the part
	commonPart = 3.5  // Zipf, of both halves of a compound
)

// byParts is the difficulty of a word for a class that sees what it is made of:
// "treetop" is little harder than "tree", "harmless" lies between "harm" and what
// its rareness says.
func (e *engine) byParts(lemma string, d float64) float64 {
	for i := 3; i+3 <= len(lemma); i++ {
		a, b := lemma[:i], lemma[i:]
		za, oka := e.zipf(a)
		zb, okb := e.zipf(b)
		if oka && okb && za >= commonPart && zb >= commonPart && e.lex.HasLemma(b, lexicon.Noun) && (e.lex.HasLemma(a, lexicon.Noun) || e.lex.HasLemma(a, lexicon.Adjective)) &&
			e.lex.Familiar(lexicon.DaleChall, a) && e.lex.Familiar(lexicon.DaleChall, b) && e.explains(lemma, a, b) {
			return max(e.measure.Word(a), e.measure.Word(b)) + 1
		}
	}
	b, ok := phonics.BuildIn(e.lex, lemma)
	if !ok {
		return d
	}
	base := e.measure.Word(b.Base)
	if difficulty.Known(base, e.grade) < partKnown || base >= d {
		return d
	}
	affixes := len(b.Suffixes)
	if b.Prefix != "" {
		affixes++
	}
	return base + (d-base)/2 + 0.5*float64(affixes)
}

// explains reports that the usual definition of a word names one of its halves:
// "treetop" has "tree" in it, "carpet" neither "car" nor "pet".
func (e *engine) explains(word, a, b string) bool {
	for _, pos := range lexicon.PartsOfSpeech() {
		if !e.lex.HasLemma(word, pos) {
			continue
		}
		for _, w := range strings.FieldsFunc(fold(e.lex.Senses(word, pos)[0].Gloss), func(r rune) bool { return r < 'a' || r > 'z' }) {
			if w = strings.TrimSuffix(w, "s"); w == a || w == b || w == a+"e" || w == b+"e" {
				return true
			}
		}
	}
	return false
}

// weigh fills in what else speaks for a candidate, and its value.
func (e *engine) weigh(c *candidate) {
	p := e.passages[c.passage]
	c.clue = e.clueAt(p, c.sentence, c.token, e.kin(c.lemma, c.pos))
	times, _ := e.seen.later(c.lemma, c.passage)
	c.parts.guess = c.clue.score
	c.parts.again = min(1, math.Log2(1+float64(times))/3) // seven times more are as good as any
	c.parts.worth = 0.75*e.lex.BookRange(c.lemma) + 0.25*e.heard(c.lemma)
	c.parts.sentence = e.printable(c.passage, c.sentence)
	c.parts.told = toldUnasked
	c.value = e.weights.of(c.parts)
}

// zipf is lexicon.Zipf with a memory: the same words are asked for again and
// again.
func (e *engine) zipf(word string) (z float64, ok bool) {
	if z, have := e.zipfs[word]; have {
		return z, z >= 0
	}
	z, ok = e.lex.Zipf(word)
	if !ok {
		e.zipfs[word] = -1
		return -1, false
	}
	e.zipfs[word] = z
	return z, true
}

// heard is 1 for words of daily talk and 0 for those hardly ever heard.
func (e *engine) heard(lemma string) float64 {
	z, _ := e.zipf(lemma)
	return max(0, min(1, (z-1.5)/2.5))
}

// printable is how well a sentence stands alone on a page: of about sixteen
// words, whole, without dialect, opening with a capital.
func (e *engine) printable(pi, si int) float64 {
	p := e.passages[pi]
	if v, ok := e.sentences[si]; ok {
		return v
	}
	s := p.Doc.Sentences[si]
	n := s.Last - s.First
	v := 1 - min(1, float64(n-16)/44)
	if n < 16 { // too short to think about
		v = 1 - float64(16-n)/16
	}
	for i := s.First; i < s.Last; i++ {
		t := &p.Doc.Tokens[i]
		if t.Multi == 0 && t.UPOS != "PROPN" && plain(t.Form) && !e.lex.Correct(t.Form) || strings.HasSuffix(t.Form, "’") && len(t.Form) > len("’") {
			v -= 0.15 // dialect or a word that nobody knows
		}
	}
	text := p.Sentence(si)
	if r := []rune(strings.TrimLeft(text, "“‘\"'(—")); len(r) == 0 || r[0] >= 'a' && r[0] <= 'z' {
		v -= 0.3
	}
	if strings.HasSuffix(text, ":") || strings.HasSuffix(text, ",") || strings.HasSuffix(text, "—") {
		v -= 0.2
	}
	if p.Balanced(si) != text {
		v -= 0.1
	}
	v = max(0, v)
	e.sentences[si] = v
	return v
}
