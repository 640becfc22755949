package pack

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"iter"
	"slices"
	"strings"
)

const perBlock = 16

// Table is a sorted table of keys and values. Its zero value is empty.
type Table struct {
	n      int
	starts []byte // of the blocks, four bytes each
	data   []byte
}

// ReadTable reads a table that takes up all the bytes.
func ReadTable(data []byte) (Table, error) {
	if len(data) < 8 {
		return Table{}, fmt.Errorf("the table is cut off")
	}
	n, b := int(binary.LittleEndian.Uint32(data)), int(binary.LittleEndian.Uint32(data[4:]))
	if b != (n+perBlock-1)/perBlock || len(data) < 8+4*b {
		return Table{}, fmt.Errorf("the table claims %d entries in %d blocks and has %d bytes", n, b, len(data))
	}
	return Table{n: n, starts: data[8 : 8+4*b], data: data[8+4*b:]}, nil
}

// Len is the number of entries.
func (t Table) Len() int { return t.n }

// cursor walks through the entries from the start of a block.
type cursor struct {
	rest       []byte
	key, value []byte
	index      int
	scratch    [64]byte
}

func (t Table) cursorAt(block int) *cursor {
	c := &cursor{rest: t.data[binary.LittleEndian.Uint32(t.starts[4*block:]):], index: block*perBlock - 1}
	c.key = c.scratch[:0]
	return c
}

func uvarint(b []byte) (int, []byte) {
	v, n := binary.Uvarint(b)
	if n <= 0 {
		return 0, nil
	}
	return int(v), b[n:]
}

// next moves to the following entry, across blocks.
func (c *cursor) next() {
	c.index++
	shared := 0
	if c.index%perBlock != 0 {
		shared, c.rest = uvarint(c.rest)
	}
	var n int
	n, c.rest = uvarint(c.rest)
	c.key = append(c.key[:shared], c.rest[:n]...)
	c.rest = c.rest[n:]
	n, c.rest = uvarint(c.rest)
	c.value, c.rest = c.rest[:n:n], c.rest[n:]
}

// headKey is the first key of a block.
func (t Table) headKey(block int) []byte {
	n, rest := uvarint(t.data[binary.LittleEndian.Uint32(t.starts[4*block:]):])
	return rest[:n]
}

// seek finds the first entry whose key is not less than key. It returns nil
// behind the last.
func (t Table) seek(key string) *cursor {
	lo, hi := 0, len(t.starts)/4 // the number of blocks whose first key is <= key
	for lo < hi {
		m := (lo + hi) / 2
		if string(t.headKey(m)) <= key {
			lo = m + 1
		} else {
			hi = m
		}
	}
	if t.n == 0 {
		return nil
	}
	c := t.cursorAt(max(lo-1, 0))
	for c.index+1 < t.n {
		if c.next(); string(c.key) >= key {
			return c
		}
	}
	return nil
}

// Get returns the value of a key: bytes of the pack, not to be changed.
func (t Table) Get(key string) ([]byte, bool) {
	if c := t.seek(key); c != nil && string(c.key) == key {
		return c.value, true
	}
	return nil, false
}

// Find returns the place of a key in the table and its value.
func (t Table) Find(key string) (index int, value []byte, ok bool) {
	if c := t.seek(key); c != nil && string(c.key) == key {
		return c.index, c.value, true
	}
	return 0, nil, false
}

// At returns the entry at a place, which must be in [0, Len).
func (t Table) At(index int) (key string, value []byte) {
	c := t.cursorAt(index / perBlock)
	for c.index < index {
		c.next()
	}
	return string(c.key), c.value
}

// Prefix walks over the entries whose keys start with prefix, in order.
func (t Table) Prefix(prefix string) iter.Seq2[string, []byte] {
	return func(yield func(string, []byte) bool) {
		c := t.seek(prefix)
		for c != nil && bytes.HasPrefix(c.key, []byte(prefix)) {
			if !yield(string(c.key), c.value) || c.index+1 >= t.n {
				return
			}
			c.next()
		}
	}
}

// TableWriter gathers entries in any order.
type TableWriter struct {
	entries []tableEntry
}

type tableEntry struct {
	key   string
	value []byte
}

// Add takes one entry; a key may be added once.
func (w *TableWriter) Add(key string, value []byte) {
	w.entries = append(w.entries, tableEntry{key, value})
}

// Bytes returns the table.
func (w *TableWriter) Bytes() ([]byte, error) {
	slices.SortFunc(w.entries, func(a, b tableEntry) int { return strings.Compare(a.key, b.key) })
	var starts, data []byte
	before := ""
	for i, e := range w.entries {
		if i > 0 && e.key == before {
			return nil, fmt.Errorf("writing a table: %q was added twice", e.key)
		}
		shared := 0
		if i%perBlock == 0 {
			starts = binary.LittleEndian.AppendUint32(starts, uint32(len(data)))
		} else {
			for shared < min(len(before), len(e.key)) && before[shared] == e.key[shared] {
				shared++
			}
			data = binary.AppendUvarint(data, uint64(shared))
		}
		data = binary.AppendUvarint(data, uint64(len(e.key)-shared))
		data = append(data, e.key[shared:]...)
		data = binary.AppendUvarint(data, uint64(len(e.value)))
		data = append(data, e.value...)
		before = e.key
	}
	out := binary.LittleEndian.AppendUint32(nil, uint32(len(w.entries)))
	out = binary.LittleEndian.AppendUint32(out, uint32(len(starts)/4))
	return append(append(out, starts...), data...), nil
}
