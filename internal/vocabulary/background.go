package vocabulary

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bookstead/internal/book"
	"bookstead/internal/kit"
	"bookstead/internal/lang"
	"bookstead/internal/lexicon"
)

// found is a term at its first place.
type found struct {
	passage, sentence int
	span              book.Span
	form              string // as the book has it, folded
	shown, explained  string
	times             int // in the whole book
	score             float64
}

// background finds the terms of each lesson. A term is explained once, where
// the book first uses it; a lesson that would need too many keeps those that
// children know least and that come up most in the book, and leaves the rest for
// the teacher to choose. The returned set holds the words explained, which are
// not vocabulary too.
func (e *engine) background() ([][]kit.Draft, map[string]bool) {
	var all []*found
	by := map[string]*found{}
	d := e.passages[0].Doc
	for pi, p := range e.passages {
		for si := p.First; si < p.Last; si++ {
			if !p.Prose(si) {
				continue
			}
			s := d.Sentences[si]
			for i := s.First; i < s.Last; {
				form, last, t, ok := e.termAt(i, s.Last, d)
				if !ok {
					i++
					continue
				}
				f := by[t.key]
				if f == nil {
					f = &found{passage: pi, sentence: si, span: tight(d, i, last), form: form, shown: t.shown, explained: t.explanation}
					by[t.key] = f
					all = append(all, f)
				}
				f.times++
				i = last
			}
		}
	}
	perPassage := make([][]*found, len(e.passages))
	for _, f := range all {
		f.score = e.strange(f)
		perPassage[f.passage] = append(perPassage[f.passage], f)
	}
	out := make([][]kit.Draft, len(e.passages))
	taken := map[string]bool{}
	for pi, fs := range perPassage {
		order := slices.Clone(fs)
		slices.SortStableFunc(order, func(a, b *found) int { return cmp(b.score, a.score) })
		kept := map[*found]bool{}
		for _, f := range order {
			if len(kept) < e.o.Backgrounds && f.score > 0 {
				kept[f] = true
			}
		}
		for _, f := range fs {
			if kept[f] {
				taken[f.form] = true
			}
			out[pi] = append(out[pi], e.note(f, !kept[f]))
		}
	}
	return out, taken
}

// tight are the bytes of tokens [i, last) without dashes that hang on them.
func tight(d *lang.Doc, i, last int) book.Span {
	start, end := d.Tokens[i].Start, d.Tokens[last-1].End
	return book.Span{Start: start, End: start + len(strings.TrimRight(d.Text[start:end], "-—–"))}
}

func (e *engine) note(f *found, spare bool) kit.Draft {
	p := e.passages[f.passage]
	place := p.Book.Place(f.span)
	why := fmt.Sprintf("First met here: “%s”", clip(p.Balanced(f.sentence), 90))
	if e.lex.Warning(why) != "" {
		why = "First met here."
	}
	if f.times > 1 {
		why += fmt.Sprintf(" It comes %d times in the book.", f.times)
	}
	return kit.Draft{ID: kit.NewItemID(kit.Background, place, f.shown), Kind: kit.Background, Place: place, Spare: spare, Score: f.score,
		Content: kit.Content{Head: f.shown, Answer: f.explained}, Why: why, Warning: e.lex.Warning(f.shown)}
}

// strange says how much a note is needed: more the less the word is heard today
// and the more often the book has it; not at all for what the grade knows.
func (e *engine) strange(f *found) float64 {
	least := 9.0
	known := true
	for _, w := range strings.FieldsFunc(f.form, func(r rune) bool { return r == ' ' || r == '-' }) {
		if e.lex.Function(w) {
			continue
		}
		z, _ := e.lex.Zipf(w)
		least = min(least, z)
		known = known && (e.lex.Familiar(lexicon.Spache, w) && e.grade >= 2 || e.lex.Familiar(lexicon.DaleChall, w) && e.grade >= 4)
	}
	if known && !strings.ContainsAny(f.form, " -") {
		return 0
	}
	return 7 - least + 0.6*math.Log(float64(f.times))
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

// termAt looks a term up at token i: a measure or a sum of money with its
// number, else the longest term of the list that its conditions allow here.
func (e *engine) termAt(i, last int, d *lang.Doc) (form string, end int, t term, ok bool) {
	if t, ok := e.measureAt(i, d); ok {
		return fold(d.Tokens[i].Lemma), i + 1, t, true
	}
	list := terms()
	first := fold(d.Tokens[i].Form)
	most := list.longest[first]
	if most == 0 || joined(d, i-1) {
		return "", 0, term{}, false
	}
	for end := min(last, i+most); end > i; end-- {
		if joined(d, end-1) {
			continue
		}
		text := d.Text[d.Tokens[i].Start:d.Tokens[end-1].End]
		form := spaced(text)
		for _, t := range list.by[form] {
			if t.allowed(e, d, i, end, text) {
				return form, end, t, true
			}
		}
	}
	return "", 0, term{}, false
}

// joined reports that token i and the next are parts of one word with a hyphen.
func joined(d *lang.Doc, i int) bool {
	if i < 0 || i+1 >= len(d.Tokens) || d.SpaceAfter(i) {
		return false
	}
	return hyphen(d.Tokens[i].Form) || hyphen(d.Tokens[i+1].Form)
}
