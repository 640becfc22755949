// Package pack is the file format of the lexicon: a few named sections, each of
// them plain bytes, a sorted [Table] or a store of compressed texts ([Blocks]).
// Readers work on the bytes as they lie, so that opening costs next to nothing.
//
// All numbers are little-endian; "varint" is the unsigned LEB128 of
// encoding/binary.
//
//	File:
//	  8 bytes   "BKSTLEX1"
//	  uint32    number of sections, n
//	  n times   name (4 bytes), offset (uint32, from the start of the file),
//	            length (uint32), CRC-32 (uint32, IEEE, of the section)
//	  the sections, in the order of the list
//
//	Table (entries sorted by key, bytewise; 16 to a block):
//	  uint32    number of entries, n
//	  uint32    number of blocks, b = ceil(n/16)
//	  b times   uint32: offset of the block from the end of this list
//	  blocks, for each entry:
//	    varint  bytes shared with the key before it (absent in the first entry)
//	    varint  length of the rest of the key, then those bytes
//	    varint  length of the value, then those bytes
//
//	Blocks (texts found by number; about 32 KiB to a block before compression):
//	  uint32    number of blocks, b
//	  uint32    number of texts, n
//	  b times   uint32: offset of the block from the end of both lists
//	  b times   uint32: number of the first text in the block
//	  blocks: raw DEFLATE (RFC 1951) of, for each text in it,
//	    varint  length of the text
//	  and then all the texts, end to end
//
// What the sections hold is told in lexicon/sections.go. [Writer], [TableWriter]
// and [BlocksWriter] make the same bytes from the same input. Start with [Open].
package pack

import (
	"encoding/binary"
	"fmt"
	"hash/crc32"
)

const magic = "BKSTLEX1"

const (
	head  = len(magic) + 4
	entry = 4 + 3*4
)

// File is an opened pack.
type File struct {
	data     []byte
	sections map[string][2]uint32
}

// Open reads the list of sections. The data must not change afterwards.
func Open(data []byte) (*File, error) {
	if len(data) < head || string(data[:len(magic)]) != magic {
		return nil, fmt.Errorf("opening the pack: it does not start with %q", magic)
	}
	n := int(binary.LittleEndian.Uint32(data[len(magic):]))
	if len(data) < head+n*entry {
		return nil, fmt.Errorf("opening the pack: the list of %d sections is cut off", n)
	}
	f := &File{data: data, sections: make(map[string][2]uint32, n)}
	for i := range n {
		e := data[head+i*entry:]
		off, length := binary.LittleEndian.Uint32(e[4:]), binary.LittleEndian.Uint32(e[8:])
		if uint64(off)+uint64(length) > uint64(len(data)) {
			return nil, fmt.Errorf("opening the pack: section %q is cut off", e[:4])
		}
		f.sections[string(e[:4])] = [2]uint32{off, length}
	}
	return f, nil
}

// Verify compares every section with its checksum; it reads the whole file.
func (f *File) Verify() error {
	for i := range len(f.sections) {
		e := f.data[head+i*entry:]
		s, _ := f.Section(string(e[:4]))
		if crc32.ChecksumIEEE(s) != binary.LittleEndian.Uint32(e[12:]) {
			return fmt.Errorf("checking section %q: its bytes have changed", e[:4])
		}
	}
	return nil
}

// Section returns the bytes of a section.
func (f *File) Section(name string) ([]byte, error) {
	s, ok := f.sections[name]
	if !ok {
		return nil, fmt.Errorf("reading section %q: the pack has none", name)
	}
	return f.data[s[0] : s[0]+s[1] : s[0]+s[1]], nil
}

// Table reads a section as a table.
func (f *File) Table(name string) (Table, error) {
	s, err := f.Section(name)
	if err != nil {
		return Table{}, err
	}
	t, err := ReadTable(s)
	if err != nil {
		return Table{}, fmt.Errorf("reading section %q: %w", name, err)
	}
	return t, nil
}

// Writer gathers sections.
type Writer struct {
	names []string
	data  [][]byte
}

// Add appends a section; its name has four letters.
func (w *Writer) Add(name string, data []byte) {
	if len(name) != 4 {
		panic("pack: the name of a section has four letters, not " + name)
	}
	w.names, w.data = append(w.names, name), append(w.data, data)
}

// Bytes returns the whole file.
func (w *Writer) Bytes() []byte {
	out := []byte(magic)
	out = binary.LittleEndian.AppendUint32(out, uint32(len(w.names)))
	off := head + len(w.names)*entry
	for i, name := range w.names {
		out = append(out, name...)
		out = binary.LittleEndian.AppendUint32(out, uint32(off))
		out = binary.LittleEndian.AppendUint32(out, uint32(len(w.data[i])))
		out = binary.LittleEndian.AppendUint32(out, crc32.ChecksumIEEE(w.data[i]))
		off += len(w.data[i])
	}
	for _, d := range w.data {
		out = append(out, d...)
	}
	return out
}
