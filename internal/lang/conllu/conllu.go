// Package conllu reads, checks and writes CoNLL-U, the plain format of Universal
// Dependencies (https://universaldependencies.org/format.html), and turns it
// into a [lang.Doc] and back.
//
// A [Sentence] keeps everything that stands in the file: comments, multiword
// rows, empty nodes, the columns DEPS and MISC. [Read] and [Write] are each
// other's inverse. [ToDoc] builds the text that the rows were cut from, as the
// shared tasks did: a blank between tokens unless MISC says SpaceAfter=No, a
// blank line before "# newpar" and "# newdoc". [FromDoc] writes what the Doc's
// layers hold and an underscore for what was not run. [Check] holds rows to the
// rules of the format (levels 1 and 2 of the UD validation).
package conllu

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"bookstead/internal/fault"
)

// ID is the first column: 3 is {3,0,0}, 3-4 is {3,4,0}, 3.1 is {3,0,1}.
type ID struct {
	N   int // word, or first word of a range
	To  int // last word of a multiword token's range, 0 for none
	Sub int // number of an empty node behind word N, 0 for none
}

// Word reports whether the row is a syntactic word.
func (id ID) Word() bool { return id.To == 0 && id.Sub == 0 }

// String writes the ID as in the file.
func (id ID) String() string {
	switch {
	case id.To > 0:
		return strconv.Itoa(id.N) + "-" + strconv.Itoa(id.To)
	case id.Sub > 0:
		return strconv.Itoa(id.N) + "." + strconv.Itoa(id.Sub)
	}
	return strconv.Itoa(id.N)
}

// Row is one line of ten columns, each as it stands; "_" is nothing.
type Row struct {
	ID                                                            ID
	Form, Lemma, UPOS, XPOS, Feats, Head, Deprel, Deps, MiscField string
}

// Misc returns the value of a key of the tenth column.
func (r *Row) Misc(key string) (string, bool) { return find(r.MiscField, key) }

func find(field, key string) (string, bool) {
	for rest := field; rest != ""; {
		var kv string
		kv, rest, _ = strings.Cut(rest, "|")
		if k, v, ok := strings.Cut(kv, "="); ok && k == key {
			return v, true
		}
	}
	return "", false
}

// Sentence is one block of the file.
type Sentence struct {
	Comments []string // whole lines, "# text = …"
	Rows     []Row
	Line     int // of the first row or comment, from 1
}

// Comment returns the value of "# key = value", and whether there is such a
// line; a bare "# newpar" has the value "".
func (s *Sentence) Comment(key string) (string, bool) {
	for _, c := range s.Comments {
		c = strings.TrimSpace(strings.TrimPrefix(c, "#"))
		if k, v, ok := strings.Cut(c, "="); ok && strings.TrimSpace(k) == key {
			return strings.TrimSpace(v), true
		} else if !ok && c == key {
			return "", true
		}
	}
	return "", false
}

// Reader reads sentences one by one, at constant memory.
type Reader struct {
	in   *bufio.Scanner
	line int
}

// NewReader reads from r. A line may be at most 4 MB long.
func NewReader(r io.Reader) *Reader {
	s := bufio.NewScanner(r)
	s.Buffer(make([]byte, 0, 1<<16), 4<<20)
	return &Reader{in: s}
}

// Next returns the next sentence, and io.EOF behind the last one. A line that
// cannot be read is a fault of the kind Unreadable that names its number.
func (r *Reader) Next() (Sentence, error) {
	var s Sentence
	for r.in.Scan() {
		r.line++
		line := strings.TrimSuffix(r.in.Text(), "\r")
		if s.Line == 0 {
			s.Line = r.line
		}
		switch {
		case line == "" && len(s.Rows) == 0 && len(s.Comments) == 0:
			s.Line = 0
		case line == "":
			return s, nil
		case line[0] == '#' && len(s.Rows) == 0:
			s.Comments = append(s.Comments, line)
		default:
			row, err := parseRow(line)
			if err != nil {
				return s, fault.New(fault.Unreadable, fmt.Sprintf("Line %d is not CoNLL-U: %v.", r.line, err), "Each word needs ten columns divided by tabs.")
			}
			s.Rows = append(s.Rows, row)
		}
	}
	if err := r.in.Err(); err != nil {
		return s, fmt.Errorf("reading CoNLL-U line %d: %w", r.line+1, err)
	}
	if len(s.Rows) > 0 || len(s.Comments) > 0 {
		return s, nil
	}
	return s, io.EOF
}

// Read reads all sentences.
func Read(r io.Reader) ([]Sentence, error) {
	in := NewReader(r)
	var out []Sentence
	for {
		s, err := in.Next()
		if err == io.EOF {
			return out, nil
		}
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
}

func parseRow(line string) (Row, error) {
	var c [10]string
	n := 0
	for rest, more := line, true; more; n++ {
		if n == 10 {
			return Row{}, fmt.Errorf("more than ten columns")
		}
		c[n], rest, more = strings.Cut(rest, "\t")
	}
	if n != 10 {
		return Row{}, fmt.Errorf("%d columns", n)
	}
	id, err := parseID(c[0])
	if err != nil {
		return Row{}, err
	}
	if c[1] == "" {
		return Row{}, fmt.Errorf("no word in the second column")
	}
	return Row{id, c[1], c[2], c[3], c[4], c[5], c[6], c[7], c[8], c[9]}, nil
}

func parseID(s string) (ID, error) {
	a, b, isRange := strings.Cut(s, "-")
	c, d, isEmpty := strings.Cut(s, ".")
	var id ID
	var err1, err2 error
	switch {
	case isRange:
		id.N, err1 = strconv.Atoi(a)
		id.To, err2 = strconv.Atoi(b)
		if id.To <= id.N || id.To-id.N > 99 { // no word of any language has a hundred words
			err2 = strconv.ErrRange
		}
	case isEmpty:
		id.N, err1 = strconv.Atoi(c)
		id.Sub, err2 = strconv.Atoi(d)
		if id.Sub < 1 {
			err2 = strconv.ErrRange
		}
	default:
		id.N, err1 = strconv.Atoi(s)
	}
	if err1 != nil || err2 != nil || id.N < 0 || id.N == 0 && id.Sub == 0 {
		return id, fmt.Errorf("%q is no word number", s)
	}
	return id, nil
}

// Write writes sentences, each with the blank line that ends it.
func Write(w io.Writer, ss []Sentence) error {
	out := bufio.NewWriterSize(w, 1<<16)
	for i := range ss {
		for _, c := range ss[i].Comments {
			out.WriteString(c)
			out.WriteByte('\n')
		}
		for _, r := range ss[i].Rows {
			out.WriteString(r.ID.String())
			for _, f := range [...]string{r.Form, r.Lemma, r.UPOS, r.XPOS, r.Feats, r.Head, r.Deprel, r.Deps, r.MiscField} {
				out.WriteByte('\t')
				out.WriteString(f)
			}
			out.WriteByte('\n')
		}
		out.WriteByte('\n')
	}
	if err := out.Flush(); err != nil {
		return fmt.Errorf("writing CoNLL-U: %w", err)
	}
	return nil
}
