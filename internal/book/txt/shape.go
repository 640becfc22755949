package txt

import (
	"regexp"
	"strings"
	"unicode"

	"bookstead/internal/book"
)

// piece is a group as it will be laid down.
type piece struct {
	kind book.BlockKind
	text string // with underscores
	kept bool   // its line ends are meant
}

var (
	illustration = regexp.MustCompile(`(?i)^\[\s*(illustration|frontispiece|picture|image)\b[\s:.]*`)
	footnote     = regexp.MustCompile(`^(\[\s*(?i:footnote\b|note\b|\d{1,3}\]|\*)|\*{1,3} ?[A-Z]|† ?[A-Z])`)
)

// shape tells what a group of the running text is.
func (j *joiner) shape(g group, width int) piece {
	t := g.text()
	switch {
	case illustration.MatchString(t):
		t = j.prose(g.lines)
		t = illustration.ReplaceAllString(t, "")
		if strings.Count(t, "]") > strings.Count(t, "[") && strings.HasSuffix(t, "]") {
			t = strings.TrimSuffix(t, "]")
		}
		return piece{book.Caption, t, false}
	case len(g.lines) > 1 && linesMeant(g, width):
		return piece{book.Verse, kept(g.lines), true}
	case footnote.MatchString(t) && !strings.HasPrefix(t, "* *"):
		return piece{book.Note, j.prose(g.lines), false}
	}
	kind := book.Paragraph
	if indented(g) {
		kind = book.Quote
		if len(g.lines) == 1 && !allCaps(t) && g.lines[0].indent < 3 {
			kind = book.Paragraph
		}
	} else if len(g.lines) == 1 && allCaps(t) && len(t) <= 60 && !strings.ContainsAny(t, "\"“”‘") && len(strings.Fields(t)) > 1 {
		kind = book.Quote // a notice, a sign, the head of a will
	}
	return piece{kind, j.prose(g.lines), false}
}

func markOnly(g group) bool {
	for _, l := range g.lines {
		if !book.IsSceneMark(l.text) {
			return false
		}
	}
	return true
}

// indented reports whether all lines are set in by two columns or more.
func indented(g group) bool {
	for _, l := range g.lines {
		if l.indent < 2 {
			return false
		}
	}
	return true
}

// linesMeant reports whether a group's line ends belong to the text, as in
// verse: they come before the line was full, and most lines begin with a
// capital; or the lines are far too short for prose.
func linesMeant(g group, width int) bool {
	if width == 0 {
		width = 72
	}
	n := len(g.lines)
	capital, short, longest := 0, 0, 0
	for i, l := range g.lines {
		longest = max(longest, l.width())
		if i == 0 {
			continue
		}
		if startsLine(l.text) {
			capital++
		}
		if early(g.lines[i-1], l, width) {
			short++
		}
	}
	verse := capital*10 >= (n-1)*7 && short*10 >= (n-1)*5
	if !indented(g) {
		// Dialogue and lists also break early; prose with one odd break must not
		// become verse.
		return verse && longest*4 <= width*3 || n >= 3 && short == n-1 && longest*5 <= width*2
	}
	return verse || longest <= 30 && n > 2
}

// startsLine reports whether a line begins as one of verse does.
func startsLine(t string) bool {
	for _, r := range t {
		if unicode.IsLetter(r) {
			return unicode.IsUpper(r)
		}
		if unicode.IsDigit(r) {
			return true
		}
	}
	return true
}

var (
	salutation = regexp.MustCompile(`(?i)^["“‘'_]*((my )?(own |very |good |old )*(dear|dearest|darling|precious|beloved|honou?red|respected)\b|sir|sirs|madam|gentlemen|ma ch[eè]re|mon cher)[\p{L}. ,'’&-]{0,40}[,:;!–—-]+_?$|` +
		`^["“‘'_]*(mr|mrs|miss|dr)\.? [\p{L}. ,'’]{2,30}:[–—-]*_?$`)
	exclaims    = regexp.MustCompile(`(?i)^\W*(dear|dearie|oh dear|my dear)\W*( me\b|$)`)
	valediction = regexp.MustCompile(`(?i)^["“‘'_]*(ever |most |very |i am,? |believe me,? )*(your|yours)\b.{0,60}$`)
	afterword   = regexp.MustCompile(`^["“‘'_]*P\. ?S\.`)
)

// longestLetter is how many paragraphs a letter may run before its signature.
const longestLetter = 40

// letters marks the groups that are letters: from a line of greeting to a line
// of leave-taking or a name, both standing alone.
func letters(groups []group) []bool {
	out := make([]bool, len(groups))
	for i := 0; i < len(groups); i++ {
		g := groups[i]
		if !greets(g.lines[0].text) || len(g.lines) > 1 && !indented(g) {
			continue
		}
		if len(g.lines) > 1 { // a telegram or note in one piece
			out[i] = true
			continue
		}
		end := leaves(groups, i)
		for k := i; k <= end; k++ {
			out[k] = true
		}
		i = max(i, end)
	}
	return out
}

func greets(t string) bool {
	return len(t) <= 60 && salutation.MatchString(t) && !exclaims.MatchString(t)
}

// leaves returns the last group of the letter that begins at i, -1 if none of
// the next paragraphs ends one.
func leaves(groups []group, i int) int {
	for k := i + 1; k < len(groups) && k <= i+longestLetter; k++ {
		g := groups[k]
		if greets(g.text()) {
			return -1
		}
		if !signature(g) {
			continue
		}
		// The name may follow on a line of its own, then a postscript.
		if valediction.MatchString(g.text()) && k+1 < len(groups) && signature(groups[k+1]) && !greets(groups[k+1].text()) {
			k++
		}
		for k+1 < len(groups) && afterword.MatchString(groups[k+1].text()) {
			k++
		}
		return k
	}
	return -1
}

// signature reports whether a group is a leave-taking or a name alone.
func signature(g group) bool {
	t := strings.Trim(g.text(), "_\"”“'’‘. ")
	if len(g.lines) > 3 || len(t) > 80 || t == "" {
		return false
	}
	if valediction.MatchString(t) {
		return true
	}
	words := strings.Fields(t)
	if len(words) > 5 || len(t) > 40 || strings.ContainsAny(g.text(), "?!\"“") || len(book.Letters(t)) < 2 {
		return false
	}
	for _, w := range words {
		if r := first(w); !unicode.IsUpper(r) {
			return false
		}
	}
	return true
}

// marks joins the scene marks that follow a group at once: three rows of stars
// are one break.
func marks(groups []group) (text string, took int) {
	var rows []string
	for took < len(groups) && markOnly(groups[took]) {
		for _, l := range groups[took].lines {
			rows = append(rows, squeeze(l.text))
		}
		took++
	}
	return strings.Join(rows, "\n"), took
}
