package neural

import (
	"slices"

	"bookstead/internal/lang"
)

// A mention is a span of words that names or describes something. Every span of
// up to spanLongest words of a sentence gets a score for each kind of thing: how
// its first and last word and its head go together, what each of them is like,
// how long it is, and whether the tree holds it together. What scores more than
// 0, the score of no mention, is read, the likeliest first, and nothing that lies
// across what was read before. train/names.py learns it.
const (
	spanLongest = 32
	spanDim     = 64
)

type spanTable struct {
	starts, ends           *dense    // a first word's needs of a last word and of a head; a last word's of a head
	length, outer, missing []float32 // [· × kinds]
}

type spanScratch struct {
	first, last, head          []int16 // [rows × spanDim]
	firstBy, lastBy, headBy    []float32
	toLast, toHead, lastToHead []int16
	scales                     []float32 // of the three, row by row
	kind                       []float32 // [rows × 3·kinds]
	a, b, c                    []int32   // [words × padded words]: first with last, first with head, last with head
	depth, deps, left, next    []int
	found                      []found
}

type found struct {
	Name
	order int
}

// mentions reads the names of a batch whose trees are known.
func (m *model) mentions(s *scratch, d *lang.Doc, parts []part, rows int) []Name {
	t := &s.span
	kinds := len(m.header.Names)
	grow(&t.first, rows*spanDim)
	grow(&t.last, rows*spanDim)
	grow(&t.head, rows*spanDim)
	grow(&t.firstBy, rows)
	grow(&t.lastBy, rows)
	grow(&t.headBy, rows)
	grow(&t.kind, rows*3*kinds)
	v := grow(&s.scores, 3*spanDim)
	for r := range rows {
		row := s.heads[r*m.heads.pad:]
		m.values(v, row, s.scale[r], "sp")
		relu(v)
		t.firstBy[r] = quantise(t.first[r*spanDim:], v[:spanDim], actMax, m.vector)
		t.lastBy[r] = quantise(t.last[r*spanDim:], v[spanDim:2*spanDim], actMax, m.vector)
		t.headBy[r] = quantise(t.head[r*spanDim:], v[2*spanDim:], actMax, m.vector)
		m.values(t.kind[r*3*kinds:(r+1)*3*kinds], row, s.scale[r], "nt")
	}
	grow(&t.toLast, rows*spanDim)
	grow(&t.toHead, rows*spanDim)
	grow(&t.lastToHead, rows*spanDim)
	grow(&t.scales, 3*rows)
	v = v[:spanDim]
	turn := func(dst []int16, w *dense, c []int32, at, r int, by float32) float32 {
		for i := range v {
			v[i] = float32(float32(c[r*w.pad+at+i]) * float32(w.scale[at+i]*by))
		}
		return quantise(dst[r*spanDim:], v, keyMax, m.vector)
	}
	c := grow(&s.c, rows*m.span.starts.pad)
	m.span.starts.product(c, t.first, rows, s.rows)
	for r := range rows {
		t.scales[3*r] = turn(t.toLast, m.span.starts, c, 0, r, t.firstBy[r])
		t.scales[3*r+1] = turn(t.toHead, m.span.starts, c, spanDim, r, t.firstBy[r])
	}
	c = grow(&s.c, rows*m.span.ends.pad)
	m.span.ends.product(c, t.last, rows, s.rows)
	for r := range rows {
		t.scales[3*r+2] = turn(t.lastToHead, m.span.ends, c, 0, r, t.lastBy[r])
	}
	var out []Name
	for _, p := range parts {
		out = m.spans(s, d, p, out)
	}
	return out
}

