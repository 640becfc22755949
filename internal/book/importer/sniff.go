package importer

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"bookstead/internal/fault"
)

// kind is what a file is: an EPUB, a plain text (the zero value), or something
// else, with the refusal that says what.
type kind struct {
	epub    bool
	refusal error
}

const (
	hintText    = "Open it in the program that it belongs to and save it as plain text (UTF-8), or look for the book as an EPUB."
	hintConvert = "Look for the book as an EPUB, or convert it with an e-book program."
	hintPicture = "Bring in the book as an EPUB or plain text, or type the chapters and passages of the printed copy."
	hintArchive = "Unpack it, and bring in the EPUB or text file inside."
	hintBook    = "Bring in the book as an EPUB or a plain text file."
)

// magics are the first bytes of files that are no book, with what they seem to
// be. From the formats' own specifications.
var magics = []struct{ start, what, hint string }{
	{"%PDF-", "a PDF", "A PDF keeps pages, not text in order. " + hintText},
	{"\x89PNG", "a picture (PNG)", hintPicture},
	{"\xff\xd8\xff", "a picture (JPEG)", hintPicture},
	{"GIF8", "a picture (GIF)", hintPicture},
	{"II*\x00", "a picture (TIFF)", hintPicture},
	{"MM\x00*", "a picture (TIFF)", hintPicture},
	{"BM", "a picture (BMP)", hintPicture},
	{"{\\rtf", "a word-processor document (RTF)", hintText},
	{"\xd0\xcf\x11\xe0", "a word-processor document of an older kind", hintText},
	{"ITOLITLS", "an e-book of another kind (LIT)", hintConvert},
	{"Rar!", "an archive (RAR)", hintArchive},
	{"7z\xbc\xaf\x27\x1c", "an archive (7z)", hintArchive},
	{"\x1f\x8b", "an archive (gzip)", hintArchive},
	{"BZh", "an archive (bzip2)", hintArchive},
	{"\xfd7zXZ", "an archive (xz)", hintArchive},
	{"ID3", "a sound recording", hintBook},
	{"\xff\xfb", "a sound recording", hintBook},
	{"OggS", "a sound recording", hintBook},
	{"fLaC", "a sound recording", hintBook},
	{"MZ", "a program", hintBook},
	{"\x7fELF", "a program", hintBook},
	{"SQLite format 3", "a database", hintBook},
}

// sniff reads the first bytes, and the list of entries of a zip.
func sniff(r io.ReaderAt, size int64) (kind, error) {
	head := make([]byte, min(size, 4096))
	if n, err := r.ReadAt(head, 0); err != nil && !errors.Is(err, io.EOF) {
		return kind{}, fmt.Errorf("reading the file: %w", err)
	} else {
		head = head[:n]
	}
	if bytes.HasPrefix(head, []byte("PK")) {
		return sniffZip(r, size, head), nil
	}
	seems := func(what, hint string) kind {
		return kind{refusal: fault.New(fault.Unreadable, "This seems to be "+what+", not a book that can be read.", hint)}
	}
	for _, m := range magics {
		if bytes.HasPrefix(head, []byte(m.start)) && (len(m.start) > 3 || !looksText(head)) {
			return seems(m.what, m.hint), nil
		}
	}
	switch {
	case len(head) > 12 && bytes.HasPrefix(head, []byte("RIFF")) && string(head[8:12]) == "WEBP":
		return seems("a picture (WebP)", hintPicture), nil
	case len(head) > 12 && string(head[4:8]) == "ftyp" && !looksText(head):
		return seems("a picture or film", hintPicture), nil
	case len(head) > 68 && string(head[60:68]) == "BOOKMOBI":
		return seems("an e-book of another kind (MOBI)", hintConvert), nil
	case len(head) > 262 && string(head[257:262]) == "ustar":
		return seems("an archive (tar)", hintArchive), nil
	}
	low := strings.ToLower(string(bytes.TrimLeft(bytes.TrimPrefix(head, []byte("\xef\xbb\xbf")), " \t\r\n")))
	for _, tag := range []string{"<!doctype html", "<html", "<?xml", "<head", "<body"} {
		if strings.HasPrefix(low, tag) {
			return seems("a web page", "Open it in a browser, copy the text, and save it as plain text (UTF-8); or look for the book as an EPUB."), nil
		}
	}
	return kind{}, nil
}

// looksText reports whether the first bytes are letters and not a format that
// happens to begin with some: "BMX was his life" is no picture.
func looksText(head []byte) bool {
	for _, c := range head[:min(len(head), 256)] {
		if c < 0x20 && c != '\t' && c != '\n' && c != '\r' && c != '\f' {
			return false
		}
	}
	return len(head) > 0 && head[0] < 0x80
}

// sniffZip tells the documents that are zip archives apart.
func sniffZip(r io.ReaderAt, size int64, head []byte) kind {
	zr, err := zip.NewReader(r, size)
	if err != nil {
		// The reader of EPUBs says what is wrong; text that begins with "PK" is rare
		// but possible.
		return kind{epub: !looksText(head)}
	}
	has := func(prefix string) bool {
		for _, f := range zr.File {
			if strings.HasPrefix(f.Name, prefix) {
				return true
			}
		}
		return false
	}
	seems := func(what, hint string) kind {
		return kind{refusal: fault.New(fault.Unreadable, "This seems to be "+what+", not a book that can be read.", hint)}
	}
	switch {
	case has("META-INF/container.xml"):
		return kind{epub: true}
	case has("word/document.xml"):
		return seems("a word-processor document (DOCX)", hintText)
	case has("xl/workbook"):
		return seems("a table of figures (XLSX)", hintBook)
	case has("ppt/presentation"):
		return seems("a set of slides (PPTX)", hintBook)
	case has("content.xml") && has("META-INF/manifest.xml"):
		return seems("a word-processor document (ODT)", hintText)
	}
	pictures, texts, books := 0, 0, 0
	for _, f := range zr.File {
		switch n := strings.ToLower(f.Name); {
		case strings.HasSuffix(n, ".opf"):
			return kind{epub: true} // an EPUB without its container
		case strings.HasSuffix(n, ".jpg"), strings.HasSuffix(n, ".jpeg"), strings.HasSuffix(n, ".png"), strings.HasSuffix(n, ".webp"):
			pictures++
		case strings.HasSuffix(n, ".epub"), strings.HasSuffix(n, ".txt"):
			books++
		case !strings.HasSuffix(n, "/"):
			texts++
		}
		if strings.Contains(f.Name, "..") {
			return kind{epub: true} // refused there, for its paths
		}
	}
	switch {
	case books > 0:
		return seems("an archive (zip) with books in it", hintArchive)
	case pictures > 0 && texts == 0:
		return seems("a book of pictures", hintPicture)
	}
	return seems("an archive (zip)", hintArchive)
}
