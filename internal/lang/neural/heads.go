package neural

import (
	"sort"

	"bookstead/internal/lang"
)

// read runs the network over one batch and writes what it found.
func (m *model) read(s *scratch, d *lang.Doc, parts []part, rows int, vectors []float32, ids []int32, out *Reading) []Name {
	dim := m.Dim
	x := grow(&s.x, rows*dim)
	for _, p := range parts {
		copy(x[p.row*dim:(p.row+1)*dim], vectors)
		for i, id := range ids[p.token : p.token+p.n] {
			copy(x[(p.row+1+i)*dim:(p.row+2+i)*dim], vectors[int(id)*dim:])
		}
	}
	m.encode(s, parts, rows)

	for _, p := range parts {
		for i := range p.n {
			t := &d.Tokens[p.token+i]
			row, scale := s.heads[(p.row+1+i)*m.heads.pad:], s.scale[p.row+1+i]
			t.UPOS = m.UPOS[m.best(row, scale, "u", len(m.UPOS))]
			t.XPOS = m.XPOS[m.best(row, scale, "x", len(m.XPOS))]
			t.Feats = m.Feats[m.best(row, scale, "f", len(m.Feats))]
			m.keepQuery(out, p.token+i, row, scale)
		}
		if k := sentenceOf(d, p.token); d.Sentences[k].First == p.token {
			kind := m.best(s.heads[p.row*m.heads.pad:], s.scale[p.row], "s", len(m.Types))
			d.Sentences[k].Type = lang.SentenceType(m.Types[kind]) // settled at the end
		}
	}
	m.trees(s, d, parts, rows)
	return m.mentions(s, d, parts, rows)
}

func sentenceOf(d *lang.Doc, token int) int {
	return sort.Search(len(d.Sentences), func(i int) bool { return d.Sentences[i].First > token }) - 1
}

// best returns the label with the highest score of one head.
func (m *model) best(row []int32, scale float32, head string, n int) int {
	at := m.at[head]
	c, ws, bias := row[at:at+n], m.heads.scale[at:at+n], m.heads.bias[at:at+n]
	best, top := 0, float32(0)
	for i, v := range c {
		x := float32(float32(v)*float32(ws[i]*scale)) + bias[i]
		if i == 0 || x > top {
			best, top = i, x
		}
	}
	return best
}

// values writes n numbers of a head, from its at-th.
func (m *model) values(dst []float32, row []int32, scale float32, head string) {
	at := m.at[head]
	for i := range dst {
		dst[i] = float32(float32(row[at+i])*float32(m.heads.scale[at+i]*scale)) + m.heads.bias[at+i]
	}
}

func (m *model) keepQuery(out *Reading, token int, row []int32, scale float32) {
	n := m.senses.dim
	var buf [256]float32
	q := buf[:n]
	m.values(q, row, scale, "q")
	big := float32(1e-12)
	for _, v := range q {
		big = max(big, abs32(v))
	}
	f := 127 / big
	for i, v := range q {
		out.vector[token*n+i] = int8(toInt(float32(v * f)))
	}
	out.scale[token] = big / 127
}

// trees scores arcs, takes the best trees and labels their arcs.
func (m *model) trees(s *scratch, d *lang.Doc, parts []part, rows int) {
	n := m.arc.in
	width := len(m.wh)
	a := grow(&s.a, rows*n)
	scale := grow(&s.tScale, rows)
	ah, ahScale, wh := grow(&s.ah16, rows*width), grow(&s.ahScale, rows), grow(&s.wh, rows)
	v := grow(&s.scores, width)
	for r := range rows {
		row := s.heads[r*m.heads.pad:]
		m.values(v, row, s.scale[r], "ad")
		relu(v)
		scale[r] = quantise(a[r*n:], v, actMax, m.vector)
		m.values(v, row, s.scale[r], "ah")
		relu(v)
		ahScale[r] = quantise(ah[r*width:], v, keyMax, m.vector)
		sum := float32(0)
		for i, x := range v {
			sum += float32(x * m.wh[i])
		}
		wh[r] = sum
	}
	c := grow(&s.c, rows*m.arc.pad)
	m.arc.product(c, a, rows, s.rows)
	t := grow(&s.t16, rows*width)
	for r := range rows {
		for i := range v {
			v[i] = float32(float32(c[r*m.arc.pad+i]) * float32(m.arc.scale[i]*scale[r]))
		}
		scale[r] = quantise(t[r*width:], v, keyMax, m.vector)
	}
	heads := make([]int, 0, partWords+1)
	all := make([]int, rows) // head of each place, as a place of the batch
	for _, p := range parts {
		k := p.n + 1
		pad := (k + panel - 1) / panel * panel
		s.pack = pack16(s.pack, k, width, func(r, i int) int16 { return ah[(p.row+r)*width+i] })
		pc := grow(&s.pc, k*pad)
		product16(pc, pad, t[p.row*width:], width, k, width, s.pack, m.vector)
		arc := grow(&s.scores, max(k*k, width))
		for i := range k {
			for j := range k {
				arc[i*k+j] = float32(float32(pc[i*pad+j])*float32(scale[p.row+i]*ahScale[p.row+j])) + wh[p.row+j]
			}
		}
		heads = heads[:k]
		bestTree(arc, k, p.n, heads)
		for i := 1; i < k; i++ {
			all[p.row+i] = p.row + heads[i]
			tok := &d.Tokens[p.token+i-1]
			tok.Head = -1
			if heads[i] > 0 {
				tok.Head = p.token + heads[i] - 1
			}
		}
	}
	m.labels(s, d, parts, rows, all)
}

func relu(v []float32) {
	for i, x := range v {
		if x < 0 {
			v[i] = 0
		}
	}
}

// labels names the relation of each word to its head.
func (m *model) labels(s *scratch, d *lang.Doc, parts []part, rows int, heads []int) {
	n := m.rel.in / 2
	z := grow(&s.scores, 4*n)
	z, rd, rh := z[:2*n], z[2*n:3*n], z[3*n:]
	a, scale := grow(&s.a, rows*2*n), grow(&s.tScale, rows)
	for r := range rows {
		h := heads[r]
		m.values(rd, s.heads[r*m.heads.pad:], s.scale[r], "rd")
		m.values(rh, s.heads[h*m.heads.pad:], s.scale[h], "rh")
		for i := range n {
			z[i] = max(0, rd[i]+rh[i])
			z[n+i] = float32(rd[i] * rh[i])
		}
		scale[r] = quantise(a[r*2*n:], z, actMax, m.vector)
	}
	c := grow(&s.c, rows*m.rel.pad)
	m.rel.product(c, a, rows, s.rows)
	for _, p := range parts {
		for i := range p.n {
			r := p.row + 1 + i
			tok := &d.Tokens[p.token+i]
			best, top := -1, float32(0)
			for j, v := range c[r*m.rel.pad : r*m.rel.pad+len(m.Deprel)] {
				if (m.Deprel[j] == "root") != (tok.Head < 0) {
					continue // "root" is what hangs on no word, and only that
				}
				x := float32(float32(v)*float32(m.rel.scale[j]*scale[r])) + m.rel.bias[j]
				if best < 0 || x > top {
					best, top = j, x
				}
			}
			tok.Deprel = m.Deprel[best]
		}
	}
}
