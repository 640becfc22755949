package importer

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"io"
	"strings"
	"testing"

	"bookstead/internal/book"
	"bookstead/internal/fault"
)

const english = "CHAPTER I\n\nIt was the first morning of the year, and the old pond lay under its ice as it had lain all night. " +
	"Mole came out of his hole and looked at it for a long time. He had never seen so much white in one place, and he did not like it. " +
	"“What have you done with the water?” he said to the heron, who was standing on one leg. “I have not done anything with it,” she said.\n\n" +
	"CHAPTER II\n\nThen they went up to the house together, and there was a light in the window.\n"

const french = "CHAPITRE I\n\nC’était le premier matin de l’année, et le vieil étang dormait sous la glace comme il avait dormi toute la nuit. " +
	"La taupe sortit de son trou et le regarda pendant un long moment. Elle n’avait jamais vu tant de blanc dans un seul endroit, et cela ne lui plaisait pas. " +
	"« Qu’avez-vous fait de l’eau ? » dit-elle au héron qui se tenait sur une patte. « Je n’ai rien fait avec elle », dit-il, et il ne bougea plus de la journée.\n"

const german = "Es war der erste Morgen des Jahres, und der alte Teich lag unter seinem Eis, wie er die ganze Nacht gelegen hatte. " +
	"Der Maulwurf kam aus seinem Loch und sah ihn lange an. Er hatte noch nie so viel Weiß auf einmal gesehen, und es gefiel ihm nicht. " +
	"„Was hast du mit dem Wasser gemacht?“ sagte er zu dem Reiher, der auf einem Bein stand. „Ich habe nichts damit gemacht“, sagte er und ging nicht fort.\n"

const spanish = "Era la primera mañana del año, y el viejo estanque dormía bajo el hielo como había dormido toda la noche. " +
	"El topo salió de su agujero y lo miró durante mucho tiempo. Nunca había visto tanto blanco en un solo lugar, y no le gustaba nada. " +
	"—¿Qué has hecho con el agua? —dijo a la garza, que estaba de pie sobre una pata. —No he hecho nada con ella —dijo la garza, y se fue por el camino.\n"

const russian = "Было первое утро года, и старый пруд лежал подо льдом, как лежал всю ночь. Крот вышел из норы и долго смотрел на него. Он никогда не видел столько белого в одном месте."

func imp(t *testing.T, name, data string) (*book.Book, error) {
	t.Helper()
	return Import(context.Background(), name, strings.NewReader(data), int64(len(data)), nil)
}