// spans appends the names of one part.
func (m *model) spans(s *scratch, d *lang.Doc, p part, out []Name) []Name {
	t := &s.span
	n, row0, kinds := p.n, p.row+1, len(m.header.Names)
	pad := (n + panel - 1) / panel * panel
	s.pack = pack16(s.pack, n, spanDim, func(r, i int) int16 { return t.last[(row0+r)*spanDim+i] })
	s.pack2 = pack16(s.pack2, n, spanDim, func(r, i int) int16 { return t.head[(row0+r)*spanDim+i] })
	product16(grow(&t.a, n*pad), pad, t.toLast[row0*spanDim:], spanDim, n, spanDim, s.pack, m.vector)
	product16(grow(&t.b, n*pad), pad, t.toHead[row0*spanDim:], spanDim, n, spanDim, s.pack2, m.vector)
	product16(grow(&t.c, n*pad), pad, t.lastToHead[row0*spanDim:], spanDim, n, spanDim, s.pack2, m.vector)

	// of each word: words above it, words that hang on it, and those of them before it, the nearest first
	depth, deps, left, next := grow(&t.depth, n), grow(&t.deps, n), grow(&t.left, n), grow(&t.next, n)
	for i := range n {
		depth[i], deps[i], left[i] = 0, 0, -1
	}
	headOf := func(i int) int {
		if h := d.Tokens[p.token+i].Head; h >= 0 {
			return h - p.token
		}
		return -1
	}
	for i := range n {
		h := headOf(i)
		if h >= 0 {
			deps[h]++
		}
		if h > i {
			next[i], left[h] = left[h], i
		}
		for ; h >= 0; h = headOf(h) {
			depth[i]++
		}
	}

	t.found = t.found[:0]
	var z [16]float32
	for i := range n {
		head, inside, held := i, 0, 0
		for j := i; j < min(n, i+spanLongest); j++ {
			if depth[j] < depth[head] {
				head = j
			}
			if h := headOf(j); h >= i && h < j {
				inside++
			}
			for k := left[j]; k >= i; k = next[k] {
				inside++
			}
			held += deps[j]
			l := j - i
			outer, missing := min(max(l+1-inside, 1), 4)-1, min(held-inside, 3)
			whole := float32(float32(t.a[i*pad+j])*float32(t.scales[3*(row0+i)]*t.lastBy[row0+j])) +
				float32(float32(t.b[i*pad+head])*float32(t.scales[3*(row0+i)+1]*t.headBy[row0+head])) +
				float32(float32(t.c[j*pad+head])*float32(t.scales[3*(row0+j)+2]*t.headBy[row0+head]))
			first, last, mid := t.kind[(row0+i)*3*kinds:], t.kind[(row0+j)*3*kinds+kinds:], t.kind[(row0+head)*3*kinds+2*kinds:]
			best := 0
			for k := range kinds {
				z[k] = whole + first[k] + last[k] + mid[k] + m.span.length[l*kinds+k] + m.span.outer[outer*kinds+k] + m.span.missing[missing*kinds+k]
				if z[k] > z[best] {
					best = k
				}
			}
			if z[best] <= 0 {
				continue
			}
			sum := exp(-z[best])
			for k := range kinds {
				sum += exp(z[k] - z[best])
			}
			t.found = append(t.found, found{Name{p.token + i, p.token + j + 1, m.header.Names[best], float64(1 / sum)}, len(t.found)})
		}
	}
	slices.SortFunc(t.found, func(a, b found) int {
		switch {
		case a.Confidence > b.Confidence:
			return -1
		case a.Confidence < b.Confidence:
			return 1
		}
		return a.order - b.order
	})
	first := len(out)
next:
	for _, f := range t.found {
		for _, k := range out[first:] {
			if f.First < k.First && k.First < f.Last && f.Last < k.Last || k.First < f.First && f.First < k.Last && k.Last < f.Last {
				continue next
			}
		}
		out = append(out, f.Name)
	}
	slices.SortFunc(out[first:], func(a, b Name) int {
		if a.First != b.First {
			return a.First - b.First
		}
		return b.Last - a.Last
	})
	return out
}
