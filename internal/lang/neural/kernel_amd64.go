package neural

import "golang.org/x/sys/cpu"

// hasVector reports whether this machine runs the vector product.
func hasVector() bool { return cpu.X86.HasAVX2 }

// mul4x16 fills 4 rows of 16 numbers: c[r][n] = Σ a[r]·b[n] over pairs of
// 16-bit numbers. Strides are in bytes.
//
//go:noescape
func mul4x16(c *int32, ldc uintptr, a *int16, lda uintptr, b *int16, pairs int)

//go:noescape
func mul1x16(c *int32, a *int16, b *int16, pairs int)

// maxAbs is the greatest |x| of n numbers, n a multiple of 8.
//
//go:noescape
func maxAbs(x *float32, n int) float32

// scaleToInts writes the integers nearest to x·f, n of them, a multiple of 16.
// Every x·f must fit into 16 bits.
//
//go:noescape
func scaleToInts(dst *int16, x *float32, n int, f float32)

// squareRow writes (max(c, 0)·ws·f)² and returns the greatest, n a multiple of 8.
//
//go:noescape
func squareRow(t *float32, c *int32, ws *float32, n int, f float32) float32

func product16Vector(c []int32, ldc int, a []int16, lda, m, k int, b []int16, panels int) {
	if m == 0 || panels == 0 || k < 2 {
		return
	}
	// the last elements that are touched, so that a wrong size panics here
	_ = a[(m-1)*lda+k-1]
	_ = c[(m-1)*ldc+panels*panel-1]
	_ = b[panels*panel*k-1]
	for p := range panels {
		bp := &b[p*panel*k]
		r := 0
		for ; r+4 <= m; r += 4 {
			mul4x16(&c[r*ldc+p*panel], uintptr(ldc)*4, &a[r*lda], uintptr(lda)*2, bp, k/2)
		}
		for ; r < m; r++ {
			mul1x16(&c[r*ldc+p*panel], &a[r*lda], bp, k/2)
		}
	}
}
