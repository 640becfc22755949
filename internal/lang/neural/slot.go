package neural

import (
	_ "embed"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"math"
	"sync"

	"bookstead/internal/lang"
)

// slot.bin: "BKSLOT01"; the CRC-32 of the reader.bin that it was learned on,
// the size of a word's vector and of the hidden layer (4 bytes each,
// little-endian); then floats: the vector of a hidden word, the rows and biases
// of the two layers, the weight of frequency. Made by train/slot.py.
//
//go:embed slot.bin
var slotWeights string

// slot guesses what word could stand in a place: it turns the reader's vector of
// a hidden word into one that lies near those of the words that fit.
type slot struct {
	masked, a, aBias, b, bBias []float32
	frequency                  float64
	pool                       sync.Pool
}

// loadSlot returns nil when the head was learned on another reader than this:
// a test says so, and the program does without.
func loadSlot(data, reader string, dim int) (*slot, error) {
	const head = 20
	if len(data) < head || data[:8] != "BKSLOT01" {
		return nil, fmt.Errorf("reading the slot head: not its weights")
	}
	number := func(at int) int { return int(binary.LittleEndian.Uint32([]byte(data[at : at+4]))) }
	if uint32(number(8)) != crc32.ChecksumIEEE([]byte(reader)) || number(12) != dim {
		return nil, nil // it belongs to another reader.bin
	}
	hidden := number(16)
	if want := head + 4*(dim+2*dim*hidden+hidden+dim+1); len(data) != want {
		return nil, fmt.Errorf("reading the slot head: %d bytes, not %d", len(data), want)
	}
	at := head
	floats := func(n int) []float32 {
		out := make([]float32, n)
		for i := range out {
			out[i] = math.Float32frombits(uint32(number(at)))
			at += 4
		}
		return out
	}
	s := &slot{masked: floats(dim), a: floats(dim * hidden), aBias: floats(hidden), b: floats(dim * hidden), bBias: floats(dim)}
	s.frequency = float64(floats(1)[0])
	s.pool.New = func() any { return &scratch{} }
	return s, nil
}

// Word returns the vector of a form by itself, of length 1. Words that are used
// alike have vectors with a great product.
func (r *Reading) Word(form string) []float32 {
	v := r.m.vectorOf(nil, r.m.rows(normalise(form)))
	sum := float32(0)
	for _, x := range v {
		sum += float32(x * x)
	}
	f := float32(1 / math.Sqrt(float64(sum)+1e-12))
	for i := range v {
		v[i] = float32(v[i] * f)
	}
	return v
}

// around is how many words on each side of a hidden place are read.
const around = 20

// Fits reads the place of the tokens [first, last) of one sentence and returns how
// well a form would stand there, as a logarithm that leaves out how frequent the
// form is. Nil where the slot head is missing. Safe for concurrent use.
func (r *Reading) Fits(d *lang.Doc, first, last int) func(form string) float64 {
	m, sl := r.m, r.m.slot
	if sl == nil {
		return nil
	}
	s := sl.pool.Get().(*scratch)
	defer sl.pool.Put(s)
	sent := d.Sentences[sentenceOf(d, first)]
	from, to := max(sent.First, first-around), min(sent.Last, last+around)
	n := first - from + 1 + to - last
	dim := m.Dim
	x := grow(&s.x, (n+1)*dim)
	copy(x, m.vectorOf(nil, []int{rowStart}))
	row := 1
	place := func(v []float32) {
		copy(x[row*dim:(row+1)*dim], v)
		row++
	}
	for t := from; t < to; t++ {
		switch {
		case t == first:
			v := make([]float32, dim)
			f := normFactor(sl.masked)
			for i := range v {
				v[i] = float32(sl.masked[i]*f) * m.g0[i]
			}
			place(v)
		case t < first || t >= last:
			place(m.vectorOf(nil, m.rows(normalise(d.Tokens[t].Form))))
		}
	}
	m.encode(s, []part{{token: from, n: n, row: 0}}, n+1)
	h := s.y[(first-from+1)*dim : (first-from+2)*dim]
	q := sl.guess(h)
	return func(form string) float64 {
		sum := float32(0)
		for k, u := range m.vectorOf(nil, m.rows(normalise(form))) {
			sum += float32(q[k] * u)
		}
		return float64(sum) / math.Sqrt(float64(dim))
	}
}

func (s *slot) guess(h []float32) []float32 {
	mid := layerOf(h, s.a, s.aBias)
	for i, v := range mid {
		mid[i] = max(v, 0)
	}
	return layerOf(mid, s.b, s.bBias)
}

func layerOf(x, w, bias []float32) []float32 {
	out := make([]float32, len(bias))
	for o := range out {
		sum := bias[o]
		for i, v := range w[o*len(x) : (o+1)*len(x)] {
			sum += float32(v * x[i])
		}
		out[o] = sum
	}
	return out
}
