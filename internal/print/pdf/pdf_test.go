package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/go-text/typesetting/font"

	"bookstead/internal/print"
	"bookstead/internal/print/fonts"
)

func literata(t *testing.T) []byte {
	t.Helper()
	families, err := fonts.Families()
	if err != nil {
		t.Fatal(err)
	}
	return families[0].Roman
}

// TestSubset takes a subset and has another reader draw its glyphs: the
// outlines and advances must be those of the whole font, and so must the parts
// of composite letters.
func TestSubset(t *testing.T) {
	families, err := fonts.Families()
	if err != nil {
		t.Fatal(err)
	}
	for _, fam := range families {
		t.Run(fam.Name, func(t *testing.T) {
			whole, err := font.ParseTTF(bytes.NewReader(fam.Roman))
			if err != nil {
				t.Fatal(err)
			}
			s, err := parseSFNT(fam.Roman)
			if err != nil {
				t.Fatal(err)
			}
			gids := []int{0}
			for _, r := range "Aé ﬁñÅgüp—“-" {
				if g, ok := whole.NominalGlyph(r); ok {
					gids = append(gids, int(g))
				}
			}
			gids = append(gids, gids[1]) // one glyph twice
			data, err := s.subset(gids)
			if err != nil {
				t.Fatal(err)
			}
			if len(data) > len(fam.Roman)/4 {
				t.Errorf("the subset has %d of %d bytes", len(data), len(fam.Roman))
			}
			small, err := parseSFNT(data)
			if err != nil {
				t.Fatal(err)
			}
			if sum := checksum(data); sum != 0xB1B0AFBA {
				t.Errorf("the file's checksum is %08X", sum)
			}
			for i, g := range gids {
				a, b := flat(t, s, g), flat(t, small, i)
				if !reflect.DeepEqual(a, b) {
					t.Errorf("glyph %d has another outline as %d", g, i)
				}
				if s.advance(g) != small.advance(i) {
					t.Errorf("glyph %d: advance %d, in the subset %d", g, s.advance(g), small.advance(i))
				}
			}
		})
	}
}

// flat is a glyph's data with its parts' data in place of their numbers.
func flat(t *testing.T, s *sfnt, gid int) [][]byte {
	t.Helper()
	o, err := s.outline(gid)
	if err != nil {
		t.Fatal(err)
	}
	o = append([]byte(nil), o...)
	out := [][]byte{nil}
	if err := parts(o, func(at int) {
		out = append(out, flat(t, s, int(o[at])<<8|int(o[at+1]))...)
		o[at], o[at+1] = 0, 0
	}); err != nil {
		t.Fatal(err)
	}
	out[0] = bytes.TrimRight(o, "\x00") // padding
	return out
}

func TestBrokenFonts(t *testing.T) {
	whole := literata(t)
	for name, data := range map[string][]byte{
		"empty": nil, "text": []byte("hello, world"), "cut": whole[:200], "head only": whole[:12], "half": whole[:len(whole)/2],
	} {
		f := &print.Frames{Fonts: []print.Font{{Family: "Bad", Data: data}}}
		if err := Write(&bytes.Buffer{}, f, Options{}); err == nil {
			t.Errorf("%s: a broken font was embedded", name)
		}
	}
}

func TestText(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"plain", "(plain)"}, {`a (b) \c`, `(a \(b\) \\c)`}, {"Teacher’s", "<FEFF005400650061006300680065007220190073>"}, {"🙂", "<FEFFD83DDE42>"}, {"", "()"},
	} {
		if got := text(c.in); got != c.want {
			t.Errorf("text(%q) = %s, want %s", c.in, got, c.want)
		}
	}
	for _, c := range []struct {
		v, places int
		want      string
	}{{0, 3, "0"}, {1500, 3, "1.5"}, {-1005, 3, "-1.005"}, {-5, 3, "-0.005"}, {12000, 3, "12"}} {
		if got := decimal(c.v, c.places); got != c.want {
			t.Errorf("decimal(%d, %d) = %s, want %s", c.v, c.places, got, c.want)
		}
	}
	if got := name("A b/c#"); got != "/A#20b#2Fc#23" {
		t.Errorf("name = %s", got)
	}
}

