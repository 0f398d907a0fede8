package step

import "lampblack/patch/dsp/lanes"

var fours = lanes.Fours()

// addFours adds a*r0 + b*r1 to dst, with the same roundings as addOnes.
//
//go:noescape
func addFours(dst, r0, r1 *[Points]float64, a, b float64)

func addRows(dst, r0, r1 *[Points]float64, a, b float64) {
	if fours {
		addFours(dst, r0, r1, a, b)
		return
	}
	addOnes(dst, r0, r1, a, b)
}
