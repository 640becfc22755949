package vocabulary

import (
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
	"bookstead/internal/passage"
	"bookstead/internal/phonics"
)

// What a young reader practises before one reading: so many spellings, so many
// words of each, and common words that the letters do not give away. Common
// practice, no source.
const (
	mostPatterns = 4
	mostOfOne    = 5
	mostSight    = 6
	// irregularZipf is how common an irregular word is, heard in films and plays,
	// that is learned by heart though no list has it.
	irregularZipf = 5.0
)

// sightPattern heads the common words.
const sightPattern = "Words to know by heart"

// UsualStep is the step that a class has reached when nobody said: after vowel
// teams in grade 1 (step 6 of 12 of the usual sequence), at common endings in
// grade 2 (step 10), through all of them later. Common practice, no source.
func UsualStep(grade int, steps *phonics.Sequence) int {
	n := len(steps.Steps)
	switch {
	case grade <= 1:
		return max(1, min(6, n))
	case grade == 2:
		return max(1, min(10, n))
	}
	return n
}

// readyToPractise finds out how words are said and what has been taught.
func (e *engine) readyToPractise() error {
	var err error
	if e.decoder, err = NewDecoder(e.lex, e.o.Steps); err != nil {
		return err
	}
	if e.reached = e.o.Step; e.reached == 0 {
		e.reached = UsualStep(e.grade, e.decoder.steps)
	}
	return nil
}

// Practice drafts the practice words and lines of every passage alone, for a
// child who stands at another step than the class.
func Practice(lex *lexicon.Lexicon, passages []passage.Passage, steps *phonics.Sequence, step int) ([][]kit.Draft, error) {
	out := make([][]kit.Draft, len(passages))
	if len(passages) == 0 {
		return out, nil
	}
	e := newEngine(lex, passages, Options{Practice: true, Steps: steps, Step: step})
	if err := e.readyToPractise(); err != nil {
		return nil, err
	}
	for i := range passages {
		out[i] = e.practice(i)
	}
	return out, nil
}

// spellingGroup is the words of a passage that share a spelling.
type spellingGroup struct {
	label string
	step  int // that teaches it; 0 for words known by heart
	words []kit.Draft
}

// practice groups the words of a passage by the spelling that they share, each
// word under what it is the best example of. Spellings just being taught come
// first, those with more words before others; what is taught later than the next
// step waits. Common irregular words follow. Words already practised for an
// earlier passage may come again: practice is by passage.
func (e *engine) practice(pi int) []kit.Draft {
	p := e.passages[pi]
	first, last := p.Tokens()
	groups := map[string]*spellingGroup{}
	var order []*spellingGroup
	seen := map[string]bool{}
	for i := first; i < last; i++ {
		t := &p.Doc.Tokens[i]
		w := fold(t.Form)
		if seen[w] || !plain(t.Form) || t.Multi != 0 || e.names[w] || t.UPOS == "PROPN" || len(w) < 2 || len(w) > 9 {
			continue
		}
		seen[w] = true
		if o, _ := e.lex.Offensive(w); o.Level != lexicon.Fine || unfit[w] || joined(p.Doc, i-1) || joined(p.Doc, i) {
			continue
		}
		label, letters, step, ok := e.example(w, t)
		if !ok {
			continue
		}
		g := groups[label]
		if g == nil {
			g = &spellingGroup{label: label, step: step}
			groups[label] = g
			order = append(order, g)
		}
		place := p.Book.Place(book.Span{Start: t.Start, End: t.End})
		g.words = append(g.words, kit.Draft{ID: kit.NewItemID(kit.Practice, place, w), Kind: kit.Practice, Place: place,
			Content: kit.Content{Head: w, Lemma: fold(t.Lemma), Pattern: label, Letters: letters}, Score: -float64(i - first)})
	}
	slices.SortStableFunc(order, func(a, b *spellingGroup) int {
		return e.worth(b) - e.worth(a)
	})
	for _, g := range order { // words that an earlier lesson practised come last
		slices.SortStableFunc(g.words, func(a, b kit.Draft) int {
			if n := e.practised[a.Content.Head] - e.practised[b.Content.Head]; n != 0 || g.step > 0 {
				return n
			}
			return irregularFirst(a, b, e) // those that no later step would help with
		})
	}
	var out []kit.Draft
	chosen := 0
	for _, g := range order {
		most := mostOfOne
		spare := chosen >= mostPatterns || len(g.words) < 2
		why := fmt.Sprintf("%d words of this passage share the spelling, which is taught at step %d.", len(g.words), g.step)
		if len(g.words) == 1 {
			why = fmt.Sprintf("The spelling is taught at step %d.", g.step)
		}
		switch {
		case g.step == 0:
			most, spare, why = mostSight, false, "A common word that its letters do not give away."
		case !spare:
			chosen++
		}
		for n, d := range g.words {
			d.Spare = spare || n >= most
			if d.Spare && len(out) > 60 {
				continue
			}
			d.Why = why
			if !d.Spare {
				e.practised[d.Content.Head]++
			}
			out = append(out, d)
		}
	}
	return append(out, e.lines(pi, out)...)
}

