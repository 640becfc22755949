package vocabulary

import (
	"fmt"
	"strings"

	"bookstead/internal/lang"
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
	for j := f.s.First; j < f.s.Last; j++ {
		t := &d.Tokens[j]
		if t.Deprel != "appos" || t.UPOS != "NOUN" && t.UPOS != "ADJ" && t.UPOS != "VERB" {
			continue
		}
		other := -1
		switch {
		case t.Head == f.i:
			other = j
		case j == f.i && d.Tokens[t.Head].UPOS == "NOUN":
			other = t.Head
		}
		if other >= 0 && !f.e.names[fold(d.Tokens[other].Form)] {
			a, z := f.span(other, f.i)
			if z-a >= 2 {
				f.found(restated, "the words beside it say what it is: “%s”", f.text(a, z))
				return
			}
		}
	}
	// ", or a holy man,", "that is", "which means", "called a fakir"
	w := func(j int) string {
		if j < f.s.First || j >= f.s.Last {
			return ""
		}
		return fold(d.Tokens[j].Form)
	}
	i := f.i
	switch {
	case w(i+1) == "," && w(i+2) == "or" && d.Tokens[i].UPOS == "NOUN":
		f.found(restated, "the words behind “or” say it again: “%s”", f.text(i+3, f.s.Last))
	case w(i+1) == "," && (w(i+2) == "that" && w(i+3) == "is" && w(i+4) == "," || w(i+2) == "which" && w(i+3) == "means"):
		f.found(restated, "it is explained at once: “%s”", f.text(i+2, f.s.Last))
	case w(i-1) == "called" || (w(i-1) == "a" || w(i-1) == "an" || w(i-1) == "the") && w(i-2) == "called":
		f.found(restated, "the sentence says what is called so")
	}
}

// kin finds words that mean the same, the opposite or the kind in the sentence.
func (f *finder) kin(k kin) {
	d := f.d
	glosses := []string{}
	for j := f.s.First; j < f.s.Last; j++ {
		t := &d.Tokens[j]
		if _, ok := sense.POSOf(t.UPOS); !ok || j == f.i {
			continue
		}
		l := fold(t.Lemma)
		beside := t.Head == f.i && t.Deprel == "conj" || d.Tokens[f.i].Head == j && d.Tokens[f.i].Deprel == "conj"
		switch {
		case !f.easier(l):
		case k.same[l] && beside:
			f.found(sameBeside, "“%s” beside it means nearly the same", t.Form)
		case k.same[l]:
			f.found(sameNear, "“%s” in the same sentence means nearly the same", t.Form)
		case k.opposite[l] && (beside || f.negated()):
			f.found(oppositeBy, "“%s” beside it is the opposite", t.Form)
		case k.opposite[l]:
			f.found(oppositeIn, "“%s” in the same sentence is the opposite", t.Form)
		case k.kind[l]:
			f.found(kindNear, "“%s” in the same sentence tells what kind of thing it is", t.Form)
		case k.gloss[l] && len(glosses) < 2 && !contains(glosses, fold(t.Form)):
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

// neighbour looks for the same or the opposite in a sentence beside.
func (f *finder) neighbour(s lang.Sentence, k kin, where string) {
	for j := s.First; j < s.Last; j++ {
		t := &f.d.Tokens[j]
		if _, ok := sense.POSOf(t.UPOS); !ok {
			continue
		}
		switch l := fold(t.Lemma); {
		case !f.easier(l):
		case k.same[l]:
			f.found(sameNext, "%s says it again with “%s”", where, t.Form)
			return
		case k.opposite[l]:
			f.found(oppositeIn-0.1, "%s has the opposite, “%s”", where, t.Form)
			return
		}
	}
}

// clauses finds what hangs on the word, or on what it hangs on: a reason, a
// result, a turn, a comparison, an example.
func (f *finder) clauses() {
	d := f.d
	heads := map[int]bool{f.i: true}
	if own := &d.Tokens[f.i]; own.Head >= 0 && (own.Deprel == "amod" || own.Deprel == "advmod" || own.Deprel == "obj" || own.Deprel == "xcomp" || own.Deprel == "nsubj") {
		heads[own.Head] = true
	}
	so := false
	for j := f.s.First; j < f.s.Last; j++ {
		t := &d.Tokens[j]
		if t.Head == f.i && t.Deprel == "advmod" && (fold(t.Form) == "so" || fold(t.Form) == "such" || fold(t.Form) == "too") {
			so = true
		}
	}
	for j := f.s.First; j < f.s.Last; j++ {
		t := &d.Tokens[j]
		w := fold(t.Form)
		switch {
		case t.Deprel == "mark" && t.Head >= 0 && heads[d.Tokens[t.Head].Head] && j > f.i:
			switch {
			case w == "because" || w == "since" && d.Tokens[t.Head].Deprel == "advcl":
				f.found(cause, "the reason follows: “%s”", f.clause(j))
			case w == "that" && so:
				f.found(result, "what comes of it follows: “%s”", f.clause(j))
			}
		case t.Deprel == "cc" && w == "but" && t.Head >= 0 && heads[d.Tokens[t.Head].Head] && d.Tokens[t.Head].Deprel == "conj":
			if j > f.i {
				f.found(contrast, "what follows is against it: “%s”", f.clause(j))
			} else {
				f.found(contrast, "it stands against what goes before “but”")
			}
		case w == "instead" && near(j, f.i, 6):
			f.found(contrast, "“instead” tells what it is not")
		case (w == "like" || w == "as") && (t.Deprel == "case" || t.Deprel == "mark") && t.Head >= 0 && heads[d.Tokens[t.Head].Head] && j > f.i && fold(d.Tokens[max(0, j-1)].Form) != "such":
			f.found(comparison+0.05, "a comparison follows: “%s”", f.clause(j))
		case w == "such" && j+1 < f.s.Last && fold(d.Tokens[j+1].Form) == "as" && j > f.i && near(j, f.i, 4):
			f.found(example, "an example follows: “%s”", f.clause(j))
		}
	}
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
		if t := &d.Tokens[j]; j > a && t.UPOS == "PUNCT" && strings.ContainsAny(t.Form, ",.;:!?—”\"()") {
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
