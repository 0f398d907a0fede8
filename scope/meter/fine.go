package meter

import "math"

// The filter that finds what lies between the samples: a sinc of 32 samples in a
// Kaiser window. Up to 0.44 of the rate (21 kHz at 48 kHz) a sine comes out within
// 0.01 dB; ITU-R BS.1770, annex 2, asks for 48 weights in four phases.
const (
	taps       = 32
	kaiserBeta = 5.65
)

// timesFor returns how many times the rate peaks are looked for: BS.1770, annex
// 2, asks for 192 kHz at least; twice that leaves 0.17 dB at the worst tone
// (20 log10 cos(pi/16)) instead of 0.69 dB.
func timesFor(rate float64) int {
	switch {
	case rate < 66000:
		return 8
	case rate < 132000:
		return 4
	}
	return 2
}

// fine computes a signal at several times its rate. It is late by taps/2.
type fine struct {
	times   int
	weights [][]float32 // for each phase after the first
	past    []float32   // taps-1 samples, then a block
	phases  [][]float32 // phase 0 is the signal itself
}

func newFine(rate float64) fine {
	f := fine{times: timesFor(rate), past: make([]float32, taps-1+block)}
	f.phases = make([][]float32, f.times)
	for p := 1; p < f.times; p++ {
		f.weights = append(f.weights, phaseWeights(float64(p)/float64(f.times)))
		f.phases[p] = make([]float32, block)
	}
	return f
}

// phaseWeights are for the place at, 0 to 1, after the middle sample. They sum to
// 1, so that a steady level stays what it is.
func phaseWeights(at float64) []float32 {
	w, sum := make([]float64, taps), 0.0
	for k := range w {
		t := float64(k-(taps/2-1)) - at
		u := t / (taps / 2)
		w[k] = besselI0(kaiserBeta * math.Sqrt(max(0, 1-u*u)))
		if t != 0 {
			w[k] *= math.Sin(math.Pi*t) / (math.Pi * t)
		}
		sum += w[k]
	}
	narrow := make([]float32, taps)
	for k := range w {
		narrow[k] = float32(w[k] / sum)
	}
	return narrow
}

// besselI0 is the modified Bessel function of order 0: Abramowitz and Stegun, eq.
// 9.6.12.
func besselI0(x float64) float64 {
	sum, term := 1.0, 1.0
	for k := 1.0; term > 1e-17*sum; k++ {
		term *= x / 2 / k * x / 2 / k
		sum += term
	}
	return sum
}

// take computes the even phases of a block, and the odd ones if they may hold more
// than most; it returns most, or the largest magnitude if that is more. Phase 0, the
// signal, is not looked at.
func (f *fine) take(samples []float64, most float64) float64 {
	n := len(samples)
	for i, x := range samples {
		f.past[taps-1+i] = float32(x)
	}
	f.phases[0] = f.past[taps/2-1 : taps/2-1+n]
	largest := f.slide(2, float32(0))
	for _, x := range f.phases[0] {
		if x = abs32(x); x > largest {
			largest = x
		}
	}
	// At the highest peak of all, the nearest even phase is at most half their
	// distance away: there a signal without anything beyond half the rate is at
	// least cos(pi/(times)) of the peak.
	if f.times > 2 && float64(largest) <= 0.999*math.Cos(math.Pi/float64(f.times))*most {
		return most
	}
	return max(most, float64(f.slide(1, largest)))
}

// slide computes every second phase from one on.
func (f *fine) slide(from int, largest float32) float32 {
	n := len(f.phases[0])
	for p := from; p < f.times; p += 2 {
		largest = max(largest, slide(f.phases[p][:n], f.past[:taps-1+n], f.weights[p-1]))
	}
	return largest
}

func abs32(x float32) float32 { return math.Float32frombits(math.Float32bits(x) &^ (1 << 31)) }

// next makes room for the next block of n samples; the phases end here.
func (f *fine) next(n int) { copy(f.past, f.past[n:n+taps-1]) }

// rest returns the largest magnitude among what the samples so far still bring,
// if silence follows.
func (f *fine) rest() float64 {
	var past [2*taps - 1]float32
	var out [taps]float32
	copy(past[:], f.past[:taps-1])
	largest := float32(0)
	for _, w := range f.weights {
		largest = max(largest, slideOnes(out[:], past[:], w))
	}
	for _, x := range f.past[:taps-1] {
		largest = max(largest, abs32(x))
	}
	return float64(largest)
}
