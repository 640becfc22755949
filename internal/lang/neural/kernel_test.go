package neural

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// The vector code gives the same bits as the plain, whatever the length.
func TestVectorLoopsGiveTheSameBits(t *testing.T) {
	if !hasVector() {
		t.Skip("this machine has no vector code")
	}
	rnd := rand.New(rand.NewPCG(1, 2))
	for n := range 100 {
		x := make([]float32, n)
		for i := range x {
			x[i] = float32(rnd.NormFloat64()) * 40
		}
		a, b := make([]int16, n), make([]int16, n)
		if u, v := quantise(a, x, actMax, false), quantise(b, x, actMax, true); u != v || !slices.Equal(a, b) {
			t.Fatalf("%d numbers: %v and %v, units of %g and %g", n, a, b, u, v)
		}
		w := &dense{out: n, pad: n + 3, scale: make([]float32, n)}
		c := make([]int32, 3*w.pad)
		for i := range w.scale {
			w.scale[i] = rnd.Float32()
		}
		for i := range c {
			c[i] = rnd.Int32N(1<<22) - 1<<21
		}
		plain, vector := &scratch{scale: []float32{.5, 1e-4, 3}}, &scratch{scale: []float32{.5, 1e-4, 3}}
		square(plain, c, w, 3, false)
		square(vector, c, w, 3, true)
		if !slices.Equal(plain.a, vector.a) || !slices.Equal(plain.scale, vector.scale) {
			t.Fatalf("%d squares differ", n)
		}
	}
}
