package line

import (
	"math"

	"lampblack/patch/dsp/approx"
)

// Cut is a filter of one pole, 6 dB an octave, 3.01 dB down at its frequency,
// by the trapezoidal rule. Its frequency may move with every sample. Towards the
// end of its ruler it goes over into no filter at all, so that the last mark is
// exactly off. The zero value is silent. Use one as LowCut or as HighCut.
type Cut struct {
	state    float64
	hz, gain float64 // gain belongs to hz
}

const (
	highest = 0.49 // of the rate

	// NoHighCut is the mark at which HighCut is off, NoLowCut that for LowCut, in Hz.
	NoHighCut = 20000.0
	NoLowCut  = 10.0
)

// HighCut takes away what lies above hz; from 16 kHz on less and less, at
// NoHighCut nothing. inverse is 1 / rate.
func (c *Cut) HighCut(x, hz, inverse float64) float64 {
	low := c.Low(x, hz, inverse)
	if hz <= 0.8*NoHighCut {
		return low
	}
	return x + float64(min((NoHighCut-hz)*(1/(0.2*NoHighCut)), 1)*(low-x))
}

// LowCut takes away what lies below hz; under 20 Hz less and less, at NoLowCut
// nothing.
func (c *Cut) LowCut(x, hz, inverse float64) float64 {
	low := c.Low(x, hz, inverse)
	if hz >= 2*NoLowCut {
		return x - low
	}
	return x - float64(max((hz-NoLowCut)*(1/NoLowCut), 0)*low)
}

// Low is the low-pass alone, at any hz above 0: an integrator in a loop, solved without delay.
func (c *Cut) Low(x, hz, inverse float64) float64 {
	if hz != c.hz {
		c.hz = hz
		n, d := approx.TanParts(min(float64(hz*inverse), highest))
		c.gain = n / (n + d)
	}
	v := float64((x - c.state) * c.gain)
	y := v + c.state
	c.state = y + v
	if !(math.Abs(c.state) >= silent) {
		c.state = 0
	}
	return y
}