// LinesPattern heads the sentences and phrases to read.
const LinesPattern = "Lines to read"

// mostLines are printed of a passage; as many more are offered.
const mostLines = 4

// lines drafts sentences and phrases of the passage that the class can read
// alone, first those that have the practised words.
func (e *engine) lines(pi int, words []kit.Draft) []kit.Draft {
	practised := map[string]bool{}
	for _, d := range words {
		if !d.Spare {
			practised[d.Content.Head] = true
		}
	}
	var out []kit.Draft
	for n, l := range e.decoder.Lines(e.passages[pi], e.reached, practised, 2*mostLines) {
		why := "Every word in it can be read at this step."
		if len(l.Shows) > 0 {
			why = fmt.Sprintf("Every word in it can be read at this step, and it has “%s”.", strings.Join(l.Shows, "”, “"))
		}
		out = append(out, kit.Draft{ID: kit.NewItemID(kit.Practice, l.Place, l.Text), Kind: kit.Practice, Place: l.Place, Score: -1000 - float64(n), Spare: n >= mostLines, Why: why,
			Content: kit.Content{Head: l.Text, Sentence: l.Text, Pattern: LinesPattern}})
	}
	return out
}

// unfit are words that no child should have to practise for their letters.
var unfit = map[string]bool{"slave": true, "slaves": true, "kill": true, "kills": true, "killed": true, "dead": true, "gun": true, "guns": true, "blood": true, "hang": true, "hanged": true, "hung": true}

func irregularFirst(a, b kit.Draft, e *engine) int {
	rank := func(d kit.Draft) int {
		if len(e.decoder.say(d.Content.Head, phonics.AnyPart).reading.Never) > 0 {
			return 0
		}
		return 1
	}
	return rank(a) - rank(b)
}

// example says under which heading a word is practised, with its letters
// marked; ok is false for words whose sound is not certain, those that the class
// cannot read yet, and those with nothing to show.
func (e *engine) example(w string, t *lang.Token) (label, letters string, step int, ok bool) {
	said := e.decoder.say(w, partOf(t))
	if !said.ok || said.source == phonics.Predicted {
		return "", "", 0, false
	}
	r, steps := said.reading, e.decoder.steps
	if len(r.Never) > 0 || r.Step > e.reached+1 {
		z, _ := e.lex.Zipf(w)
		if e.decoder.byHeart[w] || len(r.Never) > 0 && z >= irregularZipf {
			return sightPattern, steps.Irregular(w, r), 0, true
		}
		return "", "", 0, false
	}
	taught, ok := steps.Example(r)
	if !ok || len(w) < 3 {
		return "", "", 0, false
	}
	return taught.Label(), steps.Shows(w, r, taught), steps.StepOf(taught.Correspondence), true
}

// worth orders the groups: nearness of the step to what is being taught counts
// as many words as steps, up to those that are shown. Words known by heart come
// last.
func (e *engine) worth(g *spellingGroup) int {
	if g.step == 0 {
		return -1000
	}
	far := e.reached + 1 - g.step
	return min(len(g.words), mostOfOne) - far
}

// partOf is what a homograph is in its sentence.
func partOf(t *lang.Token) phonics.Part {
	switch t.UPOS {
	case "NOUN":
		return phonics.Noun
	case "VERB", "AUX":
		if t.XPOS == "VBD" || t.XPOS == "VBN" {
			return phonics.Past
		}
		return phonics.Verb
	case "ADJ":
		return phonics.Adjective
	case "ADV":
		return phonics.Adverb
	}
	return phonics.AnyPart
}
