package layout

import (
	"bytes"
	"fmt"

	"github.com/go-text/typesetting/font"
	ot "github.com/go-text/typesetting/font/opentype"

	"bookstead/internal/print"
)

// family is a parsed typeface.
type family struct {
	name  string
	faces [4]*face // by italic | bold<<1
}

// face is one font file. It is read-only.
type face struct {
	family string
	data   []byte
	font   *font.Font
	upem   int
	// smcp, onum and tnum say which features the file has.
	smcp, onum, tnum bool
	space            print.Length // advance of a space, in font units
}

func parseFamily(f print.Family) (*family, error) {
	if len(f.Roman) == 0 {
		return nil, fmt.Errorf("the typeface %q has no roman", f.Name)
	}
	out := &family{name: f.Name}
	for i, data := range [4][]byte{f.Roman, f.Italic, f.Bold, f.BoldItalic} {
		if len(data) == 0 {
			continue
		}
		parsed, err := font.ParseTTF(bytes.NewReader(data))
		if err != nil {
			return nil, fmt.Errorf("reading the typeface %q: %w", f.Name, err)
		}
		fc := &face{family: f.Name, data: data, font: parsed.Font, upem: int(parsed.Upem())}
		for _, feat := range parsed.GSUB.Features {
			switch feat.Tag {
			case ot.MustNewTag("smcp"):
				fc.smcp = true
			case ot.MustNewTag("onum"):
				fc.onum = true
			case ot.MustNewTag("tnum"):
				fc.tnum = true
			}
		}
		if g, ok := parsed.NominalGlyph(' '); ok {
			fc.space = print.Length(parsed.HorizontalAdvance(g))
		} else {
			fc.space = print.Length(fc.upem / 4)
		}
		out.faces[i] = fc
	}
	for i, instead := range [4]int{0, 0, 0, 2} {
		if out.faces[i] == nil {
			out.faces[i] = out.faces[instead]
		}
	}
	return out, nil
}

// has reports whether the font can show a rune. Spaces and hyphens of all kinds
// count as had: the shaper replaces them.
func (f *face) has(r rune) bool {
	switch r {
	case '\u00a0', '\u2010', '\u2011', '\u202f', '\u2009':
		return true
	}
	_, ok := f.font.NominalGlyph(r)
	return ok
}

// look is everything about a run of text but the text.
type look struct {
	face *face
	size print.Length
	feat feature
	// track is extra room behind each glyph.
	track print.Length
	role  print.Role
	ink   print.Ink
	node  int
}

type feature uint8

const (
	smallCaps feature = 1 << iota
	oldStyle
	tabular
)

// lookOf is the look of text in face flags f at a size.
func (s *setter) lookOf(f print.Face, size print.Length, node int) look {
	if f&print.Rubric != 0 {
		f |= print.Italic
	}
	i := 0
	if f&print.Italic != 0 {
		i |= 1
	}
	if f&print.Bold != 0 {
		i |= 2
	}
	l := look{face: s.family.faces[i], size: size, node: node}
	if s.style.OldStyle {
		l.feat |= oldStyle
	}
	if f&print.SmallCaps != 0 {
		l.feat |= smallCaps
	}
	if f&print.Rubric != 0 {
		l.role, l.ink = print.TeacherOnly, print.Red
	}
	return l
}

// substitute finds a face that has the rune, in any family, when its own face
// has not. It is the face itself when none has.
func (s *setter) substitute(f *face, r rune) *face {
	if f.has(r) {
		return f
	}
	for _, fam := range s.engine.families {
		for i, own := range s.family.faces {
			if own == f && fam.faces[i].has(r) {
				return fam.faces[i]
			}
		}
	}
	for _, fam := range s.engine.families {
		if fam.faces[0].has(r) {
			return fam.faces[0]
		}
	}
	return f
}

// units turns font units into a length at a size.
func (f *face) units(u, size print.Length) print.Length { return u * size / print.Length(f.upem) }
