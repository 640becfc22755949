package pdf

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"hash"
	"io"
	"strings"
	"unicode/utf16"
)

// ref is the number of an object.
type ref int

func (r ref) String() string { return fmt.Sprintf("%d 0 R", int(r)) }

// file writes objects. Streams go out at once; all other objects are gathered
// and packed into compressed object streams at the end (ISO 32000-1, 7.5.7).
type file struct {
	deflater
	w       io.Writer
	hash    hash.Hash
	at      int64
	err     error
	places  []entry // by object number
	pending []pending
}

// entry is a row of the cross-reference stream: a byte offset, or an object
// stream and the index in it.
type entry struct {
	kind  uint8 // 0 free, 1 at an offset, 2 in an object stream
	a     int64
	index int
}

type pending struct {
	ref  ref
	body string
}

func newFile(w io.Writer) *file {
	f := &file{w: w, hash: sha256.New(), places: make([]entry, 1)}
	f.write([]byte("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"))
	return f
}

func (f *file) write(b []byte) {
	if f.err != nil {
		return
	}
	_, f.err = f.w.Write(b)
	f.hash.Write(b)
	f.at += int64(len(b))
}

// reserve gives the number of an object that is written later.
func (f *file) reserve() ref {
	f.places = append(f.places, entry{})
	return ref(len(f.places) - 1)
}

// put sets the body of a reserved object.
func (f *file) put(r ref, body string) { f.pending = append(f.pending, pending{r, body}) }

// add is reserve and put.
func (f *file) add(body string) ref {
	r := f.reserve()
	f.put(r, body)
	return r
}

// deflater compresses the way that every stream here is. It keeps its tables,
// which are large, from one stream to the next.
type deflater struct{ zw *zlib.Writer }

func (d *deflater) deflate(data []byte) []byte {
	var buf bytes.Buffer
	if d.zw == nil {
		d.zw = zlib.NewWriter(&buf)
	} else {
		d.zw.Reset(&buf)
	}
	d.zw.Write(data) // a bytes.Buffer takes everything
	d.zw.Close()
	return buf.Bytes()
}

// stream writes a stream object. Packed data is deflated already.
func (f *file) stream(r ref, dict string, data []byte, packed bool) {
	filter := ""
	if packed {
		filter = " /Filter /FlateDecode"
	}
	f.places[r] = entry{kind: 1, a: f.at}
	f.write([]byte(fmt.Sprintf("%d 0 obj\n<<%s%s /Length %d>>\nstream\n", int(r), dict, filter, len(data))))
	f.write(data)
	f.write([]byte("\nendstream\nendobj\n"))
}

// close packs the pending objects and writes the cross-reference stream.
func (f *file) close(catalog, info ref) error {
	const per = 200
	for i := 0; i < len(f.pending); i += per {
		group := f.pending[i:min(i+per, len(f.pending))]
		r := f.reserve()
		var head, body strings.Builder
		for k, p := range group {
			fmt.Fprintf(&head, "%d %d ", int(p.ref), body.Len())
			body.WriteString(p.body + "\n")
			f.places[p.ref] = entry{kind: 2, a: int64(r), index: k}
		}
		dict := fmt.Sprintf("/Type /ObjStm /N %d /First %d", len(group), head.Len())
		f.stream(r, dict, f.deflate([]byte(head.String()+body.String())), true)
	}
	id := fmt.Sprintf("%x", f.hash.Sum(nil)[:16])
	x := f.reserve()
	f.places[x] = entry{kind: 1, a: f.at}
	start := f.at
	var rows bytes.Buffer
	for _, e := range f.places {
		rows.WriteByte(e.kind)
		binary.Write(&rows, binary.BigEndian, uint32(e.a))
		binary.Write(&rows, binary.BigEndian, uint16(e.index))
	}
	dict := fmt.Sprintf("/Type /XRef /W [1 4 2] /Size %d /Root %v /Info %v /ID [<%s> <%s>]", len(f.places), catalog, info, id, id)
	f.stream(x, dict, f.deflate(rows.Bytes()), true)
	f.write([]byte(fmt.Sprintf("startxref\n%d\n%%%%EOF\n", start)))
	return f.err
}

// text is a text string: as it stands when it is plain ASCII, else in UTF-16.
func text(s string) string {
	plain := true
	for i := 0; i < len(s); i++ {
		if s[i] < 32 || s[i] > 126 {
			plain = false
			break
		}
	}
	if plain {
		return "(" + strings.NewReplacer(`\`, `\\`, "(", `\(`, ")", `\)`).Replace(s) + ")"
	}
	return "<FEFF" + hex16(s) + ">"
}

// hex16 is a text in UTF-16, big-endian, in hexadecimal.
func hex16(s string) string {
	var b strings.Builder
	for _, u := range utf16.Encode([]rune(s)) {
		fmt.Fprintf(&b, "%04X", u)
	}
	return b.String()
}

// name is a name object, with what a name may not hold written in hexadecimal.
func name(s string) string {
	var b strings.Builder
	b.WriteByte('/')
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || c == '-' || c == '+' {
			b.WriteByte(c)
		} else {
			fmt.Fprintf(&b, "#%02X", c)
		}
	}
	return b.String()
}
