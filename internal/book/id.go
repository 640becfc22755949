package book

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// MakeID makes a book's ID from its title and author, and from nothing else: a
// corrected file of the same book gets the same ID, so that what was decided
// finds its text again. It reads "black-beauty-anna-sewell"; where letters had
// to be left out (a long title, letters without a Latin base) eight digits of a
// SHA-256 over title and author follow, so that two books never share an ID by
// the cut alone.
func MakeID(title, author string) ID {
	const limit = 60
	var sb strings.Builder
	lost, gap := false, false
	for _, r := range norm.NFKD.String(strings.ToLower(title + " " + author)) {
		switch {
		case r < 0x80 && (unicode.IsLetter(r) || unicode.IsDigit(r)):
			if gap && sb.Len() > 0 {
				sb.WriteByte('-')
			}
			gap = false
			sb.WriteRune(r)
		case unicode.Is(unicode.Mn, r) || r == '\'' || r == '’':
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			lost = true
		default:
			gap = true
		}
	}
	slug := sb.String()
	if len(slug) > limit {
		slug, lost = strings.TrimRight(slug[:limit], "-"), true
	}
	if lost || slug == "" {
		sum := sha256.Sum256([]byte(Letters(title) + "\x00" + Letters(author)))
		slug = strings.TrimPrefix(slug+"-"+hex.EncodeToString(sum[:4]), "-")
	}
	return ID(slug)
}
