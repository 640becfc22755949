package vocabulary

import (
	"fmt"
	"slices"

	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/lang"
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

// reachedIn is the step of the usual sequence that a class has reached when
// nobody said: after vowel teams in grade 1, at common endings in grade 2. Common
// practice, no source.
func reachedIn(grade, steps int) int {
	if grade <= 1 {
		return min(6, steps)
	}
	return min(10, steps)
}

// readyToSpeak finds out how words are said and what has been taught.
func (e *engine) readyToSpeak() error {
	var err error
	if e.speaker, err = phonics.NewSpeaker(e.lex); err != nil {
		return fmt.Errorf("making words ready to be said: %w", err)
	}
	if e.steps = e.o.Steps; e.steps == nil {
		e.steps = phonics.UsualSequence()
	}
	if e.reached = e.o.Step; e.reached == 0 {
		e.reached = reachedIn(e.grade, len(e.steps.Steps))
	}
	return nil
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
	sight := e.sightWords()
	for i := first; i < last; i++ {
		t := &p.Doc.Tokens[i]
		w := fold(t.Form)
		if seen[w] || !plain(t.Form) || t.Multi != 0 || e.names[w] || t.UPOS == "PROPN" || len(w) < 2 || len(w) > 9 {
			continue
		}
		seen[w] = true
		if _, bad := e.lex.Offensive(w); bad {
			continue
		}
		label, step, ok := e.practised(w, t, sight[w])
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
			Content: kit.Content{Head: w, Lemma: fold(t.Lemma), Pattern: label}, Score: -float64(i - first)})
	}
	slices.SortStableFunc(order, func(a, b *spellingGroup) int {
		return e.worth(b) - e.worth(a)
	})
	if g := groups[sightPattern]; g != nil { // those that no later step would help with come first
		slices.SortStableFunc(g.words, func(a, b kit.Draft) int { return irregularFirst(a, b, e) })
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
			out = append(out, d)
		}
	}
	return out
}

func irregularFirst(a, b kit.Draft, e *engine) int {
	rank := func(d kit.Draft) int {
		said, _ := e.speaker.Say(d.Content.Head, phonics.AnyPart)
		if len(e.steps.Read(d.Content.Head, said.Phones).Never) > 0 {
			return 0
		}
		return 1
	}
	return rank(a) - rank(b)
}

// practised says under which heading a word is practised; ok is false for words
// whose sound is not certain, those that the class cannot read yet, and those
// with nothing to show.
func (e *engine) practised(w string, t *lang.Token, listed bool) (label string, step int, ok bool) {
	said, ok := e.speaker.Say(w, partOf(t))
	if !ok || said.Source == phonics.Predicted {
		return "", 0, false
	}
	r := e.steps.Read(w, said.Phones)
	if len(r.Never) > 0 || r.Step > e.reached+1 {
		z, _ := e.lex.Zipf(w)
		if listed || len(r.Never) > 0 && z >= irregularZipf {
			return sightPattern, 0, true
		}
		return "", 0, false
	}
	taught, ok := e.steps.Example(r)
	if !ok || len(w) < 3 {
		return "", 0, false
	}
	return taught.Label(), e.steps.StepOf(taught.Correspondence), true
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

// sightWords are the published service words (Dolch 1936) and the first hundred
// of Fry (1980).
func (e *engine) sightWords() map[string]bool {
	m := map[string]bool{}
	for _, l := range e.lex.Dolch() {
		for _, w := range l.Words {
			m[fold(w)] = true
		}
	}
	for _, w := range e.lex.Fry() {
		m[fold(w)] = true
	}
	return m
}