// frames is a page with text in the structure, text outside it, and lines.
func frames(t *testing.T) *print.Frames {
	t.Helper()
	data := literata(t)
	f, err := font.ParseTTF(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	glyphs := func(s string) (out []print.Glyph) {
		for _, r := range s {
			g, _ := f.NominalGlyph(r)
			out = append(out, print.Glyph{ID: uint16(g), Advance: 7 * print.Point, Text: string(r)})
		}
		return out
	}
	return &print.Frames{
		Title: "A <test> & more", Language: "en", Paper: print.A4(),
		Fonts: []print.Font{{Family: "Literata", Data: data, UnitsPerEm: 1000}},
		Nodes: []print.Node{{Tag: print.TagDocument, Parent: -1}, {Tag: print.TagP}, {Tag: print.TagFill, Parent: 1}, {Tag: print.TagP}},
		Pages: []print.Page{{Number: 3, Items: []print.Item{
			{X: 100, Y: 100 * print.Point, Size: 12 * print.Point, Glyphs: glyphs("running head")},
			{Node: 1, Y: 200 * print.Point, Size: 12 * print.Point, Glyphs: glyphs("before ")},
			{Node: 2, Role: print.TeacherOnly, Ink: print.Red, Y: 200 * print.Point, Size: 12 * print.Point, Glyphs: glyphs("answer")},
			{Node: 1, Y: 200 * print.Point, Size: 12 * print.Point, Glyphs: glyphs(" after")},
			{W: 100 * print.Point, Thickness: print.Point},
			{Shape: print.Ring, W: 10 * print.Point, H: 10 * print.Point, Thickness: print.Point},
			{Node: 3, Role: print.TeacherOnly, Y: 300 * print.Point, Size: 12 * print.Point, Glyphs: glyphs("alone")},
		}}},
	}
}

var operator = regexp.MustCompile(`\b(BDC|BMC|EMC|BT|ET|TJ|S)\n`)

// TestMarked wants all that is drawn inside exactly one marked piece, structure
// or artifact (ISO 14289-1, 7.1), and each piece known to the structure.
func TestMarked(t *testing.T) {
	f := frames(t)
	for e, want := range map[print.Edition]string{
		print.Student: "BMC BT TJ ET EMC BDC BT TJ TJ ET EMC BMC S S EMC",
		print.Teacher: "BMC BT TJ ET EMC BDC BT TJ ET EMC BDC BT TJ ET EMC BDC BT TJ ET EMC BMC S S EMC BDC BT TJ ET EMC",
	} {
		uses, _, err := gather(f, e)
		if err != nil {
			t.Fatal(err)
		}
		c := draw(f, &f.Pages[0], e, uses)
		var got []string
		for _, m := range operator.FindAllStringSubmatch(string(c.b), -1) {
			got = append(got, m[1])
		}
		if g := strings.Join(got, " "); g != want {
			t.Errorf("%v: got %s, want %s", e, g, want)
		}
		if n := strings.Count(string(c.b), "/MCID"); n != len(c.nodes) {
			t.Errorf("%v: %d pieces, %d in the structure", e, n, len(c.nodes))
		}
	}
}

// TestTree: a node without content is left out; pieces and children of one node
// stand in the order in which they are read.
func TestTree(t *testing.T) {
	f := frames(t)
	s := newStructure(f, [][]int{{1, 2, 1, 3}})
	if fmt.Sprint(s.kids) != "[[1 3] [2] [] []]" {
		t.Errorf("kids are %v", s.kids)
	}
	if s = newStructure(f, [][]int{{1}}); fmt.Sprint(s.kids) != "[[1] [] [] []]" {
		t.Errorf("kids of the student pages are %v", s.kids)
	}
	var buf bytes.Buffer
	file := newFile(&buf)
	s = newStructure(f, [][]int{{1, 2, 1, 3}})
	page := file.reserve()
	s.write(file, []ref{page}, [][]int{{1, 2, 1, 3}})
	for _, p := range file.pending {
		if p.ref == s.refs[1] {
			if want := fmt.Sprintf("/K [0 %v 2]", s.refs[2]); !strings.Contains(p.body, want) {
				t.Errorf("%s has no %s", p.body, want)
			}
			return
		}
	}
	t.Error("the paragraph is not in the file")
}

type full struct{ left int }

var errFull = errors.New("no room left")

func (w *full) Write(b []byte) (int, error) {
	if w.left -= len(b); w.left < 0 {
		return 0, errFull
	}
	return len(b), nil
}

func TestDiskFull(t *testing.T) {
	f := frames(t)
	for _, room := range []int{0, 100, 3000} {
		if err := Write(&full{room}, f, Options{}); !errors.Is(err, errFull) {
			t.Errorf("with room for %d bytes: %v", room, err)
		}
	}
}
