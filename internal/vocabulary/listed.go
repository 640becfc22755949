package vocabulary

import (
	"fmt"
	"slices"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/lexicon"
	"bookstead/internal/sense"
)

// Own is a word of a list that the teacher typed or pasted for the whole book.
type Own struct {
	Word    string
	Meaning string // "" lets the program say it
}

// ownWords are the drafts of the teacher's own words.
type ownWords struct {
	drafts [][]kit.Draft   // by passage
	lemmas map[string]bool // not chosen again
	count  []int           // those that take a place, by passage
}

// own drafts the words that the teacher typed: those of a chapter where that
// chapter has them, those of the whole book in the lesson and the sentence that
// suit them best, so long as a lesson has room. A word typed twice is drafted
// once. Each gets the meaning that it has there; a meaning that was typed stays.
func (e *engine) own(all []candidate) ownWords {
	out := ownWords{drafts: make([][]kit.Draft, len(e.passages)), lemmas: map[string]bool{}, count: make([]int, len(e.passages))}
	add := func(pi int, d kit.Draft) {
		if out.lemmas[d.Content.Lemma] {
			return
		}
		out.lemmas[d.Content.Lemma] = true
		out.drafts[pi] = append(out.drafts[pi], d)
		if !d.Spare && d.Warning == "" {
			out.count[pi]++
		}
	}
	for pi, p := range e.passages {
		for _, tw := range p.Book.Words {
			if tw.Chapter < 0 || tw.Chapter >= len(p.Book.Chapters) {
				continue
			}
			c := p.Book.Chapters[tw.Chapter]
			if c.Start < p.Lesson.Start || c.Start >= p.Lesson.End {
				continue
			}
			w := Own{tw.Word, tw.Meaning}
			if found := e.find(w.Word, pi, c.Body, c.End); len(found) > 0 {
				add(pi, e.ownDraft(w, found[0]))
			} else {
				add(pi, e.unseen(w, pi, book.Span{Start: c.Start, End: max(c.Start, c.Body-2)}, false))
			}
		}
	}
	for _, w := range e.o.Own {
		var found []occurrence
		for pi, p := range e.passages {
			found = append(found, e.find(w.Word, pi, p.Lesson.Start, p.Lesson.End)...)
		}
		if len(found) == 0 {
			first := e.passages[0].Lesson.Span
			add(0, e.unseen(w, 0, book.Span{Start: first.Start, End: first.Start}, true))
			continue
		}
		slices.SortStableFunc(found, func(a, b occurrence) int { return cmp(b.value, a.value) })
		at := slices.IndexFunc(found, func(o occurrence) bool { return out.count[o.passage] < e.o.Words })
		add(found[max(0, at)].passage, e.ownDraft(w, found[max(0, at)]))
	}
	for pi := range out.drafts {
		slices.SortStableFunc(out.drafts[pi], func(a, b kit.Draft) int { return a.Place.Start - b.Place.Start })
	}
	return out
}

// occurrence is a place where the book has a word or a phrase that was typed.
type occurrence struct {
	passage, sentence, first, last int // tokens [first, last)
	value                          float64
}

// find looks for a typed word, in any form, or a phrase as it stands, in the
// prose between two offsets; the best sentence comes first.
func (e *engine) find(typed string, pi, start, end int) []occurrence {
	words := strings.Fields(fold(typed))
	if len(words) == 0 {
		return nil
	}
	p := e.passages[pi]
	var out []occurrence
	is := func(i int, w string) bool {
		t := &p.Doc.Tokens[i]
		return fold(t.Form) == w || fold(t.Lemma) == w
	}
	for si := max(0, p.Doc.SentenceAt(start)); si < len(p.Doc.Sentences); si++ {
		s := p.Doc.Sentences[si]
		if p.Doc.Tokens[s.First].Start >= end {
			break
		}
		if !p.Prose(si) {
			continue
		}
		for i := max(s.First, p.Doc.TokenAt(start)); i+len(words) <= s.Last && p.Doc.Tokens[i].Start < end; i++ {
			match := true
			for k, w := range words {
				match = match && is(i+k, w)
			}
			if !match {
				continue
			}
			o := occurrence{passage: pi, sentence: si, first: i, last: i + len(words), value: sentenceCounts * e.printable(pi, si)}
			if f := p.Doc.Tokens[i].Form; len(f) > 1 && strings.ToUpper(f) == f {
				o.value-- // IN CAPITALS
			}
			if joined(p.Doc, i-1) || joined(p.Doc, i+len(words)-1) {
				o.value-- // part of a longer word
			}
			if pos, ok := sense.POSOf(p.Doc.Tokens[i].UPOS); ok && len(words) == 1 {
				o.value += guessCounts * e.clueAt(p, si, i, e.kin(fold(p.Doc.Tokens[i].Lemma), pos)).score
			}
			out = append(out, o)
		}
	}
	slices.SortStableFunc(out, func(a, b occurrence) int { return cmp(b.value, a.value) })
	return out
}

