//go:build !amd64

package oscillator

const fours = false

func solveFours(s *solver, coefficients *[10][4][4]float64, n int, derivatives bool) {
	panic("oscillator: no code for four at once here")
}
