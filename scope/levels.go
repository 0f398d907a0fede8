package scope

import "math"

// Sample is a number of a signal: taps give 32 bits, renders 64.
type Sample interface{ ~float32 | ~float64 }

// DB returns a level in decibels, 20 log10 |x|; for 0 it is -Inf.
func DB(x float64) float64 { return 20 * math.Log10(math.Abs(x)) }

// Level is how strong a stretch of signal is, as factors of full scale.
type Level struct {
	Peak float64 // largest magnitude
	RMS  float64 // root of the mean square: 0.7071 of its peak for a sine
}

// Measure returns the level of samples; of none it is 0.
func Measure[S Sample](samples []S) Level {
	var l Level
	sum := 0.0
	for _, s := range samples {
		x := float64(s)
		l.Peak = max(l.Peak, math.Abs(x))
		sum += float64(x * x)
	}
	if len(samples) > 0 {
		l.RMS = math.Sqrt(sum / float64(len(samples)))
	}
	return l
}

// NullDB returns how far below a the difference between a and b lies: the RMS of
// the difference re that of a, in dB. Identical signals give -Inf, a b of
// another length +Inf, and a difference from silence +Inf.
func NullDB[S Sample](a, b []S) float64 {
	if len(a) != len(b) {
		return math.Inf(1)
	}
	var signal, rest float64
	for i := range a {
		x, d := float64(a[i]), float64(a[i])-float64(b[i])
		signal += float64(x * x)
		rest += float64(d * d)
	}
	switch {
	case rest == 0:
		return math.Inf(-1)
	case signal == 0:
		return math.Inf(1)
	}
	return 10 * math.Log10(rest/signal)
}

// Line returns the amplitude of the sine of frequency hz in samples: the
// discrete Fourier transform at that one frequency, without a window. It is
// exact if a whole number of periods of every line fits into samples. At 0 Hz
// it returns the magnitude of the mean.
func Line[S Sample](samples []S, rate, hz float64) float64 {
	var re, im float64
	step := 2 * math.Pi * math.Mod(hz/rate, 1)
	for i, s := range samples {
		sin, cos := math.Sincos(math.Mod(step*float64(i), 2*math.Pi))
		re += float64(s) * cos
		im += float64(s) * sin
	}
	amplitude := 2 * math.Hypot(re, im) / float64(len(samples))
	if step == 0 || math.Abs(step) == math.Pi {
		amplitude /= 2 // these lines have no mirror image
	}
	return amplitude
}
