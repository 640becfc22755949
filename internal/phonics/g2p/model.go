package g2p

import (
	"bytes"
	"cmp"
	"compress/flate"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"sort"
	"strings"
)

// Model is a joint n-gram model, packed as a trie: rows that begin alike share
// their beginning. It is immutable and safe for use by many goroutines.
type Model struct {
	chunks []chunk
	levels []level
	probs  []float32 // what the steps of a quantized log probability mean
	backs  []float32
	starts map[string][]uint16 // letters to the ids of their chunks
	net    *Net                // nil: the rows alone are asked
	label  []int               // of each id: its label in the net, -1 for none
}

// level holds all rows of one length, in order: those of one parent lie
// together.
type level struct {
	ids   []uint16
	probs []byte
	backs []byte
	kids  []uint32 // where the children begin in the next level; one more than ids
}

// newModel packs rows.
func newModel(chunks []chunk, rows []map[gram]*entry) *Model {
	m := &Model{chunks: chunks}
	var ps, bs []float64
	sorted := make([][]gram, len(rows))
	for n, r := range rows {
		for g, e := range r {
			sorted[n] = append(sorted[n], g)
			ps = append(ps, e.prob)
			if n+1 < len(rows) {
				bs = append(bs, e.back)
			}
		}
		slices.Sort(sorted[n])
	}
	m.probs, m.backs = codebook(ps, 64), codebook(bs, 32)
	for n, gs := range sorted {
		var lv level
		next := 0
		for _, g := range gs {
			e := rows[n][g]
			lv.ids = append(lv.ids, binary.BigEndian.Uint16([]byte(g[len(g)-2:])))
			lv.probs = append(lv.probs, nearest(m.probs, e.prob))
			lv.kids = append(lv.kids, uint32(next))
			if n+1 < len(sorted) {
				lv.backs = append(lv.backs, nearest(m.backs, e.back))
				for next < len(sorted[n+1]) && sorted[n+1][next].history() == g {
					next++
				}
			}
		}
		lv.kids = append(lv.kids, uint32(next))
		m.levels = append(m.levels, lv)
	}
	m.index()
	return m
}

func (m *Model) index() {
	m.starts = map[string][]uint16{}
	for i, c := range m.chunks {
		m.starts[c.letters] = append(m.starts[c.letters], uint16(i+first))
	}
}

// codebook gives steps for values: equal shares of them, each step their mean.
func codebook(values []float64, steps int) []float32 {
	v := slices.Clone(values)
	slices.Sort(v)
	var out []float32
	for i := range steps {
		part := v[i*len(v)/steps : (i+1)*len(v)/steps]
		if len(part) == 0 {
			continue
		}
		sum := 0.0
		for _, x := range part {
			sum += x
		}
		out = append(out, float32(sum/float64(len(part))))
	}
	return slices.Compact(out)
}

func nearest(book []float32, x float64) byte {
	i := sort.Search(len(book), func(i int) bool { return float64(book[i]) >= x })
	if i == len(book) || i > 0 && x-float64(book[i-1]) < float64(book[i])-x {
		i--
	}
	return byte(i)
}

// child finds the row that goes on with id after the row at the place of level
// n (0 for single ids).
func (m *Model) child(n int, at uint32, id uint16) (uint32, bool) {
	lv, next := &m.levels[n], &m.levels[n+1]
	lo, hi := lv.kids[at], lv.kids[at+1]
	i, ok := slices.BinarySearch(next.ids[lo:hi], id)
	return lo + uint32(i), ok
}

// find is the place of a row in the level of its length.
func (m *Model) find(ids []uint16) (uint32, bool) {
	at := uint32(ids[0]) // the first level holds every id once
	for n := 1; n < len(ids); n++ {
		var ok bool
		if at, ok = m.child(n-1, at, ids[n]); !ok {
			return 0, false
		}
	}
	return at, true
}

// step is the log probability of id after a history.
func (m *Model) step(history []uint16, id uint16) float64 {
	if most := len(m.levels) - 1; len(history) > most {
		history = history[len(history)-most:]
	}
	back := 0.0
	for ; len(history) > 0; history = history[1:] {
		at, ok := m.find(history)
		if !ok {
			continue
		}
		n := len(history) - 1
		if kid, ok := m.child(n, at, id); ok {
			return back + float64(m.probs[m.levels[n+1].probs[kid]])
		}
		back += float64(m.backs[m.levels[n].backs[at]])
	}
	return back + float64(m.probs[m.levels[0].probs[id]])
}

// The file is a header and one stream of bytes packed by flate:
//
//	"G2P1"
//	varint chunks, then each "letters TAB phones LF"
//	varint steps of probabilities, float32 each; the same for back-off weights
//	varint levels, then each: varint rows; for each row the varint number of its
//	children (not in the last level); for each row a varint, its id less the id
//	before it under the same parent; the steps of probabilities, a byte each; of
//	back-off weights (not in the last level)
const magic = "G2P1"

