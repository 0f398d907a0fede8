package scope

import (
	"math"
	"sync"

	"lampblack/patch/dsp/approx"
)

// Column is what one column of a picture shows: the signal between Min and Max.
// A column beyond the ends of the signal is Empty.
type Column struct{ Min, Max float64 }

// Empty reports whether there is nothing to draw in the column.
func (c Column) Empty() bool { return c.Min > c.Max }

// Trace reduces the samples of a view to the columns of dst, one for each pixel
// from left to right, and returns dst. Zoomed out, a column spans all samples in
// it and reaches the first of the next, so that a line has no gaps and no peak
// is lost. Zoomed in, the signal is interpolated as the band-limited signal that
// it stands for. It allocates nothing.
func Trace[S Sample](dst []Column, samples []S, v View) []Column {
	step := v.Length / float64(len(dst))
	if step < 2 {
		interpolated(dst, samples, v.First, step)
		return dst
	}
	for c := range dst {
		left := int(math.Floor(v.First + float64(c)*step))
		right := int(math.Ceil(v.First + float64(c+1)*step))
		dst[c] = extent(samples, max(left, 0), min(right+1, len(samples)))
	}
	return dst
}

// extent returns the column that spans samples[from:to].
func extent[S Sample](samples []S, from, to int) Column {
	column := Column{math.Inf(1), math.Inf(-1)}
	if from >= to {
		return column
	}
	low, high := samples[from], samples[from]
	for _, s := range samples[from:to] {
		low, high = min(low, s), max(high, s)
	}
	return Column{float64(low), float64(high)}
}

func interpolated[S Sample](dst []Column, samples []S, first, step float64) {
	left := edge(samples, first)
	for c := range dst {
		right := edge(samples, first+float64(c+1)*step)
		switch {
		case math.IsNaN(left) || math.IsNaN(right):
			dst[c] = Column{math.Inf(1), math.Inf(-1)}
		default:
			dst[c] = Column{min(left, right), max(left, right)}
		}
		left = right
	}
}

// edge returns the value at a place, or NaN outside the samples.
func edge[S Sample](samples []S, place float64) float64 {
	if !(place >= 0 && place <= float64(len(samples)-1)) {
		return math.NaN()
	}
	return At(samples, place)
}

// The interpolating filter: a sinc in a Kaiser window over 2*sincSide samples,
// tabulated at sincPhases places between two samples.
const (
	sincSide   = 12
	sincPhases = 256
	sincBeta   = 7.5
)

var sincTable = sync.OnceValue(func() *[sincPhases + 1][2 * sincSide]float64 {
	table := new([sincPhases + 1][2 * sincSide]float64)
	for p := range table {
		sum := 0.0
		for k := range table[p] {
			t := float64(k-sincSide+1) - float64(p)/sincPhases
			table[p][k] = approx.Sinc(t) * approx.BesselI0(sincBeta*math.Sqrt(max(0, 1-t*t/(sincSide*sincSide))))
			sum += table[p][k]
		}
		for k := range table[p] {
			table[p][k] /= sum // a steady level stays what it is
		}
	}
	return table
})

// At returns the value of the signal at a place between its samples (0 to
// len(samples)-1), taken to be band-limited: for tones below 0.4 of the rate the
// error is below a thousandth of their amplitude, 12 samples or more from the
// ends. Beyond the ends the signal is taken to stay as it is there.
func At[S Sample](samples []S, place float64) float64 {
	whole := math.Floor(place)
	i, phase := int(whole), (place-whole)*sincPhases
	if phase == 0 && i >= 0 && i < len(samples) {
		return float64(samples[i])
	}
	p := int(phase)
	between := phase - float64(p)
	table := sincTable()
	low, high := &table[p], &table[min(p+1, sincPhases)]
	sum := 0.0
	if first := i - sincSide + 1; first >= 0 && first+2*sincSide <= len(samples) {
		for k, s := range samples[first : first+2*sincSide] {
			sum += float64(s) * (low[k] + between*(high[k]-low[k]))
		}
		return sum
	}
	for k := range low {
		s := samples[min(max(i-sincSide+1+k, 0), len(samples)-1)]
		sum += float64(s) * (low[k] + between*(high[k]-low[k]))
	}
	return sum
}
