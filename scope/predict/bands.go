package predict

import (
	"math"
	"math/cmplx"
	"sync"

	"lampblack/patch/kind/control"
)

// The bank of the kind bands: thirds of an octave, and one more at either end.
const (
	thirdsOfBank = 30
	lowestThird  = -16           // 1000 x 10^(-16/10) Hz
	wholeBank    = 0.79615935042 // brings the sum of all bands to 0 dB
	loudestThird = 15.848931925  // +24 dB
	bankWider    = 1.052         // than the distance of its edges is a band
	perOctave    = 3.0102999566  // thirds: 10 log10 2
	bankEdge     = 0.4975        // of the rate: the highest edge of a band
	doubledBelow = 80000         // at lower rates the upper bands run at twice the rate
	halfTaps     = 20            // of the filters that double and halve the rate, on either side
)

// bank is the kind bands; outputs out, odd and even. Controls: shift, depth, tilt,
// and the levels of ten octaves. Every band is a Butterworth band-pass of order 6
// by the bilinear transform; neighbours have opposite signs.
// Source: Butterworth, Wireless Engineer 7, 1930; IEC 61260-1:2014.
func bank(c values, _, out int, hz, rate float64) complex128 {
	gains := bankGains(c)
	room, doubles := 0.46*rate, rate < doubledBelow
	if doubles {
		room = 0.56 * rate
	}
	var slow, fast complex128
	w := 2 * math.Pi * hz / rate
	direct, mirror := doubling(w)
	some := false
	for i, g := range gains {
		low := bankMark(lowestThird - 1 + i)
		if low >= room {
			break
		}
		high := bankMark(lowestThird + i)
		doubled := doubles && low > rate/24
		some = some || doubled
		if out == 1 && i&1 == 0 || out == 2 && i&1 == 1 {
			continue
		}
		if doubled {
			fast += complex(g, 0) * (complex(direct, 0)*butterworth(low, high, hz, 2*rate) + complex(mirror, 0)*cmplx.Conj(butterworth(low, high, rate-hz, 2*rate)))
		} else {
			slow += complex(g, 0) * butterworth(low, high, hz, rate)
		}
	}
	if !some {
		return slow
	}
	return (slow + fast) * cmplx.Exp(complex(0, -w*(2*halfTaps-1)))
}

// bankMark is the lower edge of third k in Hz.
func bankMark(k int) float64 { return 1000 * math.Pow(10, float64(k)/10-0.05) }

// butterworth is a band-pass of order 6 between two edges: 1/((p + 1)(p^2 + p + 1))
// with p = (s^2 + w^2)/(B s).
func butterworth(low, high, hz, rate float64) complex128 {
	w1, w2 := math.Tan(math.Pi*low/rate), math.Tan(math.Pi*math.Min(high/rate, bankEdge))
	s := complex(0, math.Max(tan(hz, rate), 1e-12))
	p := (s*s + complex(w1*w2, 0)) / (complex(bankWider*(w2-w1), 0) * s)
	return 1 / ((p + 1) * (p*p + p + 1))
}

// doubling returns what the filters up to twice the rate and down again do together
// to a frequency of w radians a sample, and to its mirror, which comes down on it.
// With E the response between two samples they are (1 + E)^2/4 and (1 - E)^2/4.
func doubling(w float64) (direct, mirror float64) {
	e := 0.0
	for j, a := range bankTaps() {
		e += 4 * a * math.Cos(w*(float64(j)+0.5))
	}
	return (1 + e) * (1 + e) / 4, (1 - e) * (1 - e) / 4
}

// bankTaps are the odd taps of a half-band low-pass, from the middle outwards: a
// sinc through a Kaiser window of beta 8.
var bankTaps = sync.OnceValue(func() []float64 {
	taps, sum := make([]float64, halfTaps), 0.0
	for j := range taps {
		x := float64(2*j + 1)
		r := x / (2 * halfTaps)
		taps[j] = math.Sin(math.Pi/2*x) / (math.Pi / 2 * x) * kaiser0(8*math.Sqrt(1-r*r))
		sum += taps[j]
	}
	for j := range taps {
		taps[j] *= 0.25 / sum
	}
	return taps
})

// kaiser0 is the modified Bessel function I0. Source: A&S 9.6.12.
func kaiser0(x float64) float64 {
	sum, term := 1.0, 1.0
	for k := 1.0; term > 1e-17*sum; k++ {
		term *= x * x / 4 / (k * k)
		sum += term
	}
	return sum
}

// bankGains are the gains of all bands with their signs.
func bankGains(c values) []float64 {
	shift, depth, slope := c.v[0], c.v[1], 20*math.Log10(c.v[2])
	var drawn [thirdsOfBank]float64
	for _, row := range c.rows {
		k := int(math.Floor(10*math.Log10(row[0]/1000)+0.5)) - lowestThird
		drawn[min(max(k, 0), thirdsOfBank-1)] = row[1]
	}
	gains := make([]float64, thirdsOfBank+2)
	for k := range thirdsOfBank {
		at := math.Min(math.Max(float64(k)-shift*perOctave, 0), thirdsOfBank-1)
		i := min(int(at), thirdsOfBank-2)
		db := drawn[i] + (at-float64(i))*(drawn[i+1]-drawn[i])
		db = db*depth + slope*float64(lowestThird+k)/perOctave
		g := control.Gain(math.Pow(10, db/20)) * control.Gain(c.v[3+k/3])
		g = math.Min(g, loudestThird) * wholeBank
		if k&1 == 1 {
			g = -g
		}
		gains[k+1] = g
	}
	gains[0], gains[thirdsOfBank+1] = -gains[1], -gains[thirdsOfBank]
	return gains
}
