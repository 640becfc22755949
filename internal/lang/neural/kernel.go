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
	// panels of 4 outputs as offset bytes, and the sums of their weights,
	// for the plain product
	bytes []uint8
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

// packBytes lays weights out for productBytes: panels of 4 outputs, offset by 128.
func packBytes(w []int8, out, in int) (b []uint8, sums []int32) {
	pad := (out + panel - 1) / panel * panel
	b, sums = make([]uint8, pad*in), make([]int32, pad)
	for r0 := 0; r0 < pad; r0 += 4 {
		for i := range in {
			for j := range 4 {
				v := int8(0)
				if r0+j < out {
					v = w[(r0+j)*in+i]
				}
				b[r0*in+4*i+j] = uint8(int(v) + 128)
				sums[r0+j] += int32(v)
			}
		}
	}
	return b, sums
}

// productBytes is the product without vector instructions: two rows of a share
// a 64-bit word, so that one multiplication makes two products. Offsets keep
// all numbers positive; what they add is taken off at the end.
func productBytes(c []int32, ldc int, a []int16, lda, m int, d *dense, buf []uint64) {
	const aOff, wOff = actMax + 1, 128
	k := d.in
	for r := 0; r < m; r += 4 {
		var sum [4]int32
		x := buf[:2*k]
		for i := range k {
			var v [4]uint64
			for q := range 4 {
				if r+q < m {
					t := a[(r+q)*lda+i]
					sum[q] += int32(t)
					v[q] = uint64(int64(t) + aOff)
				}
			}
			x[2*i], x[2*i+1] = v[0]|v[1]<<32, v[2]|v[3]<<32
		}
		for n := 0; n < d.pad; n += 4 {
			w := d.bytes[n*k : (n+4)*k]
			var s0, s1, s2, s3, t0, t1, t2, t3 uint64
			x := x[:len(w)/2]
			for i := 0; i+3 < len(w); i += 4 {
				p, q := x[i/2], x[i/2+1]
				w0, w1, w2, w3 := uint64(w[i]), uint64(w[i+1]), uint64(w[i+2]), uint64(w[i+3])
				s0 += w0 * p
				t0 += w0 * q
				s1 += w1 * p
				t1 += w1 * q
				s2 += w2 * p
				t2 += w2 * q
				s3 += w3 * p
				t3 += w3 * q
			}
			s, t := [4]uint64{s0, s1, s2, s3}, [4]uint64{t0, t1, t2, t3}
			for j := range 4 {
				base := int32(aOff)*d.sums[n+j] + int32(aOff*wOff*k)
				for q := range 4 {
					if r+q >= m {
						break
					}
					v := s[j]
					if q >= 2 {
						v = t[j]
					}
					c[(r+q)*ldc+n+j] = int32(uint32(v>>(32*(q&1)))) - wOff*sum[q] - base
				}
			}
		}
	}
}

// product fills c (ldc = d.pad) with the integer products of m rows and the layer.
func (d *dense) product(c []int32, a []int16, m int, buf []uint64) {
	if d.wide != nil {
		product16(c, d.pad, a, d.in, m, d.in, d.wide, true)
		return
	}
	productBytes(c, d.pad, a, d.in, m, d, buf)
}

func newDense(w []int8, out, in int, scale, bias []float32, vector bool) *dense {
	d := &dense{in: in, out: out, pad: (out + panel - 1) / panel * panel}
	d.scale, d.bias = make([]float32, d.pad), make([]float32, d.pad)
	copy(d.scale, scale)
	copy(d.bias, bias)
	if vector {
		d.wide = pack16(nil, out, in, func(r, i int) int16 { return int16(w[r*in+i]) })
	} else {
		d.bytes, d.sums = packBytes(w, out, in)
	}
	return d
}
