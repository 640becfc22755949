package epub

import (
	"regexp"
	"strings"
)

var (
	cssComment = regexp.MustCompile(`(?s)/\*.*?\*/`)
	cssRule    = regexp.MustCompile(`([^{}]+)\{([^{}]*)\}`)
	cssItalic  = regexp.MustCompile(`font-style\s*:\s*(italic|oblique)`)
	cssHidden  = regexp.MustCompile(`display\s*:\s*none`)
	cssSimple  = regexp.MustCompile(`^[a-z0-9]*\.([A-Za-z0-9_-]+)$`)
)

// styles are the classes of a book's style sheets that bear on its text.
type styles struct{ italic map[string]bool }

// readStyles reads the simplest rules only, one class with or without an
// element: that is how converters write italics.
func (a *archive) readStyles(names []string) styles {
	s := styles{map[string]bool{}}
	for _, name := range names {
		data, err := a.read(name)
		if err != nil {
			continue // text without its italics is still the text
		}
		for _, m := range cssRule.FindAllStringSubmatch(cssComment.ReplaceAllString(string(data), ""), -1) {
			if !cssItalic.MatchString(strings.ToLower(m[2])) {
				continue
			}
			for _, sel := range strings.Split(m[1], ",") {
				if c := cssSimple.FindStringSubmatch(strings.TrimSpace(sel)); c != nil {
					s.italic[c[1]] = true
				}
			}
		}
	}
	return s
}

// italicised reports whether an element sets its text in italics.
func (s styles) italicised(n *node) bool {
	switch n.tag {
	case "em", "i", "cite", "dfn", "var":
		return true
	}
	if cssItalic.MatchString(strings.ToLower(n.attr["style"])) {
		return true
	}
	for _, c := range strings.Fields(n.attr["class"]) {
		if s.italic[c] {
			return true
		}
		switch strings.ToLower(c) {
		case "italic", "italics", "ital", "it", "emphasis":
			return n.tag == "span"
		}
	}
	return false
}
