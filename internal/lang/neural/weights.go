package neural

import (
	_ "embed"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"unsafe"
)

// reader.bin: "BKREAD01", the length of the header (8 bytes, little-endian),
// the header (JSON: sizes, label names, vocabulary, and where each tensor
// stands), the tensors. Matrices are rows of signed bytes (NAME), a scale for
// each row (NAME.scale) and, where there is one, a bias (NAME.bias).
//
//go:embed reader.bin
var weights string

type header struct {
	Dim, Layers int
	Vocabulary  []string
	UPOS        []string `json:"upos"`
	XPOS        []string `json:"xpos"`
	Feats       []string
	Deprel      []string
	Types       []string
	Names       []string
	Tensors     []struct {
		Name, Type string
		Shape      []int
		At         int
	}
}

type layer struct {
	c1, c2         []float32 // three taps each, with the norm's gain
	qkv, o, f1, f2 *dense
}

type model struct {
	header
	vocabulary map[string]int // word to row
	emb        []int8
	embScale   []float32
	g0, gl     []float32
	layers     []layer
	heads      *dense // all linear heads in one layer
	at         map[string]int
	arc, rel   *dense
	wh         []float32
	span       spanTable
	cos, sin   []float32 // of each position, half a head each
	vector     bool
	senses     senseTable
	slot       *slot
}

type tensors struct {
	data  string
	index map[string]int
	h     *header
}

func (t tensors) raw(name string) ([]byte, []int) {
	i, ok := t.index[name]
	if !ok {
		panic("neural: no tensor " + name)
	}
	x := t.h.Tensors[i]
	n := 1
	for _, s := range x.Shape {
		n *= s
	}
	if x.Type == "f32" || x.Type == "u32" {
		n *= 4
	}
	return unsafe.Slice(unsafe.StringData(t.data), len(t.data))[x.At : x.At+n], x.Shape
}

func (t tensors) float32s(name string) []float32 {
	b, _ := t.raw(name)
	out := make([]float32, len(b)/4)
	for i := range out {
		out[i] = math.Float32frombits(binary.LittleEndian.Uint32(b[4*i:]))
	}
	return out
}

func (t tensors) uint32s(name string) []uint32 {
	b, _ := t.raw(name)
	out := make([]uint32, len(b)/4)
	for i := range out {
		out[i] = binary.LittleEndian.Uint32(b[4*i:])
	}
	return out
}

// int8s returns the bytes where they lie, not to be written to.
func (t tensors) int8s(name string) ([]int8, []int) {
	b, shape := t.raw(name)
	return unsafe.Slice((*int8)(unsafe.Pointer(unsafe.SliceData(b))), len(b)), shape
}

func (t tensors) dense(vector bool, names ...string) *dense {
	var w []int8
	var scale, bias []float32
	in := 0
	for _, n := range names {
		x, shape := t.int8s(n)
		w = append(w, x...)
		scale = append(scale, t.float32s(n+".scale")...)
		if _, ok := t.index[n+".bias"]; ok {
			bias = append(bias, t.float32s(n+".bias")...)
		}
		in = shape[1]
	}
	return newDense(w, len(scale), in, scale, bias, vector)
}

const headSize = 32

// longest is the number of places that have a position.
const longest = 512

func load(data string, vector bool) (*model, error) {
	if len(data) < 16 || data[:8] != "BKREAD01" {
		return nil, fmt.Errorf("reading weights: not a weights file")
	}
	n := int(binary.LittleEndian.Uint64([]byte(data[8:16])))
	if n < 2 || 16+n > len(data) {
		return nil, fmt.Errorf("reading weights: the file is cut short")
	}
	m := &model{vector: vector}
	if err := json.Unmarshal([]byte(data[16:16+n]), &m.header); err != nil {
		return nil, fmt.Errorf("reading weights: %w", err)
	}
	t := tensors{data: data[16+n:], index: map[string]int{}, h: &m.header}
	for i, x := range m.Tensors {
		t.index[x.Name] = i
	}
	m.vocabulary = make(map[string]int, len(m.Vocabulary))
	for i, w := range m.Vocabulary {
		m.vocabulary[w] = 4 + i // after padding and three marks
	}
	m.emb, _ = t.int8s("emb")
	m.embScale = t.float32s("emb.scale")
	m.g0, m.gl, m.wh = t.float32s("g0"), t.float32s("gl"), t.float32s("wh")
	for i := range m.header.Layers {
		name := func(s string) string { return fmt.Sprintf("%d.%s", i, s) }
		m.layers = append(m.layers, layer{
			c1: t.float32s(name("c1")), c2: t.float32s(name("c2")),
			qkv: t.dense(vector, name("qkv")), o: t.dense(vector, name("o")),
			f1: t.dense(vector, name("f1")), f2: t.dense(vector, name("f2")),
		})
	}
	heads := []string{"u", "x", "f", "s", "sp", "nt", "ad", "ah", "rd", "rh", "q"}
	m.heads = t.dense(vector, heads...)
	m.at = map[string]int{}
	at := 0
	for _, h := range heads {
		m.at[h] = at
		_, shape := t.int8s(h)
		at += shape[0]
	}
	m.arc, m.rel = t.dense(vector, "W"), t.dense(vector, "r")
	m.span = spanTable{starts: t.dense(vector, "span.s"), ends: t.dense(vector, "span.e"),
		length: t.float32s("span.length"), outer: t.float32s("span.outer"), missing: t.float32s("span.missing")}
	m.cos, m.sin = make([]float32, longest*headSize/2), make([]float32, longest*headSize/2)
	for p := range longest {
		for i := range headSize / 2 {
			a := float64(float32(p) * float32(math.Pow(10000, -float64(i)/(headSize/2))))
			m.cos[p*headSize/2+i], m.sin[p*headSize/2+i] = float32(math.Cos(a)), float32(math.Sin(a))
		}
	}
	m.senses.load(t)
	var err error
	m.slot, err = loadSlot(slotWeights, data, m.Dim)
	return m, err
}
