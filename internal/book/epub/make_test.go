package epub

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"sort"
	"strings"
	"testing"

	"bookstead/internal/book"
)

// files are the entries of a made-up EPUB by name.
type files map[string]string

// zipped packs the entries, the mimetype first and stored as the standard asks.
func (f files) zipped(t testing.TB) []byte {
	t.Helper()
	var buf bytes.Buffer
	w := zip.NewWriter(&buf)
	var names []string
	for n := range f {
		names = append(names, n)
	}
	sort.Slice(names, func(i, j int) bool {
		return names[i] == "mimetype" && names[j] != "mimetype" || names[j] != "mimetype" && names[i] < names[j]
	})
	for _, n := range names {
		method := zip.Deflate
		if n == "mimetype" {
			method = zip.Store
		}
		e, err := w.CreateHeader(&zip.FileHeader{Name: n, Method: method})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := e.Write([]byte(f[n])); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

const containerXML = `<?xml version="1.0"?><container version="1.0" xmlns="urn:oasis:names:tc:opendocument:xmlns:container"><rootfiles><rootfile full-path="OPS/book.opf" media-type="application/oebps-package+xml"/></rootfiles></container>`

// made makes an EPUB 3 of documents in spine order ("name", "body" and so on)
// and the list inside its nav element.
func made(nav string, docs ...string) files {
	f := files{"mimetype": "application/epub+zip", "META-INF/container.xml": containerXML}
	var items, spine string
	for i := 0; i+1 < len(docs); i += 2 {
		f["OPS/"+docs[i]] = xhtml(docs[i+1])
		items += fmt.Sprintf(`<item id="d%d" href="%s" media-type="application/xhtml+xml"/>`, i, docs[i])
		spine += fmt.Sprintf(`<itemref idref="d%d"/>`, i)
	}
	if nav != "" {
		f["OPS/nav.xhtml"] = xhtml(nav)
		items += `<item id="nav" href="nav.xhtml" media-type="application/xhtml+xml" properties="nav"/>`
	}
	f["OPS/book.opf"] = `<?xml version="1.0"?><package xmlns="http://www.idpf.org/2007/opf" version="3.0"><metadata xmlns:dc="http://purl.org/dc/elements/1.1/">
		<dc:title id="t2">A Tale</dc:title><dc:title id="t1">The Pond</dc:title><meta refines="#t1" property="title-type">main</meta>
		<dc:creator id="c1">A. Heron</dc:creator><dc:creator id="c2">B. Brush</dc:creator><meta refines="#c2" property="role">ill</meta>
		<dc:language>en-GB</dc:language></metadata><manifest>` + items + `</manifest><spine>` + spine + `</spine></package>`
	return f
}

func xhtml(body string) string {
	if !strings.Contains(body, "<body") {
		body = "<body>" + body + "</body>"
	}
	return `<?xml version="1.0" encoding="utf-8"?><!DOCTYPE html><html xmlns="http://www.w3.org/1999/xhtml" xmlns:epub="http://www.idpf.org/2007/ops"><head><title>No word of the book</title></head>` + body + `</html>`
}

// toc makes a nav element of "href", "title" pairs; a title that starts with
// ">" lies one level deeper for each.
func toc(pairs ...string) string {
	var sb strings.Builder
	sb.WriteString(`<nav epub:type="toc"><ol>`)
	depth := 0
	for i := 0; i+1 < len(pairs); i += 2 {
		title := strings.TrimLeft(pairs[i+1], ">")
		d := len(pairs[i+1]) - len(title)
		switch {
		case d > depth:
			sb.WriteString("<ol>")
		case i > 0:
			sb.WriteString("</li>" + strings.Repeat("</ol></li>", depth-d))
		}
		depth = d
		fmt.Fprintf(&sb, `<li><a href="%s">%s</a>`, pairs[i], title)
	}
	sb.WriteString(strings.Repeat("</li></ol>", depth+1) + "</nav>")
	return sb.String()
}

func open(t testing.TB, f files) (*book.Book, error) {
	t.Helper()
	data := f.zipped(t)
	b, err := Read(context.Background(), bytes.NewReader(data), int64(len(data)), nil)
	if err == nil {
		if err := b.Check(); err != nil {
			t.Fatalf("%v\n%q", err, b.Text)
		}
	}
	return b, err
}

func mustOpen(t testing.TB, f files) *book.Book {
	t.Helper()
	b, err := open(t, f)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// outlineOf writes parts and chapters one a line: kind, part, label, title, text.
func outlineOf(b *book.Book) string {
	var sb strings.Builder
	for _, p := range b.Parts {
		fmt.Fprintf(&sb, "part | %s | %s\n", p.Label, p.Title)
	}
	for _, c := range b.Chapters {
		text := b.Slice(book.Span{Start: c.Body, End: c.End})
		text, _, _ = strings.Cut(text, "\n")
		fmt.Fprintf(&sb, "%s %d | %s | %s | %.16s\n", c.Kind, c.Part, c.Label, c.Title, text)
	}
	return sb.String()
}

// blocksOf writes the blocks one each: kind and text, italics between
// underscores.
func blocksOf(b *book.Book) []string {
	var out []string
	for _, bl := range b.Blocks {
		s, at := string(bl.Kind)+"|", bl.Start
		for _, e := range bl.Emphasis {
			s += b.Text[at:e.Start] + "_" + b.Slice(e) + "_"
			at = e.End
		}
		out = append(out, s+b.Text[at:bl.End])
	}
	return out
}

// words is n words of text.
func words(first string, n int) string { return "<p>" + first + strings.Repeat(" pond", n) + ".</p>" }
