package oscillator

import (
	"math"

	"lampblack/patch/dsp/lanes"
	"lampblack/patch/dsp/step"
)

// breakSine mends the break of a sine whose phase is set from before to behind.
// From there on it is s + c more in cosine and sine of the frequency at the break;
// what a moving frequency changes in its derivatives is mended besides. With the
// angle a + w t + b t^2/2, sine and cosine have power series s, c with
//
//	(k+1) s[k+1] = w c[k] + b c[k-1],  (k+1) c[k+1] = -w s[k] - b s[k-1]
//
// (from their differential equations), and so has the difference of two of them.
func (s *sound) breakSine(y *way, before, behind int64) {
	u := y.reset - 0.5
	_, slope := y.e.near(u)
	w := float64(2 * math.Pi * slope)
	w = min(max(w, -math.Pi), math.Pi)
	tone := func(place int64) float64 { return lanes.Tone(turn(place)) }
	sin := tone(behind) - tone(before)
	cos := tone(behind+cycle/4) - tone(before+cycle/4)
	dst := s.line.Window(s.table, y.at)
	s.sines.Break(dst, 1-y.reset, w, sin, cos)
	if y.e.straight {
		return
	}
	if bend := y.e.second(u); math.Abs(bend) < 0.1 { // beyond, the series does not converge
		still, moving := derivatives(w, 0, sin, cos), derivatives(w, float64(2*math.Pi*bend), sin, cos)
		for k := range moving {
			moving[k] -= still[k]
		}
		s.table.Break(dst, 1-y.reset, moving[:])
	}
}

// derivatives are those of the difference of two sines, at the break.
func derivatives(w, b, s, c float64) [step.Orders]float64 {
	d := [step.Orders]float64{s}
	var s0, c0 float64 // one order below
	factorial := 1.0
	for k := 1; k < len(d); k++ {
		n := float64(k)
		s, s0, c, c0 = (float64(w*c)+float64(b*c0))/n, s, -(float64(w*s)+float64(b*s0))/n, c
		factorial = float64(factorial * n)
		d[k] = float64(s * factorial)
	}
	return d
}
