package neural

// Largest absolute value of an activation after rounding to integers: 11 bits,
// so that its products with 8-bit weights, summed over a layer, fit 32 bits.
const actMax = 1023

// dense is a linear layer of 8-bit weights: out[n] = scale[n]·Σ in·w[n] + bias[n].
// Exactly one of the two packings is filled.
type dense struct {
	in, out, pad int // pad: out rounded up to whole panels
	scale, bias  []float32
	// panels of 16 outputs, inputs in pairs, for vector instructions
	wide []int16
	// groups of four outputs, two to a number, for the plain product
	twos []float64
}

const panel = 16

// pack16 lays rows of k 16-bit numbers out for product16: panels of 16 rows,
// in each the first two numbers of all 16 rows, then the next two.
func pack16(dst []int16, rows, k int, at func(row, i int) int16) []int16 {
	pad := (rows + panel - 1) / panel * panel
	n := pad * k
	if cap(dst) < n {
		dst = make([]int16, n)
	}
	dst = dst[:n]
	p := 0
	for r0 := 0; r0 < pad; r0 += panel {
		for i := 0; i < k; i += 2 {
			for r := r0; r < r0+panel; r++ {
				if r < rows {
					dst[p], dst[p+1] = at(r, i), at(r, i+1)
				} else {
					dst[p], dst[p+1] = 0, 0
				}
				p += 2
			}
		}
	}
	return dst
}

// product16 fills c[m × pad(n)] with the integer products of m rows of a (k
// numbers each, k even, lda apart) and packed rows b.
func product16(c []int32, ldc int, a []int16, lda, m, k int, b []int16, vector bool) {
	panels := len(b) / (panel * k)
	if vector {
		product16Vector(c, ldc, a, lda, m, k, b, panels)
		return
	}
	for p := range panels {
		bp := b[p*panel*k : (p+1)*panel*k]
		for r := range m {
			ar := a[r*lda : r*lda+k]
			cr := (*[panel]int32)(c[r*ldc+p*panel:])
			*cr = [panel]int32{}
			for i := 0; i+1 < len(ar); i += 2 {
				x, y := int32(ar[i]), int32(ar[i+1])
				bb := (*[2 * panel]int16)(bp[i*panel:])
				for j := range panel {
					cr[j] += x*int32(bb[2*j]) + y*int32(bb[2*j+1])
				}
			}
		}
	}
}

// The product without vector instructions makes two products with one
// multiplication: a number of 64 bits holds the weights of two outputs as
// w0 + w1·2²⁷, and its sum of products with the activations holds both outputs'
// sums. All of it are whole numbers under 2⁵³, so nothing is rounded and it does
// not matter whether multiplication and addition are fused.
const (
	laneBits   = 27
	laneInputs = 384 // 384·127·actMax is under 2²⁶, half a lane
	rowGroup   = 4   // rows that share one passage over the weights
)

// packTwos lays weights out for productTwos: groups of four outputs, in each
// the first input's weights of outputs 0 and 1, of outputs 2 and 3, then the next
// input's.
func packTwos(w []int8, out, in int) []float64 {
	pad := (out + panel - 1) / panel * panel
	twos := make([]float64, pad*in/2)
	for r := 0; r < out; r++ {
		unit := 1.0
		if r%2 == 1 {
			unit = 1 << laneBits
		}
		to := twos[r/4*4*in/2+r%4/2:]
		for i := range in {
			to[2*i] += unit * float64(w[r*in+i])
		}
	}
	return twos
}

