package movement

import (
	"math"
	"math/bits"

	"lampblack/scope/fft"
)

// Measures of what counts as periodic.
const (
	likeness = 0.06 // difference from itself a period later, at most: part of that of values which have nothing to do with each other
	fewest   = 48   // values in which a period is looked for at all
)

// finder looks for periods. It keeps its workspaces; one goroutine uses it.
type finder struct {
	spaces map[int]*space
	lags   []float64 // difference at every lag, as a part of the mean of those before it
}

// space is what the transforms of so many values need.
type space struct {
	fft            *fft.Real
	head, all      []float64
	re, im, r2, i2 []float64
}

// period returns after how many values the values come round again, at least two
// of which must have been seen, and false if they don't. The difference from
// itself is looked at for every lag; the first that is small is the period, and
// many periods together give it to a small part of a value.
//
// Source: de Cheveigne and Kawahara, "YIN, a fundamental frequency estimator for
// speech and music", JASA 111(4), 2002, steps 2, 3 and 5.
func (f *finder) period(x []float64) (values float64, ok bool) {
	if len(x) < fewest {
		return 0, false
	}
	d := f.differences(x)
	f.lags = append(f.lags[:0], d...)
	sum := 0.0
	for lag := 1; lag < len(d); lag++ {
		sum += d[lag]
		f.lags[lag] = 1
		if sum > 0 {
			f.lags[lag] = d[lag] * float64(lag) / sum
		}
	}
	for lag := 2; lag+1 < len(d); lag++ {
		if d[lag] > d[lag-1] || d[lag] >= d[lag+1] {
			continue
		}
		at, least := dip(d[lag-1], d[lag], d[lag+1])
		if mean := d[lag] / f.lags[lag]; f.lags[lag] > 0 && least/mean > likeness {
			continue
		}
		return longer(d, float64(lag)+at), true
	}
	return 0, false
}

// dip returns where a parabola through three values is least, from the middle
// one, and how low that is (0 at least).
func dip(a, b, c float64) (at, least float64) {
	bend := a - 2*b + c
	if !(bend > 0) {
		return 0, b
	}
	at = (a - c) / (2 * bend)
	return at, math.Max(b-(a-c)*at/4, 0)
}

// longer makes a period exact: twice as many periods at a time are compared, as
// long as they are alike.
func longer(d []float64, period float64) float64 {
	typical := 0.0
	for _, v := range d {
		typical += v / float64(len(d))
	}
	for count := 2.0; ; count *= 2 {
		lag := int(math.Round(count * period))
		if lag+1 >= len(d) {
			return period
		}
		for lag+1 < len(d)-1 && d[lag+1] < d[lag] {
			lag++
		}
		for lag > 1 && d[lag-1] < d[lag] {
			lag--
		}
		if math.Abs(float64(lag)-count*period) > period/2 {
			return period
		}
		at, least := dip(d[lag-1], d[lag], d[lag+1])
		if least > 2*likeness*typical {
			return period
		}
		period = (float64(lag) + at) / count
	}
}

// differences returns the sum of the squares of x[i] - x[i+lag] over the first
// half of x, for lags from 0 to half of x.
func (f *finder) differences(x []float64) []float64 {
	half := len(x) / 2
	mean := 0.0
	for _, v := range x {
		mean += v / float64(len(x))
	}
	s := f.space(len(x))
	clear(s.head)
	clear(s.all)
	for i, v := range x {
		s.all[i] = v - mean
		if i < half {
			s.head[i] = v - mean
		}
	}
	// The products of both for every lag: the inverse transform of one spectrum
	// times the other's conjugate, which for real results is the sum of the real
	// and the imaginary part of one more transform.
	s.fft.Transform(s.re, s.im, s.head)
	s.fft.Transform(s.r2, s.i2, s.all)
	n := s.fft.Len()
	x2 := s.head
	for k := range s.re {
		p := float64(s.re[k]*s.r2[k]) + float64(s.im[k]*s.i2[k])
		q := float64(s.re[k]*s.i2[k]) - float64(s.im[k]*s.r2[k])
		x2[k] = p + q
		if k > 0 && k < n/2 {
			x2[n-k] = p - q
		}
	}
	s.fft.Transform(s.re, s.im, x2)
	d := s.r2[:half+1] // not needed any more
	here, there := 0.0, 0.0
	for i := range half {
		here += s.all[i] * s.all[i]
	}
	there = here
	for lag := range half + 1 {
		if lag > 0 {
			there += s.all[half+lag-1]*s.all[half+lag-1] - s.all[lag-1]*s.all[lag-1]
		}
		d[lag] = math.Max(here+there-2*(s.re[lag]+s.im[lag])/float64(n), 0)
	}
	return d
}

// space returns the workspace for n values: twice as many would not come round.
func (f *finder) space(n int) *space {
	size := max(1<<bits.Len(uint(n-1)), 64)
	if s := f.spaces[size]; s != nil {
		return s
	}
	if f.spaces == nil {
		f.spaces = map[int]*space{}
	}
	lines := size/2 + 1
	s := &space{
		fft: fft.New(size), head: make([]float64, size), all: make([]float64, size),
		re: make([]float64, lines), im: make([]float64, lines), r2: make([]float64, lines), i2: make([]float64, lines),
	}
	f.spaces[size] = s
	return s
}

// exact makes a period that is known to a part of a value as exact as a longer
// stretch allows: lags of many periods are compared, a few only.
func exact(x []float64, period float64) float64 {
	half := len(x) / 2
	at := func(lag int) float64 {
		sum := 0.0
		for i := range half {
			e := x[i] - x[i+lag]
			sum += e * e
		}
		return sum
	}
	for count := 1.0; 2*count*period < float64(half-2); {
		count *= 2
		lag := int(math.Round(count * period))
		if lag+1 > half || lag < 1 {
			break
		}
		a, b, c := at(lag-1), at(lag), at(lag+1)
		for range 8 { // the dip lies beside it
			if a < b && lag > 2 {
				lag--
				a, b, c = at(lag-1), a, b
			} else if c < b && lag+2 <= half {
				lag++
				a, b, c = b, c, at(lag+1)
			}
		}
		if b > a || b > c || math.Abs(float64(lag)-count*period) > period/2 {
			break
		}
		off, _ := dip(a, b, c)
		period = (float64(lag) + off) / count
	}
	return period
}
