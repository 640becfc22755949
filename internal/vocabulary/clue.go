package vocabulary

import (
	"fmt"
	"strings"

	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
	"bookstead/internal/passage"
	"bookstead/internal/sense"
)

// clue says how well the meaning of a word can be guessed where it stands: a
// score of 0 to 1, and in the teacher's words the best reason ("" when there is
// none worth telling).
type clue struct {
	score float64
	note  string
}

// How sure each kind of clue makes a reader of the meaning (our judgement, by
// reading; the classes are those that teachers name). Clues that stand side by
// side add up as independent chances do.
const (
	restated    = 0.75 // "a fakir, that is, a holy man"
	sameBeside  = 0.7  // "dark and gloomy"
	sameNear    = 0.55 // a word of nearly the same meaning in the sentence
	sameNext    = 0.5  // in the next sentence or the one before
	oppositeBy  = 0.6  // "not timid but brave"
	oppositeIn  = 0.45
	kindNear    = 0.35 // what it is a kind of
	glossNear   = 0.2  // a word of its definition, at most two
	example     = 0.3
	cause       = 0.25
	result      = 0.3
	contrast    = 0.25
	comparison  = 0.2
	knownAround = 0.2 // at most: every other word is known
	worthANote  = 0.25
)

// clueAt looks for clues to token i in its sentence and the two around it.
func (e *engine) clueAt(p passage.Passage, si, i int, k kin) clue {
	f := finder{e: e, d: p.Doc, s: p.Doc.Sentences[si], i: i, unsure: 1}
	f.restated()
	f.kin(k)
	f.clauses()
	if si+1 < p.Last && p.Doc.Sentences[si+1].Paragraph == f.s.Paragraph {
		f.neighbour(p.Doc.Sentences[si+1], k, "the next sentence")
	}
	if si > p.First && p.Doc.Sentences[si-1].Paragraph == f.s.Paragraph {
		f.neighbour(p.Doc.Sentences[si-1], k, "the sentence before")
	}
	f.unsure *= 1 - knownAround*f.known()
	c := clue{score: 1 - f.unsure}
	if f.best >= worthANote {
		c.note = "Clue: " + f.note + "."
	}
	return c
}

// finder gathers the clues of one place.
type finder struct {
	e      *engine
	d      *lang.Doc
	s      lang.Sentence
	i      int
	unsure float64 // what is left to doubt
	best   float64
	note   string
}

func (f *finder) found(strength float64, format string, args ...any) {
	f.unsure *= 1 - strength
	if strength > f.best {
		f.best, f.note = strength, fmt.Sprintf(format, args...)
	}
}

// restated finds the same thing said again beside the word.
func (f *finder) restated() {
	d := f.d
	w := func(j int) string {
		if j < f.s.First || j >= f.s.Last {
			return ""
		}
		return fold(d.Tokens[j].Form)
	}
	i := f.i
	for j := f.s.First; j < f.s.Last; j++ {
		t := &d.Tokens[j]
		if t.Deprel != "appos" || t.Head < 0 || j != i && t.Head != i {
			continue
		}
		other := t.Head
		if other == i {
			other = j
		}
		if d.Tokens[i].UPOS != "NOUN" || d.Tokens[other].UPOS != "NOUN" || f.e.names[w(other)] || fold(d.Tokens[other].Lemma) == "one" {
			continue
		}
		a, z := f.span(other, i)
		if z-a < 2 || d.Tokens[a].UPOS == "ADP" || d.Tokens[a].UPOS == "CCONJ" || d.Tokens[a].UPOS == "PRON" || !near(a, i, 8) && !near(z, i, 8) || hyphen(w(a-1)) || d.Tokens[other].XPOS != d.Tokens[i].XPOS {
			continue
		}
		f.found(restated, "the words beside it say what it is: “%s”", f.text(a, z))
		return
	}
	t := &d.Tokens[i]
	switch {
	case w(i+1) == "," && w(i+2) == "or" && t.UPOS == "NOUN" && f.aside(i):
		f.found(restated, "the words behind “or” say it again: “%s”", f.text(i+3, f.s.Last))
	case w(i+1) == "," && (w(i+2) == "that" && w(i+3) == "is" && w(i+4) == ","):
		f.found(restated, "it is explained at once: “%s”", f.text(i+5, f.s.Last))
	case w(i+1) == "," && w(i+2) == "which" && (w(i+3) == "means" || w(i+3) == "is" && w(i+4) == "to" && w(i+5) == "say"):
		f.found(restated, "it is explained at once: “%s”", f.text(i+2, f.s.Last))
	case t.UPOS == "NOUN" && (f.named(i-1) || (w(i-1) == "a" || w(i-1) == "an" || w(i-1) == "the") && f.named(i-2)):
		f.found(restated, "the sentence tells what is called so")
	}
}

