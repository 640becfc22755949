package pdf

import (
	"encoding/binary"
	"fmt"
	"sort"
)

// sfnt is a TrueType file taken apart into its tables (OpenType 1.9, "otff").
type sfnt struct {
	tables  map[string][]byte
	long    bool // loca has 32-bit offsets
	glyphs  int
	metrics int // entries of hmtx with an advance
	upem    int
}

func parseSFNT(data []byte) (*sfnt, error) {
	if len(data) < 12 || binary.BigEndian.Uint32(data) != 0x00010000 {
		return nil, fmt.Errorf("not a TrueType file")
	}
	f := &sfnt{tables: map[string][]byte{}}
	n := int(binary.BigEndian.Uint16(data[4:]))
	if len(data) < 12+16*n {
		return nil, fmt.Errorf("the table directory is cut off")
	}
	for i := range n {
		rec := data[12+16*i:]
		off, size := int(binary.BigEndian.Uint32(rec[8:])), int(binary.BigEndian.Uint32(rec[12:]))
		if off < 0 || size < 0 || off+size > len(data) {
			return nil, fmt.Errorf("table %q lies outside the file", rec[:4])
		}
		f.tables[string(rec[:4])] = data[off : off+size]
	}
	for tag, least := range map[string]int{"head": 54, "hhea": 36, "maxp": 6, "hmtx": 4, "loca": 4, "glyf": 0} {
		if t, ok := f.tables[tag]; !ok || len(t) < least {
			return nil, fmt.Errorf("table %q is missing or too short", tag)
		}
	}
	f.upem = int(binary.BigEndian.Uint16(f.tables["head"][18:]))
	f.long = binary.BigEndian.Uint16(f.tables["head"][50:]) == 1
	f.glyphs = int(binary.BigEndian.Uint16(f.tables["maxp"][4:]))
	f.metrics = int(binary.BigEndian.Uint16(f.tables["hhea"][34:]))
	width := 2
	if f.long {
		width = 4
	}
	if f.upem == 0 || f.metrics == 0 || len(f.tables["loca"]) < (f.glyphs+1)*width || len(f.tables["hmtx"]) < 4*f.metrics {
		return nil, fmt.Errorf("the glyph tables are cut off")
	}
	return f, nil
}

// advance is a glyph's advance in font units.
func (f *sfnt) advance(gid int) int {
	return int(binary.BigEndian.Uint16(f.tables["hmtx"][4*min(gid, f.metrics-1):]))
}

func (f *sfnt) bearing(gid int) uint16 {
	hmtx := f.tables["hmtx"]
	at := 4*gid + 2
	if gid >= f.metrics {
		at = 4*f.metrics + 2*(gid-f.metrics)
	}
	if at+2 > len(hmtx) {
		return 0
	}
	return binary.BigEndian.Uint16(hmtx[at:])
}

// outline is a glyph's data in glyf, empty for a space.
func (f *sfnt) outline(gid int) ([]byte, error) {
	if gid >= f.glyphs {
		return nil, fmt.Errorf("there is no glyph %d", gid)
	}
	loca := f.tables["loca"]
	var from, to int
	if f.long {
		from, to = int(binary.BigEndian.Uint32(loca[4*gid:])), int(binary.BigEndian.Uint32(loca[4*gid+4:]))
	} else {
		from, to = 2*int(binary.BigEndian.Uint16(loca[2*gid:])), 2*int(binary.BigEndian.Uint16(loca[2*gid+2:]))
	}
	if from > to || to > len(f.tables["glyf"]) {
		return nil, fmt.Errorf("glyph %d lies outside its table", gid)
	}
	return f.tables["glyf"][from:to], nil
}

// Flags of the parts of a composite glyph (OpenType, "glyf").
const (
	argsAreWords = 1 << 0
	haveScale    = 1 << 3
	moreParts    = 1 << 5
	haveXYScale  = 1 << 6
	have2x2      = 1 << 7
)

