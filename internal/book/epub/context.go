package epub

import (
	"strings"

	"bookstead/internal/book"
)

// enter is the place inside an element: its kind follows from the element, its
// epub:type or role, and the class names that converters use.
func (at place) enter(n *node) place {
	at.element = n
	if types := n.types(); len(types) > 0 && (n.tag == "section" || n.tag == "body" || n.tag == "div" || n.tag == "article" || n.tag == "aside" || n.tag == "nav") {
		at.types = append(at.types[:len(at.types):len(at.types)], types...)
	}
	if n.classed("pg-boilerplate", "pgheader", "pgfooter") || n.attr["id"] == "pg-header" || n.attr["id"] == "pg-footer" {
		at.aside = true
	}
	at.pre = at.pre || n.tag == "pre"
	if n.is("poem", "verse", "song", "hymn", "lyrics") || n.classed("poem", "poetry", "verse", "stanza", "linegroup", "line-group", "lg", "song", "lyrics", "rhyme") {
		at.verse = true
	}
	if n.is("letter", "diary", "correspondence") || n.classed("letter", "telegram", "correspondence", "diary") || n.tag == "blockquote" && n.any(letterPart) {
		at.letter = true
	}
	switch {
	case n.is("footnote", "endnote", "rearnote", "note", "footnotes", "endnotes", "rearnotes") || n.classed("footnote", "endnote", "footnotes", "endnotes"):
		at.kind = book.Note
	case len(n.tag) == 2 && n.tag[0] == 'h' && n.tag[1] >= '1' && n.tag[1] <= '6':
		at.kind, at.level = book.Heading, int(n.tag[1]-'0')
	case n.tag == "hgroup":
		at.kind, at.level = book.Heading, groupLevel(n)
	case at.kind == book.Heading:
	case n.tag == "p" && n.is("title", "subtitle", "fulltitle", "halftitle", "ordinal", "label") || n.is("bridgehead"):
		at.kind, at.level = book.Heading, 7
	case n.tag == "figcaption" || n.tag == "caption":
		at.kind = book.Caption
	case n.tag == "blockquote" || n.is("epigraph") || n.tag == "pre" || n.tag == "table":
		if at.kind == book.Paragraph {
			at.kind = book.Quote
		}
	}
	return at
}

func groupLevel(n *node) int {
	for l := '1'; l <= '6'; l++ {
		if n.find("h"+string(l)) != nil {
			return int(l - '0')
		}
	}
	return 1
}

// letterPart tells a part that only letters have.
func letterPart(n *node) bool {
	return n.is("salutation", "valediction", "signature", "sender") || n.classed("salutation", "signature", "valediction")
}

// skipped reports whether an element holds nothing to read.
func skipped(n *node) bool {
	switch n.tag {
	case "head", "script", "style", "template", "audio", "video", "iframe", "svg", "rt", "rp", "noscript", "button", "input", "select":
		return true
	case "nav":
		return n.is("page-list", "landmarks")
	}
	_, hidden := n.attr["hidden"]
	return hidden || cssHidden.MatchString(n.attr["style"])
}

// noteMark reports whether a link is only the mark of a note, or leads back from
// one: no word of the text.
func noteMark(n *node) bool {
	if n.is("noteref", "backlink") || n.classed("noteref", "footnote-ref", "footnoteref") {
		return true
	}
	text := strings.Trim(flat(n.all()), "[]()")
	switch text {
	case "↩", "↩︎", "↑", "^", "⏎", "↵":
		return true
	}
	if !strings.Contains(n.attr["href"], "#") || text == "" || len(text) > 4 {
		return false
	}
	raised := n.up != nil && n.up.tag == "sup" || n.find("sup") != nil
	return raised && strings.Trim(text, "0123456789*†‡§abcdefivx") == ""
}

// pageLabel is the number that a page break states.
func pageLabel(n *node) string {
	for _, s := range []string{n.attr["title"], n.attr["aria-label"], flat(n.all()), n.attr["value"]} {
		s = strings.TrimSpace(s)
		for _, word := range []string{"Page ", "page ", "p. ", "Pg. "} {
			s = strings.TrimPrefix(s, word)
		}
		if s = strings.Trim(s, "[]. "); s != "" && len(s) < 12 {
			return s
		}
	}
	id := n.attr["id"]
	return id[strings.LastIndexFunc(id, func(r rune) bool { return r < '0' || r > '9' })+1:]
}
