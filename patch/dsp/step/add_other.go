//go:build !amd64

package step

func addRows(dst, r0, r1 *[Points]float64, a, b float64) { addOnes(dst, r0, r1, a, b) }
