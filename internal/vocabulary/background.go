package vocabulary

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"bookstead/internal/book"
	"bookstead/internal/kit"
)

//go:embed terms.tsv
var termsFile string

type term struct{ shown, explanation string }

// terms maps each form to its term; a form of two words is found by its first.
var terms = sync.OnceValue(func() map[string]term {
	m := map[string]term{}
	for _, line := range strings.Split(termsFile, "\n") {
		f := strings.Split(line, "\t")
		if strings.HasPrefix(line, "#") || len(f) != 3 {
			continue
		}
		for _, form := range strings.Split(f[0], "|") {
			m[fold(form)] = term{f[1], f[2]}
		}
	}
	return m
})

// background finds the terms of each lesson. A term is explained once, where
// the book first uses it; a lesson that would need too many keeps the ones that
// come up most in the book and leaves the rest for the teacher to choose.
// The returned set holds the words explained, which are not vocabulary too.
func (e *engine) background() ([][]kit.Draft, map[string]bool) {
	out := make([][]kit.Draft, len(e.passages))
	taken := map[string]bool{}
	used := map[string]bool{}
	for pi, p := range e.passages {
		for si := p.First; si < p.Last; si++ {
			if !p.Prose(si) {
				continue
			}
			s := p.Doc.Sentences[si]
			for i := s.First; i < s.Last; i++ {
				form, end, tm, ok := e.termAt(i, s.Last, pi)
				if !ok || used[tm.shown] {
					continue
				}
				used[tm.shown] = true
				taken[form] = true
				t := p.Doc.Tokens[i]
				place := p.Book.Place(book.Span{Start: t.Start, End: end})
				d := kit.Draft{ID: kit.NewItemID(kit.Background, place, tm.shown), Kind: kit.Background, Place: place,
					Content: kit.Content{Head: tm.shown, Answer: tm.explanation}, Score: rarity(e, form),
					Why: fmt.Sprintf("The book first speaks of it here: “%s”.", clip(p.Sentence(si), 90)), Warning: e.lex.Warning(tm.shown)}
				out[pi] = append(out[pi], d)
			}
		}
	}
	for pi := range out {
		order := slices.Clone(out[pi])
		slices.SortStableFunc(order, func(a, b kit.Draft) int { return cmp(b.Score, a.Score) })
		keep := map[kit.ItemID]bool{}
		for i := 0; i < min(e.o.Backgrounds, len(order)); i++ {
			keep[order[i].ID] = true
		}
		for i := range out[pi] {
			out[pi][i].Spare = !keep[out[pi][i].ID]
		}
	}
	return out, taken
}

// termAt looks a term up at token i: a measure or sum of money with its number,
// two words, or one.
func (e *engine) termAt(i, last, pi int) (form string, end int, t term, ok bool) {
	d := e.passages[pi].Doc
	tok := d.Tokens[i]
	if form, end, t, ok = e.measureAt(i, pi); ok {
		return form, end, t, true
	}
	w := fold(tok.Form)
	if i+1 < last {
		two := w + " " + fold(d.Tokens[i+1].Form)
		if t, ok := terms()[two]; ok {
			return two, d.Tokens[i+1].End, t, true
		}
	}
	if t, ok := terms()[w]; ok && tok.UPOS != "VERB" && tok.UPOS != "AUX" && tok.UPOS != "PROPN" {
		return w, tok.End, t, true
	}
	return "", 0, term{}, false
}

// rarity prefers what children meet least.
func rarity(e *engine, form string) float64 {
	z, _ := e.lex.Zipf(form)
	return 7 - z
}

// clip shortens a sentence at a word's end.
func clip(s string, n int) string {
	if len(s) <= n {
		return s
	}
	if i := strings.LastIndexByte(s[:n], ' '); i > 0 {
		return s[:i] + " …"
	}
	return s
}
