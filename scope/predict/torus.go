package predict

import (
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"
)

// torus is expand for two cycles that run side by side.
func (w *walk) torus(a, b *family, f func(v float64) complex128) []two {
	const n = 128
	x, columns := make([]complex128, n), make([][]complex128, n)
	fft := fourier.NewCmplxFFT(n)
	for k := range columns {
		columns[k] = make([]complex128, n)
	}
	for i, v := range b.samples(n) {
		for m, u := range a.samples(n) {
			x[m] = f(u + v)
		}
		for k, c := range fft.Coefficients(nil, x) {
			columns[k][i] = c / n
		}
	}
	var out []two
	for k, column := range columns {
		if k >= n/2 {
			k -= n
		}
		c := fft.Coefficients(nil, column)
		for i := range c {
			c[i] /= n
		}
		outer := two{hz: float64(k) * a.hz, a: 1, turn: int64(k) * a.turn, order: a.order.multiple(k)}
		for _, l := range w.spread(b, -n/2, append(slices.Clone(c[n/2:]), c[:n/2]...), faint*cmplx.Abs(f(0))) {
			out = append(out, two{outer.hz + l.hz, l.a, outer.turn + l.turn, outer.order.plus(l.order, 1)})
		}
	}
	return out
}
