package epub

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"io"
	"strings"
	"testing"

	"bookstead/internal/fault"
)

func good() files {
	return made(toc("a.xhtml", "Chapter 1", "b.xhtml", "Chapter 2"), "a.xhtml", "<h1>Chapter 1</h1><p>Mole.</p>", "b.xhtml", "<h1>Chapter 2</h1><p>Rat.</p>")
}

func encryption(method, uri string) string {
	return `<encryption xmlns="urn:oasis:names:tc:opendocument:xmlns:container" xmlns:enc="http://www.w3.org/2001/04/xmlenc#"><enc:EncryptedData><enc:EncryptionMethod Algorithm="` + method +
		`"/><enc:CipherData><enc:CipherReference URI="` + uri + `"/></enc:CipherData></enc:EncryptedData></encryption>`
}

func TestBadFiles(t *testing.T) {
	whole := good().zipped(t)
	with := func(change func(files)) []byte {
		f := good()
		change(f)
		return f.zipped(t)
	}
	for name, c := range map[string]struct {
		data []byte
		kind fault.Kind
		want string // part of the message
	}{
		"not a zip":       {[]byte("Once upon a time there was a pond."), fault.Unreadable, "not an EPUB"},
		"empty":           {nil, fault.Unreadable, "not an EPUB"},
		"cut off":         {whole[:len(whole)-60], fault.Unreadable, "its end is missing"},
		"cut in half":     {whole[:len(whole)/2], fault.Unreadable, "its end is missing"},
		"damaged inside":  {damaged(t, whole), fault.Unreadable, "damaged"},
		"another archive": {files{"photo.txt": "x"}.zipped(t), fault.Unreadable, "holds no EPUB book"},
		"package not XML": {with(func(f files) { f["OPS/book.opf"] = "<<<" }), fault.Unreadable, "cannot be read"},
		"no spine":        {with(func(f files) { f["OPS/book.opf"] = "<package><spine/></package>" }), fault.Unreadable, "names no chapters"},
		"no text":         {with(func(f files) { f["OPS/a.xhtml"], f["OPS/b.xhtml"] = xhtml(`<img src="1.jpg"/>`), xhtml("") }), fault.Unreadable, "may be pictures"},
		"nested too deep": {with(func(f files) {
			f["OPS/a.xhtml"], f["OPS/b.xhtml"] = strings.Repeat("<div>", 3000)+"x", strings.Repeat("<i>", 3000)+"x"
		}), fault.Unreadable, "none of its chapters can be read"},
		"climbs by its name":   {with(func(f files) { f["../../evil.txt"] = "x" }), fault.Unreadable, "outside of itself"},
		"climbs from the root": {with(func(f files) { f["/etc/evil.txt"] = "x" }), fault.Unreadable, "outside of itself"},
		"climbs on Windows":    {with(func(f files) { f[`OPS\..\..\evil.txt`] = "x" }), fault.Unreadable, "outside of itself"},
		"climbs from container": {with(func(f files) {
			f["META-INF/container.xml"] = strings.Replace(containerXML, "OPS/book.opf", "../../book.opf", 1)
		}), fault.Unreadable, "outside of itself"},
		"locked": {with(func(f files) {
			f["META-INF/encryption.xml"] = encryption("http://www.w3.org/2001/04/xmlenc#aes256-cbc", "OPS/a.xhtml")
		}), fault.Unreadable, "locked by copy protection"},
		"locked, unreadable":   {with(func(f files) { f["META-INF/encryption.xml"] = "<encryption" }), fault.Unreadable, "locked by copy protection"},
		"locked zip":           {lockedZip(t, whole), fault.Unreadable, "locked by copy protection"},
		"bomb in one entry":    {with(func(f files) { f["OPS/c.xhtml"] = strings.Repeat("a", 8<<20) }), fault.TooLarge, "far larger than any book"},
		"bomb of many entries": {manyEntries(t), fault.TooLarge, "far larger than any book"},
		"bomb that lies":       {lyingZip(t), fault.Unreadable, "damaged"},
	} {
		_, err := Read(context.Background(), bytes.NewReader(c.data), int64(len(c.data)), nil)
		f := fault.Of(err)
		if err == nil || f.Kind != c.kind || !strings.Contains(f.Message, c.want) || f.Hint == "" || !strings.HasSuffix(f.Message, ".") || !strings.HasSuffix(f.Hint, ".") {
			t.Errorf("%s: %v %q %q; want %v, %q", name, err, f.Message, f.Hint, c.kind, c.want)
		}
	}
}

