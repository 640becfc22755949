//go:build bench

package importer

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"html"
	"io"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"bookstead/internal/book"
)

// shelf is where the six books stand, beside the repository.
const shelf = "../../../../shared/books"

func load(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(shelf, name))
	if err != nil {
		t.Fatalf("the six books must stand in ../shared/books: %v", err)
	}
	return data
}

func importFile(t testing.TB, name string) *book.Book {
	t.Helper()
	data := load(t, name)
	b, err := Import(context.Background(), name, bytes.NewReader(data), int64(len(data)), nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.Check(); err != nil {
		t.Fatal(err)
	}
	return b
}

func kinds(b *book.Book) map[book.ChapterKind][]book.Chapter {
	out := map[book.ChapterKind][]book.Chapter{}
	for _, c := range b.Chapters {
		out[c.Kind] = append(out[c.Kind], c)
	}
	return out
}

// TestSixBooks holds what is known of the six books from their title pages.
func TestSixBooks(t *testing.T) {
	for _, c := range []struct {
		file, title, author            string
		chapters, parts, intros, concl int
	}{
		{"the-secret-garden.epub", "The Secret Garden", "Frances Hodgson Burnett", 27, 0, 0, 0},
		{"the-wonderful-wizard-of-oz.epub", "The Wonderful Wizard of Oz", "L. Frank Baum", 24, 0, 1, 0},
		{"black-beauty.epub", "Black Beauty", "Anna Sewell", 49, 4, 0, 0},
		{"alices_adventures_in_wonderland.txt", "Alice’s Adventures in Wonderland", "", 12, 0, 0, 0},
		{"the_adventures_of_tom_sawyer.txt", "The Adventures of Tom Sawyer", "", 35, 0, 0, 1},
		{"little_women.txt", "Little Women", "", 47, 2, 0, 0},
	} {
		b := importFile(t, c.file)
		k := kinds(b)
		if b.Title != c.title || b.Author != c.author {
			t.Errorf("%s: %q by %q", c.file, b.Title, b.Author)
		}
		if len(k[book.Body]) != c.chapters || len(b.Parts) != c.parts || len(k[book.Introduction]) != c.intros || len(k[book.Conclusion]) != c.concl || len(k[book.Story]) != 0 {
			t.Errorf("%s: %d chapters, %d parts, %d introductions, %d conclusions", c.file, len(k[book.Body]), len(b.Parts), len(k[book.Introduction]), len(k[book.Conclusion]))
		}
		words := 0
		for i, ch := range k[book.Body] {
			if ch.Number != i+1 {
				t.Errorf("%s: chapter %d has the number %d", c.file, i+1, ch.Number)
			}
			if (ch.Part >= 0) != (c.parts > 0) {
				t.Errorf("%s: chapter %d is in part %d", c.file, i+1, ch.Part)
			}
			if n := book.Words(b.Slice(book.Span{Start: ch.Body, End: ch.End})); n < 50 {
				t.Errorf("%s: chapter %d has %d words", c.file, i+1, n)
			}
		}
		for _, ch := range b.Chapters {
			if ch.Kind.Told() {
				words += book.Words(b.Slice(ch.Span))
			}
		}
		t.Logf("%s: %d chapters in %d parts, %d words told, %d in all", c.file, len(k[book.Body]), len(b.Parts), words, book.Words(b.Text))
	}
}

// TestTitles compares every title with another place where the file states it:
// the title element of an EPUB's documents, the heading lines of a text.
func TestTitles(t *testing.T) {
	for _, f := range []string{"the-secret-garden.epub", "the-wonderful-wizard-of-oz.epub", "black-beauty.epub"} {
		entries := unpack(t, load(t, f))
		for i, c := range kinds(importFile(t, f))[book.Body] {
			m := regexp.MustCompile(`<title>([IVXLC]+): (.*)</title>`).FindStringSubmatch(entries[fmt.Sprintf("epub/text/chapter-%d.xhtml", i+1)])
			if m == nil || c.Label != "Chapter "+m[1] || plain(c.Title) != plain(html.UnescapeString(m[2])) {
				t.Errorf("%s: %q %q, the file has %q", f, c.Label, c.Title, m)
			}
		}
	}
	for f, pattern := range map[string]string{
		"alices_adventures_in_wonderland.txt": `(?m)^(CHAPTER ([IVXL]+))\. (.+)$`,
		"little_women.txt":                    `(?m)^(CHAPTER ([A-Z-]+))\n\n(.+)$`,
		"the_adventures_of_tom_sawyer.txt":    `(?m)^(CHAPTER ([IVXL]+))()$`,
	} {
		lines := regexp.MustCompile(pattern).FindAllStringSubmatch(string(load(t, f)), -1)
		chapters := kinds(importFile(t, f))[book.Body]
		if len(lines) != len(chapters) {
			t.Fatalf("%s: %d heading lines, %d chapters", f, len(lines), len(chapters))
		}
		for i, c := range chapters {
			label, title := strings.ToUpper(c.Label), lines[i][3]
			if f == "the_adventures_of_tom_sawyer.txt" && i == 25 { // the file's own slip, put right
				label = strings.Replace(label, "XXVI", "XVI", 1)
			}
			if label != lines[i][1] || c.Title != title {
				t.Errorf("%s: %q %q, the file has %q", f, c.Label, c.Title, lines[i])
			}
		}
	}
}

// plain drops word joiners, which titles in running text have and titles in the
// head have not.
func plain(s string) string { return strings.ReplaceAll(s, "\u2060", "") }

// TestNoWordLostOrDoubled compares the words of each book, in order, with an
// extraction that shares no code with the readers: for an EPUB the documents in
// spine order with the tags cut out by patterns, for a text the bare file.
func TestNoWordLostOrDoubled(t *testing.T) {
	for _, f := range []string{"the-secret-garden.epub", "the-wonderful-wizard-of-oz.epub", "black-beauty.epub"} {
		same(t, f, crudeWords(stripped(t, load(t, f))), crudeWords(importFile(t, f).Text))
	}
	for _, f := range []string{"alices_adventures_in_wonderland.txt", "the_adventures_of_tom_sawyer.txt", "little_women.txt"} {
		b := importFile(t, f)
		if len(b.Setaside) > 0 {
			t.Errorf("%s: %q is set aside; the file has no licence", f, b.Setaside)
		}
		same(t, f, crudeWords(strings.ReplaceAll(string(load(t, f)), "_", "")), crudeWords(strings.ReplaceAll(b.Text, "_", "")))
	}
}

func same(t *testing.T, file string, want, got []string) {
	t.Helper()
	t.Logf("%s: %d words of letters and digits in the file, %d in the book", file, len(want), len(got))
	for i := range max(len(want), len(got)) {
		if i >= len(want) || i >= len(got) || want[i] != got[i] {
			t.Errorf("%s: word %d differs: file %q, book %q", file, i, near(want, i), near(got, i))
			return
		}
	}
}

func near(w []string, i int) []string { return w[max(0, min(i-4, len(w))):min(i+5, len(w))] }

// crudeWords are the runs of letters and digits.
func crudeWords(s string) []string {
	s = strings.NewReplacer("\u2060", "", "\u00ad", "", "\ufeff", "", "\u200b", "").Replace(s)
	return strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

func unpack(t testing.TB, data []byte) map[string]string {
	t.Helper()
	zr, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, e := range zr.File {
		rc, err := e.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(rc)
		rc.Close()
		if err != nil {
			t.Fatal(err)
		}
		out[e.Name] = string(text)
	}
	return out
}

var (
	headPart  = regexp.MustCompile(`(?s)<head>.*?</head>|<\?.*?\?>|<!--.*?-->`)
	noteMarks = regexp.MustCompile(`(?s)<a [^>]*epub:type="(noteref|backlink)"[^>]*>.*?</a>`)
	inlineTag = regexp.MustCompile(`</?(a|abbr|b|cite|em|i|small|span|strong|sub|sup|time)( [^>]*)?>`)
	anyTag    = regexp.MustCompile(`<[^>]*>`)
)

// stripped is the text of an EPUB's spine, by patterns alone.
func stripped(t *testing.T, data []byte) string {
	t.Helper()
	entries := unpack(t, data)
	opf := entries["epub/content.opf"]
	href := map[string]string{}
	for _, item := range regexp.MustCompile(`<item [^>]*>`).FindAllString(opf, -1) {
		id := regexp.MustCompile(` id="([^"]*)"`).FindStringSubmatch(item)
		to := regexp.MustCompile(` href="([^"]*)"`).FindStringSubmatch(item)
		href[id[1]] = to[1]
	}
	var sb strings.Builder
	for _, ref := range regexp.MustCompile(`<itemref idref="([^"]*)"`).FindAllStringSubmatch(opf, -1) {
		doc := entries[path.Join("epub", href[ref[1]])]
		doc = noteMarks.ReplaceAllString(headPart.ReplaceAllString(doc, ""), "")
		doc = anyTag.ReplaceAllString(inlineTag.ReplaceAllString(doc, ""), " ")
		sb.WriteString(html.UnescapeString(doc) + "\n")
	}
	return sb.String()
}

// TestWordCounts compares with the word counts that two of the EPUBs state of
// themselves (schema:wordCount): the story with its headings, without imprint
// and notes. One word in a thousand may differ.
func TestWordCounts(t *testing.T) {
	for _, f := range []string{"black-beauty.epub", "the-wonderful-wizard-of-oz.epub"} {
		m := regexp.MustCompile(`schema:wordCount">(\d+)<`).FindStringSubmatch(unpack(t, load(t, f))["epub/content.opf"])
		if m == nil {
			t.Fatalf("%s states no word count", f)
		}
		stated, _ := strconv.Atoi(m[1])
		b := importFile(t, f)
		n := 0
		for _, c := range b.Chapters {
			if c.Kind.Told() {
				n += book.Words(b.Slice(c.Span))
			}
		}
		t.Logf("%s: %d words told, %d stated", f, n, stated)
		if diff := n - stated; diff*1000 > stated || -diff*1000 > stated {
			t.Errorf("%s: %d words, the file states %d", f, n, stated)
		}
	}
}

// TestKindsOfBlocks holds some places that are known to be verse, letters,
// notes and breaks.
func TestKindsOfBlocks(t *testing.T) {
	for _, c := range []struct {
		file, starts string
		kind         book.BlockKind
	}{
		{"the-secret-garden.epub", "“My Dear Dickon:", book.Letter},
		{"the-secret-garden.epub", "“Your obedient servant,\nSusan Sowerby.”", book.Letter},
		{"the-secret-garden.epub", "“Mistress Mary, quite contrary,\nHow does", book.Verse},
		{"the-wonderful-wizard-of-oz.epub", "“My lady fair,\nWhy do you stare", book.Verse},
		{"black-beauty.epub", "A few years since the annual charge", book.Note},
		{"alices_adventures_in_wonderland.txt", "‘How doth the little crocodile\nImprove", book.Verse},
		{"alices_adventures_in_wonderland.txt", "‘Fury said to a\nmouse, That he\nmet in the", book.Verse},
		{"alices_adventures_in_wonderland.txt", "* * *", book.SceneBreak},
		{"alices_adventures_in_wonderland.txt", "THE END", book.Heading},
		{"alices_adventures_in_wonderland.txt", "The Cat’s head began fading", book.Paragraph},
		{"the_adventures_of_tom_sawyer.txt", "[* If Mr. Harbison owned", book.Note},
		{"little_women.txt", "My dearest Mother:", book.Letter},
		{"little_women.txt", "Gondola after gondola swept up to the marble steps, and", book.Quote},
		{"little_women.txt", "Here lies Pip March,\nWho died", book.Verse},
		{"little_women.txt", "Mrs. March:\nYour husband is very ill.", book.Letter},
	} {
		b := importFile(t, c.file)
		found := false
		for _, bl := range b.Blocks {
			if strings.HasPrefix(b.Slice(bl.Span), c.starts) {
				found = true
				if bl.Kind != c.kind {
					t.Errorf("%s: %q is %s, want %s", c.file, c.starts, bl.Kind, c.kind)
				}
				break
			}
		}
		if !found {
			t.Errorf("%s: no block starts %q", c.file, c.starts)
		}
	}
}

func BenchmarkImport(b *testing.B) {
	for _, f := range []string{"little_women.txt", "the-secret-garden.epub"} {
		data := load(b, f)
		b.Run(f, func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Import(context.Background(), f, bytes.NewReader(data), int64(len(data)), nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
