package approx

import "math"

// Sinc returns sin(pi x)/(pi x), 1 at 0: the impulse response of the ideal
// low-pass. The bits are the same on every processor; the error is that of Sine
// divided by pi x.
func Sinc(x float64) float64 {
	if x == 0 {
		return 1
	}
	cycles := float64(x / 2)
	return Sine(cycles-math.Floor(cycles)) / float64(math.Pi*x)
}
