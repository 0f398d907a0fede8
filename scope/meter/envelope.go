package meter

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
)

// What an Envelope looks for. Modulation is heard as fluctuation up to about 15 Hz,
// the strongest near 4 Hz, and as roughness from 15 to 300 Hz, the strongest near
// 70 Hz. Source: Zwicker and Fastl, Psychoacoustics, 3rd edition, chapters 10 and
// 11 (limits from memory).
const (
	FluctuationLow = 0.5   // Hz
	RoughnessLow   = 15.0  // Hz
	RoughnessHigh  = 300.0 // Hz
)

const (
	envelopeRate   = 2400  // samples of the envelope a second, about
	envelopeWindow = 16384 // of them in a stretch, 6.8 s
	envelopeShort  = 0.25  // s that are needed
	envelopeCycles = 3     // of the slowest modulation in a stretch
	envelopeDepth  = 0.01  // the least
)

// Envelope tells how a sound's amplitude is modulated: the strongest rate below and
// above 15 Hz. It follows the whole sound, not single bands of hearing, and is no
// measure of how rough it sounds. Depths are exact within half a percent of full
// depth up to 100 Hz; at 300 Hz, of a tone of 1 kHz, up to 4 percent are missing. Make
// it with NewEnvelope.
type Envelope struct {
	clean   cleaner
	rate    float64 // of the envelope
	every   int     // samples of the signal for one of the envelope
	turned  []quadrature
	weights []float64 // of the smoothing before samples are dropped: three boxes in a row
	past    []float64 // envelope at the signal's rate
	filled  int
	shape   []float64 // at the lower rate
	shaped  int
	total   int64 // samples of shape so far

	fft     *fourier.FFT
	faded   []float64
	bins    []complex128
	power   []float64 // of each bin, summed over the stretches
	square  float64   // of the means of the stretches, summed
	number  float64   // of stretches
	spare   []float64 // power of a shorter one
	feeding func([][]float64)
}

// Modulation is a rate at which the amplitude moves.
type Modulation struct {
	Hz    float64 // 0 if nothing stands out
	Depth float64 // 0 to 1, or more for pulses: of (1 + depth cos) it is depth
}

// EnvelopeReading is what an Envelope shows.
type EnvelopeReading struct {
	Fluctuation Modulation // 0.5 to 15 Hz
	Roughness   Modulation // 15 to 300 Hz
}

// NewEnvelope returns a meter for that many channels, at 8,000 to 384,000 Hz. The
// powers of the channels' envelopes are added.
func NewEnvelope(rate float64, channels int) *Envelope {
	mustRate(rate)
	e := &Envelope{clean: newCleaner(channels), every: int(math.Round(rate / envelopeRate))}
	e.rate = rate / float64(e.every)
	e.weights = []float64{1}
	for range 3 {
		e.weights = boxed(e.weights, e.every)
	}
	for range channels {
		e.turned = append(e.turned, newQuadrature())
	}
	e.past = make([]float64, len(e.weights)+block)
	e.shape = make([]float64, envelopeWindow)
	e.fft = fourier.NewFFT(2 * envelopeWindow)
	e.faded = make([]float64, 2*envelopeWindow)
	e.bins = make([]complex128, envelopeWindow+1)
	e.power = make([]float64, e.bin(RoughnessHigh)+2)
	e.spare = make([]float64, len(e.power))
	e.feeding = e.take
	return e
}

// boxed returns w smoothed by the mean of n.
func boxed(w []float64, n int) []float64 {
	out := make([]float64, len(w)+n-1)
	for i, x := range w {
		for k := range n {
			out[i+k] += x / float64(n)
		}
	}
	return out
}

// bin returns the bin of a rate of modulation.
func (e *Envelope) bin(hz float64) int { return int(hz / e.width()) }

func (e *Envelope) width() float64 { return e.rate / (2 * envelopeWindow) }

// Write feeds the next samples of all channels, equally many of each.
func (e *Envelope) Write(channels [][]float64) { feed(&e.clean, channels, e.feeding) }

// Write32 is Write for the samples of taps.
func (e *Envelope) Write32(channels [][]float32) { feed(&e.clean, channels, e.feeding) }

func (e *Envelope) take(channels [][]float64) {
	n := len(channels[0])
	fresh := e.past[e.filled : e.filled+n]
	clear(fresh)
	for c, samples := range channels {
		e.turned[c].add(fresh, samples)
	}
	for i, x := range fresh {
		fresh[i] = math.Sqrt(x)
	}
	e.filled += n
	at := 0
	for ; at+len(e.weights) <= e.filled; at += e.every {
		sum := 0.0
		under := e.past[at : at+len(e.weights)]
		for k, w := range e.weights {
			sum += float64(under[k] * w)
		}
		e.emit(sum)
	}
	copy(e.past, e.past[at:e.filled])
	e.filled -= at
}