// parts calls f with the offset of each component's glyph number in a composite
// outline.
func parts(outline []byte, f func(at int)) error {
	if len(outline) < 10 || int16(binary.BigEndian.Uint16(outline)) >= 0 {
		return nil
	}
	for at := 10; ; {
		if at+4 > len(outline) {
			return fmt.Errorf("a composite glyph is cut off")
		}
		flags := binary.BigEndian.Uint16(outline[at:])
		f(at + 2)
		at += 6
		if flags&argsAreWords != 0 {
			at += 2
		}
		switch {
		case flags&haveScale != 0:
			at += 2
		case flags&haveXYScale != 0:
			at += 4
		case flags&have2x2 != 0:
			at += 8
		}
		if flags&moreParts == 0 {
			return nil
		}
	}
}

// subset makes a font file whose glyph i is gids[i] of this one; a glyph may be
// there more than once. The parts of composite glyphs are added behind. Only
// the tables that a PDF needs are kept, with the hinting programs.
func (f *sfnt) subset(gids []int) ([]byte, error) {
	gids = append([]int(nil), gids...)
	place := map[int]int{}
	for i, g := range gids {
		if _, ok := place[g]; !ok {
			place[g] = i
		}
	}
	var glyf, loca, hmtx []byte
	for i := 0; i < len(gids); i++ { // gids grows while parts are found
		src, err := f.outline(gids[i])
		if err != nil {
			return nil, err
		}
		loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
		o := append([]byte(nil), src...)
		if err := parts(o, func(at int) {
			g := int(binary.BigEndian.Uint16(o[at:]))
			if _, ok := place[g]; !ok {
				place[g] = len(gids)
				gids = append(gids, g)
			}
			binary.BigEndian.PutUint16(o[at:], uint16(place[g]))
		}); err != nil {
			return nil, err
		}
		glyf = append(glyf, o...)
		for len(glyf)%4 != 0 {
			glyf = append(glyf, 0)
		}
		hmtx = binary.BigEndian.AppendUint16(hmtx, uint16(f.advance(gids[i])))
		hmtx = binary.BigEndian.AppendUint16(hmtx, f.bearing(gids[i]))
	}
	loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
	out := map[string][]byte{"glyf": glyf, "loca": loca, "hmtx": hmtx}
	for _, tag := range []string{"head", "hhea", "maxp", "cvt ", "fpgm", "prep"} {
		if t, ok := f.tables[tag]; ok {
			out[tag] = append([]byte(nil), t...)
		}
	}
	binary.BigEndian.PutUint32(out["head"][8:], 0) // checkSumAdjustment, set by assemble
	binary.BigEndian.PutUint16(out["head"][50:], 1)
	binary.BigEndian.PutUint16(out["hhea"][34:], uint16(len(gids)))
	binary.BigEndian.PutUint16(out["maxp"][4:], uint16(len(gids)))
	return assemble(out), nil
}

// assemble puts tables into a file, with their checksums.
func assemble(tables map[string][]byte) []byte {
	tags := make([]string, 0, len(tables))
	for t := range tables {
		tags = append(tags, t)
	}
	sort.Strings(tags)
	n := len(tags)
	power, log := 1, 0
	for power*2 <= n {
		power, log = power*2, log+1
	}
	out := binary.BigEndian.AppendUint32(nil, 0x00010000)
	for _, v := range []int{n, power * 16, log, (n - power) * 16} {
		out = binary.BigEndian.AppendUint16(out, uint16(v))
	}
	at := 12 + 16*n
	var body []byte
	head := 0
	for _, t := range tags {
		data := tables[t]
		if t == "head" {
			head = at
		}
		out = append(out, t...)
		for _, v := range []int{int(checksum(data)), at, len(data)} {
			out = binary.BigEndian.AppendUint32(out, uint32(v))
		}
		body = append(body, data...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
		at = 12 + 16*n + len(body)
	}
	out = append(out, body...)
	binary.BigEndian.PutUint32(out[head+8:], 0xB1B0AFBA-checksum(out))
	return out
}

func checksum(b []byte) uint32 {
	var sum uint32
	for len(b) >= 4 {
		sum += binary.BigEndian.Uint32(b)
		b = b[4:]
	}
	var last [4]byte
	copy(last[:], b)
	return sum + binary.BigEndian.Uint32(last[:])
}
