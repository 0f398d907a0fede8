package predict

import (
	"math"
	"math/cmplx"
)

// All filters here are analogue ones by the bilinear transform with their corner
// in its exact place: s = j tan(pi f/rate)/tan(pi corner/rate).
//
// Source of the transform: Oppenheim and Schafer, Discrete-Time Signal Processing.

const highestCorner = 0.49 // of the rate

// warped returns s, and tan(pi corner/rate).
func warped(hz, corner, rate float64) (s complex128, g float64) {
	g = math.Tan(math.Pi * math.Min(corner/rate, highestCorner))
	return complex(0, tan(hz, rate)/g), g
}

// tan is tan(pi f/rate), finite at half the rate.
func tan(hz, rate float64) float64 {
	return math.Tan(math.Pi * math.Min(math.Abs(hz)/rate, 0.5-1e-12))
}

// stateVariable is the kind filter. Controls: cutoff, width, peak, boost.
// Source: Audio EQ Cookbook, W3C Note, 2021; the widths are those of the kind.
func stateVariable(c values, _, out int, hz, rate float64) complex128 {
	s, g := warped(hz, c.v[0], rate)
	k := damping(c.v[0], c.v[1], c.scale[1], g, rate)
	band := func(k float64) complex128 { return complex(k, 0) * s / (s*s + complex(k, 0)*s + 1) }
	switch out {
	case 0:
		return 1 / (s*s + complex(k, 0)*s + 1)
	case 1:
		return complex(c.v[2], 0) * band(k)
	case 2:
		return s * s / (s*s + complex(k, 0)*s + 1)
	case 3:
		return 1 - band(k)
	}
	boost := c.v[3]
	return 1 + complex(boost-1, 0)*band(k/math.Sqrt(boost))
}

// damping is 1/Q of a width in Hz (scale 0), as Q (1) or in octaves (2). A digital
// band is 3.01 dB down at f1 and f2 where tan(pi f1/rate) tan(pi f2/rate) = g^2.
// Source: Regalia, Mitra and Vaidyanathan, Proc. IEEE 76(1), 1988.
func damping(cutoff, width float64, scale int, g, rate float64) float64 {
	apart := 0.0 // tan(pi (f2 - f1)/rate)
	switch scale {
	case 1:
		return 1 / width
	case 0:
		apart = math.Tan(math.Pi * math.Min(width/rate, highestCorner))
	default:
		ratio := math.Exp2(width)
		low, high := 0.0, 0.5/ratio
		for range 100 {
			f := (low + high) / 2
			if math.Tan(math.Pi*f)*math.Tan(math.Pi*f*ratio) < g*g {
				low = f
			} else {
				high = f
			}
		}
		apart = math.Tan(math.Pi * low * (ratio - 1))
	}
	return apart * (1 + g*g) / g
}

// allpass is the kind of that name. Controls: centre, width, order, stages,
// feedback, mix. Source: Audio EQ Cookbook, W3C Note, 2021; Smith, ICMC 1984.
func allpass(c values, _, _ int, hz, rate float64) complex128 {
	s, _ := warped(hz, c.v[0], rate)
	stage := (1 - s) / (1 + s)
	if c.v[2] == 1 {
		q := complex(c.v[1], 0)
		stage = (s*s - s/q + 1) / (s*s + s/q + 1)
	}
	a := cmplx.Pow(stage, complex(c.v[3], 0))
	feedback, mix := complex(c.v[4], 0), complex(c.v[5], 0)
	return (1 - mix + mix*a) / (1 - feedback*a)
}

// tilt is the kind of that name. Controls: pivot, tilt.
// Source: Zoelzer, Digital Audio Signal Processing, 2nd ed. 2008, section 5.2.
func tilt(c values, _, _ int, hz, rate float64) complex128 {
	s, _ := warped(hz, c.v[0], rate)
	a := complex(c.v[1], 0)
	return (1 + a*s) / (a + s)
}

// dcblock is the kind of that name. Controls: cutoff, poles.
// Source: Butterworth, Wireless Engineer 7, 1930.
func dcblock(c values, _, _ int, hz, rate float64) complex128 {
	s, _ := warped(hz, c.v[0], rate)
	if c.v[1] == 1 {
		return s * s / (s*s + math.Sqrt2*s + 1)
	}
	return s / (1 + s)
}

// lowPass is one pole.
func lowPass(hz, corner, rate float64) complex128 {
	s, _ := warped(hz, corner, rate)
	return 1 / (1 + s)
}

// Marks at which the cuts of package line are off, in Hz.
const (
	noHighCut = 20000
	noLowCut  = 10
)

// highCut and lowCut are one pole each, which fades out towards its last mark.
func highCut(hz, corner, rate float64) complex128 {
	w := complex(math.Min((noHighCut-corner)/(0.2*noHighCut), 1), 0)
	return 1 + w*(lowPass(hz, corner, rate)-1)
}

func lowCut(hz, corner, rate float64) complex128 {
	w := complex(math.Min((corner-noLowCut)/noLowCut, 1), 0)
	return 1 - w*lowPass(hz, corner, rate)
}

// width is the kind of that name: inputs and outputs left and right, then middle
// and side. Controls: width, mono below. Source: Blumlein, 1931.
func width(c values, in, out int, hz, rate float64) complex128 {
	side := complex(0.5*c.v[0], 0) * lowCut(hz, c.v[1], rate)
	if in == 1 {
		side = -side
	}
	switch out {
	case 0:
		return 0.5 + side
	case 1:
		return 0.5 - side
	case 2:
		return 0.5
	}
	return side
}