// Forget begins the reading anew; the signal goes on without a seam.
func (e *Envelope) Forget() {
	e.shaped, e.total, e.square, e.number = 0, 0, 0, 0
	clear(e.power)
}

func (e *Envelope) emit(x float64) {
	e.shape[e.shaped] = x
	e.shaped++
	e.total++
	if e.shaped == envelopeWindow {
		e.square += e.transform(e.power, e.shape)
		e.number++
		copy(e.shape, e.shape[envelopeWindow/2:])
		e.shaped = envelopeWindow / 2
	}
}

// transform adds the power of a stretch's bins, as squares of the amplitudes of
// lines, to dst, and returns the square of its mean.
func (e *Envelope) transform(dst, shape []float64) float64 {
	n := float64(len(shape))
	fade := func(i int) float64 { return 0.5 - 0.5*math.Cos(2*math.Pi*float64(i)/n) }
	mean := 0.0
	for i, x := range shape {
		mean += fade(i) * x
	}
	mean /= n / 2
	clear(e.faded)
	for i, x := range shape {
		e.faded[i] = fade(i) * (x - mean)
	}
	e.fft.Coefficients(e.bins, e.faded)
	scale := 4 / n // a line of amplitude 1 has n/4
	for i := range dst {
		re, im := real(e.bins[i])*scale, imag(e.bins[i])*scale
		dst[i] += re*re + im*im
	}
	return mean * mean
}

// Reading returns what the meter shows: of all complete stretches of 6.8 s, or of
// what is there, if that is 0.25 s. The slowest modulation that a shorter sound
// shows has three cycles in it.
func (e *Envelope) Reading() (r EnvelopeReading) {
	power, square, length := e.power, e.square, envelopeWindow
	if e.total < envelopeWindow {
		if float64(e.total) < envelopeShort*e.rate {
			return r
		}
		power, length = e.spare, e.shaped
		clear(power)
		square = e.transform(power, e.shape[:e.shaped])
	}
	if square == 0 {
		return r
	}
	slowest := max(FluctuationLow, envelopeCycles*e.rate/float64(length))
	r.Fluctuation = e.strongest(power, square, slowest, RoughnessLow, length)
	r.Roughness = e.strongest(power, square, max(slowest, RoughnessLow), RoughnessHigh, length)
	return r
}

// strongest returns the highest line between two rates, if it stands out.
func (e *Envelope) strongest(power []float64, square, from, to float64, length int) (m Modulation) {
	first, last := e.bin(from)+1, e.bin(to)
	if last-first < 8 {
		return m
	}
	lobe := 2 * 2 * envelopeWindow / length // bins from the middle of a line to its end
	top := 0
	for i := max(first, 1); i <= last; i++ {
		if power[i] > power[i-1] && power[i] >= power[i+1] && (top == 0 || power[i] > power[top]) {
			top = i
		}
	}
	if top == 0 || power[top] < e.chance(last-first)*beside(power, top, lobe) {
		return m
	}
	// A parabola through the logarithms finds the line between the bins.
	a, b, c := math.Log(power[top-1]), math.Log(power[top]), math.Log(power[top+1])
	off := 0.0
	if bend := a - 2*b + c; bend < 0 {
		off = max(-0.5, min(0.5*(a-c)/bend, 0.5))
	}
	hz := (float64(top) + off) * e.width()
	depth := math.Sqrt(math.Exp(b-0.25*(a-c)*off)/square) / e.droop(hz)
	if depth < envelopeDepth {
		return m
	}
	return Modulation{hz, depth}
}

// chance returns how far above its mean the highest of that many bins of noise may
// lie, once in some fifty times: the upper bound of chi-square with two degrees of
// freedom for each stretch, of which halves overlap.
//
// Source: Laurent and Massart, Adaptive estimation of a quadratic functional by model
// selection, Annals of Statistics 28(5), 2000, lemma 1.
func (e *Envelope) chance(bins int) float64 {
	x := math.Log(float64(bins)) + 4
	n := max(1, 0.7*e.number)
	return 1 + math.Sqrt(2*x/n) + x/n
}

// beside returns the mean of the bins on both sides of a line, from the end of its
// lobe on, and not so far that they hold its harmonics.
func beside(power []float64, top, lobe int) float64 {
	sum, n := 0.0, 0.0
	for d := lobe; d <= max(lobe, min(5*lobe, top/2)); d++ {
		for _, i := range [...]int{top - d, top + d} {
			if i > 0 && i < len(power) {
				sum += power[i]
				n++
			}
		}
	}
	return sum / max(n, 1)
}

// droop is what smoothing leaves of a modulation: three boxes.
func (e *Envelope) droop(hz float64) float64 {
	x := math.Pi * hz / e.rate
	n := float64(e.every)
	d := math.Sin(x) / (n * math.Sin(x/n))
	return d * d * d
}
