package txt

import (
	"regexp"
	"strings"
)

// Volunteer e-text projects wrap a novel in a licence, between lines that say
// where it starts and ends. These are the wordings in use since the 1990s (seen
// in their files; no norm exists).
var (
	startMark = regexp.MustCompile(`(?i)^\W*(\*\*\*\s*START OF (THE|THIS)\b|START OF (THE|THIS) PROJECT GUTENBERG|\*END\s*\*?\s*THE SMALL PRINT)`)
	endMark   = regexp.MustCompile(`(?i)^\W*(\*\*\*\s*END OF (THE|THIS)\b|END OF (THE |THIS )?PROJECT GUTENBERG)`)
	field     = regexp.MustCompile(`^(Title|Author|Language|Subtitle|Translator|Editor|Illustrator|Release Date|Posting Date|Credits|Character set encoding|Last updated|Original publication)\s*:\s*(.*)$`)
	titleBy   = regexp.MustCompile(`(?i)^\W*(?:The )?Project Gutenberg(?:'s|’s)?(?: E-?(?:book|text) of)? (.+?),? by (.+?)\W*$`)
	// credit begins a paragraph by those who made the file, not the book.
	credit = regexp.MustCompile(`(?i)^\W*(produced by |e-?text (prepared|produced|scanned) by |this e-?(book|text) (was|is) (produced|prepared|transcribed|based|for the use)|` +
		`transcribed (from the|by) |scanned (and proofed )?by |proofread(ing)? by |html version by |prepared by .*(proofread|gutenberg)|` +
		`.{0,80}distributed proofread|.{0,40}project gutenberg|.{0,60}online distributed proof)`)
	transcriber = regexp.MustCompile(`(?i)^\W*transcriber[’']?s?[’']? notes?\b`)
)

// header is what a licence header says about the book.
type header struct{ title, author, language string }

// setAside takes the licence before and behind the book out of the lines and
// returns it, with what it says about the book.
func setAside(lines []line) (rest []line, aside []string, h header) {
	start, end := 0, len(lines)
	for i, l := range lines {
		if startMark.MatchString(l.text) && (i < 800 || i < len(lines)/3) {
			start = i + 1
			// The marker of a long title runs over several lines, to its last star.
			for stars := strings.HasSuffix(l.text, "*"); !stars && start < len(lines) && start < i+4 && lines[start].text != ""; start++ {
				stars = strings.HasSuffix(lines[start].text, "*")
			}
		}
	}
	for i := len(lines) - 1; i >= start; i-- {
		if endMark.MatchString(lines[i].text) {
			end = i
		}
	}
	if start > 0 {
		aside = append(aside, join(lines[:start]))
	}
	if end < len(lines) {
		aside = append(aside, join(lines[end:]))
	}
	return lines[start:end], aside, readHeader(lines[:start])
}

func join(lines []line) string { return strings.TrimSpace(group{lines: lines}.raw()) }

// readHeader reads "Title: ..." and the like; a title may go on in the next,
// indented line.
func readHeader(lines []line) (h header) {
	for i := 0; i < len(lines); i++ {
		if m := titleBy.FindStringSubmatch(lines[i].text); m != nil && h.title == "" {
			h.title, h.author = m[1], m[2]
		}
		m := field.FindStringSubmatch(lines[i].text)
		if m == nil {
			continue
		}
		value := m[2]
		for i+1 < len(lines) && lines[i+1].indent > 0 && lines[i+1].text != "" && !field.MatchString(lines[i+1].text) {
			i++
			value += " " + lines[i].text
		}
		switch m[1] {
		case "Title":
			h.title = value
		case "Author":
			h.author = value
		case "Language":
			h.language = value
		}
	}
	return h
}

// edge is how many groups at either end of a file may be credits.
const edge = 40

// creditGroups takes credits and transcribers' notes out of the groups.
func creditGroups(groups []group) (rest []group, aside []string) {
	for i := 0; i < len(groups); i++ {
		g := groups[i]
		t := g.text()
		atEdge := i < edge || i >= len(groups)-edge
		if n := bracketed(groups[i:], transcriber); n > 0 {
			for _, x := range groups[i : i+n] {
				aside = append(aside, x.raw())
			}
			i += n - 1
			continue
		}
		switch {
		case atEdge && len(t) < 900 && credit.MatchString(t):
			aside = append(aside, g.raw())
		case atEdge && transcriber.MatchString(t):
			aside = append(aside, g.raw())
			// A heading alone: its note is what stands close behind it, and at the
			// end of the file all that is left.
			tail := len(groups) > 2*edge && i >= len(groups)-edge
			for len(t) < 60 && i+1 < len(groups) && (tail || groups[i+1].before < 3 && !headingLike(groups[i+1])) {
				i++
				aside = append(aside, groups[i].raw())
			}
		default:
			rest = append(rest, g)
		}
	}
	return rest, aside
}

// bracketed returns how many groups from the first on make one note in square
// brackets that starts with what the pattern says, 0 if none does.
func bracketed(groups []group, what *regexp.Regexp) int {
	first := groups[0].text()
	if !strings.HasPrefix(first, "[") || !what.MatchString(first) {
		return 0
	}
	depth := 0
	for n, g := range groups[:min(len(groups), 12)] {
		t := g.text()
		depth += strings.Count(t, "[") - strings.Count(t, "]")
		if depth <= 0 {
			return n + 1
		}
	}
	return 1
}
