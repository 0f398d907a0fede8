package predict

import (
	"math"
	"math/cmplx"
)

// noise is the kind of that name: power per Hz of its colours, as the kind states
// them. Source of the densities: Welch, IEEE Trans. AU-15(2), 1967.
func (n *node) noise() []signal {
	colour, density := n.control("colour"), n.control("density").signal
	if !colour.still() {
		return n.why("changes its colour while it sounds")
	}
	if s := n.control("seed"); !s.still() {
		return n.why("draws another noise at every step of its seed")
	}
	n.noises++
	rate := n.rate
	of := colours(int(colour.mean()), rate)
	if colour.mean() == 5 {
		if !density.known() {
			return n.why("can't be predicted: %s", density.why[0])
		}
		tick, perSecond := tickPower(rate), math.Min(density.mean(), rate)
		of = func(hz float64) float64 { return perSecond * tick(hz) }
		if len(density.swing()) > 0 {
			n.claim(0.1)
		}
	}
	return []signal{{late: true, hiss: []branch{{source: n.noises, gain: one, density: of}}}}
}

// colours returns the power per Hz of white, pink, brown, blue and violet.
func colours(colour int, rate float64) func(hz float64) float64 {
	half := rate / 2
	switch colour {
	case 0: // even values over +-1 have a power of 1/3
		return func(float64) float64 { return 1.0 / 3 / half }
	case 1: // an RMS of 0.2 from 20 Hz to 20 kHz
		return func(hz float64) float64 { return 0.04 / math.Log(1000) / math.Max(hz, 1e-3) }
	case 2: // an RMS of 0.2, level below 5 Hz
		return func(hz float64) float64 { return 0.04 * 5 / (math.Pi / 2) / (hz*hz + 25) }
	case 3:
		return func(hz float64) float64 { return 0.04 * 2 * hz / (half * half) }
	}
	return func(hz float64) float64 { return 0.04 * 3 * hz * hz / (half * half * half) }
}

// tickPower returns the power per Hz of one tick of crackle a second: the mean of
// the squared peaks, which lie evenly in dB over 40 dB, times the spectrum of
// Blackman's window of 0.15 ms. Source: Campbell's theorem; Harris 1978.
func tickPower(rate float64) func(hz float64) float64 {
	const quietest = 0.01
	mean := (1 - quietest*quietest) / (2 * math.Log(1/quietest))
	span := math.Max(150e-6*rate, 3/0.4535)
	middle := int(span / 2)
	var tick []float64
	for i := 0; ; i++ {
		p := 0.5 + float64(i-middle)/span
		if p >= 1 {
			break
		}
		tick = append(tick, 0.42-0.5*math.Cos(2*math.Pi*p)+0.08*math.Cos(4*math.Pi*p))
	}
	return func(hz float64) float64 {
		var sum complex128
		for i, v := range tick {
			sum += complex(v, 0) * cmplx.Exp(complex(0, -2*math.Pi*hz/rate*float64(i)))
		}
		a := cmplx.Abs(sum)
		return 2 * mean * a * a / rate / rate * 1
	}
}
