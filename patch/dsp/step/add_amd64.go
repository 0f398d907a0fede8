package step

import "lampblack/patch/dsp/lanes"

var fours = lanes.Fours()

// addFours adds the rows of n corners to dst, with the same roundings as add.
// cells is the first number of the first row of a table with so many numbers from
// row to row and from order to order; a corner before sample 0 has the first number
// of its row at dst[first].
//
//go:noescape
func addFours(dst, cells *float64, corners *Corner, n, stride, order, first int)

// addTwo4 is addTwo of n numbers, a multiple of four.
//
//go:noescape
func addTwo4(dst, r0, r1 *float64, n int, a, b float64)
