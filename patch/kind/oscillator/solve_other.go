//go:build !amd64

package oscillator

const fours = false

const none = "oscillator: no code for four at once here"

func solveFours(s *solver, coefficients *[10][4][4]float64, n int, derivatives bool) { panic(none) }

func crossedFours(places *int64, n int, shift uint, less int64) uint64 { panic(none) }

func overtakenFours(places, widths *int64, n int) uint64 { panic(none) }

func turningFours(steps *float64, n int) uint64 { panic(none) }

func bendsFours(s *[reaches]float64) float64 { panic(none) }

func bendsMany(dst, s *float64, n int) { panic(none) }