// Write writes the model.
func (m *Model) Write(w io.Writer) error {
	if _, err := io.WriteString(w, magic); err != nil {
		return err
	}
	z, err := flate.NewWriter(w, flate.BestCompression)
	if err != nil {
		return err
	}
	var b []byte
	b = binary.AppendUvarint(b, uint64(len(m.chunks)))
	for _, c := range m.chunks {
		b = append(b, c.letters+"\t"+c.phones+"\n"...)
	}
	for _, book := range [][]float32{m.probs, m.backs} {
		b = binary.AppendUvarint(b, uint64(len(book)))
		for _, x := range book {
			b = binary.LittleEndian.AppendUint32(b, math.Float32bits(x))
		}
	}
	b = binary.AppendUvarint(b, uint64(len(m.levels)))
	for n, lv := range m.levels {
		b = binary.AppendUvarint(b, uint64(len(lv.ids)))
		if n+1 < len(m.levels) {
			for i := range lv.ids {
				b = binary.AppendUvarint(b, uint64(lv.kids[i+1]-lv.kids[i]))
			}
		}
		parent := 0
		before := uint16(0)
		for i, id := range lv.ids {
			if n > 0 {
				for up := m.levels[n-1].kids; up[parent+1] <= uint32(i); parent++ {
					before = 0
				}
			}
			b = binary.AppendUvarint(b, uint64(id-before))
			before = id
		}
		b = append(b, lv.probs...)
		b = append(b, lv.backs...)
	}
	if _, err := z.Write(b); err != nil {
		return err
	}
	return z.Close()
}

var errDamaged = errors.New("g2p: the model is damaged")

// Read reads a model that [Model.Write] wrote.
func Read(data []byte) (*Model, error) {
	if !bytes.HasPrefix(data, []byte(magic)) {
		return nil, errDamaged
	}
	b, err := io.ReadAll(flate.NewReader(bytes.NewReader(data[len(magic):])))
	if err != nil {
		return nil, fmt.Errorf("unpacking the model: %w", err)
	}
	r := &reader{b: b}
	m := &Model{}
	for n := r.number(1 << 15); n > 0 && !r.bad; n-- {
		letters, phones, _ := strings.Cut(r.line(), "\t")
		m.chunks = append(m.chunks, chunk{letters, phones})
	}
	for _, book := range []*[]float32{&m.probs, &m.backs} {
		for n := r.number(256); n > 0 && !r.bad; n-- {
			*book = append(*book, math.Float32frombits(r.word()))
		}
	}
	levels := r.number(32)
	for n := range levels {
		m.levels = append(m.levels, r.level(n, levels, m))
	}
	if r.bad || len(m.levels) < 2 || len(m.levels[0].ids) != len(m.chunks)+first {
		return nil, errDamaged
	}
	m.index()
	return m, nil
}

type reader struct {
	b   []byte
	bad bool
}

func (r *reader) number(most int) int {
	x, n := binary.Uvarint(r.b)
	if n <= 0 || x > uint64(most) {
		r.bad = true
		return 0
	}
	r.b = r.b[n:]
	return int(x)
}

func (r *reader) line() string {
	s, rest, ok := bytes.Cut(r.b, []byte{'\n'})
	if !ok {
		r.bad = true
	}
	r.b = rest
	return string(s)
}

func (r *reader) take(n int) []byte {
	if n > len(r.b) {
		r.bad = true
		return make([]byte, n)
	}
	out := r.b[:n:n]
	r.b = r.b[n:]
	return out
}

func (r *reader) word() uint32 { return binary.LittleEndian.Uint32(r.take(4)) }

func (r *reader) level(n, levels int, m *Model) level {
	var lv level
	rows := r.number(len(r.b))
	lv.ids = make([]uint16, rows)
	lv.kids = make([]uint32, rows+1)
	if n+1 < levels {
		for i := range rows {
			lv.kids[i+1] = lv.kids[i] + uint32(r.number(1<<16))
		}
	}
	parent := 0
	before := 0
	for i := range rows {
		if n > 0 {
			up := m.levels[n-1].kids
			for parent+1 < len(up) && up[parent+1] <= uint32(i) {
				parent++
				before = 0
			}
		}
		before += r.number(1 << 16)
		lv.ids[i] = uint16(before)
	}
	lv.probs = r.take(rows)
	for _, p := range lv.probs {
		r.bad = r.bad || int(p) >= len(m.probs)
	}
	if n+1 < levels {
		lv.backs = r.take(rows)
		for _, p := range lv.backs {
			r.bad = r.bad || int(p) >= len(m.backs)
		}
	}
	if n > 0 {
		up := m.levels[n-1].kids
		r.bad = r.bad || up[len(up)-1] != uint32(rows)
	}
	return lv
}

// With returns the model with a net beside it.
func (m *Model) With(net *Net) *Model {
	both := *m
	both.net = net
	both.label = make([]int, len(m.chunks)+first)
	for i := range both.label {
		both.label[i] = -1
		if i >= first {
			both.label[i] = slices.Index(net.labels, m.chunks[i-first].phones)
		}
	}
	return &both
}

func compareGuess(a, b Guess) int {
	return cmp.Or(cmp.Compare(b.Score, a.Score), strings.Compare(strings.Join(a.Phones, " "), strings.Join(b.Phones, " ")))
}
