package vocabulary

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
	"bookstead/internal/passage"
	"bookstead/internal/sense"
)

func fold(s string) string { return strings.ToLower(s) }

// candidate is one place of one word.
type candidate struct {
	passage, sentence, token int
	lemma                    string
	pos                      lexicon.POS
	score                    float64
	worth, fit, clue         float64
	clueNote                 string
}

// words chooses the vocabulary of every lesson.
//
// Each lemma is taken once, at its best place. Lessons are filled one word a
// round, so that an early lesson does not take what a later one needs; within a
// round the best score wins.
func (e *engine) words(ctx context.Context, terms map[string]bool) ([][]kit.Draft, error) {
	best := map[string][]candidate{} // lemma -> its places
	for pi := range e.passages {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		e.candidates(pi, terms, best)
	}
	perLesson := make([][]candidate, len(e.passages))
	lemmas := make([]string, 0, len(best))
	for l := range best {
		lemmas = append(lemmas, l)
	}
	slices.Sort(lemmas)
	for _, l := range lemmas {
		places := best[l]
		slices.SortStableFunc(places, func(a, b candidate) int { return cmp(b.score, a.score) })
		c := places[0]
		c.score += 0.15 * math.Min(3, float64(len(places)-1)) // it comes again
		perLesson[c.passage] = append(perLesson[c.passage], c)
	}
	out := make([][]kit.Draft, len(e.passages))
	for pi, cs := range perLesson {
		slices.SortStableFunc(cs, func(a, b candidate) int { return cmp(b.score, a.score) })
		listed := e.listed(pi)
		out[pi] = append(listed, e.choose(cs, listed)...)
	}
	return out, nil
}

func cmp(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// choose takes the best candidates that can be glossed; no two of one family,
// not more than two thirds of one part of speech among those used.
func (e *engine) choose(cs []candidate, listed []kit.Draft) []kit.Draft {
	var out []kit.Draft
	families := map[string]bool{}
	parts := map[lexicon.POS]int{}
	used := len(listed)
	for _, d := range listed {
		families[family(d.Content.Lemma)] = true
	}
	for _, c := range cs {
		if len(out) >= e.o.Words+spares {
			break
		}
		fam := family(c.lemma)
		if families[fam] {
			continue
		}
		d, ok := e.draft(c)
		if !ok {
			continue
		}
		families[fam] = true
		if used < e.o.Words && parts[c.pos]*3 <= e.o.Words*2-1 && d.Warning == "" {
			used++
			parts[c.pos]++
		} else {
			d.Spare = true
		}
		out = append(out, d)
	}
	// The parts-of-speech rule must not leave a lesson short.
	for i := range out {
		if out[i].Spare && used < e.o.Words && out[i].Warning == "" {
			out[i].Spare = false
			used++
		}
	}
	return out
}

// family cuts a word down to what its relatives share: "sorrow" for
// "sorrowful". Rough on purpose: two words that look related are not taught in
// one lesson.
func family(lemma string) string {
	for _, s := range []string{"fulness", "lessness", "iness", "fully", "ously", "ingly", "edly", "ness", "less", "ment", "able", "ible", "tion", "ful", "ous", "ish", "ily", "ing", "ion", "ly", "er", "ed", "y", "e"} {
		if r, ok := strings.CutSuffix(lemma, s); ok && len(r) >= 4 {
			return r
		}
	}
	return lemma
}

func (e *engine) candidates(pi int, terms map[string]bool, best map[string][]candidate) {
	p := e.passages[pi]
	for si := p.First; si < p.Last; si++ {
		if !p.Prose(si) {
			continue
		}
		s := p.Doc.Sentences[si]
		n := s.Last - s.First
		if n < 5 || n > 60 {
			continue
		}
		for i := s.First; i < s.Last; i++ {
			c, ok := e.candidate(pi, si, i, terms)
			if !ok {
				continue
			}
			c.clue, c.clueNote = e.clue(p, si, i)
			length := 1 - math.Abs(float64(n)-16)/44 // a sentence that is easy to print and to think about
			c.score = 1.3*c.fit + c.worth + 0.8*c.clue + 0.5*length
			best[c.lemma] = append(best[c.lemma], c)
		}
	}
}

// candidate reports whether token i may be taught, and how hard and useful it is.
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
	if e.o.Known[lemma] || terms[lemma] || e.lex.Function(lemma) || len(e.lex.Senses(lemma, pos)) == 0 || !e.lex.Correct(t.Form) {
		return candidate{}, false
	}
	if _, bad := e.lex.Offensive(lemma); bad {
		return candidate{}, false
	}
	fit := e.fit(lemma, t.Form)
	if fit <= 0 {
		return candidate{}, false
	}
	return candidate{passage: pi, sentence: si, token: i, lemma: lemma, pos: pos, fit: fit, worth: 1.5 * e.lex.BookRange(lemma)}, true
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
	return true
}

