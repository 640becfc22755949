package neural

import "math"

// Largest integers of queries and keys, values, and attention weights: their
// sums of products fit 32 bits for sentences of up to [longest] words.
const (
	keyMax    = 2047
	valueMax  = 8191
	weightMax = 16383
)

type attention struct {
	q, k, v        []int16 // [places × head]
	qScale, kScale []float32
	kPack, vPack   []int16
	scores         []int32
	weights        []int16
	out            []int32
	row            []float32
}

// attend mixes each word of a sentence with the words it looks at; the result
// stands in s.out.
func (m *model) attend(s *scratch, p part, w *dense) {
	d, n, t := m.Dim, p.n+1, &s.att
	even := (n + 1) &^ 1
	pad := (n + panel - 1) / panel * panel
	grow(&t.q, n*headSize)
	grow(&t.k, n*headSize)
	grow(&t.v, n*headSize)
	grow(&t.qScale, n)
	grow(&t.kScale, n)
	grow(&t.row, max(n, headSize)*headSize)
	scores, weights, out := grow(&t.scores, n*pad), grow(&t.weights, n*even), grow(&t.out, n*headSize)
	const root = 0.17677669 // 1/√32
	for h := 0; h < d; h += headSize {
		for r := range n {
			f := s.scale[p.row+r]
			c := s.c[(p.row+r)*w.pad:]
			t.qScale[r] = m.turn(t.q[r*headSize:], c[h:], w.scale[h:], f, r) * root
			t.kScale[r] = m.turn(t.k[r*headSize:], c[d+h:], w.scale[d+h:], f, r)
		}
		// values share one scale, so that they can be summed as integers
		val := t.row[:n*headSize]
		for r := range n {
			f := s.scale[p.row+r]
			c, ws := s.c[(p.row+r)*w.pad+2*d+h:][:headSize], w.scale[2*d+h:][:headSize]
			for i, v := range c {
				val[r*headSize+i] = float32(float32(v) * float32(ws[i]*f))
			}
		}
		vScale := quantise(t.v, val, valueMax, m.vector)

		packRows(grow(&t.kPack, pad*headSize), t.k, n)
		product16(scores, pad, t.q, headSize, n, headSize, t.kPack, m.vector)
		for r := range n {
			soften(weights[r*even:(r+1)*even], scores[r*pad:r*pad+n], t.kScale, t.qScale[r], t.row[:n])
		}
		packColumns(grow(&t.vPack, headSize*even), t.v, n)
		product16(out, headSize, weights, even, n, even, t.vPack, m.vector)
		for r := range n {
			sum := int32(0)
			for _, v := range weights[r*even : r*even+n] {
				sum += int32(v)
			}
			f := vScale / float32(sum)
			dst := s.out[(p.row+r)*d+h:][:headSize]
			for i, v := range out[r*headSize : (r+1)*headSize] {
				dst[i] = float32(float32(v) * f)
			}
		}
	}
}

// turn rotates one head's numbers by their place in the sentence and writes
// them as integers; it returns their scale.
func (m *model) turn(dst []int16, c []int32, ws []float32, f float32, place int) float32 {
	const half = headSize / 2
	var z [headSize]float32
	cos, sin := m.cos[place*half:][:half], m.sin[place*half:][:half]
	c, ws = c[:headSize], ws[:headSize]
	for i := range half {
		a := float32(float32(c[i]) * float32(ws[i]*f))
		b := float32(float32(c[half+i]) * float32(ws[half+i]*f))
		z[i] = float32(a*cos[i]) - float32(b*sin[i])
		z[half+i] = float32(b*cos[i]) + float32(a*sin[i])
	}
	return quantise(dst, z[:], keyMax, m.vector)
}

// soften writes a row's softmax as integers that sum to about weightMax.
func soften(dst []int16, scores []int32, kScale []float32, q float32, row []float32) {
	big := float32(math.Inf(-1))
	for i, v := range scores {
		x := float32(float32(v) * float32(kScale[i]*q))
		row[i] = x
		if x > big {
			big = x
		}
	}
	sum := float32(0)
	for i, x := range row {
		e := exp(x - big)
		row[i] = e
		sum += e
	}
	f := weightMax / sum
	for i, e := range row {
		dst[i] = int16(toInt(float32(e * f)))
	}
	for i := len(row); i < len(dst); i++ {
		dst[i] = 0
	}
}

// packRows lays n rows of headSize numbers out for product16.
func packRows(dst, src []int16, n int) {
	p := 0
	for r0 := 0; r0 < n; r0 += panel {
		for i := 0; i < headSize; i += 2 {
			for r := r0; r < r0+panel; r++ {
				if r < n {
					dst[p], dst[p+1] = src[r*headSize+i], src[r*headSize+i+1]
				} else {
					dst[p], dst[p+1] = 0, 0
				}
				p += 2
			}
		}
	}
}

// packColumns lays the headSize columns of n rows out for product16.
func packColumns(dst, src []int16, n int) {
	p := 0
	for c0 := 0; c0 < headSize; c0 += panel {
		for r := 0; r < n; r += 2 {
			a := src[r*headSize+c0:][:panel]
			if r+1 < n {
				b := src[(r+1)*headSize+c0:][:panel]
				for j := range panel {
					dst[p], dst[p+1] = a[j], b[j]
					p += 2
				}
				continue
			}
			for j := range panel {
				dst[p], dst[p+1] = a[j], 0
				p += 2
			}
		}
	}
}
