package g2p

import (
	"bytes"
	"encoding/binary"
	"math"
	"strings"
)

// symbols are the letters that the net knows, by number.
const symbols = "'abcdefghijklmnopqrstuvwxyz"

// Net looks at a whole word at once and says for each of its letters which
// phones are likely: two layers of LSTM in both directions. It is immutable and
// safe for use by many goroutines.
type Net struct {
	labels []string // phones of one letter, joined by spaces
	hidden int
	emb    matrix
	layers [2][2]cell // by layer, then forward and backward
	out    matrix
	bias   []float32
}

type matrix struct {
	rows, cols int
	w          []float32
}

type cell struct {
	in, back matrix // gates from the input and from the state, in the order i, f, g, o
	bias     []float32
}

// ReadNet reads what train/g2p.py exports:
//
//	"G2N1"
//	size of a letter, size of a state, number of labels: 2 bytes each
//	the labels, each with a line feed, and another line feed
//	the letters; for each layer, forward and backward: input and state matrix
//	and bias; the output matrix and bias
//
// A matrix is a float32 scale for each row and then a signed byte for each
// weight. All numbers are little-endian.
func ReadNet(data []byte) (*Net, error) {
	if !bytes.HasPrefix(data, []byte("G2N1")) || len(data) < 10 {
		return nil, errDamaged
	}
	r := &reader{b: data[10:]}
	size := func(i int) int { return int(binary.LittleEndian.Uint16(data[i:])) }
	emb, hidden, labels := size(4), size(6), size(8)
	n := &Net{hidden: hidden}
	for range labels {
		n.labels = append(n.labels, r.line())
	}
	if r.line() != "" {
		return nil, errDamaged
	}
	n.emb = r.matrix(len(symbols), emb)
	width := emb
	for l := range n.layers {
		for d := range n.layers[l] {
			n.layers[l][d] = cell{r.matrix(4*hidden, width), r.matrix(4*hidden, hidden), r.floats(4 * hidden)}
		}
		width = 2 * hidden
	}
	n.out = r.matrix(labels, width)
	n.bias = r.floats(labels)
	if r.bad || len(r.b) != 0 {
		return nil, errDamaged
	}
	return n, nil
}

func (r *reader) floats(n int) []float32 {
	out := make([]float32, n)
	b := r.take(4 * n)
	for i := range out {
		out[i] = math.Float32frombits(binary.LittleEndian.Uint32(b[4*i:]))
	}
	return out
}

func (r *reader) matrix(rows, cols int) matrix {
	scale := r.floats(rows)
	b := r.take(rows * cols)
	m := matrix{rows, cols, make([]float32, rows*cols)}
	for i := range m.w {
		m.w[i] = float32(int8(b[i])) * scale[i/cols]
	}
	return m
}

// times adds m·x to out.
func (m *matrix) times(x, out []float32) {
	for i := range out {
		row := m.w[i*m.cols : (i+1)*m.cols]
		row = row[:len(x)]
		var a, b, c, d float32
		k := 0
		for ; k+4 <= len(row); k += 4 {
			a += row[k] * x[k]
			b += row[k+1] * x[k+1]
			c += row[k+2] * x[k+2]
			d += row[k+3] * x[k+3]
		}
		for ; k < len(row); k++ {
			a += row[k] * x[k]
		}
		out[i] += a + b + c + d
	}
}

// Letters gives the log probability of each label at each letter of the word.
// Every letter must be one of the 27 that the net knows.
func (n *Net) Letters(word string) [][]float32 {
	xs := make([][]float32, len(word))
	for i := range xs {
		k := strings.IndexByte(symbols, word[i])
		xs[i] = n.emb.w[k*n.emb.cols : (k+1)*n.emb.cols]
	}
	for l := range n.layers {
		ys := make([][]float32, len(xs))
		for i := range ys {
			ys[i] = make([]float32, 2*n.hidden)
		}
		for d := range 2 {
			n.pass(&n.layers[l][d], xs, ys, d)
		}
		xs = ys
	}
	out := make([][]float32, len(xs))
	for i, x := range xs {
		z := append([]float32(nil), n.bias...)
		n.out.times(x, z)
		top := z[0]
		for _, v := range z {
			top = max(top, v)
		}
		sum := 0.0
		for _, v := range z {
			sum += math.Exp(float64(v - top))
		}
		for k := range z {
			z[k] -= top + float32(math.Log(sum))
		}
		out[i] = z
	}
	return out
}

// pass runs one direction of a layer and writes its half of the states.
func (n *Net) pass(c *cell, xs, ys [][]float32, backward int) {
	h := make([]float32, n.hidden)
	state := make([]float32, n.hidden)
	gates := make([]float32, 4*n.hidden)
	for step := range xs {
		t := step
		if backward == 1 {
			t = len(xs) - 1 - step
		}
		copy(gates, c.bias)
		c.in.times(xs[t], gates)
		c.back.times(h, gates)
		for k := range h {
			i, f, g, o := gates[k], gates[n.hidden+k], gates[2*n.hidden+k], gates[3*n.hidden+k]
			state[k] = sigmoid(f)*state[k] + sigmoid(i)*tanh(g)
			h[k] = sigmoid(o) * tanh(state[k])
		}
		copy(ys[t][backward*n.hidden:], h)
	}
}

func sigmoid(x float32) float32 { return float32(1 / (1 + math.Exp(-float64(x)))) }

func tanh(x float32) float32 { return float32(math.Tanh(float64(x))) }
