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
// 1984; Kaiser 1974.
package resample

import (
	"math"
	"sync"

	"lampblack/patch/dsp/approx"
)

const (
	Half = 16   // samples on either side of a place that are read at speed 1
	rows = 1024 // places between two samples in the table; between them it is interpolated
	beta = 10
)

// kernel holds the windowed sinc at x = i/rows samples, 0 <= x <= Half, and one
// beyond.
type kernel struct {
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
		x := float64(i) / rows
		u := x / Half
		w := approx.BesselI0(float64(beta*math.Sqrt(1-float64(u*u)))) * unit
		p := x / 2
		k.at[i] = float64(approx.Sine(p-math.Floor(p))*w) / float64(math.Pi*x)
	}
	return k
}

// Reader reads signals. Make it with New; it is a small value.
type Reader struct{ k *kernel }

// New returns a Reader. The table is made once; it takes a few milliseconds.
func New() Reader { return Reader{table()} }

// At returns the value of x at a place in samples, read at a speed (samples of
// x for each sample of the result, > 0). Outside x there is silence. The place
// may be anywhere.
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
	at, sum := &r.k.at, 0.0
	first := int(n) - Half + 1
	for i := range Half { // samples at and before the place, nearest last
		t := j + (Half-1-i)*rows
		if s := first + i; uint(s) < uint(len(x)) {
			sum += float64(x[s] * (at[t] + float64(f*(at[t+1]-at[t]))))
		}
	}
	for i := range Half { // samples behind it
		t := (i+1)*rows - j
		if s := first + Half + i; uint(s) < uint(len(x)) {
			sum += float64(x[s] * (at[t] + float64(f*(at[t-1]-at[t]))))
		}
	}
	return sum
}

// wide sums the samples under a sinc that is speed times as wide.
func (r Reader) wide(x []float64, place, speed float64) float64 {
	squeeze := 1 / speed
	reach := Half * speed
	first, last := max(int(math.Ceil(place-reach)), 0), min(int(math.Floor(place+reach)), len(x)-1)
	at, sum := &r.k.at, 0.0
	for i := first; i <= last; i++ {
		f := float64(math.Abs(float64(i)-place) * squeeze * rows)
		j := min(int(f), Half*rows)
		f -= float64(j)
		sum += float64(x[i] * (at[j] + float64(f*(at[j+1]-at[j]))))
	}
	return float64(sum * squeeze)
}
