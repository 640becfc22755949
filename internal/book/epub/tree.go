package epub

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"

	"golang.org/x/net/html"
	"golang.org/x/text/encoding/htmlindex"
	"golang.org/x/text/encoding/unicode"
)

// node is an element (tag set) or a piece of text. Names are local and in small
// letters, but for epub:type.
type node struct {
	tag  string
	attr map[string]string
	text string
	kids []*node
	up   *node
	at   int // index among up's kids
}

// maxDepth is deeper than any book nests its elements.
const maxDepth = 400

// parse reads a content document as XHTML, and as lenient HTML if it is not well
// formed.
func parse(data []byte) (*node, error) {
	data = toUTF8(data)
	root, err := parseXML(data)
	if err == nil {
		return root, nil
	}
	return parseHTML(data)
}

func parseXML(data []byte) (*node, error) {
	d := xml.NewDecoder(bytes.NewReader(data))
	d.Entity = xml.HTMLEntity
	d.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil } // toUTF8 was there before
	root := &node{tag: "#document"}
	at, depth := root, 0
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("reading XHTML: %w", err)
		}
		switch t := tok.(type) {
		case xml.StartElement:
			if depth++; depth > maxDepth {
				return nil, errors.New("elements nest too deep")
			}
			n := &node{tag: strings.ToLower(t.Name.Local)}
			for _, a := range t.Attr {
				n.set(attrName(a.Name), a.Value)
			}
			at.add(n)
			at = n
		case xml.EndElement:
			depth--
			at = at.up
		case xml.CharData:
			at.add(&node{text: string(t)})
		}
	}
	if root.find("html") == nil && root.find("body") == nil {
		return nil, errors.New("no html element")
	}
	return root, nil
}

func attrName(n xml.Name) string {
	if n.Local == "type" && (n.Space == "http://www.idpf.org/2007/ops" || n.Space == "epub") {
		return "epub:type"
	}
	return strings.ToLower(n.Local)
}

// selfClosed is an XHTML element closed at once that HTML would leave open.
var selfClosed = regexp.MustCompile(`<(a|abbr|b|body|blockquote|canvas|div|em|h[1-6]|i|iframe|li|object|ol|p|script|section|small|span|strong|style|sub|sup|td|textarea|th|title|tr|ul)(\s[^<>]*)?/>`)

func parseHTML(data []byte) (*node, error) {
	data = selfClosed.ReplaceAll(data, []byte("<$1$2></$1>"))
	doc, err := html.Parse(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("reading HTML: %w", err)
	}
	root := &node{tag: "#document"}
	copyHTML(root, doc)
	return root, nil
}

// copyHTML makes nodes of a parsed document, whose depth the parser limits.
func copyHTML(to *node, from *html.Node) {
	for c := from.FirstChild; c != nil; c = c.NextSibling {
		switch c.Type {
		case html.TextNode:
			to.add(&node{text: c.Data})
		case html.ElementNode:
			tag := strings.ToLower(c.Data)
			tag = tag[strings.LastIndexByte(tag, ':')+1:]
			n := &node{tag: tag}
			for _, a := range c.Attr {
				n.set(strings.ToLower(a.Key), a.Val)
			}
			to.add(n)
			copyHTML(n, c)
		}
	}
}

var xmlEncoding = regexp.MustCompile(`^\s*<\?xml[^>]*encoding\s*=\s*["']([^"']+)["']`)

// toUTF8 decodes a document by its byte order mark or XML declaration.
func toUTF8(data []byte) []byte {
	switch {
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		return data[3:]
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		if out, err := unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM).NewDecoder().Bytes(data); err == nil {
			return out
		}
	}
	m := xmlEncoding.FindSubmatch(data[:min(len(data), 300)])
	if m == nil || strings.EqualFold(string(m[1]), "utf-8") {
		return bytes.ToValidUTF8(data, []byte("\ufffd"))
	}
	if e, err := htmlindex.Get(string(m[1])); err == nil {
		if out, err := e.NewDecoder().Bytes(data); err == nil {
			return out
		}
	}
	return bytes.ToValidUTF8(data, []byte("\ufffd"))
}

func (n *node) add(k *node) {
	k.up, k.at = n, len(n.kids)
	n.kids = append(n.kids, k)
}

func (n *node) set(name, value string) {
	if n.attr == nil {
		n.attr = map[string]string{}
	}
	n.attr[name] = value
}

// is reports whether epub:type, or the matching ARIA role, holds one of the
// values. Prefixes of vocabularies (z3998:, doc-) count for nothing.
func (n *node) is(values ...string) bool {
	for _, t := range n.types() {
		for _, v := range values {
			if t == v {
				return true
			}
		}
	}
	return false
}

func (n *node) types() []string {
	if n.attr == nil {
		return nil
	}
	var out []string
	for _, t := range strings.Fields(strings.ToLower(n.attr["epub:type"])) {
		out = append(out, t[strings.LastIndexByte(t, ':')+1:])
	}
	for _, r := range strings.Fields(strings.ToLower(n.attr["role"])) {
		if strings.HasPrefix(r, "doc-") {
			out = append(out, r[4:])
		}
	}
	return out
}

// classed reports whether a class of the element is one of the values; a
// number behind a class counts for nothing.
func (n *node) classed(values ...string) bool {
	for _, c := range strings.Fields(strings.ToLower(n.attr["class"])) {
		c = strings.TrimRight(c, "0123456789")
		for _, v := range values {
			if c == v {
				return true
			}
		}
	}
	return false
}

// find returns the first element of that name in document order, nil if none.
func (n *node) find(tag string) *node {
	for _, k := range n.kids {
		if k.tag == tag {
			return k
		}
		if f := k.find(tag); f != nil {
			return f
		}
	}
	return nil
}

// any reports whether an element below n fulfils f.
func (n *node) any(f func(*node) bool) bool {
	for _, k := range n.kids {
		if k.tag != "" && (f(k) || k.any(f)) {
			return true
		}
	}
	return false
}

// all is the text below n, white space as it stands.
func (n *node) all() string {
	if n.tag == "" {
		return n.text
	}
	var sb strings.Builder
	for _, k := range n.kids {
		if k.tag == "br" {
			sb.WriteByte(' ')
		}
		sb.WriteString(k.all())
	}
	return sb.String()
}
