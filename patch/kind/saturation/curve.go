package saturation

import (
	"math"
	"sync"

	"lampblack/patch/dsp/approx"
)

// The curves, in the order of their words.
const (
	soft = iota
	hard
	fold
)

// value, first and second are a curve and its first and second antiderivative.
// The curves are odd, so first is even and second odd.
func value(curve int, x float64) float64 {
	switch curve {
	case soft:
		y, _, _ := tanh().at(math.Abs(x))
		return math.Copysign(y, x)
	case hard:
		return min(max(x, -1), 1)
	}
	return approx.Sine(cycles(x))
}

func first(curve int, x float64) float64 {
	switch curve {
	case soft:
		_, y, _ := tanh().at(math.Abs(x))
		return y
	case hard:
		if a := math.Abs(x); a > 1 {
			return a - 0.5
		}
		return float64(0.5 * float64(x*x))
	}
	return float64(-2 / math.Pi * approx.Sine(cycles(x+1)))
}

func second(curve int, x float64) float64 {
	switch curve {
	case soft:
		_, _, y := tanh().at(math.Abs(x))
		return math.Copysign(y, x)
	case hard:
		a := math.Abs(x)
		if a > 1 {
			return math.Copysign(float64(0.5*float64(a*(a-1)))+1.0/6, x)
		}
		return float64(x*float64(x*x)) * (1.0 / 6)
	}
	return float64(-4 / (math.Pi * math.Pi) * approx.Sine(cycles(x)))
}

// cycles is the phase, 0 to 1, of sin(pi x/2).
func cycles(x float64) float64 {
	p := float64(0.25 * x)
	return p - math.Floor(p)
}

// full is from where on a curve is level, 0 where it never is.
var full = [...]float64{soft: ends, hard: 1, fold: 0}

const (
	ends  = 10 // tanh 10 is 1 - 4e-9
	steps = 16 // pieces of the table to 1
)

// pieces is tanh as a cubic in each piece (Hermite's: value and slope are exact
// at both ends), within 3e-7 of tanh, with the antiderivatives of that. An exact
// second antiderivative of tanh itself is a dilogarithm.
type pieces [ends*steps + 1]piece

type piece struct{ c0, c1, c2, c3, first, second float64 }

var tanh = sync.OnceValue(func() *pieces {
	const h = 1.0 / steps
	t := &pieces{}
	f := func(x float64) (y, slope float64) {
		y = 1 - 2/(approx.Exp2(float64(2*math.Log2E*x))+1)
		return y, 1 - float64(y*y)
	}
	for k := range t {
		p := &t[k]
		p.c0, p.c1 = f(float64(k) * h)
		if k > 0 {
			_, p.first, p.second = t[k-1].at(h)
		}
		if k == len(t)-1 {
			p.c1 = 0 // level from here on
			break
		}
		y, slope := f(float64(k+1) * h)
		rise := float64((y - p.c0) * steps)
		p.c2 = (float64(3*rise) - float64(2*p.c1) - slope) / h
		p.c3 = (p.c1 + slope - float64(2*rise)) / (h * h)
	}
	return t
})

// at returns tanh and its antiderivatives at x, 0 or more.
func (t *pieces) at(x float64) (y, first, second float64) {
	k := int(min(float64(x*steps), ends*steps))
	return t[k].at(x - float64(float64(k)*(1.0/steps)))
}

func (p *piece) at(u float64) (y, first, second float64) {
	y = p.c0 + float64(u*(p.c1+float64(u*(p.c2+float64(u*p.c3)))))
	first = p.first + float64(u*(p.c0+float64(u*(float64(p.c1*(1.0/2))+float64(u*(float64(p.c2*(1.0/3))+float64(u*(p.c3*(1.0/4)))))))))
	second = p.second + float64(u*(p.first+float64(u*(float64(p.c0*(1.0/2))+float64(u*(float64(p.c1*(1.0/6))+float64(u*(float64(p.c2*(1.0/12))+float64(u*(p.c3*(1.0/20)))))))))))
	return y, first, second
}
