package oscillator

import "lampblack/patch/dsp/lanes"

var fours = lanes.Fours()

// solveFours finds the answers of n curves, four at once, with the same roundings as
// one: the times, and the derivatives there if these are asked for.
//
//go:noescape
func solveFours(s *solver, coefficients *[10][4][4]float64, n int, derivatives bool)

// These are what their namesakes in marks.go do, four at a time, but for the last
// marks, which are of whatever lies there.

//go:noescape
func crossedFours(places *int64, n int, shift uint, less int64) uint64

//go:noescape
func overtakenFours(places, widths *int64, n int) uint64

//go:noescape
func turningFours(steps *float64, n int) uint64

//go:noescape
func bendsFours(s *[reaches]float64) float64

// bendsMany sets the first n of dst to bends of the steps from s, from the one behind
// it and so on; it writes up to three more.
//
//go:noescape
func bendsMany(dst, s *float64, n int)
