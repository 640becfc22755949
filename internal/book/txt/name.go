package txt

import (
	"path"
	"regexp"
	"strings"
	"unicode"

	"bookstead/internal/book"
)

var (
	byLine    = regexp.MustCompile(`(?i)^_?by[\s:]+([\p{L}][\p{L}.'’ -]{2,60}?)_?[.,]?$`)
	fileNoise = regexp.MustCompile(`^(pg)?\d+[-_ ]+|[-_ ]+(\d{1,2}|utf-?8|images?|txt|ascii)$`)
)

// titlePage reads title and author from the first groups, those in front of the
// story: what stands above "by" and a name, or a first line in capitals.
func titlePage(groups []group) (title, author string) {
	for i, g := range groups[:min(len(groups), 12)] {
		lines := g.lines
		for k, l := range lines {
			m := byLine.FindStringSubmatch(l.text)
			if m == nil && strings.EqualFold(strings.Trim(l.text, "_. "), "by") {
				next := ""
				if k+1 < len(lines) {
					next = lines[k+1].text
				} else if i+1 < len(groups) {
					next = groups[i+1].lines[0].text
				}
				m = byLine.FindStringSubmatch("by " + next)
			}
			if m == nil || len(lines) > 6 || !titleCase(m[1]) {
				continue
			}
			author = properCase(strings.TrimSpace(m[1]))
			if k > 0 {
				title = group{lines: lines[:k]}.text()
			} else if i > 0 {
				title = groups[0].text()
			}
			if title, _ = italics(title); len(title) <= 120 {
				return properCase(book.TidyTitle(title)), author
			}
			return "", author
		}
	}
	if len(groups) > 0 && len(groups[0].lines) <= 2 { // a title page without an author
		t, _ := italics(groups[0].text())
		if allCaps(t) && len(t) <= 90 && !strings.ContainsAny(t, ".?!0123456789") {
			return properCase(book.TidyTitle(t)), ""
		}
	}
	return "", ""
}

// fileTitle makes a title from a file's name: "black_beauty-2.txt" is "Black
// Beauty". The text gives back an apostrophe that the name lost.
func fileTitle(name, text string) string {
	t := path.Base(strings.ReplaceAll(name, "\\", "/"))
	t = strings.TrimSuffix(t, path.Ext(t))
	for {
		cut := fileNoise.ReplaceAllString(t, "")
		if cut == t || cut == "" {
			break
		}
		t = cut
	}
	words := strings.FieldsFunc(t, func(r rune) bool { return r == '_' || r == '-' || r == ' ' || r == '.' })
	low := strings.ToLower(text)
	for i, w := range words {
		if base := strings.TrimSuffix(w, "s"); base != w && len(base) > 2 && w == strings.ToLower(w) {
			for _, mark := range []string{"’s ", "'s "} {
				if strings.Count(low, " "+base+mark) > 2*strings.Count(low, " "+w+" ") {
					words[i] = base + mark[:len(mark)-1]
					break
				}
			}
		}
	}
	if t = strings.Join(words, " "); t == strings.ToLower(t) {
		return properCase(strings.ToUpper(t))
	}
	return t
}

var smallWords = map[string]bool{
	"a": true, "an": true, "the": true, "and": true, "or": true, "but": true, "of": true, "in": true, "on": true,
	"at": true, "to": true, "by": true, "for": true, "from": true, "with": true, "as": true, "is": true,
}

// properCase writes a line that is all capitals in ordinary title letters.
func properCase(s string) string {
	if !allCaps(s) {
		return s
	}
	words := strings.Fields(strings.ToLower(s))
	for i, w := range words {
		if smallWords[w] && i > 0 && i+1 < len(words) {
			continue
		}
		up := true
		words[i] = strings.Map(func(r rune) rune {
			was := up
			up = !unicode.IsLetter(r) && !strings.ContainsRune("'’", r)
			if was {
				return unicode.ToUpper(r)
			}
			return r
		}, w)
	}
	return strings.Join(words, " ")
}
