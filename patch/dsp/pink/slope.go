package pink

import "math"

// A sampled integrator's power follows 1/(2 sin(w/2))^2, not 1/w^2 (w: angular
// frequency): at half the rate it is 3.9 dB too strong, a difference as much
// too weak. These zeros and poles follow (sin(w/2)/(w/2))^2, with which 1/w^2
// is met, within 0.0004 dB up to 0.46 of the rate. They were fitted to it by
// least squares of the error in dB; a test holds them to the formula.
var (
	mendZeros = [...]float64{-0.7478049566157491, -0.4345800370564005, -0.13476446719524852}
	mendPoles = [...]float64{-0.7299666257880182, -0.36976811393275744, -0.039468826848933770}
)

// Brown returns the filter that turns white noise into brown: its power gain is
// at1k at 1 kHz and falls by 6.02 dB for each octave up to 0.46 of the rate,
// and down to leak (Hz), where it is 3.01 dB short of that; below it is level.
func Brown(rate, at1k, leak float64) Filter {
	poles := append([]float64{decay(leak / rate)}, mendPoles[:]...)
	zeros := append([]float64{0}, mendZeros[:]...)
	return join(zeros, poles, at1k/ratio(zeros, poles, 1000/rate))
}

// Violet returns the filter that turns the difference of each white sample from
// the one before into violet noise: the power gain, difference included, is
// at1k at 1 kHz and rises by 6.02 dB for each octave up to 0.46 of the rate.
func Violet(rate, at1k float64) Filter {
	zeros, poles := mendPoles[:], mendZeros[:]
	return join(zeros, poles, at1k/rise(1000/rate)/ratio(zeros, poles, 1000/rate))
}

// Blue returns the filter that turns the difference of each white sample from
// the one before into blue noise: the power gain, difference included, is at1k
// at 1 kHz and rises by 3.01 dB for each octave from 20 Hz to 0.46 of the rate.
func Blue(rate, at1k float64) Filter {
	s := poles(rate)
	s.fit(rate)
	zeros := append(s.zeros(), mendPoles[:]...)
	poles := append(s.low, mendZeros[:]...)
	for _, q := range s.top {
		poles = append(poles, -q)
	}
	return join(zeros, poles, at1k/rise(1000/rate)/ratio(zeros, poles, 1000/rate))
}

// Difference is the power gain of the difference of each sample from the one
// before at f, a part of the sample rate.
func Difference(f float64) float64 { return rise(f) }

func rise(f float64) float64 { return 2 * versine(f) }

// join makes a filter of as many zeros as poles, and a power gain.
func join(zeros, poles []float64, gain float64) Filter {
	f := Filter{n: len(poles)}
	copy(f.pole[:], poles)
	f.expand(zeros, math.Sqrt(gain))
	return f
}
