//go:build bench

package readability

import (
	"archive/zip"
	"html"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// An edition of The Secret Garden states its number of words and its Flesch
// reading ease in its package document; we must come to the same words and
// nearly the same ease.
func TestSharedStatedReadingEase(t *testing.T) {
	z, err := zip.OpenReader("../../../shared/books/the-secret-garden.epub")
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	files := map[string]string{}
	opf, base := "", ""
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		files[f.Name] = string(data)
		if strings.HasSuffix(f.Name, ".opf") {
			opf, base = string(data), f.Name[:strings.LastIndexByte(f.Name, '/')+1]
		}
	}
	stated := func(property string) float64 {
		m := regexp.MustCompile(regexp.QuoteMeta(property) + `">([0-9.]+)<`).FindStringSubmatch(opf)
		if m == nil {
			t.Fatalf("the package document states no %s", property)
		}
		v, _ := strconv.ParseFloat(m[1], 64)
		return v
	}
	href := map[string]string{}
	for _, m := range regexp.MustCompile(`<item href="([^"]+)" id="([^"]+)"`).FindAllStringSubmatch(opf, -1) {
		href[m[2]] = m[1]
	}
	var text strings.Builder
	ends, tags := regexp.MustCompile(`</(p|h\d|li|blockquote|div)>`), regexp.MustCompile(`<[^>]+>`)
	for _, m := range regexp.MustCompile(`<itemref idref="([^"]+)"`).FindAllStringSubmatch(opf, -1) {
		if regexp.MustCompile(`^(titlepage|imprint|colophon|uncopyright|halftitle)`).MatchString(m[1]) {
			continue
		}
		_, body, _ := strings.Cut(files[base+href[m[1]]], "<body")
		_, body, _ = strings.Cut(body, ">")
		text.WriteString(html.UnescapeString(tags.ReplaceAllString(ends.ReplaceAllString(body, "\n\n"), "")) + "\n\n")
	}
	c := OfText(opened(t), text.String())
	t.Logf("%d words, stated %v; reading ease %.2f, stated %v", c.Words, stated("word-count"), c.FleschReadingEase(), stated("reading-ease.flesch"))
	if words := stated("word-count"); !near(float64(c.Words), words, words/200) {
		t.Errorf("%d words, stated %v", c.Words, words)
	}
	if ease := stated("reading-ease.flesch"); !near(c.FleschReadingEase(), ease, 2) {
		t.Errorf("reading ease %.2f, stated %v", c.FleschReadingEase(), ease)
	}
}
