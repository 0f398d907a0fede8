package yin

import (
	"math"

	"lampblack/patch/dsp/approx"
)

// keeper keeps every so many samples, low-passed before, so that what lies
// above half of the new rate does not come back as something else.
type keeper struct {
	every int
	taps  []float64 // the first half; the second mirrors it
	in    []float64 // the last samples, twice, so that they always lie in a row
	at    int
	count int
}

// The low-pass is 3 dB down near 0.34 of the kept rate (4 kHz) and 70 dB at half
// of it (6 kHz). It delays by 8 kept samples, 0.7 ms.
const (
	edge   = 0.36
	beta   = 6.76 // of Kaiser's window for 70 dB
	length = 16   // in kept samples
)

func newKeeper(rate float64) keeper {
	k := keeper{every: max(int(rate/target+0.5), 1)}
	n := length * k.every
	k.in = make([]float64, 2*n)
	k.taps = make([]float64, n/2)
	sum := 0.0
	for i := range k.taps {
		x := float64(i) - float64(float64(n-1)/2)
		r := x / (float64(n) / 2)
		w := approx.BesselI0(float64(beta * math.Sqrt(1-float64(r*r))))
		k.taps[i] = float64(w * approx.Sinc(float64(float64(2*edge*x)/float64(k.every))))
		sum += 2 * k.taps[i]
	}
	for i := range k.taps {
		k.taps[i] /= sum
	}
	return k
}

func (k *keeper) resume(from *keeper) {
	copy(k.in, from.in)
	k.at, k.count = from.at, from.count
}

// next takes a sample, and returns one that is kept whenever it is time.
func (k *keeper) next(x float64) (float64, bool) {
	n := len(k.in) / 2
	k.in[k.at], k.in[k.at+n] = x, x
	if k.at++; k.at == n {
		k.at = 0
	}
	if k.count++; k.count < k.every {
		return 0, false
	}
	k.count = 0
	in := k.in[k.at : k.at+n]
	a, z := in[:n/2], in[n/2:]
	z = z[:len(a)]
	taps := k.taps[:len(a)]
	var even, odd float64
	for i := 0; i+1 < len(taps); i += 2 {
		even += float64(taps[i] * (a[i] + z[len(z)-1-i]))
		odd += float64(taps[i+1] * (a[i+1] + z[len(z)-2-i]))
	}
	return even + odd, true
}
