package pdf

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"strings"
	"unicode/utf16"

	"bookstead/internal/print"
)

// cidKey is a glyph with the text it stands for: a glyph that stands for two
// different texts (a real hyphen, and one that only divides a word) takes two
// places in the font, so that each copies out right.
type cidKey struct {
	gid  uint16
	text string
}

// fontUse gathers what a document uses of a font.
type fontUse struct {
	sfnt *sfnt
	data []byte
	cids map[cidKey]uint16
	keys []cidKey // by CID; 0 is .notdef
}

func newFontUse(f print.Font) (*fontUse, error) {
	s, err := parseSFNT(f.Data)
	if err != nil {
		return nil, fmt.Errorf("reading the font of %q: %w", f.Family, err)
	}
	return &fontUse{sfnt: s, data: f.Data, cids: map[cidKey]uint16{}, keys: []cidKey{{}}}, nil
}

func (u *fontUse) cid(g print.Glyph) uint16 {
	k := cidKey{g.ID, g.Text}
	c, ok := u.cids[k]
	if !ok {
		c = uint16(len(u.keys))
		u.cids[k] = c
		u.keys = append(u.keys, k)
	}
	return c
}

// width is a glyph's width in hundredths of a thousandth of an em, as it is
// written into the file.
func (u *fontUse) width(gid uint16) int {
	return (u.sfnt.advance(int(gid))*100000 + u.sfnt.upem/2) / u.sfnt.upem
}

// embed writes the font: a Type 0 font over a CIDFontType2 with the subset.
func (u *fontUse) embed(f *file, r ref) error {
	gids := make([]int, len(u.keys))
	for i, k := range u.keys {
		gids[i] = int(k.gid)
	}
	data, err := u.sfnt.subset(gids)
	if err != nil {
		return fmt.Errorf("taking a subset of a font: %w", err)
	}
	base := u.tag(data) + "+" + u.postScriptName()
	program := f.reserve()
	f.stream(program, fmt.Sprintf("/Length1 %d", len(data)), f.deflate(data), true)
	head := u.sfnt.tables["head"]
	unit := func(v int16) int { return int(v) * 1000 / u.sfnt.upem }
	i16 := func(b []byte, at int) int16 { return int16(binary.BigEndian.Uint16(b[at:])) }
	hhea := u.sfnt.tables["hhea"]
	capHeight := 700
	if os2 := u.sfnt.tables["OS/2"]; len(os2) >= 90 {
		capHeight = unit(i16(os2, 88))
	}
	angle := 0
	if post := u.sfnt.tables["post"]; len(post) >= 8 {
		angle = int(i16(post, 4))
	}
	descriptor := f.add(fmt.Sprintf("<</Type /FontDescriptor /FontName %s /Flags 4 /FontBBox [%d %d %d %d] /ItalicAngle %d /Ascent %d /Descent %d /CapHeight %d /StemV 80 /FontFile2 %v>>",
		name(base), unit(i16(head, 36)), unit(i16(head, 38)), unit(i16(head, 40)), unit(i16(head, 42)), angle, unit(i16(hhea, 4)), unit(i16(hhea, 6)), capHeight, program))
	var w strings.Builder
	for i, k := range u.keys {
		if i > 0 {
			w.WriteByte(' ')
		}
		w.WriteString(decimal(u.width(k.gid), 2))
	}
	cid := f.add(fmt.Sprintf("<</Type /Font /Subtype /CIDFontType2 /BaseFont %s /CIDSystemInfo <</Registry (Adobe) /Ordering (Identity) /Supplement 0>> /FontDescriptor %v /DW 0 /W [0 [%s]] /CIDToGIDMap /Identity>>",
		name(base), descriptor, w.String()))
	toUnicode := f.reserve()
	f.stream(toUnicode, "", f.deflate([]byte(u.toUnicode())), true)
	f.put(r, fmt.Sprintf("<</Type /Font /Subtype /Type0 /BaseFont %s /Encoding /Identity-H /DescendantFonts [%v] /ToUnicode %v>>", name(base), cid, toUnicode))
	return nil
}

// tag is the six letters that mark a subset, drawn from its content.
func (u *fontUse) tag(data []byte) string {
	sum := sha256.Sum256(data)
	b := make([]byte, 6)
	for i := range b {
		b[i] = 'A' + sum[i]%26
	}
	return string(b)
}

// postScriptName is name 6 of the font, or a stand-in.
func (u *fontUse) postScriptName() string {
	t := u.sfnt.tables["name"]
	if len(t) < 6 {
		return "Font"
	}
	n, base := int(binary.BigEndian.Uint16(t[2:])), int(binary.BigEndian.Uint16(t[4:]))
	for i := 0; i < n && 6+12*i+12 <= len(t); i++ {
		rec := t[6+12*i:]
		u16 := func(at int) int { return int(binary.BigEndian.Uint16(rec[at:])) }
		from := base + u16(10)
		if u16(0) != 3 || u16(6) != 6 || from+u16(8) > len(t) { // Windows platform, PostScript name
			continue
		}
		var units []uint16
		for raw := t[from : from+u16(8)]; len(raw) >= 2; raw = raw[2:] {
			units = append(units, binary.BigEndian.Uint16(raw))
		}
		return string(utf16.Decode(units))
	}
	return "Font"
}

// toUnicode is the map from glyphs to text (ISO 32000-1, 9.10.3). A glyph with
// no text of its own, a part of a letter, maps to a space of no width.
func (u *fontUse) toUnicode() string {
	var b strings.Builder
	b.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def\n/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	const most = 100
	for i := 1; i < len(u.keys); i += most {
		end := min(i+most, len(u.keys))
		fmt.Fprintf(&b, "%d beginbfchar\n", end-i)
		for c := i; c < end; c++ {
			t := u.keys[c].text
			if t == "" {
				t = "\u200b"
			}
			fmt.Fprintf(&b, "<%04X> <%s>\n", c, hex16(t))
		}
		b.WriteString("endbfchar\n")
	}
	b.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n")
	return b.String()
}

// decimal writes v/10^places without needless zeros.
func decimal(v, places int) string {
	sign := ""
	if v < 0 {
		sign, v = "-", -v
	}
	ten := 1
	for range places {
		ten *= 10
	}
	if v%ten == 0 {
		if v == 0 {
			return "0"
		}
		return fmt.Sprintf("%s%d", sign, v/ten)
	}
	return sign + fmt.Sprintf("%d.", v/ten) + strings.TrimRight(fmt.Sprintf("%0*d", places, v%ten), "0")
}
