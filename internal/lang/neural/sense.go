package neural

import (
	"hash/crc32"
	"math"
	"sort"
)

// senseTable scores WordNet senses: a vector for each synset (its own row plus
// those of the synsets above it) against the word in context, and a prior by
// the sense's rank and its count in WordNet.
type senseTable struct {
	vectors []int8
	scale   []float32
	parent  []uint32
	pos     []uint8   // of each row: n v a r
	lex     []float32 // a vector for each lexicographer file
	rank    []float32 // [4 parts of speech × 16]
	count   []float32
	dim     int

	hash                  []uint32 // of the sense keys, sorted
	syn                   []uint32
	rankOf, countOf, file []uint8
}

func (s *senseTable) load(t tensors) {
	var shape []int
	s.vectors, shape = t.int8s("E")
	s.dim = shape[1]
	s.scale, s.parent = t.float32s("E.scale"), t.uint32s("parent")
	s.pos, _ = t.raw("rowpos")
	s.lex, s.rank, s.count = t.float32s("lx"), t.float32s("rank"), t.float32s("count")
	s.hash, s.syn = t.uint32s("sense.hash"), t.uint32s("sense.syn")
	s.rankOf, _ = t.raw("sense.rank")
	s.countOf, _ = t.raw("sense.count")
	s.file, _ = t.raw("sense.lex")
}

// find returns the entry of a sense key such as "bank%1:17:01::", -1 when the
// word has but one sense or the key is not known.
func (s *senseTable) find(key string) int {
	h := crc32.ChecksumIEEE([]byte(key))
	i := sort.Search(len(s.hash), func(i int) bool { return s.hash[i] >= h })
	if i < len(s.hash) && s.hash[i] == h {
		return i
	}
	return -1
}

const chainLength = 12

func (s *senseTable) score(q []float32, entry int) float64 {
	file := s.lex[int(s.file[entry])*s.dim:][:s.dim]
	dot := float32(0)
	for i, v := range q {
		dot += float32(v * file[i])
	}
	row := s.syn[entry]
	pos := s.pos[row]
	steps := chainLength
	if pos >= 2 { // adjectives and adverbs: one step, to the head or the word they come from
		steps = 2
	}
	for ; steps > 0 && row != 0; steps-- {
		v, sum := s.vectors[int(row)*s.dim:][:s.dim], float32(0)
		for i, x := range q {
			sum += float32(x * float32(v[i]))
		}
		dot += float32(sum * s.scale[row])
		row = s.parent[row]
	}
	prior := s.rank[int(pos)*16+int(s.rankOf[entry])] + float32(s.count[pos]*(float32(s.countOf[entry])/32))
	return float64(dot)/4 + float64(prior)
}

// Senses returns how likely each of the candidate WordNet sense keys is for a
// word in its sentence; what it returns sums to 1. Keys that the table does not
// hold (of WordNet versions other than 3.1, mostly) get 0 beside others that it
// does; where it holds none of them all are equally likely. For a word of
// several tokens ask with its first token if it is a verb, with its last if not.
func (r *Reading) Senses(token int, keys []string) []float64 {
	out := make([]float64, len(keys))
	if len(keys) == 0 {
		return out
	}
	q := r.query(token)
	big, known := math.Inf(-1), false
	for i, k := range keys {
		out[i] = math.Inf(-1)
		if e := r.m.senses.find(k); e >= 0 {
			out[i] = r.m.senses.score(q, e)
			known = true
			big = math.Max(big, out[i])
		}
	}
	sum := 0.0
	for i, v := range out {
		if known {
			out[i] = math.Exp(v - big)
		} else {
			out[i] = 1
		}
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}
