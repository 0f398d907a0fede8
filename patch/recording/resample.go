package recording

import (
	"math"

	"github.com/gopxl/beep/v2"

	"lampblack/patch/dsp/approx"
)

// How a rate is changed. Beep's resampler lays a polynomial through neighbouring
// samples: good far below half the rate, poor near it (44.1 to 48 kHz with 12
// points, the error re a sine of 10 kHz is -58 dB, of 19.5 kHz -8 dB), and deaf to
// what lies above the new half rate, which would fold down. So the recording is first oversampled by a windowed sinc that
// also takes away what the lower of both rates cannot hold.
const (
	quality    = 6   // beep.Resample: 2*quality points
	oversample = 4   // of the lower of both rates, at least
	reach      = 48  // of the windowed sinc to either side, in samples of the lower rate
	kaiserBeta = 11. // side lobes of the window: -110 dB
)

// resampledLength returns frames * to / from, rounded to the nearest.
func resampledLength(frames int64, from, to int) int64 {
	return (2*frames*int64(to) + int64(from)) / (2 * int64(from))
}

// resample changes the rate of one or two channels. Up to 0.45 of the lower rate
// a sine keeps its level within 0.001 dB and what is added lies below -100 dB;
// from there to half the lower rate it fades. At equal rates it returns src
// itself. Before its start and after its end a recording is silent.
func resample(src [][]float64, from, to int) [][]float64 {
	if from == to {
		return src
	}
	n := resampledLength(int64(len(src[0])), from, to)
	over := newOversampler(src, from, to)
	// The polynomial of a stream's first samples is one-sided. Whole periods of
	// both rates, silent and then dropped, let it start before the sound.
	from, to = from/gcd(from, to), to/gcd(from, to)
	periods := (2*quality + from - 1) / from
	over.at = -periods * from * over.factor
	drop := int64(periods * to)
	stream := beep.ResampleRatio(quality, float64(from*over.factor)/float64(to), over)
	dst := make([][]float64, len(src))
	for c := range dst {
		dst[c] = make([]float64, n)
	}
	var buffer [512][2]float64
	for at := -drop; at < n; {
		got, _ := stream.Stream(buffer[:min(512, n-at)])
		for c := range dst {
			for i := max(0, int(-at)); i < got; i++ {
				dst[c][at+int64(i)] = buffer[i][c]
			}
		}
		at += int64(got)
	}
	return dst
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// oversampler streams channels at factor times their rate. It never ends.
type oversampler struct {
	src    [][]float64
	factor int
	side   int         // samples of src to either side that count
	phases [][]float64 // for each place between two samples, 2*side weights
	at     int         // next sample, in samples of the stream from the start of src
}

// newOversampler designs the filter: a sinc that is 6 dB down at half of the
// lower rate, in a Kaiser window; each phase sums to 1, so that a steady level
// stays what it is.
//
// Source: Kaiser and Schafer, IEEE Trans. ASSP 28(1), 1980.
func newOversampler(src [][]float64, from, to int) *oversampler {
	lower := min(from, to)
	o := &oversampler{src: src, factor: (oversample*lower + from - 1) / from}
	cutoff := float64(lower) / float64(from) // re half of the rate of src
	o.side = int(math.Ceil(reach / cutoff))
	for p := range o.factor {
		weights := make([]float64, 2*o.side)
		sum := 0.0
		for k := range weights {
			// Sample k stands at k-side+1 around the place at p/factor.
			t := float64(k-o.side+1) - float64(p)/float64(o.factor)
			weights[k] = approx.Sinc(float64(cutoff*t)) * kaiser(t/float64(o.side))
			sum += weights[k]
		}
		for k := range weights {
			weights[k] /= sum
		}
		o.phases = append(o.phases, weights)
	}
	return o
}

// kaiser returns the window at x, -1 to 1.
func kaiser(x float64) float64 {
	return approx.BesselI0(float64(kaiserBeta*math.Sqrt(max(0, 1-float64(x*x))))) / approx.BesselI0(kaiserBeta)
}

// Stream implements beep.Streamer.
func (o *oversampler) Stream(samples [][2]float64) (int, bool) {
	for i := range samples {
		whole, phase := floorDiv(o.at, o.factor)
		for c, src := range o.src {
			samples[i][c] = o.sample(src, whole, o.phases[phase])
		}
		o.at++
	}
	return len(samples), true
}

// sample returns the value a little after sample at of src.
func (o *oversampler) sample(src []float64, at int, weights []float64) float64 {
	first := at - o.side + 1
	from, to := max(first, 0), min(first+len(weights), len(src))
	if from >= to {
		return 0
	}
	weights = weights[from-first:]
	sum := 0.0
	for k, x := range src[from:to] {
		sum += float64(x * weights[k])
	}
	return sum
}

// Err implements beep.Streamer.
func (o *oversampler) Err() error { return nil }

// floorDiv returns the quotient rounded down and the remainder, 0 to b-1.
func floorDiv(a, b int) (int, int) {
	q, r := a/b, a%b
	if r < 0 {
		q, r = q-1, r+b
	}
	return q, r
}
