package txt

import (
	"fmt"
	"slices"
	"sort"

	"bookstead/internal/book"
)

// heading is where a division of the book begins: groups [at, to) are its
// heading, the number and the title.
type heading struct {
	at, to int
	part   bool
	kind   book.ChapterKind
	label  book.Label // Number 0 when it states none
	title  string
}

// outliner finds the headings of a text by weighing them against each other:
// a number counts when it goes on from the one before, a title under a number
// when most chapters have one.
type outliner struct {
	groups []group
	width  int
	cand   []candidate
	from   int // contents list: groups [from, to)
	to     int
	list   []entry
	short  bool // chapters are as short as an early reader's
	notes  []string
}

// outline returns the headings in order. None at all means one text without
// chapters.
func (o *outliner) outline() []heading {
	o.from, o.to, o.list = findContents(o.groups, o.width)
	o.cand = make([]candidate, len(o.groups))
	for i, g := range o.groups {
		if i < o.from || i >= o.to {
			o.cand[i] = look(g)
		}
	}
	chapters := o.numbered(false)
	if len(chapters) == 0 {
		chapters = o.bare()
	}
	parts := o.numbered(true)
	if len(chapters) == 0 {
		chapters, parts = parts, nil // "PART I" and "PART II" alone are the chapters
	}
	var out []heading
	if len(chapters) > 0 {
		out = o.titled(chapters)
		isChapter := map[int]bool{}
		for _, i := range chapters {
			isChapter[i] = true
		}
		for _, i := range parts {
			out = append(out, o.partAt(i, isChapter))
		}
	} else {
		out = o.byTitle()
	}
	slices.SortFunc(out, func(a, b heading) int { return a.at - b.at })
	out = o.named(out)
	o.checkNumbers(out)
	return out
}

// numbered returns the groups that are labelled with a word and a number,
// chapters or parts. Words that are rarely used for chapters must count up from
// one.
func (o *outliner) numbered(part bool) []int {
	byWord := map[string][]int{}
	var words []string
	for i, c := range o.cand {
		if c.label.Number > 0 && c.label.Word != "" && c.label.Part == part {
			if byWord[c.label.Word] == nil {
				words = append(words, c.label.Word)
			}
			byWord[c.label.Word] = append(byWord[c.label.Word], i)
		}
	}
	var out []int
	main := byWord["Chapter"]
	for _, w := range words {
		at := byWord[w]
		switch {
		case w == "Chapter" || w == "Stave" || part && w != "Period":
		case !o.countsUp(at):
			continue
		case !part && len(main) > 1 && at[0] < main[len(main)-1] && at[len(at)-1] > main[0]:
			continue // "LETTER I" among the chapters is a letter in one of them
		}
		out = append(out, at...)
	}
	slices.Sort(out)
	return out
}

func (o *outliner) countsUp(at []int) bool {
	for k, i := range at {
		if n := o.cand[i].label.Number; n != k+1 && n != 1 {
			return false
		}
	}
	return len(at) >= 2
}

// bare returns bare numbers that count up from one, again from one behind
// another heading.
func (o *outliner) bare() []int {
	var out []int
	want, fresh, titled := 1, false, 0
	for i, c := range o.cand {
		switch n := c.label.Number; {
		case c.label.Part || c.named || c.heading && o.groups[i].before > 2:
			fresh = true
		case n == 0 || c.label.Word != "":
		case n == want || n == 1 && (fresh || want > 2 && o.nextBare(i) == 2):
			out, want, fresh = append(out, i), n+1, false
			if c.title != "" {
				titled++
			}
		}
	}
	if len(out) < 2 || titled*2 > len(out) && len(out) < 3 {
		return nil
	}
	// Numbered lines close together are a list in the story, not its chapters.
	var words []int
	for k, i := range out {
		end := len(o.groups)
		if k+1 < len(out) {
			end = out[k+1]
		}
		words = append(words, o.wordsBetween(i, end))
	}
	slices.Sort(words)
	if words[(len(words)-1)/2] < 80 {
		return nil
	}
	return out
}

// nextBare is the next bare number behind a group, 0 if there is none.
func (o *outliner) nextBare(i int) int {
	for _, c := range o.cand[i+1:] {
		if c.label.Number > 0 && c.label.Word == "" {
			return c.label.Number
		}
	}
	return 0
}

func (o *outliner) wordsBetween(from, to int) int {
	n := 0
	for _, g := range o.groups[from:to] {
		for _, l := range g.lines {
			n += book.Words(l.text)
		}
	}
	return n
}

// partAt makes the heading of a part, with the title that stands under it.
func (o *outliner) partAt(i int, isChapter map[int]bool) heading {
	c := o.cand[i]
	h := heading{at: i, to: i + 1, part: true, label: c.label, title: book.TidyTitle(c.title)}
	if h.title == "" && i+2 < len(o.groups) && !isChapter[i+1] && o.strongTitle(i+1) && isChapter[i+2] {
		h.to, h.title = i+2, book.TidyTitle(o.groups[i+1].text())
	}
	return h
}

// byTitle finds chapters or stories that have titles but no numbers: those that
// the contents list names, else short lines set far apart from what is before.
func (o *outliner) byTitle() []heading {
	at := o.listed()
	if len(at) == 0 {
		at = o.apart()
	}
	var out []heading
	for _, i := range at {
		out = append(out, heading{at: i, to: i + 1, kind: book.Body, title: book.TidyTitle(o.groups[i].text())})
	}
	if len(out) == 0 {
		return nil
	}
	var texts []string
	for k, h := range out {
		end := len(o.groups)
		if k+1 < len(out) {
			end = out[k+1].at
		}
		t := ""
		for _, g := range o.groups[h.to:end] {
			t += g.text() + "\n"
		}
		texts = append(texts, t)
	}
	if book.SeemsCollection(texts) {
		for k := range out {
			out[k].kind = book.Story
		}
	}
	return out
}