func TestForgiven(t *testing.T) {
	for name, change := range map[string]func(files){
		"wrong mimetype":   func(f files) { f["mimetype"] = "application/zip\n" },
		"no mimetype":      func(f files) { delete(f, "mimetype") },
		"no container":     func(f files) { delete(f, "META-INF/container.xml") },
		"broken container": func(f files) { f["META-INF/container.xml"] = "<container" },
		"container elsewhere": func(f files) {
			f["META-INF/container.xml"] = strings.Replace(containerXML, "OPS/book.opf", "gone.opf", 1)
		},
		"names in other case": func(f files) { f["OPS/A.XHTML"] = f["OPS/a.xhtml"]; delete(f, "OPS/a.xhtml") },
		"obfuscated fonts": func(f files) {
			f["META-INF/encryption.xml"] = encryption("http://www.idpf.org/2008/embedding", "OPS/f")
		},
		"encrypted font": func(f files) { f["META-INF/encryption.xml"] = encryption("x", "OPS/f.otf") },
		"broken nav":     func(f files) { f["OPS/nav.xhtml"] = "\x00<nav" },
		"links out of the nav": func(f files) {
			f["OPS/nav.xhtml"] = xhtml(toc("../../../a.xhtml", "Out", "http://example.org/", "Web"))
		},
		"missing style sheet": func(f files) {
			f["OPS/book.opf"] = strings.Replace(f["OPS/book.opf"], "<manifest>", `<manifest><item id="s" href="s.css" media-type="text/css"/>`, 1)
		},
		"HTML entity in title": func(f files) { f["OPS/book.opf"] = strings.Replace(f["OPS/book.opf"], "The Pond", "The&nbsp;Pond", 1) },
	} {
		f := good()
		change(f)
		b, err := open(t, f)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if want := "chapter -1 | Chapter 1 |  | Mole.\nchapter -1 | Chapter 2 |  | Rat.\n"; outlineOf(b) != want {
			t.Errorf("%s: %s", name, outlineOf(b))
		}
	}
}

// damaged spoils the packed bytes of a document.
func damaged(t *testing.T, data []byte) []byte {
	t.Helper()
	out := bytes.Clone(data)
	at := bytes.Index(out, []byte("OPS/a.xhtml"))
	for i := at + 30; i < at+60; i++ {
		out[i] ^= 0x55
	}
	return out
}

// lockedZip sets the encryption bit of every entry.
func lockedZip(t *testing.T, data []byte) []byte {
	t.Helper()
	out := bytes.Clone(data)
	for i := 0; i+10 < len(out); i++ {
		if bytes.HasPrefix(out[i:], []byte("PK\x01\x02")) {
			out[i+8] |= 1
		}
	}
	return out
}

func manyEntries(t *testing.T) []byte {
	t.Helper()
	var buf bytes.Buffer
	w := zip.NewWriter(&buf)
	for i := range maxEntries + 1 {
		if _, err := w.CreateHeader(&zip.FileHeader{Name: fmt.Sprint(i)}); err != nil {
			t.Fatal(err)
		}
	}
	w.Close()
	return buf.Bytes()
}

// lyingZip states small sizes for a document that unpacks to far more.
func lyingZip(t *testing.T) []byte {
	t.Helper()
	f := good()
	f["OPS/a.xhtml"] = "<html><body>" + strings.Repeat("<p>pond</p>", 3<<20) + "</body></html>"
	out := f.zipped(t)
	for i := 0; i+46 < len(out); i++ {
		if bytes.HasPrefix(out[i:], []byte("PK\x01\x02")) && bytes.HasPrefix(out[i+46:], []byte("OPS/a.xhtml")) {
			copy(out[i+24:i+28], []byte{0, 0x10, 0, 0}) // unpacked size
		}
	}
	return out
}

// TestReadsNoMoreThanNeeded holds that a refused file was not read whole.
func TestReadsNoMoreThanNeeded(t *testing.T) {
	r := &counting{ReaderAt: strings.NewReader(strings.Repeat("x", 1<<22))}
	if _, err := Read(context.Background(), r, 1<<22, nil); err == nil {
		t.Fatal("a file of x is no EPUB")
	}
	if r.n > 1<<17 {
		t.Errorf("%d bytes were read to refuse a file", r.n)
	}
}

type counting struct {
	io.ReaderAt
	n int
}

func (c *counting) ReadAt(p []byte, off int64) (int, error) {
	c.n += len(p)
	return c.ReaderAt.ReadAt(p, off)
}
