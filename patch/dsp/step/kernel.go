package step

import (
	"math"

	"lampblack/patch/dsp/approx"
)

// kernel is the low-pass that corners are seen through, as a sum of cosines over
// its length:
//
//	h(t) = 1/length (a0 + a1 cos(2 pi t/length) + a2 cos(2 pi 2t/length) + ...)
//
// Its coefficients were found by linear programming: the ripple below the pass
// edge is the least that lets everything from the stop edge on be 122 dB down, for
// which a Kaiser window of that ripple needs half as many samples again. Besides, the
// mean is 1, the second and fourth moments are 0 (so that the integrals of a corner
// end where the sharp one does), and h and its curvature end at 0.
type kernel struct {
	length  int // samples, even
	cosines []float64
}

// short passes to 0.3765 of the rate within 0.011 dB and stops what lies above
// 0.583 of it: 18 and 28 kHz at 48 kHz, where 28 kHz folds to 20 kHz.
var short = kernel{28, []float64{
	1, 1.9999387809371254, 1.9985928964127682, 1.9987135434637633, 2.0021276423379644,
	1.9982204341357888, 2.0009678826692903, 1.9998829596550485, 1.9994905114601087, 2.0006763812197246,
	2.0004763936661361, 1.9534500589977821, 1.5278437052879217, 0.74610485092022805, 0.18353540389821343,
	0.016181187384884128, 0.00013995521698471409, -8.5318785234107359e-08, 1.3607896694676838e-06, -1.8498698444094244e-07,
	-6.6421323786262098e-07, 1.0907409432355213e-06, -1.2734674486621477e-06, 1.3341380237859168e-06, -1.3192286516005204e-06,
	1.2142984364479807e-06, -9.2924374025388986e-07,
}}

// long passes to 0.409 of the rate within 0.014 dB and stops what lies above 0.5462
// of it: 18 and 24.1 kHz at 44.1 kHz, where 24.1 kHz folds to 20 kHz.
var long = kernel{40, []float64{
	1, 2.0000917881162197, 2.0021118254797985, 2.0019659878307561, 1.9967935328525126,
	2.002580494281486, 1.9988443384907062, 1.9995591090834712, 2.0018339291549268, 1.997220400432792,
	2.0031898281484652, 1.9969228629165423, 2.0025644900439423, 1.9981612923374481, 2.0012207317733028,
	1.9987808174641133, 2.0029848601751659, 1.8856366049360964, 1.2777017082802511, 0.48163713716852896,
	0.078429156290921648, 0.0031174429750903121, -1.2944386095937881e-06, -3.6713346092367125e-07, -1.4301151642490853e-06,
	1.3245090116608269e-06, -7.2079120713455777e-07, 1.7102054431796804e-07, 2.322071068958808e-07, -5.0427393209303796e-07,
	6.6627073265967413e-07, -7.4772629855479531e-07, 7.5377408431659582e-07, -6.8945036198684395e-07, 5.1689110888440998e-07,
}}

// passes is the response at f, a part of the rate.
func (h *kernel) passes(f float64) float64 {
	at := float64(f * float64(h.length))
	y := 0.0
	for k, a := range h.cosines {
		y += float64(a * 0.5 * (sinc(at-float64(k)) + sinc(at+float64(k))))
	}
	return y
}

// sinc is sin(pi x)/(pi x).
func sinc(x float64) float64 {
	if x == 0 {
		return 1
	}
	p := float64(x * 0.5)
	return approx.Sine(p-math.Floor(p)) / float64(math.Pi*x)
}

// at returns h for all of its length, from one end to the other, at 1/rows of a
// sample.
func (h *kernel) at() []float64 {
	n := h.length * rows
	turns := circle(n)
	y := make([]float64, n+1)
	for i := range y {
		for k, a := range h.cosines {
			// It begins at -length/2, where every odd cosine is turned.
			sign := float64(1 - 2*(k%2))
			y[i] += float64(sign * a * turns.cos(k*i))
		}
		y[i] /= float64(h.length)
	}
	return y
}

// integrals returns the integrals of h from where it begins up to its middle,
// once to Orders times, at 1/rows of a sample.
func (h *kernel) integrals() (f [Orders][]float64) {
	n := h.length * rows
	turns := circle(n)
	for o := range f {
		f[o] = make([]float64, n/2+1)
	}
	for i := range n/2 + 1 {
		u := float64(float64(i) * (1.0 / rows))
		u2 := float64(u * u)
		sum := [Orders]float64{u, float64(u2 * 0.5), float64(u2*u) / 6, float64(u2*u2) / 24, float64(float64(u2*u2)*u) / 120}
		for k, a := range h.cosines[1:] {
			if k%2 == 0 {
				a = -a
			}
			w := float64(2*math.Pi*float64(k+1)) / float64(h.length)
			ww := float64(w * w)
			sin, cos := turns.cos((k+1)*i-n/4), turns.cos((k+1)*i)
			sum[0] += float64(a*sin) / w
			sum[1] += float64(a*(1-cos)) / ww
			sum[2] += float64(a*(u-sin/w)) / ww
			sum[3] += float64(a*(float64(u2*0.5)-(1-cos)/ww)) / ww
			sum[4] += float64(a*(float64(u2*u)/6-(u-sin/w)/ww)) / ww
		}
		for o := range f {
			f[o][i] = sum[o] / float64(h.length)
		}
	}
	return f
}

// circle is one cycle of a cosine.
type turns []float64

func circle(n int) turns {
	t := make(turns, n)
	for i := range t {
		t[i] = approx.Sine(float64((i+n/4)%n) / float64(n))
	}
	return t
}

func (t turns) cos(i int) float64 {
	i %= len(t)
	if i < 0 {
		i += len(t)
	}
	return t[i]
}
