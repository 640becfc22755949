package print

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

func equalFold(a, b string) bool { return strings.EqualFold(a, b) }

// Face is how a run of text is set. Values are combined with |.
type Face uint8

const (
	Italic Face = 1 << iota
	Bold
	// SmallCaps sets lower-case letters as real small capitals where the
	// typeface has them, and as spaced capitals of a smaller size where not.
	SmallCaps
	// Rubric is the teacher's alone: red ink, italic, drawn in the teacher's
	// edition and left white, in its place, on student pages.
	Rubric
	// Blank is a gap to fill in: a line to write on, with Text as the answer
	// that the teacher's edition shows on it. It is as long as the answer in a
	// child's hand, and never shorter than Style.Blank.
	Blank
)

// Run is a stretch of text in one face. Line breaks come at spaces, after
// hyphens and dashes, and within words where hyphenation allows; U+00A0 holds
// two words together, U+2011 is a hyphen that does not break, U+00AD allows a
// break. A newline in the text starts a new line.
type Run struct {
	Text string
	Face Face
}

// Text is a paragraph's worth of runs.
type Text []Run

// Plain is a text in roman.
func Plain(s string) Text { return Styled(s, 0) }

// Styled is a text in one face.
func Styled(s string, f Face) Text {
	if s == "" {
		return nil
	}
	return Text{{Text: s, Face: f}}
}

// Join puts texts one behind the other, with nothing between.
func Join(texts ...Text) Text {
	var out Text
	for _, t := range texts {
		out = append(out, t...)
	}
	return out
}

// With is a copy of t with f added to every run.
func (t Text) With(f Face) Text {
	out := make(Text, len(t))
	for i, r := range t {
		out[i] = Run{r.Text, r.Face | f}
	}
	return out
}

// String is the text without its faces, what only the teacher sees included.
func (t Text) String() string {
	var b strings.Builder
	for _, r := range t {
		b.WriteString(r.Text)
	}
	return b.String()
}

// Emphasise sets the first occurrence of word in s as a whole word, whatever
// its case, in face f and the rest in roman. Without an occurrence all of s is
// roman.
func Emphasise(s, word string, f Face) Text {
	i, j := findWord(s, word)
	if i < 0 {
		return Plain(s)
	}
	return Join(Plain(s[:i]), Styled(s[i:j], f), Plain(s[j:]))
}

// findWord is the byte span of the first whole-word match, or -1, -1.
func findWord(s, word string) (int, int) {
	if word == "" {
		return -1, -1
	}
	for i := range s {
		j := i + len(word)
		if j > len(s) {
			break
		}
		if !strings.EqualFold(s[i:j], word) {
			continue
		}
		before, _ := utf8.DecodeLastRuneInString(s[:i])
		after, _ := utf8.DecodeRuneInString(s[j:])
		if !unicode.IsLetter(before) && !unicode.IsLetter(after) {
			return i, j
		}
	}
	return -1, -1
}
