package txt

import (
	"regexp"
	"strings"

	"bookstead/internal/book"
)

// entry is a line of a contents list.
type entry struct {
	label book.Label // Number 0 when it has none
	title string     // without the label and the page
}

// listPage is the page at the end of a contents line, with its dots or gap.
var listPage = regexp.MustCompile(`(\s*\.[\s.]*\.|\s{2,}|\s*_{2,}|\s*…+)\s*(\d{1,4}|[ivxlc]+)\s*$`)

func readEntry(text string) (e entry) {
	text = strings.TrimSpace(listPage.ReplaceAllString(text, ""))
	if l, ok := book.ParseLabel(text); ok {
		e.label, e.title = l, book.TidyTitle(l.Rest)
		return e
	}
	e.title = book.TidyTitle(text)
	return e
}

// key is how an entry is known again, whatever word its label has.
func (e entry) key() string {
	switch {
	case e.label.Number > 0 && e.label.Part:
		return "part " + e.label.Numeral
	case e.label.Number > 0:
		return book.Roman(e.label.Number)
	}
	return book.Letters(e.title)
}

// findContents returns the half-open range of groups that are a contents list
// (with its heading, where it has one) and its entries; an empty range if there
// is none.
func findContents(groups []group, width int) (from, to int, list []entry) {
	for i, g := range groups[:min(len(groups), 400)] {
		if len(g.lines) == 1 {
			switch book.Letters(g.text()) {
			case "contents", "table of contents", "the contents", "list of chapters", "chapters":
				to, list = readContents(groups, i+1, width)
				return i, to, list
			}
		}
		// Contents set close under their heading, in one group with it.
		if len(g.lines) > 2 && strings.HasSuffix(book.Letters(g.lines[0].text), "contents") && len(g.lines[0].text) < 30 {
			groups = append([]group(nil), groups...)
			groups[i].lines = g.lines[1:]
			to, list = readContents(groups, i, width)
			return i, max(to, i+1), list
		}
	}
	return bareContents(groups, width)
}

// readContents reads entries from group i on, to the first group that is prose
// or that names an entry for the second time.
func readContents(groups []group, i, width int) (to int, list []entry) {
	seen := map[string]bool{}
	part := ""
	for ; i < len(groups) && len(list) < 600; i++ {
		g := groups[i]
		if prose(g, width) {
			break
		}
		for k, l := range g.lines {
			if book.IsSceneMark(l.text) {
				continue
			}
			e := readEntry(l.text)
			switch strings.ToLower(l.text) {
			case "page", "chapter", "chapter page", "chap.", "page.":
				continue // column heads
			}
			// A line that goes deeper and has no number goes on with the one before.
			if k > 0 && e.label.Number == 0 && l.indent > g.lines[k-1].indent && len(list) > 0 && list[len(list)-1].label.Number > 0 {
				last := &list[len(list)-1]
				last.title = strings.TrimSpace(last.title + " " + e.title)
				continue
			}
			if e.label.Part {
				part = e.key()
			}
			key := e.key()
			if e.label.Number > 0 && !e.label.Part {
				key = part + "/" + key
			}
			if seen[key] && k == 0 {
				return i, list
			}
			seen[key] = true
			list = append(list, e)
		}
	}
	return i, list
}

// prose reports whether a group cannot belong to a list: full lines, or a
// sentence that goes on over a line end.
func prose(g group, width int) bool {
	labels, full := 0, 0
	for i, l := range g.lines {
		if _, ok := book.ParseLabel(l.text); ok || listPage.MatchString(l.text) {
			labels++
		}
		if i+1 < len(g.lines) && width > 0 && !early(l, g.lines[i+1], width) || l.width() > 110 {
			full++
		}
	}
	if labels*2 >= len(g.lines) {
		return false
	}
	t := g.text()
	sentence := len(t) > 60 && !allCaps(t) && strings.ContainsAny(t[len(t)-1:], ".!?\"") || strings.HasSuffix(t, "”") || strings.HasSuffix(t, "’")
	return full > 0 && !allCaps(t) || sentence && len(g.lines) <= 2 && !titleCase(t)
}

// bareContents finds a list without a heading of its own: a group of three or
// more numbered lines, or three or more numbered headings with nothing between,
// near the start of the file.
func bareContents(groups []group, width int) (from, to int, list []entry) {
	run := 0
	for i, g := range groups[:min(len(groups), 120)] {
		numbered := 0
		for _, l := range g.lines {
			if _, ok := book.ParseLabel(l.text); ok {
				numbered++
			}
		}
		switch {
		case len(g.lines) >= 3 && prose(g, width):
			return 0, 0, nil // the story has begun
		case numbered >= 3 && numbered*5 >= len(g.lines)*4, numbered > 0 && numbered == len(g.lines) && run >= 2:
			start := i - run
			to, list = readContents(groups, start, width)
			chapters := 0
			for _, e := range list {
				if e.label.Number > 0 && !e.label.Part {
					chapters++
				}
			}
			if chapters >= 3 && to < len(groups) {
				return start, to, list
			}
			return 0, 0, nil
		case numbered == len(g.lines):
			run++
		case run > 0 && len(g.lines) <= 2 && !prose(g, width) && len(g.text()) < 80 && i+1 < len(groups) && startsNumbered(groups[i+1]):
			run++ // a title on a line of its own below its number
		default:
			run = 0
		}
	}
	return 0, 0, nil
}

func startsNumbered(g group) bool {
	_, ok := book.ParseLabel(g.lines[0].text)
	return ok
}
