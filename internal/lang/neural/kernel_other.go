//go:build !amd64

package neural

func hasVector() bool { return false }

func product16Vector([]int32, int, []int16, int, int, int, []int16, int) {
	panic("neural: no vector product on this machine")
}

func maxAbs(*float32, int) float32 { panic("neural: no vector code on this machine") }

func scaleToInts(*int16, *float32, int, float32) { panic("neural: no vector code on this machine") }

func squareRow(*float32, *int32, *float32, int, float32) float32 {
	panic("neural: no vector code on this machine")
}
