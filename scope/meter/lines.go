package meter

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
)

// cosines are the terms of the window that tones are looked at through: seven, side
// lobes 180 dB down, so that the rest beside a tone of 24 bits can be seen. A line
// covers lobe bins to either side.
//
// Source: Albrecht, A family of cosine-sum windows for high-resolution
// measurements, ICASSP 2001 (digits from memory; the side lobes are tested).
var cosines = [...]float64{
	0.27105140069342, 0.43329793923448, 0.21812299954311, 0.06592544638803,
	0.01081174209837, 0.00077658482522, 0.00001388721735,
}

const lobe = len(cosines)

// lines is the spectrum of one stretch of sound.
type lines struct {
	rate   float64
	fft    *fourier.FFT
	window []float64
	faded  []float64
	bins   []complex128
	power  []float64 // of each bin, as its share of the mean square
	square float64   // sum of the window's squares
	toLine float64   // brings the power of a line's middle bin to half its amplitude squared
}

func newLines(rate float64, n int) *lines {
	l := &lines{
		rate: rate, fft: fourier.NewFFT(n), window: make([]float64, n), faded: make([]float64, n),
		bins: make([]complex128, n/2+1), power: make([]float64, n/2+1),
	}
	turn := make([]float64, n)
	for i := range turn {
		turn[i] = math.Cos(2 * math.Pi * float64(i) / float64(n))
	}
	for i := range l.window {
		for k, a := range cosines {
			if k%2 == 1 {
				a = -a
			}
			l.window[i] += a * turn[k*i%n]
		}
		l.square += l.window[i] * l.window[i]
	}
	l.toLine = l.square / (float64(n) * cosines[0] * cosines[0])
	return l
}

// width is the distance of two bins in Hz.
func (l *lines) width() float64 { return l.rate / float64(len(l.window)) }

// fade lays the window over samples, without their mean, and returns their power,
// which is the sum of all bins.
func (l *lines) fade(samples []float64) float64 {
	sum := 0.0
	for i, w := range l.window {
		sum += w * samples[i]
	}
	mean, power := sum/(float64(len(l.window))*cosines[0]), 0.0
	for i, w := range l.window {
		x := w * (samples[i] - mean)
		l.faded[i] = x
		power += x * x
	}
	return power / l.square
}

// transform computes the power of each bin of what was faded.
func (l *lines) transform() {
	l.fft.Coefficients(l.bins, l.faded)
	scale := 2 / (float64(len(l.window)) * l.square)
	for i, b := range l.bins {
		l.power[i] = (real(b)*real(b) + imag(b)*imag(b)) * scale
	}
}

// line is a peak of the spectrum.
type line struct {
	hz    float64
	power float64 // half its amplitude squared
}

// at returns the line whose middle is bin k: where it must stand for its two
// neighbours to be as they are. A single sine is found exactly.
func (l *lines) at(k int) line {
	ratio := math.Sqrt(l.power[k+1] / max(l.power[k-1], 1e-300))
	low, high := -0.6, 0.6
	for range 40 {
		d := (low + high) / 2
		if side(1-d)*(2+d) < ratio*side(1+d)*(2-d) {
			low = d
		} else {
			high = d
		}
	}
	r := response(low)
	return line{(float64(k) + low) * l.width(), l.power[k] * l.toLine / (r * r)}
}

// side returns |W(x) (x^2 - 1) pi / sin(pi x)|, W being the window's transform at x
// bins from its middle: a sum of shifted sincs, for a long window.
func side(x float64) float64 {
	sum := cosines[0] / x
	for k := 2; k < lobe; k++ {
		term := cosines[k] * x / (x*x - float64(k*k))
		if k%2 == 1 {
			term = -term
		}
		sum += term
	}
	return math.Abs((x*x-1)*sum - cosines[1]*x)
}

// response returns W(x)/W(0) for |x| < 1.
func response(x float64) float64 {
	if math.Abs(x) < 1e-6 {
		return 1
	}
	sum := 1.0
	for k := 1; k < lobe; k++ {
		term := cosines[k] / cosines[0] * x * x / (x*x - float64(k*k))
		if k%2 == 1 {
			term = -term
		}
		sum += term
	}
	return sum * math.Sin(math.Pi*x) / (math.Pi * x)
}

// median returns the median power of the bins, within a factor of 2.
func (l *lines) median() float64 {
	var counts [2048]int
	for _, p := range l.power {
		counts[math.Float64bits(p)>>52&2047]++
	}
	seen := 0
	for e, n := range counts {
		if seen += n; 2*seen >= len(l.power) {
			return math.Float64frombits(uint64(e) << 52)
		}
	}
	return 0
}

// clear reports whether a line stands out of what is right beside it, and not in a lobe
// of its own: harmonics of 30 Hz leave as much room at 48 kHz.
func (l *lines) clear(top line) bool {
	k := int(math.Round(top.hz / l.width()))
	sum, n := 0.0, 0
	for d := lobe + 1; d < 2*lobe; d++ {
		for _, i := range [...]int{k - d, k + d} {
			if i > 1 && i < len(l.power) {
				sum += l.power[i]
				n++
			}
		}
	}
	return l.power[min(k, len(l.power)-1)]*float64(n) > toneClear*sum
}

// sum returns the power of the bins from Hz to Hz.
func (l *lines) sum(from, to float64) (sum float64) {
	first := max(0, int(math.Ceil(from/l.width())))
	last := min(len(l.power)-1, int(to/l.width()))
	for i := first; i <= last; i++ {
		sum += l.power[i]
	}
	return sum
}
