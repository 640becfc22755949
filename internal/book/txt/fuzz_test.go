package txt

import (
	"context"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"bookstead/internal/fault"
)

// pictureWord is what a caption's bracket begins with; it is no word of the
// book and goes.
var pictureWord = regexp.MustCompile(`(?i)illustration|frontispiece|picture|image`)

// wrapping is what stands in everything that is set aside.
var wrapping = regexp.MustCompile(`(?i)gutenberg|proofread|transcribe|produced|prepared|scanned|html|e-?book|e-?text|start of|end of|small print`)

// letterCounts counts letters and digits, with those words left out.
func letterCounts(s string) map[rune]int {
	n := map[rune]int{}
	for _, r := range pictureWord.ReplaceAllString(strings.ReplaceAll(s, "_", ""), "") {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			n[r]++
		}
	}
	return n
}

// wordCounts counts runs of letters and digits.
func wordCounts(s string) map[string]int {
	n := map[string]int{}
	s = pictureWord.ReplaceAllString(strings.ReplaceAll(s, "_", ""), "")
	for _, w := range strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		n[w]++
	}
	return n
}

func sameCounts[K comparable](t *testing.T, what string, want, got map[K]int) {
	t.Helper()
	for k, n := range want {
		if got[k] != n {
			t.Errorf("%s %v: %d in the file, %d in the book", what, k, n, got[k])
		}
	}
	for k, n := range got {
		if want[k] == 0 {
			t.Errorf("%s %v: not in the file, %d in the book", what, k, n)
		}
	}
}

// FuzzRead holds the law of the reader: every word of the file comes back, in
// the text or set aside, and none twice; and the book keeps the model's rules.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		"CHAPTER I\n\nA _frog_ sat.\n\nCHAPTER II\n\nIt sang.\n", "Contents\n\nI. A\nII. B\n\nI\n\nx\n\nII\n\ny\n\nTHE END\n\nads",
		"*** START OF THE PROJECT GUTENBERG EBOOK A ***\nProduced by B\n\nPART ONE\n\n1\n\nt-\next\n\n*** END OF THE PROJECT GUTENBERG EBOOK A ***\nc",
		"[Illustration: a\n\nb]\n\n* * *\n\n    One line,\n    Two lines,\n\nDear Bo,\n\nHi.\n\nYours,\n\nAl\n", "[Transcriber's Note: [a] b", "A\r\n\r\nTHE B PART 2\r\n\r\nCHAPTER ONE\rC",
		"PREFACE\n\nx\n\nPART I\n\nPART II\n\nEPILOGUE\n\n_ _ __ _a\nb_ [", "CHAPTER I\n\n_\n\n.\n\nCHAPTER II\n\nx", "\tTab\n\n \u00a0\n\nI  The\n\n\fII The\n\n",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		text, _, err := Decode(data)
		if err != nil {
			return
		}
		b, err := Read(context.Background(), "a.txt", data, nil)
		if err != nil {
			if !fault.Is(err, fault.Unreadable) {
				t.Fatal(err)
			}
			// Only a file of nothing but licence, credits and bare picture marks
			// holds no book.
			if len(letterCounts(text)) > 0 && !wrapping.MatchString(text) {
				t.Fatalf("a text with letters is refused: %v", err)
			}
			return
		}
		if err := b.Check(); err != nil {
			t.Fatal(err)
		}
		all := b.Text + "\n" + strings.Join(b.Setaside, "\n")
		sameCounts(t, "letter", letterCounts(text), letterCounts(all))
		if !strings.Contains(strings.ReplaceAll(text, " ", ""), "-\n") {
			sameCounts(t, "word", wordCounts(text), wordCounts(all))
		}
	})
}
