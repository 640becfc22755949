package english

import (
	"strings"

	"bookstead/internal/lang"
)

// Paragraphs cuts plain text at its blank lines; lines inside a paragraph stay
// as they are.
func Paragraphs(text string) []lang.Paragraph {
	out := []lang.Paragraph{}
	start, end := -1, 0 // of the open paragraph
	for at := 0; at < len(text); {
		next := len(text)
		if k := strings.IndexByte(text[at:], '\n'); k >= 0 {
			next = at + k + 1
		}
		line := strings.TrimRight(text[at:next], " \t\r\n\f\v")
		switch {
		case line != "":
			if start < 0 {
				start = at
			}
			end = at + len(line)
		case start >= 0:
			out = append(out, lang.Paragraph{Start: start, End: end, Kind: "paragraph"})
			start = -1
		}
		at = next
	}
	if start >= 0 {
		out = append(out, lang.Paragraph{Start: start, End: end, Kind: "paragraph"})
	}
	return out
}
