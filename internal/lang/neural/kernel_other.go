//go:build !amd64

package neural

func hasVector() bool { return false }

func product16Vector([]int32, int, []int16, int, int, int, []int16, int) {
	panic("neural: no vector product on this machine")
}
