//go:build !amd64

package step

const fours = false

func addFours(dst, cells *float64, corners *Corner, n, stride, order, first int) {
	panic("step: no code for four at once here")
}

func addTwo4(dst, r0, r1 *float64, n int, a, b float64) {
	panic("step: no code for four at once here")
}
