// Package resample reads a sampled signal between its samples.
//
//	signal, place, speed -> weighted sum of the samples around -> value
//
// The weights are a Kaiser-windowed sinc of 32 points. Read faster than it was
// recorded, the sinc is stretched by the speed, so that what would pass half
// the sample rate is filtered away instead of folding.
//
// Held by tests: at whole places and speeds up to 1 every sample comes back
// unchanged; a sine up to 0.375 of the rate (18 kHz at 48 kHz) is read with an
// error of at most -100 dB of its amplitude.
//
// Source: Smith and Gossett, A flexible sampling-rate conversion method, ICASSP
// 1984; Kaiser, Nonrecursive digital filter design using the I0-sinh window,
// 1974.
package resample

import (
	"math"
	"sync"

	"lampblack/patch/dsp/approx"
)

const (
	Half = 16 // samples on either side of a place that are read at speeds up to 1

	points = 2 * Half
	rows   = 512 // places between two samples in the table; between them it is interpolated
	beta   = 10  // of the Kaiser window: side lobes 100 dB down
)

// kernel is the windowed sinc, written down in two orders.
type kernel struct {
	// rows[j] are the weights of the 32 samples around a place that lies
	// j/rows behind sample Half-1 of them.
	rows [rows + 1][points]float64
	// at[i] is the sinc i/rows samples from its middle, then zeros.
	at [Half*rows + 2]float64
}

var table = sync.OnceValue(newKernel)

func newKernel() *kernel {
	k := &kernel{}
	k.at[0] = 1
	unit := 1 / approx.BesselI0(beta)
	for i := 1; i < Half*rows; i++ {
		if i%rows == 0 {
			continue // exactly 0, so that a recording at speed 1 is copied
		}
		x := float64(float64(i) / rows)
		u := x / Half
		w := float64(approx.BesselI0(float64(beta*math.Sqrt(1-float64(u*u)))) * unit)
		p := float64(x / 2)
		k.at[i] = float64(approx.Sine(p-math.Floor(p))*w) / float64(math.Pi*x)
	}
	for j := range k.rows {
		for i := range Half {
			k.rows[j][Half-1-i] = k.at[i*rows+j]
			k.rows[j][Half+i] = k.at[(i+1)*rows-j]
		}
	}
	return k
}

// Reader reads signals. Make it with New; it is a small value.
type Reader struct{ k *kernel }

// New returns a Reader. The table is made once; it takes a few milliseconds.
func New() Reader { return Reader{table()} }

// At returns the value of x at a place in samples, read at a speed (samples of
// x for each sample of the result, > 0). Outside x there is silence. The place
// may be anywhere within +-1e15.
func (r Reader) At(x []float64, place, speed float64) float64 {
	if speed <= 1 {
		return r.narrow(x, place)
	}
	return r.wide(x, place, speed)
}

// narrow sums the 32 samples around the place.
func (r Reader) narrow(x []float64, place float64) float64 {
	n := math.Floor(place)
	f := float64((place - n) * rows)
	j := int(f)
	f -= float64(j)
	a, b := &r.k.rows[j], &r.k.rows[j+1]
	first := int(n) - Half + 1
	if first >= 0 && first+points <= len(x) {
		return sum((*[points]float64)(x[first:]), a, b, f)
	}
	var edge [points]float64
	for i := range edge {
		if s := first + i; uint(s) < uint(len(x)) {
			edge[i] = x[s]
		}
	}
	return sum(&edge, a, b, f)
}

// sum weighs x with the row f of the way from a to b. Four sums run side by
// side, since each addition would wait for the one before.
func sum(x, a, b *[points]float64, f float64) float64 {
	var s0, s1, s2, s3 float64
	for i := 0; i < points; i += 4 {
		s0 += float64(x[i] * (a[i] + float64(f*(b[i]-a[i]))))
		s1 += float64(x[i+1] * (a[i+1] + float64(f*(b[i+1]-a[i+1]))))
		s2 += float64(x[i+2] * (a[i+2] + float64(f*(b[i+2]-a[i+2]))))
		s3 += float64(x[i+3] * (a[i+3] + float64(f*(b[i+3]-a[i+3]))))
	}
	return s0 + s1 + (s2 + s3)
}

// wide sums the samples under a sinc that is speed times as wide.
func (r Reader) wide(x []float64, place, speed float64) float64 {
	if !(place > -1e15 && place < 1e15) {
		return 0
	}
	squeeze := 1 / speed
	step := float64(rows * squeeze)
	n := int(math.Floor(place))
	reach := int(Half*speed) + 1
	f := float64((place - float64(n)) * step)
	left := r.side(x, n, max(n-reach, -1), -1, f, step)
	right := r.side(x, n+1, min(n+1+reach, len(x)), 1, step-f, step)
	return float64((left + right) * squeeze)
}

// side sums the samples from one beside the place outwards: the first lies f
// rows of the table from its middle, each next one step further.
func (r Reader) side(x []float64, from, end, way int, f, step float64) float64 {
	at, sum := &r.k.at, 0.0
	for i, k := from, 0.0; i != end && (end-i)*way > 0; i, k = i+way, k+1 {
		u := f + float64(k*step)
		j := int(u)
		if j >= Half*rows {
			break
		}
		if uint(i) < uint(len(x)) {
			u -= float64(j)
			sum += float64(x[i] * (at[j] + float64(u*(at[j+1]-at[j]))))
		}
	}
	return sum
}