// named reports a "called" or "known as" that gives a thing its name ("a stick
// called a distaff", not "he called a groom").
func (f *finder) named(j int) bool {
	if j < f.s.First || j >= f.s.Last {
		return false
	}
	t := &f.d.Tokens[j]
	return (fold(t.Form) == "called" || fold(t.Form) == "named") && t.XPOS == "VBN" && (t.Deprel == "acl" || j > f.s.First && f.d.Tokens[j-1].UPOS == "NOUN")
}

// aside reports that ", or …," behind the word is said aside rather than one of
// several choices: it is closed by a comma, and no other "or" nor list is near.
func (f *finder) aside(i int) bool {
	closed := false
	for j := f.s.First; j < f.s.Last; j++ {
		switch w := fold(f.d.Tokens[j].Form); {
		case w == "or" && j != i+2, w == "," && j < i && near(i, j, 6):
			return false
		case w == "," && j > i+3 && near(i, j, 8):
			closed = true
		}
	}
	return closed && f.d.Tokens[min(i+3, len(f.d.Tokens)-1)].UPOS != "VERB"
}

// kin finds words that mean the same, the opposite or the kind in the sentence.
func (f *finder) kin(k kin) {
	d := f.d
	glosses := []string{}
	for j := f.s.First; j < f.s.Last; j++ {
		t := &d.Tokens[j]
		pos, ok := sense.POSOf(t.UPOS)
		if !ok || j == f.i {
			continue
		}
		l := fold(t.Lemma)
		if !f.easier(l) {
			continue
		}
		beside := t.Head == f.i && t.Deprel == "conj" || d.Tokens[f.i].Head == j && d.Tokens[f.i].Deprel == "conj"
		switch {
		case f.e.means(l, pos, k.same[l]):
			if beside {
				f.found(sameBeside, "“%s” beside it means nearly the same", t.Form)
			} else {
				f.found(sameNear, "“%s” in the same sentence means nearly the same", t.Form)
			}
		case f.e.means(l, pos, k.opposite[l]):
			if beside || f.negated() {
				f.found(oppositeBy, "“%s” beside it is the opposite", t.Form)
			} else {
				f.found(oppositeIn, "“%s” in the same sentence is the opposite", t.Form)
			}
		case f.e.means(l, pos, k.kind[l]) && pos == lexicon.Noun:
			f.found(kindNear, "“%s” in the same sentence tells what kind of thing it is", t.Form)
		case k.gloss[l] && pos != lexicon.Adverb && len(glosses) < 2 && !contains(glosses, fold(t.Form)):
			glosses = append(glosses, fold(t.Form))
		}
	}
	switch len(glosses) {
	case 1:
		f.found(glossNear, "“%s” shows what it has to do with", glosses[0])
	case 2:
		f.found(2*glossNear, "“%s” and “%s” show what it has to do with", glosses[0], glosses[1])
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// easier reports that a child knows the clue word rather than the word itself.
// Words that stand in every second sentence ("see", "thing") give nothing away.
func (f *finder) easier(l string) bool {
	z, ok := f.e.zipf(l)
	own, _ := f.e.zipf(f.d.Tokens[f.i].Lemma)
	return ok && z > own+0.3 && z > 3.3 && z < 5.7
}

// negated reports a "not" at the word or at its head.
func (f *finder) negated() bool {
	for j := f.s.First; j < f.s.Last; j++ {
		if t := &f.d.Tokens[j]; (t.Head == f.i || t.Head == f.d.Tokens[f.i].Head) && (fold(t.Form) == "not" || t.Form == "n't" || t.Form == "n’t" || fold(t.Form) == "never") {
			return true
		}
	}
	return false
}

// tellsMore: a sentence behind that says what "it" was, in words of the
// definition.
const tellsMore = 0.35

// pointsBack reports a sentence of the kind "It was …" or "That means …".
func (f *finder) pointsBack(s lang.Sentence) bool {
	switch fold(f.d.Tokens[s.First].Form) {
	case "it", "this", "that", "they", "these", "those":
	default:
		return false
	}
	for j := s.First + 1; j < min(s.Last, s.First+4); j++ {
		if l := fold(f.d.Tokens[j].Lemma); l == "be" || l == "mean" {
			return true
		}
	}
	return false
}

// isCopula reports that token j is what something is said to be.
func (f *finder) isCopula(s lang.Sentence, j int) bool {
	for k := s.First; k < j; k++ {
		if f.d.Tokens[k].Head == j && f.d.Tokens[k].Deprel == "cop" {
			return true
		}
	}
	return false
}

// neighbour looks for the same or the opposite in a sentence beside.
func (f *finder) neighbour(s lang.Sentence, k kin, where string) {
	back := s.First > f.i && f.pointsBack(s)
	for j := s.First; j < s.Last; j++ {
		t := &f.d.Tokens[j]
		pos, ok := sense.POSOf(t.UPOS)
		if !ok {
			continue
		}
		switch l := fold(t.Lemma); {
		case !f.easier(l):
		case f.e.means(l, pos, k.same[l]):
			f.found(sameNext, "%s says it again with “%s”", where, t.Form)
			return
		case f.e.means(l, pos, k.opposite[l]):
			f.found(oppositeIn-0.1, "%s has the opposite, “%s”", where, t.Form)
			return
		case pos == lexicon.Noun && f.e.means(l, pos, k.kind[l]):
			f.found(kindNear-0.05, "%s calls it a kind of “%s”", where, t.Form)
			return
		case back && pos == lexicon.Noun && k.gloss[l] && f.d.Tokens[f.i].UPOS == "NOUN" && f.isCopula(s, j):
			f.found(tellsMore, "%s tells more of it: “%s”", where, f.text(s.First, s.Last))
			return
		}
	}
}

// clauses finds what hangs on the word itself: a reason, a result, its opposite,
// a comparison, an example.
func (f *finder) clauses() {
	d := f.d
	own := &d.Tokens[f.i]
	manner := own.UPOS == "ADV" && strings.HasSuffix(fold(own.Form), "ly") && !degree[fold(own.Form)]
	on := func(head int) bool { // on the word, or on what it says how it is done
		return head == f.i || manner && own.Deprel == "advmod" && head == own.Head
	}
	so := false
	for j := f.s.First; j < f.s.Last; j++ {
		if t := &d.Tokens[j]; t.Head == f.i && t.Deprel == "advmod" && (fold(t.Form) == "so" || fold(t.Form) == "such" || fold(t.Form) == "too") {
			so = true
		}
	}
	for j := f.s.First; j < f.s.Last; j++ {
		t := &d.Tokens[j]
		if t.Head < 0 {
			continue
		}
		w, clause := fold(t.Form), &d.Tokens[t.Head]
		switch {
		case t.Deprel == "mark" && j > f.i && w == "that" && so && (on(clause.Head) || clause.Head == own.Head):
			f.found(result, "what comes of it follows: “%s”", f.clause(j))
		case t.Deprel == "mark" && j > f.i && w == "because" && own.UPOS != "VERB" && on(clause.Head):
			f.found(cause, "the reason follows: “%s”", f.clause(j))
		case t.Deprel == "cc" && w == "but" && j > f.i && clause.Deprel == "conj" && clause.Head == f.i && clause.UPOS == own.UPOS && own.UPOS != "VERB" && !f.clausal(t.Head):
			f.found(contrast, "what it is not like follows: “%s”", f.clause(j))
		case w == "instead" && j > f.i && near(j, f.i, 5) && fold(d.Tokens[min(j+1, len(d.Tokens)-1)].Form) == "of":
			f.found(contrast, "what it is not follows: “%s”", f.clause(j))
		case (w == "like" || w == "as" && own.UPOS != "VERB") && t.Deprel == "case" && clause.UPOS == "NOUN" && on(clause.Head) && j > f.i && near(j, f.i, 6) && fold(d.Tokens[j-1].Form) != "such":
			f.found(comparison+0.05, "a comparison follows: “%s”", f.clause(j))
		case w == "such" && j+1 < f.s.Last && fold(d.Tokens[j+1].Form) == "as" && j > f.i && near(j, f.i, 3) && own.UPOS == "NOUN":
			f.found(example, "an example follows: “%s”", f.clause(j))
		}
	}
}

// degree are adverbs in -ly that do not tell how something is done.
var degree = map[string]bool{"scarcely": true, "hardly": true, "nearly": true, "actually": true, "really": true, "only": true, "certainly": true, "probably": true,
	"generally": true, "exactly": true, "entirely": true, "utterly": true, "merely": true, "evidently": true, "naturally": true, "usually": true}

// clausal reports that token j has a subject of its own.
func (f *finder) clausal(j int) bool {
	for k := f.s.First; k < f.s.Last; k++ {
		if f.d.Tokens[k].Head == j && strings.HasPrefix(f.d.Tokens[k].Deprel, "nsubj") {
			return true
		}
	}
	return false
}

// known is the share of the other words of the sentence that children hear often.
func (f *finder) known() float64 {
	known, content := 0, 0
	for j := f.s.First; j < f.s.Last; j++ {
		if _, ok := sense.POSOf(f.d.Tokens[j].UPOS); !ok || j == f.i {
			continue
		}
		content++
		if z, ok := f.e.zipf(f.d.Tokens[j].Form); ok && z > 4 {
			known++
		}
	}
	if content == 0 {
		return 0
	}
	return float64(known) / float64(content)
}

// span is the run of tokens that hang on h, without those that hang on but.
func (f *finder) span(h, but int) (a, z int) {
	a, z = h, h+1
	for j := f.s.First; j < f.s.Last; j++ {
		for up, steps := j, 0; up >= 0 && up != but && steps < 20; up, steps = f.d.Tokens[up].Head, steps+1 {
			if up == h {
				a, z = min(a, j), max(z, j+1)
				break
			}
		}
	}
	if but >= a && but < z { // the word itself lies inside: only one side
		if but < h {
			a = but + 1
		} else {
			z = but
		}
	}
	for a < z && f.d.Tokens[a].UPOS == "PUNCT" {
		a++
	}
	return a, z
}

const mostClueWords = 9

// clause is the text from j on, as far as a clause goes.
func (f *finder) clause(j int) string { return f.text(j, f.s.Last) }

// text is tokens [a, z), cut where a clause ends and at a length that can be
// read at a glance.
func (f *finder) text(a, z int) string {
	d := f.d
	end := a
	for j := a; j < z && j < a+mostClueWords; j++ {
		if t := &d.Tokens[j]; j > a && (t.UPOS == "PUNCT" && strings.ContainsAny(t.Form, ",.;:!?—”\"()") || strings.HasPrefix(t.Form, "--")) {
			break
		}
		end = j
	}
	more := ""
	if end == a+mostClueWords-1 && end+1 < z && d.Tokens[end+1].UPOS != "PUNCT" {
		more = " …"
	}
	return strings.Join(strings.Fields(d.Text[d.Tokens[a].Start:d.Tokens[end].End]), " ") + more
}

func near(a, b, n int) bool { return a-b <= n && b-a <= n }
