package ical

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// lines are content lines as RFC 5545 section 3.1 wants them: ended by CRLF and
// folded so that no line is longer than 75 octets, never inside a letter.
type lines struct{ strings.Builder }

const longest = 75

func (b *lines) put(name, value string) {
	line := name + ":" + value
	room := longest
	for len(line) > room {
		cut := room
		for !utf8.RuneStart(line[cut]) {
			cut--
		}
		b.WriteString(line[:cut] + "\r\n ")
		line = line[cut:]
		room = longest - 1 // the space counts
	}
	b.WriteString(line + "\r\n")
}

// text is a value of type TEXT (section 3.3.11): backslash, semicolon, comma and
// line breaks escaped; other control characters and broken UTF-8 left out.
func text(s string) string {
	s = strings.ReplaceAll(strings.ToValidUTF8(s, ""), "\r\n", "\n")
	var out strings.Builder
	for _, r := range s {
		switch {
		case r == '\n' || r == '\r':
			out.WriteString(`\n`)
		case r == '\\' || r == ';' || r == ',':
			out.WriteByte('\\')
			out.WriteRune(r)
		case r == '\t' || !unicode.IsControl(r):
			out.WriteRune(r)
		}
	}
	return out.String()
}
