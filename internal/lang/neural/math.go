package neural

import "math"

// Products are wrapped in float32(...) before they are added, here and
// throughout, so that no compiler fuses the two and every machine rounds alike.

// toInt rounds to the nearest integer, ties to even; |x| must be under 2^22.
func toInt(x float32) int32 {
	return int32(math.Float32bits(x+12582912)) - 0x4B400000
}

func abs32(x float32) float32 { return math.Float32frombits(math.Float32bits(x) &^ (1 << 31)) }

// quantise writes x·(most/max|x|) as integers and returns what one unit is worth.
func quantise(dst []int16, x []float32, most float32, vector bool) float32 {
	big := float32(1e-12)
	n := 0 // those that the vector code does
	if vector {
		if n = len(x) &^ 15; n > 0 {
			big = max(big, maxAbs(&x[0], n))
		}
	}
	for _, v := range x[n:] {
		if a := abs32(v); a > big {
			big = a
		}
	}
	f := most / big
	dst = dst[:len(x)]
	if n > 0 {
		scaleToInts(&dst[0], &x[0], n, f)
	}
	for i, v := range x[n:] {
		dst[n+i] = int16(toInt(float32(v * f)))
	}
	return big / most
}

// meanSquare returns Σx²/n.
func meanSquare(x []float32) float32 {
	var a, b, c, d float32
	for i := 0; i+3 < len(x); i += 4 {
		v := (*[4]float32)(x[i:])
		a += float32(v[0] * v[0])
		b += float32(v[1] * v[1])
		c += float32(v[2] * v[2])
		d += float32(v[3] * v[3])
	}
	return ((a + b) + (c + d)) / float32(len(x))
}

// normFactor is what a vector is multiplied by to have a mean square of 1.
func normFactor(x []float32) float32 {
	return float32(1 / math.Sqrt(float64(meanSquare(x)+1e-6)))
}

// exp is e^x for x ≤ 0, to about 2e-7.
func exp(x float32) float32 {
	if x < -80 {
		return 0
	}
	t := float32(x * 1.44269504)
	r := (t + 12582912) - 12582912
	f := t - r // -0.5 … 0.5; 2^f by its series
	p := float32(1.5403530e-4)
	p = float32(p*f) + 1.3333558e-3
	p = float32(p*f) + 9.6181291e-3
	p = float32(p*f) + 5.5504109e-2
	p = float32(p*f) + 2.4022651e-1
	p = float32(p*f) + 6.9314718e-1
	p = float32(p*f) + 1
	return math.Float32frombits(uint32(int32(math.Float32bits(p)) + int32(r)<<23))
}
