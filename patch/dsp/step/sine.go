package step

import (
	"math"
	"sync"

	"lampblack/patch/dsp/approx"
)

// Sines mends breaks of a sine. A sine that breaks is smooth on either side, but
// all of its derivatives change; its band-limited form is the low-pass over a sine
// that is switched on,
//
//	D(x) = integral over v up to x of h(v) e^(jw(x - v)),
//
// h being the windowed sinc of the jumps. From one sample to the next,
//
//	D(x) = e^(jw) D(x-1) + integral over s from -1 to 0 of h(x+s) e^(-jws),
//
// where the exponential is a short series around the middle of the sample; the
// table holds the integrals of h with its powers. So this is exact for every w.
// The method is the design's own.
type Sines struct {
	length  int
	moments [orders][rows + 1]moment
	passes  [tones + 1]float64 // by what the low-pass multiplies a sine of pi i/tones
}

// moment is a row: of the low-pass's length, 0 behind.
type moment [Points]float64

// tones is how many frequencies the response of the low-pass is tabulated for.
const tones = 4096

// orders is the length of the series: at half the rate what is left out is 4e-7.
const orders = 12

var (
	shortSines = sync.OnceValue(func() *Sines { return newSines(&short) })
	longSines  = sync.OnceValue(func() *Sines { return newSines(&long) })
)

// LoadSines returns the table that belongs to Load's of that rate. It takes some
// milliseconds the first time; it is not for the sound thread. It is safe for any
// number of goroutines.
func LoadSines(rate float64) *Sines {
	if rate < 48000 {
		return longSines()
	}
	return shortSines()
}

// nodes is how many points of h, evenly apart, one integral over a sample takes.
const nodes = 32 + 1

// newSines integrates h(x+s) (s + 1/2)^q / q! from s = -1 to 0 by Boole's rule,
// whose error is below 1e-8 here.
func newSines(kernel *kernel) *Sines {
	h := kernel.at()
	weights := momentWeights()
	t := &Sines{length: kernel.length}
	for i := range h {
		var at [nodes]float64
		for m := range at {
			if from := i - rows + m*rows/(nodes-1); from >= 0 {
				at[m] = h[from]
			}
		}
		for q := range orders {
			sum := 0.0
			for m, w := range weights[q] {
				sum += float64(w * at[m])
			}
			if k, j := i/rows, i%rows; k < t.length {
				t.moments[q][j][k] = sum
			}
			if i%rows == 0 && i > 0 {
				t.moments[q][rows][i/rows-1] = sum
			}
		}
	}
	for i := range t.passes {
		t.passes[i] = kernel.passes(float64(i) / (2 * tones))
	}
	return t
}

// momentWeights are those of the points, times (s + 1/2)^q / q!.
func momentWeights() (w [orders][nodes]float64) {
	for m := range nodes {
		b := [4]float64{14, 32, 12, 32}[m%4]
		if m == 0 || m == nodes-1 {
			b = 7
		}
		b = float64(b*4/90) / (nodes - 1)
		u := float64(float64(m)*(1.0/(nodes-1))) - 0.5
		for q := range orders {
			w[q][m] = b
			b = float64(b*u) / float64(q+1)
		}
	}
	return w
}

// gain undoes what the low-pass takes from a sine of w: it goes on as loud as it is.
// Near half the rate, where hardly anything passes, that has its limit.
func (t *Sines) gain(w float64) float64 {
	at := float64(min(math.Abs(w), math.Pi) * (tones / math.Pi))
	i := min(int(at), tones-1)
	b := at - float64(i)
	passed := float64((1-b)*t.passes[i]) + float64(b*t.passes[i+1])
	return 1 / max(passed, 0.1)
}

// Break adds to dst, a Window, what a band-limited break of a sine of w radians a
// sample (-pi to pi) differs from a sharp one, which lies late samples (0 to 1)
// before the middle of dst: from there on, s samples behind the break, it is
// sin*cos(ws) + cos*sin(ws) more than it would have been.
func (t *Sines) Break(dst []float64, late, w, sin, cos float64) {
	at := float64(late * rows)
	j := min(max(int(at), 0), rows-1)
	part := at - float64(j)
	var even, odd moment // of the series: the real part, and minus the imaginary one
	power := 1.0
	bound := 1.0
	for q := range orders {
		sum := &even
		if q%2 == 1 {
			sum = &odd
		}
		sign := 1 - float64(q&2)
		b := float64(float64(sign*power) * part)
		addTwo(sum[:t.length], t.moments[q][j][:], t.moments[q][j+1][:], float64(sign*power)-b, b)
		power = float64(power * w)
		if bound = float64(bound*math.Abs(w)) * 0.5 / float64(q+1); bound < 1e-10 {
			break
		}
	}
	unit := rotation(w)
	half := rotation(float64(w * 0.5))
	var on [Points]turned // D
	d := turned{}
	for k := range on[:t.length] {
		d = d.by(unit)
		m := turned{even[k], -odd[k]}.by(half)
		d.re, d.im = d.re+m.re, d.im+m.im
		on[k] = d
	}
	gain := t.gain(w)
	sharp := rotation(float64(w * late))
	for k := range dst[:t.length] {
		re, im := float64(on[k].re*gain), float64(on[k].im*gain)
		if k >= t.length/2 {
			re, im = re-sharp.re, im-sharp.im
			sharp = sharp.by(unit)
		}
		dst[k] += float64(sin*re) + float64(cos*im)
	}
}

// turned is a number with a phase: e^(jx) is cos x + j sin x. (The language's own
// complex products may be fused.)
type turned struct{ re, im float64 }

func rotation(x float64) turned {
	c := float64(x * (0.5 / math.Pi))
	c -= math.Floor(c)
	quarter := c + 0.25
	if quarter >= 1 {
		quarter--
	}
	return turned{approx.Sine(quarter), approx.Sine(c)}
}

func (a turned) by(b turned) turned {
	return turned{float64(a.re*b.re) - float64(a.im*b.im), float64(a.re*b.im) + float64(a.im*b.re)}
}
