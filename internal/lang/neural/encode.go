package neural

// scratch is the memory of one worker.
type scratch struct {
	x, y, out   []float32 // [rows × dim]
	scale       []float32 // of each row's integers
	a           []int16
	c           []int32
	rows        []float64 // for the product without vector instructions
	att         attention
	scores      []float32
	pack, pack2 []int16
	pc          []int32
	heads       []int32
	t16, ah16   []int16
	tScale      []float32
	ahScale     []float32
	wh          []float32
	span        spanScratch
}

func grow[T any](s *[]T, n int) []T {
	if cap(*s) < n {
		*s = make([]T, n+n/4)
	}
	*s = (*s)[:n]
	return *s
}

// part is one sentence, or a stretch of a long one, in a batch.
type part struct {
	token int // its first token in the Doc
	n     int // tokens
	row   int // where its mark stands in the batch; its words follow
}

// encode runs the network over a batch whose word vectors stand in s.x and
// leaves the integer outputs of all heads in s.heads and the rows' scales in s.scale.
func (m *model) encode(s *scratch, parts []part, rows int) {
	d := m.Dim
	x := s.x[:rows*d]
	grow(&s.y, rows*d)
	grow(&s.out, rows*d)
	grow(&s.scale, rows)
	grow(&s.rows, rowGroup*4*d) // the widest layer has 4·d inputs
	for _, l := range m.layers {
		m.convolve(s, parts, l.c1, rows)
		c := grow(&s.c, rows*l.qkv.pad)
		l.qkv.product(c, s.a, rows, s.rows)
		for _, p := range parts {
			m.attend(s, p, l.qkv)
		}
		for r := range rows {
			s.scale[r] = quantise(s.a[r*d:], s.out[r*d:(r+1)*d], actMax, m.vector)
		}
		c = grow(&s.c, rows*l.o.pad)
		l.o.product(c, s.a, rows, s.rows)
		addScaled(x, c, s.scale, l.o, rows)

		m.convolve(s, parts, l.c2, rows)
		c = grow(&s.c, rows*l.f1.pad)
		l.f1.product(c, s.a, rows, s.rows)
		square(s, c, l.f1, rows, m.vector)
		c = grow(&s.c, rows*l.f2.pad)
		l.f2.product(c, s.a, rows, s.rows)
		addScaled(x, c, s.scale, l.f2, rows)
	}
	a := grow(&s.a, rows*d)
	for r := range rows {
		h, y := x[r*d:(r+1)*d], s.y[r*d:(r+1)*d]
		f := normFactor(h)
		for i := range h {
			y[i] = float32(h[i]*f) * m.gl[i]
		}
		s.scale[r] = quantise(a[r*d:], y, actMax, m.vector)
	}
	m.heads.product(grow(&s.heads, rows*m.heads.pad), a, rows, s.rows)
}

// convolve normalises each word, mixes it with its neighbours in the sentence
// and leaves the result as integers in s.a.
func (m *model) convolve(s *scratch, parts []part, taps []float32, rows int) {
	d := m.Dim
	for r := range rows {
		x, y := s.x[r*d:(r+1)*d], s.y[r*d:(r+1)*d]
		f := normFactor(x)
		for i := range x {
			y[i] = float32(x[i] * f)
		}
	}
	a := grow(&s.a, rows*d)
	prev, here, next := taps[:d], taps[d:2*d], taps[2*d:3*d]
	z := s.out[:d]
	for _, p := range parts {
		for r := p.row; r <= p.row+p.n; r++ {
			y := s.y[r*d : (r+1)*d]
			for i := range z {
				z[i] = float32(y[i] * here[i])
			}
			if r > p.row {
				y := s.y[(r-1)*d : r*d]
				for i := range z {
					z[i] += float32(y[i] * prev[i])
				}
			}
			if r < p.row+p.n {
				y := s.y[(r+1)*d : (r+2)*d]
				for i := range z {
					z[i] += float32(y[i] * next[i])
				}
			}
			s.scale[r] = quantise(a[r*d:], z, actMax, m.vector)
		}
	}
}

func addScaled(x []float32, c []int32, scale []float32, w *dense, rows int) {
	d := w.out
	for r := range rows {
		row, cr, ws := x[r*d:(r+1)*d], c[r*w.pad:r*w.pad+d], w.scale[:d]
		f := scale[r]
		for i := range row {
			row[i] += float32(float32(cr[i]) * float32(ws[i]*f))
		}
	}
}

// square turns the feed-forward's inner products into the integers of its
// squared ReLU, in s.a.
func square(s *scratch, c []int32, w *dense, rows int, vector bool) {
	n := w.out
	a := grow(&s.a, rows*n)
	t := grow(&s.scores, n)
	for r := range rows {
		cr, ws := c[r*w.pad:r*w.pad+n], w.scale[:n]
		f := s.scale[r]
		big := float32(1e-12)
		done := 0 // by the vector code
		if vector {
			if done = n &^ 15; done > 0 {
				big = max(big, squareRow(&t[0], &cr[0], &ws[0], done, f))
			}
		}
		for i := done; i < n; i++ {
			v := cr[i]
			if v <= 0 {
				t[i] = 0
				continue
			}
			u := float32(float32(v) * float32(ws[i]*f))
			u *= u
			t[i] = u
			if u > big {
				big = u
			}
		}
		k := float32(actMax) / big
		ar := a[r*n : (r+1)*n]
		if done > 0 {
			scaleToInts(&ar[0], &t[0], done, k)
		}
		for i := done; i < n; i++ {
			ar[i] = int16(toInt(float32(t[i] * k)))
		}
		s.scale[r] = big / actMax
	}
}
