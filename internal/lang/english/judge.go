package english

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"bookstead/internal/lang"
)

// reason says why a paragraph is skipped.
type reason uint8

const (
	prose    reason = iota
	foreign         // not English
	numerals        // numbers and signs
	monster         // words beyond all length
	contents        // a list of chapters
)

// longestWord is the length in bytes above which a run of letters is no word.
const longestWord = 256

// judge looks whether a paragraph, with its tokens, is English prose. Short ones
// always pass: there is nothing to tell by, and little to lose.
func judge(text string, ts []lang.Token) reason {
	words, known, numbers, signs, letters, ascii := 0, 0, 0, 0, 0, 0
	var room [16]byte
	for i := range ts {
		f := ts[i].Form
		switch {
		case len(f) > longestWord:
			return monster
		case f[0] >= '0' && f[0] <= '9':
			numbers++
		case lang.IsWord(f):
			words++
			if len(f) <= 10 && common[string(appendLower(room[:0], f))] {
				known++
			}
			letters += len(f)
			for k := 0; k < len(f); k++ {
				if f[k] < utf8.RuneSelf {
					ascii++
				}
			}
		default:
			signs++
		}
	}
	switch {
	case words >= 6 && ascii*2 < letters:
		return foreign
	case words >= 20 && known*12 < words:
		return foreign
	case len(ts) >= 30 && words*5 < len(ts) && numbers+signs > 0:
		return numerals
	case isContents(text):
		return contents
	}
	return prose
}

// isContents reports whether a paragraph is a table of contents: at least four
// lines, most of which begin as a chapter does or end in a page's number.
func isContents(text string) bool {
	lines, listed := 0, 0
	for line := range strings.Lines(text) {
		w := strings.Fields(line)
		if len(w) == 0 {
			continue
		}
		lines++
		if len(w) > 16 {
			continue
		}
		last := strings.TrimLeft(w[len(w)-1], ".…")
		first := strings.TrimRight(w[0], ".):—")
		switch {
		case strings.EqualFold(first, "chapter") || strings.EqualFold(first, "part") || strings.EqualFold(first, "book"),
			first != "I" && first != "" && strings.Trim(first, "IVXLC") == "",
			len(w) > 1 && strings.Trim(first, "0123456789") == "",
			len(w) > 1 && last != "" && strings.Trim(last, "0123456789") == "",
			len(w) > 1 && len(last) > 1 && strings.Trim(last, "ivxlc") == "":
			listed++
		}
	}
	return lines >= 4 && listed*4 >= lines*3
}

func appendLower(b []byte, s string) []byte {
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c >= 'A' && c <= 'Z' {
			c += 'a' - 'A'
		}
		b = append(b, c)
	}
	return b
}

// common are words without which no English passes twenty words; those that
// other languages share ("in", "so", "die") are left out.
var common = func() map[string]bool {
	m := map[string]bool{}
	for w := range strings.FieldsSeq(`the of and to that is was for it with as his he be not by but have you which are on or her had at from this my they all their she there been one were we if would will who when what could more up out into your then them some than do him said no its our did know about down now only like over see come has how go must little upon these thou thy shall should good never any us back way can every through other before after here where such great even old again make well still think too those much went own came very just might made first got an me i n't`) {
		m[w] = true
	}
	return m
}()

// remarks says which paragraphs were skipped and why.
func remarks(d *lang.Doc, reasons []reason) []string {
	what := map[reason][]string{}
	bad := 0
	for i, r := range reasons {
		if r != prose {
			p := d.Paragraphs[i]
			what[r] = append(what[r], fmt.Sprintf("“%s” (byte %d)", opening(d.Text[p.Start:p.End]), p.Start))
		}
	}
	if !utf8.ValidString(d.Text) {
		for _, r := range d.Text {
			if r == utf8.RuneError {
				bad++
			}
		}
	}
	var out []string
	for _, x := range []struct {
		r              reason
		singular, many string
	}{
		{foreign, "A paragraph does not look like English and was not analysed: %s.", "%d paragraphs do not look like English and were not analysed: %s."},
		{numerals, "A paragraph is made of figures and signs and was not analysed: %s.", "%d paragraphs are made of figures and signs and were not analysed: %s."},
		{contents, "A table of contents was not analysed: %s.", "%d tables of contents were not analysed: %s."},
		{monster, "A paragraph with a word of more than 256 letters was not analysed: %s.", "%d paragraphs with words of more than 256 letters were not analysed: %s."},
	} {
		switch n := len(what[x.r]); {
		case n == 1:
			out = append(out, fmt.Sprintf(x.singular, list(what[x.r])))
		case n > 1:
			out = append(out, fmt.Sprintf(x.many, n, list(what[x.r])))
		}
	}
	if n := controls(d.Text); n > 0 {
		out = append(out, fmt.Sprintf("Control characters (%d) were passed over.", n))
	}
	if bad > 0 {
		out = append(out, fmt.Sprintf("%d bytes are no readable text (not UTF-8) and were taken as signs.", bad))
	}
	return out
}

// controls counts the control characters that are no white space.
func controls(text string) int {
	n := 0
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case c == '\t' || c == '\n' || c == '\v' || c == '\f' || c == '\r':
		case c < ' ' || c == 0x7f:
			n++
		}
	}
	return n
}

// opening returns the first words of a text.
func opening(s string) string {
	s = strings.ToValidUTF8(s[:min(len(s), 60)], "")
	s = strings.Join(strings.Fields(s), " ")
	if len(s) > 40 {
		s = strings.ToValidUTF8(s[:40], "") + "…"
	}
	return s
}
