package epub

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"
	"unicode"

	"bookstead/internal/fault"
)

// FuzzText builds a document out of the bytes, an element or a word for each,
// and holds the law of the reader: every word comes back, once and in order,
// and nothing else does; and the book keeps the model's rules.
func FuzzText(f *testing.F) {
	for _, s := range []string{"", "abcdefgh", "\x00\x11\x22\x33\x44\x55\x66\x77\x88\x99", "zyxwvutsrqponmlkjihgfedcba0123456789", strings.Repeat("\x10\x81\x32", 30), "PpHhBbVvLl\x01\x02\x03\x04"} {
		f.Add([]byte(s), uint8(2))
	}
	f.Fuzz(func(t *testing.T, ops []byte, docs uint8) {
		if len(ops) > 600 {
			return
		}
		n := int(docs%4) + 1
		var want []string
		var list, pairs []string
		for i := range n {
			part := ops[len(ops)*i/n : len(ops)*(i+1)/n]
			body, words := grow(part, i)
			want = append(want, words...)
			name := fmt.Sprintf("d%d.xhtml", i)
			list = append(list, name, body)
			if docs&8 != 0 {
				pairs = append(pairs, name, fmt.Sprintf("Chapter %d", i+1))
			}
		}
		nav := ""
		if len(pairs) > 0 {
			nav = toc(pairs...)
		}
		b, err := open(t, made(nav, list...))
		if err != nil {
			if len(want) > 0 || !fault.Is(err, fault.Unreadable) {
				t.Fatal(err)
			}
			return
		}
		got := strings.FieldsFunc(b.Text, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
		if strings.Join(got, " ") != strings.Join(want, " ") {
			t.Errorf("got  %q\nwant %q\nfrom %q", got, want, list)
		}
	})
}

// grow makes well-formed markup of operations and the words that it shows.
func grow(ops []byte, doc int) (body string, want []string) {
	tags := []string{"p", "div", "em", "i", "span", "h1", "h2", "h3", "blockquote", "section", "li", "ul", "td", "tr", "table", "a", "hgroup", "sup",
		`p class="verse"`, `div class="poem"`, `section epub:type="chapter"`, `section epub:type="part"`, `blockquote epub:type="z3998:letter"`,
		`aside epub:type="footnote"`, `p epub:type="title"`, "figure", "figcaption", "pre", `section epub:type="preface"`, `p class="scene-break"`}
	var sb strings.Builder
	var stack []string
	word := func(format string) {
		w := fmt.Sprintf("w%dx%d", doc, len(want))
		fmt.Fprintf(&sb, format, w)
		want = append(want, w)
	}
	for _, op := range ops {
		switch {
		case op < 100:
			word(" %s ")
		case op < 100+byte(len(tags)):
			tag := tags[op-100]
			name, _, _ := strings.Cut(tag, " ")
			if len(stack) < 30 {
				sb.WriteString("<" + tag + ">")
				stack = append(stack, name)
			}
		case op < 180 && len(stack) > 0:
			fmt.Fprintf(&sb, "</%s>", stack[len(stack)-1])
			stack = stack[:len(stack)-1]
		case op < 190:
			sb.WriteString("<br/>")
		case op < 200:
			sb.WriteString("<hr/>")
		case op < 205:
			word("&#8220;%s&mdash;")
		case op < 215:
			sb.WriteString(`<a epub:type="noteref" href="#x">7</a>`)
		case op < 220:
			sb.WriteString(`<span epub:type="pagebreak" title="12">12</span>`)
		case op < 225:
			sb.WriteString("<!-- not this --><script>nor this</script>")
		case op < 230:
			sb.WriteString("&nbsp;")
		case op < 235:
			word("\n %s&#173;")
		default:
			word("<p>%s.</p>")
		}
	}
	for i := len(stack) - 1; i >= 0; i-- {
		fmt.Fprintf(&sb, "</%s>", stack[i])
	}
	return sb.String(), want
}

// FuzzFile feeds spoilt parts of an EPUB: it is read or refused with a fault of
// the reader's, never with a crash, and what is read keeps the rules.
func FuzzFile(f *testing.F) {
	g := good()
	f.Add([]byte(g["OPS/book.opf"]), []byte(g["OPS/nav.xhtml"]), []byte(g["OPS/a.xhtml"]))
	f.Add([]byte("<package><manifest><item id='a' href='a.xhtml'/></manifest><spine><itemref idref='a'/></spine></package>"), []byte("<nav><ol><li><a href='a.xhtml#b'>x"), []byte("<p id=b>x<p><table><td><b>y"))
	f.Fuzz(func(t *testing.T, opf, nav, doc []byte) {
		g := good()
		g["OPS/book.opf"], g["OPS/nav.xhtml"], g["OPS/a.xhtml"] = string(opf), string(nav), string(doc)
		data := g.zipped(t)
		b, err := Read(context.Background(), bytes.NewReader(data), int64(len(data)), nil)
		if err != nil {
			if k := fault.Of(err).Kind; k != fault.Unreadable && k != fault.TooLarge {
				t.Fatal(err)
			}
			return
		}
		if err := b.Check(); err != nil {
			t.Fatalf("%v in %q", err, b.Text)
		}
	})
}
