package predict

import (
	"fmt"
	"math"
	"math/cmplx"
)

// ladderSingle is the rate from which on a ladder runs at the rate itself, not at twice.
const ladderSingle = 88200

// halfBand are the all-pass coefficients of the filters that double and halve the
// rate of a ladder. Source: Valenzuela and Constantinides, IEE Proc. G 130(6),
// 1983, for eight coefficients, 85 dB.
var halfBand = [2][4]float64{
	{0.05366235613126508, 0.3725592345558832, 0.6932915447533193, 0.8941437165843532},
	{0.1935880010975501, 0.5469696372284895, 0.8069088257330219, 0.9659202226650997},
}

// ladder is the kind of that name for weak signals. Controls: cutoff, resonance,
// drive, bass. Source: Stilson and Smith, ICMC 1996.
func ladder(c values, _, _ int, hz, rate float64) complex128 {
	if rate >= ladderSingle {
		return fourPoles(c, hz, rate, rate)
	}
	// Every second sample of the doubled signal has gone through one branch, the
	// others through the other. Up, the poles, and down again, with the mirror that
	// is left over, which comes down on the frequency that it came from.
	z := cmplx.Exp(complex(0, -2*math.Pi*hz/rate)) // one sample late
	half := cmplx.Exp(complex(0, -math.Pi*hz/rate))
	var branch [2]complex128
	for i, taps := range halfBand {
		branch[i] = 1
		for _, a := range taps {
			branch[i] *= (complex(a, 0) + z) / (1 + complex(a, 0)*z)
		}
	}
	direct := (branch[0] + half*branch[1]) * fourPoles(c, hz, 2*rate, rate)
	mirror := (branch[0] - half*branch[1]) * cmplx.Conj(fourPoles(c, rate-hz, 2*rate, rate))
	even := (direct + mirror) / 2
	odd := (direct - mirror) / 2 / half
	return 0.5 * (branch[0]*odd + branch[1]*even)
}

// fourPoles is drive (1 + bass k)/((1 + s)^4 + k) at the rate inside.
func fourPoles(c values, hz, inside, rate float64) complex128 {
	s, _ := warped(hz, math.Min(c.v[0], highestCorner*rate), inside)
	k := 4 * c.v[1]
	s = 1 + s
	return complex(c.v[2]*(1+c.v[3]*k), 0) / (s*s*s*s + complex(k, 0))
}

// weak is the most that may go into the saturation of a ladder, so that it bends
// lines by less than 0.01 dB: the fraction is v (1 - 8 v^2/27 + ...).
const weak = 0.05

func ladderRefuses(c values, peak []float64, _ float64) string {
	k := 4 * c.v[1]
	if k >= 4 {
		return "sings by itself at a resonance of 100 % and more"
	}
	// What goes into the saturation is the input less the feedback, which at the
	// resonance is k/(4 - k) times as strong.
	if v := peak[0] * c.v[2] * (1 + c.v[3]*k) * (1 + k/(4-k)); v > weak {
		return fmt.Sprintf("saturates: its input reaches up to %s and is bent; below %s it is a filter", number(v), number(weak))
	}
	return ""
}
