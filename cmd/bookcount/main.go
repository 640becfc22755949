// Command bookcount counts the words of novels, for the frequencies that the
// lexicon gives for book English. It was run once over the 81 public-domain
// novels of LitBank (https://github.com/dbamman/litbank, folder original); its
// result, data/book-counts.tsv.gz, is kept, the novels are not.
//
//	bookcount -novels DIR -out data/book-counts.tsv.gz
//
// The first line of the result is "# tokens N types N novels N"; then comes one
// line for each form: the form in lower case, how often, in how many novels. "'s" at the end of a word is left off, but for
// the few contractions that end so.
package main

import (
	"bytes"
	"compress/gzip"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
)

func main() {
	novels := flag.String("novels", "", "folder of plain texts, one novel a file")
	out := flag.String("out", "data/book-counts.tsv.gz", "file to write")
	flag.Parse()
	if err := run(*novels, *out); err != nil {
		fmt.Fprintln(os.Stderr, "bookcount:", err)
		os.Exit(1)
	}
}

func run(novels, out string) error {
	files, err := filepath.Glob(filepath.Join(novels, "*.txt"))
	if err != nil {
		return err
	}
	if len(files) == 0 {
		return fmt.Errorf("there are no .txt files in %q", novels)
	}
	c := counter{counts: map[string]*tally{}}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			return err
		}
		c.add(string(text))
	}
	data, err := c.table()
	if err != nil {
		return err
	}
	return os.WriteFile(out, data, 0o666)
}

type tally struct{ times, novels, last int }

type counter struct {
	counts         map[string]*tally
	tokens, novels int
}

func (c *counter) add(text string) {
	c.novels++
	for _, w := range words(text) {
		t := c.counts[w]
		if t == nil {
			t = &tally{}
			c.counts[w] = t
		}
		t.times++
		c.tokens++
		if t.last != c.novels {
			t.last = c.novels
			t.novels++
		}
	}
}

// table writes the counts, packed; the same counts give the same bytes.
func (c *counter) table() ([]byte, error) {
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	fmt.Fprintf(z, "# tokens %d types %d novels %d\n", c.tokens, len(c.counts), c.novels)
	var forms []string
	for w := range c.counts {
		forms = append(forms, w)
	}
	slices.Sort(forms)
	for _, w := range forms {
		fmt.Fprintf(z, "%s\t%d\t%d\n", w, c.counts[w].times, c.counts[w].novels)
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

var contractions = map[string]bool{
	"it's": true, "that's": true, "what's": true, "let's": true, "he's": true, "she's": true,
	"who's": true, "where's": true, "there's": true, "here's": true, "how's": true, "when's": true,
}

// words returns the words of a text in lower case: letters, with single
// hyphens and apostrophes inside ("good-natured", "o'clock"). Underscores mark
// italics and are passed over; two hyphens are a dash.
func words(text string) []string {
	var out []string
	var w []rune
	flush := func() {
		s := strings.Trim(string(w), "-'")
		w = w[:0]
		if base, ok := strings.CutSuffix(s, "'s"); ok && !contractions[s] {
			s = base
		}
		if s != "" {
			out = append(out, s)
		}
	}
	for _, r := range text {
		switch {
		case unicode.IsLetter(r):
			w = append(w, unicode.ToLower(r))
		case r == '_':
		case r == '\'' || r == '’' || r == '‘':
			if len(w) > 0 && w[len(w)-1] == '\'' {
				flush()
			} else if len(w) > 0 {
				w = append(w, '\'')
			}
		case r == '-' || r == '‐' || r == '‑':
			if len(w) > 0 && w[len(w)-1] == '-' {
				flush()
			} else if len(w) > 0 {
				w = append(w, '-')
			}
		default:
			flush()
		}
	}
	flush()
	return out
}
