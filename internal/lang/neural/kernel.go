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
	// rows of inputs in pairs, offset to be positive, and the sums of the
	// weights, for the plain product
	pairs []uint64
	sums  []int32
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

// Offsets that keep all numbers of the plain product positive.
const (
	actOffset    = actMax + 1
	weightOffset = 128
)

// packPairs lays weights out for productPairs: the first of two in the low half
// of a word, the second in the high half.
func packPairs(w []int8, out, in int) (pairs []uint64, sums []int32) {
	pad := (out + panel - 1) / panel * panel
	pairs, sums = make([]uint64, pad*in/2), make([]int32, pad)
	for r := range pad {
		for i := 0; i < in; i += 2 {
			var a, b int8
			if r < out {
				a, b = w[r*in+i], w[r*in+i+1]
			}
			pairs[(r*in+i)/2] = uint64(int(a)+weightOffset) | uint64(int(b)+weightOffset)<<32
			sums[r] += int32(a) + int32(b)
		}
	}
	return pairs, sums
}

// productPairs is the product without vector instructions. One multiplication
// of 64 bits makes two products and their sum: with weights w0 + w1·2³² and
// activations a1 + a0·2³² the upper half of the result is w0·a0 + w1·a1 (w0·a1
// stays in the lower half, w1·a0 falls off the top). All are positive, and the
// lower halves of a whole row never sum to 2³²; what the offsets add is taken
// off at the end.
func productPairs(c []int32, ldc int, a []int16, lda, m int, d *dense, buf []uint64) {
	half := d.in / 2
	var sums [rowGroup]int32
	for r0 := 0; r0 < m; r0 += rowGroup {
		rows := min(rowGroup, m-r0)
		for r := range rows {
			sums[r] = offsetPairs(buf[r*half:(r+1)*half], a[(r0+r)*lda:(r0+r)*lda+d.in])
		}
		for n := 0; n < d.pad; n += 2 {
			const each = actOffset * weightOffset
			bu := actOffset*d.sums[n] + int32(each*d.in)
			bv := actOffset*d.sums[n+1] + int32(each*d.in)
			for r := 0; r < rows; r += 2 {
				x, y := buf[r*half:(r+1)*half], buf[(r+1)*half:(r+2)*half]
				u, v := d.pairs[n*half:(n+1)*half], d.pairs[(n+1)*half:(n+2)*half]
				u, v, y = u[:len(x)], v[:len(x)], y[:len(x)]
				var xu, xv, yu, yv uint64
				for i, p := range x {
					q, f, g := y[i], u[i], v[i]
					xu += f * p
					xv += g * p
					yu += f * q
					yv += g * q
				}
				to := c[(r0+r)*ldc+n:]
				to[0] = int32(xu>>32) - weightOffset*sums[r] - bu
				to[1] = int32(xv>>32) - weightOffset*sums[r] - bv
				if r+1 < rows { // else the second row is what an earlier group left
					to[ldc] = int32(yu>>32) - weightOffset*sums[r+1] - bu
					to[ldc+1] = int32(yv>>32) - weightOffset*sums[r+1] - bv
				}
			}
		}
	}
}

// rowGroup rows share one passage over the weights.
const rowGroup = 8

// offsetPairs writes activations as productPairs takes them and returns their sum.
func offsetPairs(dst []uint64, a []int16) (sum int32) {
	for i := range dst {
		p, q := int32(a[2*i]), int32(a[2*i+1])
		sum += p + q
		dst[i] = uint64(q+actOffset) | uint64(p+actOffset)<<32
	}
	return sum
}

// product fills c (ldc = d.pad) with the integer products of m rows and the layer.
func (d *dense) product(c []int32, a []int16, m int, buf []uint64) {
	if d.wide != nil {
		product16(c, d.pad, a, d.in, m, d.in, d.wide, true)
		return
	}
	productPairs(c, d.pad, a, d.in, m, d, buf)
}

func newDense(w []int8, out, in int, scale, bias []float32, vector bool) *dense {
	d := &dense{in: in, out: out, pad: (out + panel - 1) / panel * panel}
	d.scale, d.bias = make([]float32, d.pad), make([]float32, d.pad)
	copy(d.scale, scale)
	copy(d.bias, bias)
	if vector {
		d.wide = pack16(nil, out, in, func(r, i int) int16 { return int16(w[r*in+i]) })
	} else {
		d.pairs, d.sums = packPairs(w, out, in)
	}
	return d
}