// productTwos is the product without vector instructions.
func productTwos(c []int32, ldc int, a []int16, lda, m int, d *dense, buf []float64) {
	x := buf[:rowGroup*d.in]
	for r0 := 0; r0 < m; r0 += rowGroup {
		rows := min(rowGroup, m-r0)
		for r := range rows {
			for i, v := range a[(r0+r)*lda:][:d.in] {
				x[rowGroup*i+r] = float64(v)
			}
		}
		for n := 0; n < d.pad; n += 4 {
			w := d.twos[n*d.in/2 : (n+4)*d.in/2]
			for i := 0; i < d.in; i += laneInputs {
				k := min(laneInputs, d.in-i)
				var sums [2 * rowGroup]float64
				mulTwos(&sums, w[2*i:2*(i+k)], x[rowGroup*i:rowGroup*(i+k)])
				for r := range rows {
					to := (*[4]int32)(c[(r0+r)*ldc+n:])
					if i == 0 {
						*to = [4]int32{}
					}
					addLanes(to, sums[2*r], sums[2*r+1])
				}
			}
		}
	}
}

// mulTwos sums the products of two numbers of weights and four of activations.
func mulTwos(sums *[2 * rowGroup]float64, w, x []float64) {
	var s0, s1, s2, s3, t0, t1, t2, t3 float64
	for len(w) >= 8 && len(x) >= 16 {
		w8, x16 := (*[8]float64)(w), (*[16]float64)(x)
		u, v := w8[0], w8[1]
		s0 += u * x16[0]
		t0 += v * x16[0]
		s1 += u * x16[1]
		t1 += v * x16[1]
		s2 += u * x16[2]
		t2 += v * x16[2]
		s3 += u * x16[3]
		t3 += v * x16[3]
		u, v = w8[2], w8[3]
		s0 += u * x16[4]
		t0 += v * x16[4]
		s1 += u * x16[5]
		t1 += v * x16[5]
		s2 += u * x16[6]
		t2 += v * x16[6]
		s3 += u * x16[7]
		t3 += v * x16[7]
		u, v = w8[4], w8[5]
		s0 += u * x16[8]
		t0 += v * x16[8]
		s1 += u * x16[9]
		t1 += v * x16[9]
		s2 += u * x16[10]
		t2 += v * x16[10]
		s3 += u * x16[11]
		t3 += v * x16[11]
		u, v = w8[6], w8[7]
		s0 += u * x16[12]
		t0 += v * x16[12]
		s1 += u * x16[13]
		t1 += v * x16[13]
		s2 += u * x16[14]
		t2 += v * x16[14]
		s3 += u * x16[15]
		t3 += v * x16[15]
		w, x = w[8:], x[16:]
	}
	for ; len(w) >= 2 && len(x) >= 4; w, x = w[2:], x[4:] {
		u, v := w[0], w[1]
		s0 += u * x[0]
		t0 += v * x[0]
		s1 += u * x[1]
		t1 += v * x[1]
		s2 += u * x[2]
		t2 += v * x[2]
		s3 += u * x[3]
		t3 += v * x[3]
	}
	*sums = [...]float64{s0, t0, s1, t1, s2, t2, s3, t3}
}

// addLanes adds the four sums that two numbers hold.
func addLanes(to *[4]int32, u, v float64) {
	a, b := int64(u), int64(v)
	lo, hi := a<<(64-laneBits)>>(64-laneBits), b<<(64-laneBits)>>(64-laneBits)
	to[0] += int32(lo)
	to[1] += int32((a - lo) >> laneBits)
	to[2] += int32(hi)
	to[3] += int32((b - hi) >> laneBits)
}

// product fills c (ldc = d.pad) with the integer products of m rows and the layer.
func (d *dense) product(c []int32, a []int16, m int, buf []float64) {
	if d.wide != nil {
		product16(c, d.pad, a, d.in, m, d.in, d.wide, true)
		return
	}
	productTwos(c, d.pad, a, d.in, m, d, buf)
}

func newDense(w []int8, out, in int, scale, bias []float32, vector bool) *dense {
	d := &dense{in: in, out: out, pad: (out + panel - 1) / panel * panel}
	d.scale, d.bias = make([]float32, d.pad), make([]float32, d.pad)
	copy(d.scale, scale)
	copy(d.bias, bias)
	if vector {
		d.wide = pack16(nil, out, in, func(r, i int) int16 { return int16(w[r*in+i]) })
	} else {
		d.twos = packTwos(w, out, in)
	}
	return d
}
