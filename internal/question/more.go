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

// quotations takes the sayings worth identifying: a known speaker, six to
// thirty words, and words that belong to this book more than to any other
// (names, rare words, questions and exclamations).
func (e *engine) quotations(p passage.Passage, n int) []kit.Draft {
	if !e.d.Has(lang.LayerQuotations) || n <= 0 {
		return nil
	}
	type option struct {
		d       kit.Draft
		speaker string
	}
	var options []option
	for _, q := range e.d.Quotations {
		if q.Start < p.Lesson.Start || q.End > p.Lesson.End || q.Speaker == "" || q.Confidence < 0.6 {
			continue
		}
		speaker := e.d.Member(q.Speaker)
		if speaker == nil || len(e.main) == 0 {
			continue
		}
		part := book.Span{Start: q.Start, End: q.End}
		if len(q.Parts) > 0 {
			part = book.Span{Start: q.Parts[0].Start, End: q.Parts[0].End}
			for _, x := range q.Parts { // the longest part stands for the whole
				if x.End-x.Start > part.Len() {
					part = book.Span{Start: x.Start, End: x.End}
				}
			}
		}
		words := e.text(part)
		count := len(strings.Fields(words))
		if count < 6 || count > 32 || mentions(words, speaker) {
			continue
		}
		score := min(1, float64(count)/14) + e.rare(words)
		if strings.ContainsAny(words, "?!") {
			score += 0.2
		}
		c := kit.Content{Sentence: words, Speaker: speaker.Name, Head: "Who says this, and to whom?"}
		if to := e.d.Member(q.Addressee); to != nil {
			c.Addressee = to.Name
		} else {
			c.Head = "Who says this?"
		}
		place := p.Book.Place(part)
		options = append(options, option{kit.Draft{ID: kit.NewItemID(kit.Quotation, place, speaker.Name), Kind: kit.Quotation, Place: place, Content: c, Score: score,
			Why: "The speaker is known, and the words belong to this story."}, speaker.ID})
	}
	slices.SortStableFunc(options, func(a, b option) int {
		switch {
		case a.d.Score > b.d.Score:
			return -1
		case a.d.Score < b.d.Score:
			return 1
		}
		return 0
	})
	var out []kit.Draft
	by := map[string]int{}
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

// figures explains what an annotator marked; without one, similes with "like a"
// and "as … as a" are found by their words.
func (e *engine) figures(p passage.Passage) []kit.Draft {
	var out []kit.Draft
	if e.d.Has(lang.LayerFigures) {
		for _, f := range e.d.Figures {
			if f.Start >= p.Lesson.Start && f.End <= p.Lesson.End {
				out = e.addFigure(out, p, book.Span{Start: f.Start, End: f.End}, f.Kind, f.Note)
			}
		}
		return out
	}
	for si := p.First; si < p.Last; si++ {
		if !p.Prose(si) {
			continue
		}
		s := e.d.Sentences[si]
		for i := s.First; i+2 < s.Last; i++ {
			if sp, note, ok := e.simile(i, s.First, s.Last); ok {
				out = e.addFigure(out, p, sp, "simile", note)
				break
			}
		}
	}
	return out
}

// mostFigures of a lesson are printed; the others are spare.
const mostFigures = 2

func (e *engine) addFigure(out []kit.Draft, p passage.Passage, sp book.Span, kind, note string) []kit.Draft {
	si := e.d.SentenceAt(sp.Start)
	if si < 0 || len(strings.Fields(p.Sentence(si))) > 45 {
		return out
	}
	place := p.Book.Place(sp)
	words := e.text(sp)
	d := kit.Draft{ID: kit.NewItemID(kit.Figure, place, words), Kind: kit.Figure, Place: place, Spare: len(out) >= mostFigures,
		Content: kit.Content{Head: words, Sentence: p.Sentence(si), PartOfSpeech: kind, Answer: note}, Why: "The words mean more than they say."}
	return append(out, d)
}

// simile finds "like a NOUN …" behind a verb or adjective, and "as ADJ as a
// NOUN", from token i; the span is the whole comparison.
func (e *engine) simile(i, first, last int) (sp book.Span, note string, ok bool) {
	t := e.d.Tokens
	low := func(k int) string {
		if k >= last {
			return ""
		}
		return strings.ToLower(t[k].Form)
	}
	article := func(k int) bool { return low(k) == "a" || low(k) == "an" }
	switch {
	case low(i) == "like" && article(i+1) && i > first && t[i].UPOS != "VERB":
		end := e.nounEnd(i+1, last)
		if end < 0 {
			return sp, "", false
		}
		noun := e.text(book.Span{Start: t[i+1].Start, End: t[end].End})
		start := i
		for k := i - 1; k >= first && i-k <= 6; k-- {
			if t[k].UPOS == "VERB" || t[k].UPOS == "ADJ" {
				start = k
				break
			}
		}
		if start == i {
			return sp, "", false
		}
		what := strings.ToLower(t[start].Lemma)
		return book.Span{Start: t[start].Start, End: t[end].End}, fmt.Sprintf("It compares with %s, to show how (%s).", noun, what), true
	case low(i) == "as" && i+3 < last && t[i+1].UPOS == "ADJ" && low(i+2) == "as" && article(i+3):
		end := e.nounEnd(i+3, last)
		if end < 0 {
			return sp, "", false
		}
		noun := e.text(book.Span{Start: t[i+3].Start, End: t[end].End})
		return book.Span{Start: t[i].Start, End: t[end].End}, fmt.Sprintf("Very %s: it compares with %s.", low(i+1), noun), true
	}
	return sp, "", false
}

// nounEnd is the token of the noun that ends a noun phrase from token i, -1
// when none does within five tokens.
func (e *engine) nounEnd(i, last int) int {
	end := -1
	for k := i; k < last && k <= i+5; k++ {
		switch e.d.Tokens[k].UPOS {
		case "NOUN":
			end = k
		case "DET", "ADJ", "ADV":
			if end >= 0 {
				return end
			}
		default:
			return end
		}
	}
	return end
}

// passages picks a stretch of one to three sentences worth returning to: told
// at a turning point (after a scene's end or before the lesson's), dense in the
// people of the book and in uncommon words.
func (e *engine) passages(p passage.Passage) []kit.Draft {
	best, score := -1, 0.0
	for si := p.First; si < p.Last; si++ {
		if !p.Prose(si) {
			continue
		}
		s := e.d.Sentences[si]
		n := s.Last - s.First
		if n < 14 || n > 45 {
			continue
		}
		x := e.rare(p.Sentence(si))
		for i := s.First; i < s.Last; i++ {
			if e.quoted[i] {
				x -= 0.05
			}
			if feelings[strings.ToLower(e.d.Tokens[i].Lemma)] {
				x += 0.4
			}
		}
		if at := float64(si-p.First) / float64(p.Last-p.First); at > 0.85 {
			x += 0.4 // what a chapter ends on
		}
		if x > score {
			best, score = si, x
		}
	}
	if best < 0 {
		return nil
	}
	note := "Look at the words that carry the feeling, and at what has changed since the lesson began."
	return []kit.Draft{draft(kit.Passage, p, best, best, kit.Content{Sentence: p.Sentence(best), Note: note}, score, "It is dense in feeling and in uncommon words.")}
}