func zipOf(t *testing.T, pairs ...string) string {
	t.Helper()
	var buf bytes.Buffer
	w := zip.NewWriter(&buf)
	for i := 0; i+1 < len(pairs); i += 2 {
		e, err := w.Create(pairs[i])
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(e, pairs[i+1]); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return buf.String()
}

func epubOf(t *testing.T, lang, body string) string {
	return zipOf(t, "mimetype", "application/epub+zip", "META-INF/container.xml", `<container><rootfiles><rootfile full-path="b.opf"/></rootfiles></container>`,
		"b.opf", `<package version="3.0"><metadata><title>The Pond</title><creator>A. Heron</creator><language>`+lang+`</language></metadata><manifest><item id="a" href="a.xhtml"/></manifest><spine><itemref idref="a"/></spine></package>`,
		"a.xhtml", "<html><body><h1>Chapter 1</h1><p>"+body+"</p></body></html>")
}

func TestImport(t *testing.T) {
	b, err := imp(t, `C:\books\the_pond.txt`, english)
	if err != nil {
		t.Fatal(err)
	}
	if b.ID != "the-pond" || b.Title != "The Pond" || b.Source.Format != "text" || b.Source.File != "the_pond.txt" || len(b.Source.SHA256) != 64 || len(b.Chapters) != 2 {
		t.Errorf("%q %q %+v, %d chapters", b.ID, b.Title, b.Source, len(b.Chapters))
	}
	// The name says nothing about what a file is.
	e, err := imp(t, "dir/pond.txt", epubOf(t, "en", english))
	if err != nil {
		t.Fatal(err)
	}
	if e.ID != "the-pond-a-heron" || e.Source.Format != "epub3" || e.Source.File != "pond.txt" || e.Source.SHA256 == b.Source.SHA256 {
		t.Errorf("%q %+v", e.ID, e.Source)
	}
	// A corrected file keeps the ID.
	again, err := imp(t, "other name.epub", epubOf(t, "en", english+" The end."))
	if err != nil || again.ID != e.ID || again.Source.SHA256 == e.Source.SHA256 {
		t.Errorf("%q %v", again.ID, err)
	}
}

func TestRefused(t *testing.T) {
	for name, c := range map[string]struct {
		data string
		want string
	}{
		"empty":                         {"", "This file is empty."},
		"blank":                         {" \n\n\t", "holds no text of a book"},
		"PDF":                           {"%PDF-1.7\n%\xe2\xe3", "This seems to be a PDF, not a book"},
		"PNG":                           {"\x89PNG\r\n\x1a\n\x00\x00", "a picture (PNG)"},
		"JPEG":                          {"\xff\xd8\xff\xe0\x00\x10JFIF", "a picture (JPEG)"},
		"WebP":                          {"RIFF\x00\x00\x00\x00WEBPVP8 ", "a picture (WebP)"},
		"HEIC":                          {"\x00\x00\x00\x18ftypheic\x00\x00", "a picture or film"},
		"RTF":                           {`{\rtf1\ansi Hello}`, "(RTF)"},
		"DOC":                           {"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "word-processor document of an older kind"},
		"DOCX":                          {zipOf(t, "[Content_Types].xml", "x", "word/document.xml", "x"), "(DOCX)"},
		"ODT":                           {zipOf(t, "mimetype", "x", "content.xml", "x", "META-INF/manifest.xml", "x"), "(ODT)"},
		"XLSX":                          {zipOf(t, "xl/workbook.xml", "x"), "(XLSX)"},
		"slides":                        {zipOf(t, "ppt/presentation.xml", "x"), "(PPTX)"},
		"comic":                         {zipOf(t, "1.jpg", "x", "2.JPG", "x"), "a book of pictures"},
		"zip of books":                  {zipOf(t, "a.epub", "x"), "an archive (zip) with books in it"},
		"zip":                           {zipOf(t, "a.bin", "x"), "an archive (zip)"},
		"zip that climbs":               {zipOf(t, "../a.bin", "x"), "outside of itself"},
		"cut-off EPUB":                  {epubOf(t, "en", english)[:200], "its end is missing"},
		"MOBI":                          {strings.Repeat("x", 60) + "BOOKMOBI" + strings.Repeat("\x00", 40), "(MOBI)"},
		"gzip":                          {"\x1f\x8b\x08\x00", "(gzip)"},
		"tar":                           {strings.Repeat("\x00", 257) + "ustar\x00" + strings.Repeat("\x00", 300), "(tar)"},
		"text.epub":                     {english, "is called an EPUB, but it is none"},
		"web page":                      {"\ufeff\n<!DOCTYPE HTML><html><body>" + english, "a web page"},
		"program":                       {"\x7fELF\x02\x01\x01" + strings.Repeat("\x00", 60), "a program"},
		"sound":                         {"ID3\x03\x00\x00\x00", "a sound recording"},
		"noise":                         {strings.Repeat("\x01\x02\x03\x04\x90", 99), "does not hold readable text"},
		"French":                        {french, "seems to be in French"},
		"French, says en":               {epubOf(t, "en", french), "seems to be in French"},
		"German":                        {german, "seems to be in German"},
		"German in Latin-1":             {latin1(german), "seems to be in German"},
		"Spanish":                       {spanish, "seems to be in Spanish"},
		"Russian":                       {russian, "Cyrillic letters"},
		"Japanese":                      {"むかしむかし、あるところに、おじいさんとおばあさんがいました。", "seems to be in Japanese"},
		"English licence, French story": {"*** START OF THE PROJECT GUTENBERG EBOOK X ***\n\n" + french + "\n*** END OF THE PROJECT GUTENBERG EBOOK X ***\n" + english, "seems to be in French"},
	} {
		_, err := imp(t, name, c.data)
		f := fault.Of(err)
		if err == nil || f.Kind != fault.Unreadable || !strings.Contains(f.Message, c.want) || f.Hint == "" || !strings.HasSuffix(f.Hint, ".") {
			t.Errorf("%s: %v; want %q and a hint", name, err, c.want)
		}
	}
}

// latin1 writes a text in Latin-1, without its few other letters.
func latin1(s string) string {
	var out []byte
	for _, r := range s {
		if r < 0x100 {
			out = append(out, byte(r))
		}
	}
	return string(out)
}

func TestNotRefused(t *testing.T) {
	for name, data := range map[string]string{
		"early reader":              "Sam sat. Sam sat on a mat. Pip ran. Pip ran to Sam. “Go, Pip, go!” Sam hid. Can Pip see Sam? Pip can. Bad Pip!",
		"begins like a picture":     "BM was the name of the dog. " + english,
		"begins like an archive":    "PK is what they called him. " + english,
		"begins like a film's head": "Now ftyp was a word. " + english,
		"a few words of French":     english + "\n\n“Bonjour, mon ami,” said the heron. “Je ne suis pas contente.”\n",
		"says French, is English":   epubOf(t, "fr", english),
	} {
		b, err := imp(t, "a.txt", data)
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if strings.Contains(name, "says") != strings.Contains(strings.Join(b.Notes, " "), "says that its language is “fr”") {
			t.Errorf("%s: notes %q", name, b.Notes)
		}
	}
}

// huge is a file of that many bytes that counts what is read of it.
type huge struct{ size, read int64 }

func (h *huge) ReadAt(p []byte, off int64) (int, error) {
	h.read += int64(len(p))
	return len(p), nil
}

func TestTooLarge(t *testing.T) {
	h := &huge{size: 300 << 20}
	_, err := Import(context.Background(), "a.epub", h, h.size, nil)
	f := fault.Of(err)
	if f == nil || f.Kind != fault.TooLarge || f.Message != "This file is 300 MB large; a book may have 64 MB." || f.Hint == "" {
		t.Errorf("%v", err)
	}
	if h.read > 0 {
		t.Errorf("%d bytes were read to refuse it", h.read)
	}
	if _, err := Limited(context.Background(), "a.txt", strings.NewReader(english), int64(len(english)), 100, nil); !fault.Is(err, fault.TooLarge) {
		t.Errorf("a limit of 100 bytes: %v", err)
	}
}

func TestStoppedAnywhere(t *testing.T) {
	for _, data := range []string{strings.Repeat(english, 50), epubOf(t, "en", english)} {
		last := -1
		done := func(n, total int) {
			if n < last || n > total {
				t.Errorf("progress goes from %d to %d of %d", last, n, total)
			}
			last = n
		}
		if _, err := Import(context.Background(), "a", strings.NewReader(data), int64(len(data)), done); err != nil || last != 1000 {
			t.Errorf("progress ends at %d, %v", last, err)
		}
		ctx, cancel := context.WithCancel(context.Background())
		if _, err := Import(ctx, "a", strings.NewReader(data), int64(len(data)), func(n, _ int) {
			if n > 0 {
				cancel()
			}
		}); !fault.Is(err, fault.Canceled) {
			t.Errorf("stopped on the way: %v", err)
		}
		if _, err := Import(ctx, "a", strings.NewReader(data), int64(len(data)), nil); !fault.Is(err, fault.Canceled) {
			t.Errorf("stopped before it began: %v", err)
		}
		cancel()
	}
}

type failing struct{ io.ReaderAt }

var errDisk = errors.New("disk on fire")

func (f failing) ReadAt(p []byte, off int64) (int, error) { return 0, errDisk }

func TestDiskError(t *testing.T) {
	if _, err := Import(context.Background(), "a.txt", failing{}, 100, nil); !errors.Is(err, errDisk) {
		t.Errorf("%v", err)
	}
}

func TestSameBytesSameBook(t *testing.T) {
	for _, data := range []string{english, epubOf(t, "en", english)} {
		a, err := imp(t, "a", data)
		if err != nil {
			t.Fatal(err)
		}
		b, err := imp(t, "a", data)
		if err != nil || a.Text != b.Text || a.ID != b.ID || strings.Join(a.Notes, "|") != strings.Join(b.Notes, "|") {
			t.Errorf("two imports differ: %v", err)
		}
	}
}
