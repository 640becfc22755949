package txt

import (
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"
)

// line is one line of the file, cut on both sides.
type line struct {
	text   string
	indent int // columns of white space in front, a tab being eight
}

func (l line) width() int { return utf8.RuneCountInString(l.text) }

// group is a run of lines without a blank one between them.
type group struct {
	lines  []line
	before int // blank lines in front of it
}

// text is the group on one line.
func (g group) text() string {
	var sb strings.Builder
	for i, l := range g.lines {
		if i > 0 {
			sb.WriteByte(' ')
		}
		sb.WriteString(l.text)
	}
	return sb.String()
}

// raw is the group with its line ends, as it is set aside.
func (g group) raw() string {
	var t []string
	for _, l := range g.lines {
		t = append(t, l.text)
	}
	return strings.Join(t, "\n")
}

func readLines(text string) []line {
	var out []line
	for _, s := range strings.Split(text, "\n") {
		l := line{text: strings.TrimFunc(s, unicode.IsSpace)}
		for _, r := range s {
			if r == '\t' {
				l.indent += 8 - l.indent%8
			} else if unicode.IsSpace(r) {
				l.indent++
			} else {
				break
			}
		}
		out = append(out, l)
	}
	return out
}

// groupLines splits lines into groups, by blank lines and, where the file has
// another way to mark paragraphs, by that. width is the column at which the
// file wraps its lines, 0 when it does not.
func groupLines(lines []line) (groups []group, width int) {
	groups = byBlanks(lines)
	if longLines(lines) {
		return eachLine(groups), 0
	}
	width = wrapWidth(groups)
	var out []group
	indents := byIndent(lines, groups)
	for _, g := range groups {
		switch {
		case indents:
			out = append(out, atIndents(g)...)
		case len(g.lines) > 40 && width > 0:
			out = append(out, atShortLines(g, width)...)
		default:
			out = append(out, g)
		}
	}
	return out, width
}

func byBlanks(lines []line) []group {
	var out []group
	blank, open := 0, false
	for _, l := range lines {
		if l.text == "" {
			blank, open = blank+1, false
			continue
		}
		if !open {
			out = append(out, group{before: blank})
		}
		g := &out[len(out)-1]
		g.lines = append(g.lines, l)
		blank, open = 0, true
	}
	return out
}

// longLines reports whether each line is a paragraph of its own: more than half
// of the text stands in lines that nobody would wrap by hand.
func longLines(lines []line) bool {
	long, all := 0, 0
	for _, l := range lines {
		w := l.width()
		all += w
		if w > 120 {
			long += w
		}
	}
	return long*2 > all
}

// eachLine makes a group of every line, but keeps short lines together where
// the file sets its paragraphs apart by blank lines: they are verse or the like.
func eachLine(groups []group) []group {
	single := 0
	for _, g := range groups {
		if len(g.lines) == 1 {
			single++
		}
	}
	var out []group
	for _, g := range groups {
		short := single*3 > len(groups)*2
		for _, l := range g.lines {
			short = short && l.width() <= 80
		}
		if short {
			out = append(out, g)
			continue
		}
		for i, l := range g.lines {
			before := 1
			if i == 0 {
				before = g.before
			}
			out = append(out, group{[]line{l}, before})
		}
	}
	return out
}

// wrapWidth is the length that nine in ten of the full lines do not exceed.
func wrapWidth(groups []group) int {
	var w []int
	for _, g := range groups {
		if len(g.lines) >= 3 {
			for _, l := range g.lines[:len(g.lines)-1] {
				w = append(w, l.width()+l.indent)
			}
		}
	}
	if len(w) == 0 {
		for _, g := range groups {
			for _, l := range g.lines {
				w = append(w, l.width())
			}
		}
		if len(w) == 0 {
			return 0
		}
		sort.Ints(w)
		return min(w[len(w)-1], 72)
	}
	sort.Ints(w)
	return w[len(w)*9/10]
}

// byIndent reports whether paragraphs are marked by an indented first line
// rather than by blank lines.
func byIndent(lines []line, groups []group) bool {
	full, first := 0, 0
	for i, l := range lines {
		if l.text == "" {
			continue
		}
		full++
		if i > 0 && l.indent >= 2 && lines[i-1].text != "" && lines[i-1].indent < l.indent {
			first++
		}
	}
	return full > 10*len(groups) && first*40 > full
}

func atIndents(g group) []group {
	var out []group
	for i, l := range g.lines {
		if i == 0 || l.indent >= 2 {
			before := 1
			if i == 0 {
				before = g.before
			}
			out = append(out, group{before: before})
		}
		last := &out[len(out)-1]
		last.lines = append(last.lines, l)
	}
	return out
}

// atShortLines splits a very long group behind lines that end a sentence and
// had room for the next word.
func atShortLines(g group, width int) []group {
	out := []group{{before: g.before}}
	for i, l := range g.lines {
		last := &out[len(out)-1]
		last.lines = append(last.lines, l)
		if i+1 < len(g.lines) && strings.ContainsAny(l.text[len(l.text)-1:], ".!?\"") && early(l, g.lines[i+1], width) {
			out = append(out, group{before: 1})
		}
	}
	return out
}

// early reports whether a line ends although the first word of the next one had
// room at this width: somebody wanted the break.
func early(l, next line, width int) bool {
	word, _, _ := strings.Cut(next.text, " ")
	return l.indent+l.width()+1+utf8.RuneCountInString(word) < width-3
}
