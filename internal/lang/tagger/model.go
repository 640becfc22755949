package tagger

import (
	"encoding/binary"
	"errors"
	"fmt"
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

// magic starts the packed form. Behind it stand, all numbers as unsigned
// varints and texts with their length before them:
//
//	labels:   their number, then UPOS, XPOS, Feats of each
//	features: their number, then word hash, label, text of each
//	words:    their number, then, by rising hash, the step to the hash and a
//	          byte of flags: 1 class, 2 cluster, 4 sure (each then follows as a
//	          byte), 8 common
//	weights:  the number of features, of weights, then, by rising key, the step
//	          to the key, how many weights, and label and value of each, one
//	          byte each
const magic = "taggr001"

var errForm = errors.New("it is not in its form")

// Read takes a packed model.
func Read(b []byte) (*Model, error) {
	r := reader{b: b}
	if string(r.take(len(magic))) != magic {
		return nil, fmt.Errorf("reading the tagger model: %w", errForm)
	}
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
	n = r.number(len(b))
	m.weights = newTable(n, r.number(len(b)))
	key := 0
	var row []weight
	for range n {
		key += r.number(1 << 32)
		c := r.number(255)
		ws := r.take(2 * c)
		if r.failed {
			break
		}
		row = row[:0]
		for i := range c {
			if int(ws[2*i]) >= len(m.labels) {
				r.failed = true
				break
			}
			row = append(row, weight{ws[2*i], int8(ws[2*i+1])})
		}
		m.weights.add(uint32(key), row)
	}
	if r.failed || len(r.b) > 0 || len(m.labels) == 0 {
		return nil, fmt.Errorf("reading the tagger model: %w", errForm)
	}
	return m, nil
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
	b := []byte(magic)
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
	for _, i := range slots {
		k := int(m.weights.keys[i])
		num(k - last)
		last = k
		ws := m.weights.row(uint32(k))
		num(len(ws))
		for _, w := range ws {
			b = append(b, w.label, byte(w.value))
		}
	}
	return b
}