// fit is how well a word's difficulty suits the grade, 0 to 1: best where half
// of a class would know it, nothing where all or none would. The middle moves
// with the grade (our choice, to be measured); the measure is how often a word
// is heard, on the Zipf scale, helped by the list of words known in grade 4.
func (e *engine) fit(lemma, form string) float64 {
	z, ok := e.lex.Zipf(lemma)
	if zf, okf := e.lex.Zipf(form); okf && (!ok || zf > z) {
		z, ok = zf, true
	}
	if !ok {
		z = 1.2
	}
	if bz, okb := e.lex.BookZipf(lemma); !okb && z < 1.5 {
		return 0 // met neither in talk nor in books: a name or a slip
	} else if okb {
		z = 0.75*z + 0.25*bz
	}
	middle := 4.25 - 0.25*float64(e.grade)
	if e.lex.Familiar(lexicon.Spache, lemma) || e.grade >= 3 && e.lex.Familiar(lexicon.DaleChall, lemma) {
		z += 0.8
	}
	x := (z - middle) / 0.85
	if x > 1.4 || x < -2.6 {
		return 0
	}
	return math.Exp(-x * x / 2)
}

// clueWords tell that the sentence itself explains: contrast, cause, example,
// comparison (our list).
var clueWords = map[string]string{"like": "a comparison", "because": "the reason", "but": "a contrast", "though": "a contrast", "although": "a contrast", "instead": "a contrast",
	"such": "an example", "so": "what came of it", "until": "what came of it", "as": "a comparison", "than": "a comparison"}

// clue is how much the sentence and the next give the meaning away, 0 to 1,
// with a word for the teacher.
func (e *engine) clue(p passage.Passage, si, i int) (float64, string) {
	d := p.Doc
	s := d.Sentences[si]
	known, content := 0, 0
	note := ""
	score := 0.0
	for j := s.First; j < s.Last; j++ {
		t := d.Tokens[j]
		if j == i {
			continue
		}
		if what, ok := clueWords[fold(t.Form)]; ok && note == "" && j != s.First && near(j, i, 10) {
			rest := phrase(d, j, min(s.Last, j+9))
			note = fmt.Sprintf("Clue: %s, “%s”.", what, rest)
			score += 0.35
		}
		if _, ok := sense.POSOf(t.UPOS); ok {
			content++
			if z, ok := e.lex.Zipf(t.Form); ok && z > 4 {
				known++
			}
		}
	}
	if content > 0 {
		score += 0.65 * float64(known) / float64(content)
	}
	return score, note
}

func near(a, b, n int) bool { return a-b <= n && b-a <= n }

// phrase is the text of tokens [a, z), cut at a full stop.
func phrase(d *lang.Doc, a, z int) string {
	end := d.Tokens[z-1].End
	for j := a + 1; j < z; j++ {
		if t := d.Tokens[j]; t.UPOS == "PUNCT" && strings.ContainsAny(t.Form, ".;:!?—”\"") {
			end = d.Tokens[j-1].End
			break
		}
	}
	return strings.Join(strings.Fields(d.Text[d.Tokens[a].Start:end]), " ")
}

var partNames = map[lexicon.POS]string{lexicon.Noun: "noun", lexicon.Verb: "verb", lexicon.Adjective: "adjective", lexicon.Adverb: "adverb"}

// draft makes the draft of a candidate; ok is false when no meaning fit for the
// page is found.
func (e *engine) draft(c candidate) (kit.Draft, bool) {
	p := e.passages[c.passage]
	t := p.Doc.Tokens[c.token]
	ranked := sense.Rank(e.lex, c.lemma, c.pos, sense.Around(p.Doc, c.token, 40))
	if len(ranked) == 0 || ranked[0].Offensive {
		return kit.Draft{}, false
	}
	g, ok := e.explain(c.lemma, t.XPOS, ranked[0].Sense)
	if !ok {
		return kit.Draft{}, false
	}
	sentence, place := p.Sentence(c.sentence), p.Book.Place(book.Span{Start: t.Start, End: t.End})
	d := kit.Draft{ID: kit.NewItemID(kit.Vocabulary, place, c.lemma), Kind: kit.Vocabulary, Place: place, Score: c.score,
		Content: kit.Content{Head: t.Form, Lemma: c.lemma, Sentence: sentence, PartOfSpeech: partNames[c.pos], Meaning: g.meaning, Synonym: g.synonym, Note: c.clueNote}}
	d.Why = fmt.Sprintf("About right for grade %d: %s%s", e.grade, e.howOften(c.lemma), comesAgain(c))
	d.Warning = e.lex.Warning(sentence)
	return d, true
}

func (e *engine) howOften(lemma string) string {
	z, _ := e.lex.Zipf(lemma)
	r := e.lex.BookRange(lemma)
	switch {
	case z < 2:
		return fmt.Sprintf("hardly ever heard in talk, but met in %d of 100 old novels.", int(math.Round(100*r)))
	case z < 3:
		return fmt.Sprintf("seldom heard in talk, but met in %d of 100 old novels.", int(math.Round(100*r)))
	}
	return fmt.Sprintf("heard now and then, and met in %d of 100 old novels.", int(math.Round(100*r)))
}

func comesAgain(c candidate) string {
	if c.clueNote != "" {
		return " The sentence helps to guess it."
	}
	return ""
}
