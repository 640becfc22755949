package txt

import (
	"strings"

	"bookstead/internal/book"
)

// shortChapter is how many words a chapter must have on average for a line that
// ends as a sentence does to be its title. In an early reader it is the story.
const shortChapter = 300

// titled makes headings of numbered groups and finds their titles: in the same
// group, or in the next one where most chapters have a title there or the
// contents list says so.
func (o *outliner) titled(at []int) []heading {
	byNumber := o.listedTitles()
	o.short = o.wordsBetween(0, len(o.groups)) < len(at)*shortChapter
	alone, strong, weak := 0, 0, 0
	for _, i := range at {
		if o.cand[i].title == "" && i+1 < len(o.groups) {
			alone++
			if o.strongTitle(i + 1) {
				strong++
			}
			if o.weakTitle(i + 1) {
				weak++
			}
		}
	}
	byStrong := strong*10 >= alone*6
	byWeak := weak*20 >= alone*17 && alone >= 3 && o.longParagraphs()
	var out []heading
	for k, i := range at {
		c := o.cand[i]
		if c.label.Number == lastNumber {
			c.label.Number = 1
			if k > 0 {
				c.label.Number = out[k-1].label.Number + 1
			}
		}
		h := heading{at: i, to: i + 1, kind: book.Body, label: c.label, title: book.TidyTitle(c.title)}
		listed := ""
		if c.label.Number > 0 {
			listed = byNumber[c.label.Number]
		}
		next := i + 1
		free := next < len(o.groups) && (k+1 == len(at) || at[k+1] > next)
		if h.title == "" && free {
			same := listed != "" && book.Letters(o.groups[next].text()) == book.Letters(listed)
			if same || byStrong && (o.strongTitle(next) || o.shortTitle(next)) || byWeak && o.weakTitle(next) {
				h.to, h.title = next+1, book.TidyTitle(o.groups[next].text())
			}
		}
		// The contents list often has the title in ordinary letters.
		if listed != "" && (h.title == "" || allCaps(h.title) && !allCaps(listed) && book.Letters(listed) == book.Letters(h.title)) {
			h.title = listed
		}
		h.title, _ = italics(h.title)
		out = append(out, h)
	}
	return out
}

// listedTitles returns the titles of the contents list by number, but for
// numbers that it gives twice, in two parts.
func (o *outliner) listedTitles() map[int]string {
	titles, times := map[int]string{}, map[int]int{}
	for _, e := range o.list {
		if n := e.label.Number; n > 0 && !e.label.Part {
			titles[n], times[n] = e.title, times[n]+1
		}
	}
	for n, k := range times {
		if k > 1 {
			delete(titles, n)
		}
	}
	return titles
}

// strongTitle reports whether a group looks like a title wherever it stands.
func (o *outliner) strongTitle(i int) bool {
	g := o.groups[i]
	t := strings.Trim(g.text(), "_")
	if first(t) == 0 || len(g.lines) > 5 || len(t) > 320 || o.cand[i].label.Number > 0 || book.IsSceneMark(t) || strings.HasPrefix(t, "[") {
		return false
	}
	if allCaps(t) {
		return true
	}
	if o.short && strings.ContainsAny(t[len(t)-1:], ".!?") {
		return false
	}
	t = strings.TrimSuffix(t, ".")
	return len(t) <= 90 && len(g.lines) <= 2 && titleCase(t) && !strings.ContainsAny(t[len(t)-1:], ",;:") &&
		!strings.HasSuffix(t, "”") && !strings.HasSuffix(t, "\"")
}

// weakTitle reports whether a group could be a title if most chapters had one
// in its place.
func (o *outliner) weakTitle(i int) bool {
	g := o.groups[i]
	t := g.text()
	verse := len(g.lines) > 1 && g.lines[0].indent > 2
	return len(g.lines) <= 4 && len(t) <= 250 && o.cand[i].label.Number == 0 && !book.IsSceneMark(t) && !verse && !strings.HasPrefix(t, "[")
}

// shortTitle reports whether a group is short and no sentence: a title where
// all other chapters have one.
func (o *outliner) shortTitle(i int) bool {
	t := o.groups[i].text()
	return o.weakTitle(i) && len(t) <= 80 && !strings.ContainsAny(t[len(t)-1:], ".,;:\"") && !strings.HasSuffix(t, "”")
}

// longParagraphs reports whether the book is not one of short lines throughout,
// as an early reader is, where any first sentence would pass for a title.
func (o *outliner) longParagraphs() bool {
	long := 0
	for _, g := range o.groups {
		if len(g.text()) > 250 {
			long++
		}
	}
	return long*3 > len(o.groups)
}
