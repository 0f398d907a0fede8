package oscillator

import "lampblack/patch/dsp/lanes"

var fours = lanes.Fours()

// solveFours finds the answers of n curves, four at once, with the same roundings as
// one: the times, and the derivatives there if these are asked for.
//
//go:noescape
func solveFours(s *solver, coefficients *[10][4][4]float64, n int, derivatives bool)
