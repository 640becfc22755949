package vocabulary

import (
	"fmt"
	"slices"

	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/phonics"
)

// What a young reader practises before one reading: so many spellings, so many
// words of each, and common words that the letters do not give away. Common
// practice, no source.
const (
	mostPatterns = 4
	mostOfOne    = 5
	mostSight    = 6
)

// sightPattern heads the common words.
const sightPattern = "Words to know by heart"

// practice groups the words of a passage by the spelling that they share. The
// spellings with most examples in the passage come first; common irregular
// words follow. Words already practised for an earlier passage may come again:
// practice is by passage.
func (e *engine) practice(pi int) []kit.Draft {
	p := e.passages[pi]
	first, last := p.Tokens()
	byPattern := map[string][]kit.Draft{}
	seen := map[string]bool{}
	var order []string
	sight := e.sightWords()
	for i := first; i < last; i++ {
		t := p.Doc.Tokens[i]
		w := fold(t.Form)
		if seen[w] || !plain(t.Form) || t.Multi != 0 || e.names[w] || t.UPOS == "PROPN" || len(w) < 2 || len(w) > 9 {
			continue
		}
		if _, bad := e.lex.Offensive(w); bad {
			continue
		}
		said := e.lex.Pronunciations(w)
		if len(said) == 0 {
			continue
		}
		seen[w] = true
		pat := phonics.Pattern(w, said[0])
		if sight[w] && (pat == "" || e.lex.Function(w)) {
			pat = sightPattern
		}
		if pat == "" || pat != sightPattern && len(w) < 3 {
			continue
		}
		place := p.Book.Place(book.Span{Start: t.Start, End: t.End})
		if len(byPattern[pat]) == 0 {
			order = append(order, pat)
		}
		byPattern[pat] = append(byPattern[pat], kit.Draft{ID: kit.NewItemID(kit.Practice, place, w), Kind: kit.Practice, Place: place,
			Content: kit.Content{Head: w, Lemma: fold(t.Lemma), Pattern: pat}, Score: -float64(i - first)})
	}
	slices.SortStableFunc(order, func(a, b string) int {
		if (a == sightPattern) != (b == sightPattern) {
			if a == sightPattern {
				return 1
			}
			return -1
		}
		return len(byPattern[b]) - len(byPattern[a])
	})
	var out []kit.Draft
	groups := 0
	for _, pat := range order {
		most := mostOfOne
		spare := groups >= mostPatterns || len(byPattern[pat]) < 2
		if pat == sightPattern {
			most, spare = mostSight, false
		} else if !spare {
			groups++
		}
		for n, d := range byPattern[pat] {
			d.Spare = spare || n >= most
			if d.Spare && len(out) > 60 {
				continue
			}
			d.Why = fmt.Sprintf("%d words of this passage share the spelling.", len(byPattern[pat]))
			if pat == sightPattern {
				d.Why = "One of the common words that are met on every page."
			}
			out = append(out, d)
		}
	}
	return out
}

// sightWords are the published service words (Dolch 1936).
func (e *engine) sightWords() map[string]bool {
	m := map[string]bool{}
	for _, l := range e.lex.Dolch() {
		for _, w := range l.Words {
			m[fold(w)] = true
		}
	}
	return m
}
