package vocabulary

import (
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/lexicon"
	"bookstead/internal/sense"
)

// listed drafts the words that the teacher typed for the chapters that begin in
// a passage: where the typed text has the word, with its sentence and the
// meaning that it has there, else at the chapter's start with its usual meaning.
func (e *engine) listed(pi int) []kit.Draft {
	p := e.passages[pi]
	var out []kit.Draft
	for _, tw := range p.Book.Words {
		if tw.Chapter >= len(p.Book.Chapters) {
			continue
		}
		c := p.Book.Chapters[tw.Chapter]
		if c.Start < p.Lesson.Start || c.Start >= p.Lesson.End {
			continue
		}
		out = append(out, e.typed(pi, tw, c))
	}
	return out
}

func (e *engine) typed(pi int, tw book.TypedWord, c book.Chapter) kit.Draft {
	p := e.passages[pi]
	word := fold(strings.TrimSpace(tw.Word))
	d := kit.Draft{Kind: kit.Vocabulary, Score: 10, Why: "It stands on the list that you typed.",
		Content: kit.Content{Head: tw.Word, Lemma: word, Meaning: tw.Meaning}}
	place := book.Span{Start: c.Start, End: max(c.Start, c.Body-2)}
	for i := p.Doc.TokenAt(c.Body); i < len(p.Doc.Tokens) && p.Doc.Tokens[i].Start < c.End; i++ {
		t := p.Doc.Tokens[i]
		if fold(t.Form) != word && fold(t.Lemma) != word {
			continue
		}
		place = book.Span{Start: t.Start, End: t.End}
		d.Content.Head, d.Content.Lemma = t.Form, fold(t.Lemma)
		d.Content.Sentence = p.Sentence(p.Doc.SentenceAt(t.Start))
		if pos, ok := sense.POSOf(t.UPOS); ok {
			d.Content.PartOfSpeech = partNames[pos]
			if r := sense.Rank(e.lex, d.Content.Lemma, pos, sense.Around(p.Doc, i, 40)); len(r) > 0 && !r[0].Offensive {
				e.fill(&d.Content, t.XPOS, r[0].Sense)
			}
		}
		break
	}
	if d.Content.Sentence == "" { // the text was not typed: the usual meaning
		for _, pos := range []lexicon.POS{lexicon.Noun, lexicon.Verb, lexicon.Adjective, lexicon.Adverb} {
			if s := e.lex.Senses(word, pos); len(s) > 0 && !s[0].Offensive {
				d.Content.PartOfSpeech = partNames[pos]
				e.fill(&d.Content, "", s[0])
				break
			}
		}
	}
	d.Place = p.Book.Place(place)
	d.ID = kit.NewItemID(kit.Vocabulary, d.Place, word)
	d.Warning = e.lex.Warning(tw.Word + " " + d.Content.Sentence)
	return d
}

// fill adds meaning and synonym; a meaning that was typed stays.
func (e *engine) fill(c *kit.Content, xpos string, s lexicon.Sense) {
	g, ok := e.explain(c.Lemma, xpos, s)
	if !ok {
		return
	}
	if c.Meaning == "" {
		c.Meaning = g.meaning
	}
	c.Synonym = g.synonym
}