const onYourList = "It stands on your list."

// ownDraft is a typed word where the book has it.
func (e *engine) ownDraft(w Own, o occurrence) kit.Draft {
	p := e.passages[o.passage]
	t := p.Doc.Tokens[o.first]
	end := p.Doc.Tokens[o.last-1].End
	place := p.Book.Place(book.Span{Start: t.Start, End: end})
	d := kit.Draft{Kind: kit.Vocabulary, Score: 10, Why: onYourList, Place: place,
		Content: kit.Content{Head: p.Doc.Text[t.Start:end], Lemma: fold(t.Lemma), Meaning: w.Meaning, Sentence: p.Balanced(o.sentence)}}
	if o.last > o.first+1 {
		d.Content.Lemma = strings.Join(strings.Fields(fold(w.Word)), " ")
	}
	pos, ok := sense.POSOf(t.UPOS)
	if ok && o.last == o.first+1 {
		d.Content.PartOfSpeech = partNames[pos]
		c := candidate{passage: o.passage, sentence: o.sentence, token: o.first, lemma: d.Content.Lemma, pos: pos}
		if m := e.tell(c); m.ok {
			fill(&d.Content, m)
			d.Content.Note = e.clueAt(p, o.sentence, o.first, e.kinOf(c.lemma, []lexicon.Sense{m.sense})).note
			e.exercise(&d.Content, c)
		}
	}
	if d.Content.Meaning == "" && !e.usual(&d) {
		d.Why += " Its meaning here is not known to me: please type it."
	}
	return e.finish(d)
}

// usual fills in what a word means most often: as one of the terms of another
// time, else by its first sense, and says that the place did not decide. It
// reports whether there is anything to say.
func (e *engine) usual(d *kit.Draft) bool {
	word := d.Content.Lemma
	for _, t := range terms().by[spaced(word)] {
		if len(t.near)+len(t.not)+len(t.before) == 0 && !t.name {
			d.Content.Meaning = strings.ToLower(t.explanation[:1]) + strings.TrimSuffix(t.explanation[1:], ".")
			return true
		}
	}
	for _, pos := range []lexicon.POS{lexicon.Noun, lexicon.Verb, lexicon.Adjective, lexicon.Adverb} {
		s := e.lex.Senses(word, pos)
		if len(s) == 0 || s[0].Offensive || d.Content.PartOfSpeech != "" && d.Content.PartOfSpeech != partNames[pos] {
			continue
		}
		g, ok := e.explain(word, "", s[0])
		if !ok {
			return false
		}
		d.Content.PartOfSpeech = partNames[pos]
		fill(&d.Content, told{sense: s[0], gloss: g, ok: true})
		if len(s) > 1 {
			d.Why += " This is its most usual meaning; look whether it fits."
		}
		return true
	}
	return false
}

// unseen is a typed word that the text does not have: with its usual meaning,
// when it has only one, and with what may have been meant when it is no word.
func (e *engine) unseen(w Own, pi int, at book.Span, spare bool) kit.Draft {
	p := e.passages[pi]
	word := strings.Join(strings.Fields(fold(w.Word)), " ")
	d := kit.Draft{Kind: kit.Vocabulary, Score: 10, Why: onYourList, Spare: spare, Place: p.Book.Place(at),
		Content: kit.Content{Head: strings.TrimSpace(w.Word), Lemma: word, Meaning: w.Meaning}}
	if spare {
		d.Why += " The book does not have it."
	}
	if len(e.lex.Senses(word, lexicon.Noun))+len(e.lex.Senses(word, lexicon.Verb))+len(e.lex.Senses(word, lexicon.Adjective))+len(e.lex.Senses(word, lexicon.Adverb)) == 0 && !e.lex.Correct(word) && !strings.Contains(word, " ") {
		d.Why += " I do not know the word."
		if s := e.lex.Suggest(word); len(s) > 0 {
			d.Why += fmt.Sprintf(" Did you mean “%s”?", s[0])
		}
		return e.finish(d)
	}
	if w.Meaning == "" && !e.usual(&d) {
		d.Why += " Its meaning is not known to me: please type it."
	}
	return e.finish(d)
}

func (e *engine) finish(d kit.Draft) kit.Draft {
	d.ID = kit.NewItemID(kit.Vocabulary, d.Place, d.Content.Lemma)
	d.Warning = e.lex.Warning(d.Content.Head, d.Content.Sentence, d.Content.Meaning)
	return d
}

// fill adds meaning and synonym; a meaning that was typed stays.
func fill(c *kit.Content, m told) {
	if c.Meaning == "" {
		c.Meaning = m.gloss.meaning
		c.Sense = m.sense.Key
	}
	c.Synonym = m.gloss.synonym
}