// listed returns the groups behind the contents list that it names, in its
// order.
func (o *outliner) listed() []int {
	var out []int
	at := o.to
	for _, e := range o.list {
		want := book.Letters(e.title)
		for i := at; i < len(o.groups) && want != ""; i++ {
			if len(o.groups[i].lines) <= 3 && book.Letters(o.groups[i].text()) == want {
				out, at = append(out, i), i+1
				break
			}
		}
	}
	if len(out) < 2 || len(out)*10 < len(o.list)*6 {
		return nil
	}
	return slices.DeleteFunc(out, func(i int) bool { return o.cand[i].named })
}

// apart returns title-like groups in front of which stand more blank lines than
// between paragraphs, each with a text of its own.
func (o *outliner) apart() []int {
	count := map[int]int{}
	for _, g := range o.groups {
		count[g.before]++
	}
	usual := 1
	for b, n := range count {
		if n > count[usual] || n == count[usual] && b > usual {
			usual = b
		}
	}
	times := map[string]int{}
	for _, g := range o.groups {
		times[book.Letters(g.text())]++
	}
	least, fewest := 40, 2
	if o.width == 0 {
		// A line for each paragraph leaves no room around titles; then they must be
		// several, each with a chapter's worth of text.
		usual, least, fewest = -1, 200, 3
	}
	for _, capsOnly := range []bool{true, false} {
		var out []int
		for i, c := range o.cand {
			if c.heading && (c.caps || !capsOnly) && (o.groups[i].before > usual || i == 0) && i+1 < len(o.groups) && !o.cand[i+1].heading &&
				times[book.Letters(o.groups[i].text())] == 1 {
				out = append(out, i)
			}
		}
		out = o.withText(out, least)
		// The first title stands where the story begins.
		if len(out) >= fewest && o.wordsBetween(0, out[0]) <= introductionWords {
			return out
		}
	}
	return nil
}

// withText keeps the titles that a text of at least so many words follows.
func (o *outliner) withText(at []int, least int) []int {
	var out []int
	for k, i := range at {
		end := len(o.groups)
		if k+1 < len(at) {
			end = at[k+1]
		}
		if o.wordsBetween(i+1, end) >= least {
			out = append(out, i)
		}
	}
	return out
}

// named puts the prefaces and conclusions among the headings: the first in
// front of the chapters (or of a part's), the second behind them, each where no
// heading has taken it for its title.
func (o *outliner) named(hs []heading) []heading {
	firstAt, lastAt := len(o.groups), -1
	taken := map[int]bool{}
	for _, h := range hs {
		for i := h.at; i < h.to; i++ {
			taken[i] = true
		}
		if !h.part {
			firstAt, lastAt = min(firstAt, h.at), max(lastAt, h.at)
		}
	}
	var out []heading
	for i, c := range o.cand {
		if !c.named || taken[i] {
			continue
		}
		// The headings on both sides; hs is in order.
		next := sort.Search(len(hs), func(k int) bool { return hs[k].at > i })
		partBefore := next > 0 && hs[next-1].part && i < hs[next-1].to+3
		partBehind := next < len(hs) && hs[next].part
		ok := false
		switch c.kind {
		case book.Front:
			ok = i < firstAt && len(hs) > 0
		case book.Introduction:
			ok = i < firstAt || partBefore
		case book.Conclusion:
			ok = i > lastAt || partBehind
		case book.Back:
			ok = i > lastAt && (len(hs) > 0 || i*10 > len(o.groups)*8)
		}
		if ok {
			out = append(out, heading{at: i, to: i + 1, kind: c.kind, title: book.TidyTitle(o.groups[i].text())})
		}
	}
	out = append(out, hs...)
	slices.SortFunc(out, func(a, b heading) int { return a.at - b.at })
	return out
}

// checkNumbers sets a number right that its neighbours contradict and tells of
// numbers that are missing.
func (o *outliner) checkNumbers(hs []heading) {
	var ch []*heading
	for i := range hs {
		if !hs[i].part && hs[i].label.Number > 0 {
			ch = append(ch, &hs[i])
		}
	}
	for i := 1; i+1 < len(ch); i++ {
		a, b, c := ch[i-1].label, ch[i].label, ch[i+1].label
		if a.Number+2 == c.Number && b.Number != a.Number+1 {
			fixed := b
			fixed.Number = a.Number + 1
			if book.Roman(b.Number) == b.Numeral {
				fixed.Numeral = book.Roman(fixed.Number)
			} else {
				fixed.Numeral = fmt.Sprint(fixed.Number)
			}
			ch[i].label = fixed
			o.notes = append(o.notes, fmt.Sprintf("The file numbers the chapter between %s and %s as “%s”; it is taken as %s.", a, c, b.Numeral, fixed))
		}
	}
	for i := 1; i < len(ch); i++ {
		if a, b := ch[i-1].label, ch[i].label; b.Number > a.Number+1 && a.Word == b.Word {
			o.notes = append(o.notes, fmt.Sprintf("%s follows %s: a chapter may be missing from the file, or its heading was not recognised.", b, a))
		}
	}
}
