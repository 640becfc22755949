package txt

import (
	"regexp"
	"strings"
	"unicode"

	"bookstead/internal/book"
)

// candidate is what a group could be as a heading, by its form alone.
type candidate struct {
	label   book.Label // Number 0 when it has none
	title   string     // what follows the label in the same group
	kind    book.ChapterKind
	named   bool // "PREFACE" and the like: kind says what
	over    bool // "THE END"
	heading bool // stands like a heading without number or known name
	caps    bool // such a heading is all in capitals
}

var theEnd = regexp.MustCompile(`(?i)^\W*(the end|finis|end|the end of .{1,40}|end of (the )?(first|second|third|last|vol|book|part)\b.{0,40})\W*$`)

// theLast is the heading of a last chapter that does not state its number;
// lastNumber stands for it until the others are known.
var theLast = regexp.MustCompile(`(?i)^\W*(chapter (the )?last|(the )?last chapter)\W*$`)

const lastNumber = 1 << 20

// endLabel is a part's number behind the book's title: "THE POND PART 2".
var endLabel = regexp.MustCompile(`^(.{2,60}?)[\s,.:;–—-]+((?:PART|BOOK|VOLUME|Part|Book|Volume) [A-Za-z0-9]+)\.?$`)

// look reads a group as a heading.
func look(g group) (c candidate) {
	if len(g.lines) > 6 {
		return c
	}
	text := strings.Trim(g.text(), " ")
	if len(text) > 400 || text == "" {
		return c
	}
	if len(g.lines) == 1 && theEnd.MatchString(text) {
		c.over = true
		return c
	}
	if len(g.lines) == 1 && theLast.MatchString(text) {
		c.label = book.Label{Word: "Chapter", Number: lastNumber, Numeral: "the Last"}
		return c
	}
	if l, ok := book.ParseLabel(g.lines[0].text); ok && (l.Word != "" || len(g.lines) <= 3) {
		rest := squeeze(strings.Join([]string{l.Rest, group{lines: g.lines[1:]}.text()}, " "))
		if plausibleTitle(rest, len(g.lines), l.Word != "") {
			c.label, c.title = l, strings.TrimSpace(rest)
			return c
		}
	}
	if len(g.lines) == 1 && g.before >= 2 && text == strings.ToUpper(text) {
		if m := endLabel.FindStringSubmatch(text); m != nil {
			if l, ok := book.ParseLabel(m[2]); ok && l.Rest == "" {
				c.label = l
				return c
			}
		}
	}
	if len(g.lines) == 1 {
		if c.kind, c.named = book.KindOfTitle(text); c.named {
			return c
		}
	}
	c.heading = headingLike(g)
	c.caps = allCaps(text)
	return c
}

// plausibleTitle tells what may follow "CHAPTER I" in its own group from the
// beginning of the story set close under it.
func plausibleTitle(rest string, lines int, word bool) bool {
	rest = strings.TrimSpace(rest)
	if rest == "" || allCaps(rest) {
		return true
	}
	if strings.HasPrefix(rest, "(") || unicode.IsLower(first(rest)) {
		return false
	}
	return len(rest) <= 150 && lines <= 3 || len(rest) <= 300 && word && lines <= 5
}

// splitGlued parts a numbered heading from the story that is set close under
// it, without a blank line.
func splitGlued(groups []group, width int) []group {
	var out []group
	for _, g := range groups {
		if len(g.lines) > 1 {
			l, ok := book.ParseLabel(g.lines[0].text)
			next := g.lines[1]
			glued := ok && early(g.lines[0], next, width) && (l.Rest == "" || headingLike(group{lines: g.lines[:1]})) && (l.Word != "" || l.Rest == "" || len(g.lines) > 4) && !allCaps(next.text) &&
				(len(g.lines) > 4 || next.width() > width*3/4 && width > 0 || strings.HasPrefix(next.text, "“") || strings.HasPrefix(next.text, "\""))
			// A list of numbered lines is no heading with its text.
			if _, second := book.ParseLabel(next.text); glued && !second {
				out = append(out, group{g.lines[:1], g.before}, group{g.lines[1:], 1})
				continue
			}
		}
		out = append(out, g)
	}
	return out
}

// headingLike reports whether a group stands as a title does: a short line or
// two without a sentence's end, in capitals or with a capital on every long word.
func headingLike(g group) bool {
	if len(g.lines) > 2 {
		return false
	}
	t := g.text()
	if len(t) > 80 || len(book.Letters(t)) < 2 || book.IsSceneMark(t) {
		return false
	}
	if strings.ContainsAny(t[len(t)-1:], ",;:") || strings.HasPrefix(t, "[") {
		return false
	}
	if allCaps(t) {
		return true
	}
	return !strings.HasSuffix(t, ".") && !strings.HasSuffix(t, "”") && !strings.HasSuffix(t, "\"") && titleCase(t)
}

func allCaps(t string) bool {
	letters := 0
	for _, r := range t {
		if unicode.IsLower(r) {
			return false
		}
		if unicode.IsUpper(r) {
			letters++
		}
	}
	return letters > 1
}

// titleCase reports whether every word of four letters or more, and the first,
// has a capital.
func titleCase(t string) bool {
	for i, w := range strings.Fields(t) {
		w = strings.TrimFunc(w, func(r rune) bool { return !unicode.IsLetter(r) })
		if (i == 0 || len(w) > 3) && unicode.IsLower(first(w)) {
			switch strings.ToLower(w) {
			case "with", "from", "into", "over", "upon", "that", "than", "when", "under", "about":
				if i > 0 {
					continue
				}
			}
			return false
		}
	}
	return true
}

func first(s string) rune {
	for _, r := range s {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
	}
	return 0
}
