package paper

import (
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

var (
	pageFront = regexp.MustCompile(`(?i)^[\[(]?\s*(?:p\.|pg\.?|page)\s*(\d{1,4})\s*[\])]?\s*[:.–—-]*\s*`)
	pageBack  = regexp.MustCompile(`(?i)\s*(?:[\[(]\s*(?:pp?\.?|pg\.?|page)?\s*(\d{1,4})\s*[\])]|[,–—-]?\s+(?:p\.|pg\.|page)\s*(\d{1,4}))\.?\s*$`)
)

// takePage cuts a page from the front or back of a line: "p. 12: He ran." or
// "He ran. (p. 12)".
func takePage(s string) (rest string, page int) {
	if m := pageFront.FindStringSubmatchIndex(s); m != nil && m[1] < len(s) {
		page, _ = strconv.Atoi(s[m[2]:m[3]])
		return strings.TrimSpace(s[m[1]:]), page
	}
	if m := pageBack.FindStringSubmatchIndex(s); m != nil && m[0] > 0 {
		g := 2
		if m[g] < 0 {
			g = 4
		}
		page, _ = strconv.Atoi(s[m[g]:m[g+1]])
		return strings.TrimSpace(s[:m[0]]), page
	}
	return strings.TrimSpace(s), 0
}

// ParseSentences reads sentences, one a line, each with its page if it has one.
func ParseSentences(text string) []Passage {
	var out []Passage
	for _, l := range strings.Split(strings.ReplaceAll(text, "\r", "\n"), "\n") {
		l = strings.TrimLeft(l, " \t•*")
		if s, page := takePage(l); s != "" {
			out = append(out, Passage{strings.Join(strings.Fields(s), " "), page})
		}
	}
	return out
}

// ParsePassages reads passages that blank lines part; a page stands in front of
// the first line or behind the last one.
func ParsePassages(text string) []Passage {
	var out []Passage
	for _, p := range paragraphs(text) {
		if s, page := takePage(p); s != "" {
			out = append(out, Passage{s, page})
		}
	}
	return out
}

// paragraphs splits text at blank lines and joins wrapped lines. Lines that are
// all short and begin with capitals are verse and stay.
func paragraphs(text string) []string {
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u2028", "\n", "\u2029", "\n\n").Replace(text)
	var out []string
	var lines []string
	done := func() {
		if len(lines) == 0 {
			return
		}
		sep := " "
		if verse(lines) {
			sep = "\n"
		}
		out = append(out, strings.Join(lines, sep))
		lines = nil
	}
	for _, l := range strings.Split(text, "\n") {
		l = strings.Join(strings.FieldsFunc(l, func(r rune) bool { return r == ' ' || r == '\t' }), " ")
		if l = strings.TrimFunc(l, unicode.IsSpace); l == "" {
			done()
			continue
		}
		lines = append(lines, l)
	}
	done()
	return out
}

func verse(lines []string) bool {
	if len(lines) < 2 {
		return false
	}
	for i, l := range lines {
		r, _ := utf8.DecodeRuneInString(strings.TrimLeft(l, "\"'“‘(—"))
		if utf8.RuneCountInString(l) > 50 || i > 0 && !unicode.IsUpper(r) {
			return false
		}
	}
	return true
}

var meaningMark = regexp.MustCompile(`\s*(?::|=|\s[–—-]+\s|\t)\s*`)

// ParseWords reads a word list: one word a line with whatever follows ("weary –
// very tired (p. 12)"), or words on one line with commas between them.
func ParseWords(text string) []Word {
	var out []Word
	for _, l := range strings.Split(strings.ReplaceAll(text, "\r", "\n"), "\n") {
		l, page := takePage(strings.TrimLeft(l, " \t•*0123456789.)"))
		if l == "" {
			continue
		}
		word, meaning := l, ""
		if m := meaningMark.FindStringIndex(l); m != nil && m[0] > 0 {
			word, meaning = l[:m[0]], strings.TrimSpace(l[m[1]:])
		} else if strings.ContainsAny(l, ",;") {
			for _, w := range strings.FieldsFunc(l, func(r rune) bool { return r == ',' || r == ';' }) {
				if w, p := takePage(w); w != "" {
					if p == 0 {
						p = page
					}
					out = append(out, Word{Word: tidyWord(w), Page: p})
				}
			}
			continue
		}
		if word = tidyWord(word); word != "" {
			out = append(out, Word{Word: word, Meaning: meaning, Page: page})
		}
	}
	return out
}

func tidyWord(w string) string {
	return strings.Trim(strings.Join(strings.Fields(w), " "), ".,;:\"“”")
}
