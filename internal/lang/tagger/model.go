package tagger

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"sort"
)

// weight is what a feature adds to a label.
type weight struct {
	label uint8
	value int8
}

// table maps feature keys to their weights: open addressing, a power of two of
// slots, at most half of them used.
type table struct {
	keys []uint32
	at   []uint32 // first weight and, in the low byte, how many
	all  []weight
}

func newTable(features, weights int) table {
	n := 16
	for n < 2*features {
		n *= 2
	}
	return table{keys: make([]uint32, n), at: make([]uint32, n), all: make([]weight, 0, weights)}
}

func (t *table) slot(key uint32) int {
	mask := len(t.keys) - 1
	i := int(key*0x85ebca6b>>7) & mask
	for t.at[i] != 0 && t.keys[i] != key {
		i = (i + 1) & mask
	}
	return i
}

// row returns a feature's weights, nil when it has none.
func (t *table) row(key uint32) []weight {
	at := t.at[t.slot(key)]
	first := at >> 8
	return t.all[first : first+at&0xff]
}

func (t *table) add(key uint32, ws []weight) {
	i := t.slot(key)
	t.keys[i], t.at[i] = key, uint32(len(t.all))<<8|uint32(len(ws))
	t.all = append(t.all, ws...)
}

// magic starts the packed form. Behind it stand, deflated (RFC 1951), all
// numbers as unsigned varints and texts with their length before them:
//
//	labels:   their number, then UPOS, XPOS, Feats of each
//	features: their number, then word hash, label, text of each
//	words:    their number, then, by rising hash, the step to the hash and a
//	          byte of flags: 1 class, 2 cluster, 4 sure (each then follows as a
//	          byte), 8 common
//	weights:  the number of features and of weights; then, by rising key of the
//	          features, the steps to all keys, how many weights each has, the
//	          labels of all weights, a byte each, and their values, a byte each
const magic = "taggr002"

var errForm = errors.New("it is not in its form")

// Read takes a packed model.
func Read(b []byte) (*Model, error) {
	plain, ok := bytes.CutPrefix(b, []byte(magic))
	if !ok {
		return nil, fmt.Errorf("reading the tagger model: %w", errForm)
	}
	b, err := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(plain)), 1<<26))
	if err != nil {
		return nil, fmt.Errorf("reading the tagger model: %w", err)
	}
	r := reader{b: b}
	m := &Model{}
	for range r.number(255) {
		m.labels = append(m.labels, Label{r.text(), r.text(), r.text()})
	}
	n := r.number(len(b))
	m.feats = make(map[featKey]string, n)
	for range n {
		k := featKey{uint32(r.number(1 << 32)), uint8(r.number(255))}
		m.feats[k] = r.text()
	}
	n = r.number(len(b))
	m.words = make(map[uint32]entry, n)
	hash := 0
	for range n {
		hash += r.number(1 << 32)
		flags := r.byte()
		e := entry{common: flags&8 != 0}
		for k, p := range [...]*uint8{&e.class, &e.cluster, &e.sure} {
			if flags>>k&1 != 0 {
				*p = r.byte()
			}
		}
		if int(e.sure) > len(m.labels) {
			r.failed = true
		}
		if r.failed {
			break
		}
		m.words[uint32(hash)] = e
	}
	m.weights = readTable(&r, len(m.labels))
	if r.failed || len(r.b) > 0 || len(m.labels) == 0 {
		return nil, fmt.Errorf("reading the tagger model: %w", errForm)
	}
	return m, nil
}

func readTable(r *reader, labels int) table {
	n := r.number(len(r.b))
	t := newTable(n, r.number(len(r.b)))
	keys, counts := make([]uint32, n), make([]int, n)
	key, total := 0, 0
	for i := range keys {
		key += r.number(1 << 32)
		keys[i] = uint32(key)
	}
	for i := range counts {
		counts[i] = r.number(255)
		total += counts[i]
	}
	ls, vs := r.take(total), r.take(total)
	if r.failed {
		return t
	}
	var row []weight
	for i, k := range keys {
		row = row[:0]
		for x := range counts[i] {
			if int(ls[x]) >= labels {
				r.failed = true
				return t
			}
			row = append(row, weight{ls[x], int8(vs[x])})
		}
		ls, vs = ls[counts[i]:], vs[counts[i]:]
		t.add(k, row)
	}
	return t
}

type reader struct {
	b      []byte
	failed bool
}

func (r *reader) take(n int) []byte {
	if n < 0 || n > len(r.b) {
		r.failed, r.b = true, nil
		return nil
	}
	out := r.b[:n]
	r.b = r.b[n:]
	return out
}

func (r *reader) byte() byte {
	if b := r.take(1); b != nil {
		return b[0]
	}
	return 0
}

// number reads a number of at most most; 0 once something failed.
func (r *reader) number(most int) int {
	v, n := binary.Uvarint(r.b)
	if n <= 0 || v > uint64(most) {
		r.failed, r.b = true, nil
		return 0
	}
	r.b = r.b[n:]
	return int(v)
}

func (r *reader) text() string { return string(r.take(r.number(1 << 12))) }

// Pack writes the model as Read takes it.
func (m *Model) Pack() []byte {
	var b []byte
	num := func(n int) { b = binary.AppendUvarint(b, uint64(n)) }
	text := func(s string) { num(len(s)); b = append(b, s...) }
	num(len(m.labels))
	for _, l := range m.labels {
		text(l.UPOS)
		text(l.XPOS)
		text(l.Feats)
	}
	fk := make([]featKey, 0, len(m.feats))
	for k := range m.feats {
		fk = append(fk, k)
	}
	sort.Slice(fk, func(i, j int) bool {
		return fk[i].word < fk[j].word || fk[i].word == fk[j].word && fk[i].label < fk[j].label
	})
	num(len(fk))
	for _, k := range fk {
		num(int(k.word))
		num(int(k.label))
		text(m.feats[k])
	}
	hs := make([]int, 0, len(m.words))
	for h := range m.words {
		hs = append(hs, int(h))
	}
	sort.Ints(hs)
	num(len(hs))
	last := 0
	for _, h := range hs {
		e := m.words[uint32(h)]
		num(h - last)
		last = h
		flags := byte(0)
		at := len(b)
		b = append(b, 0)
		for k, v := range [...]uint8{e.class, e.cluster, e.sure} {
			if v != 0 {
				flags |= 1 << k
				b = append(b, v)
			}
		}
		if e.common {
			flags |= 8
		}
		b[at] = flags
	}
	var slots []int
	for i, at := range m.weights.at {
		if at != 0 {
			slots = append(slots, i)
		}
	}
	sort.Slice(slots, func(i, j int) bool { return m.weights.keys[slots[i]] < m.weights.keys[slots[j]] })
	num(len(slots))
	num(len(m.weights.all))
	last = 0
	var counts, labels, values []byte
	for _, i := range slots {
		k := int(m.weights.keys[i])
		num(k - last)
		last = k
		ws := m.weights.row(uint32(k))
		counts = binary.AppendUvarint(counts, uint64(len(ws)))
		for _, w := range ws {
			labels, values = append(labels, w.label), append(values, byte(w.value))
		}
	}
	b = append(append(append(b, counts...), labels...), values...)
	out := bytes.NewBufferString(magic)
	z, _ := flate.NewWriter(out, flate.BestCompression) // fails for no level but a wrong one
	z.Write(b)                                          // a Buffer takes all
	z.Close()
	return out.Bytes()
}
