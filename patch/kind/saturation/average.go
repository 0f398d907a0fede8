package saturation

import "math"

// average gives a curve's mean along the way of its input, weighted by a triangle
// over two steps, instead of its value at one place: a low-pass on what the curve
// makes before it is sampled. It is one sample late.
//
// With F the second antiderivative and D(a, b) = (F(a) - F(b))/(a - b),
//
//	y = 2 (D(x0, x1) - D(x1, x2)) / (x0 - x2)
//
// Source: Bilbao and others, IEEE Signal Processing Letters 24(7), 2017, eq. 13
// to 17 (numbers of the equations from memory).
type average struct {
	curve  int
	x1, x2 float64 // the input, one and two samples ago
	f1     float64 // F(x1)
	d12    float64 // D(x1, x2)
}

// near is the distance of two inputs under which a quotient of differences would
// lose too many digits; a value in the middle is as good there.
const near = 1e-4

// use makes curve the one that is averaged.
func (a *average) use(curve int) {
	if curve != a.curve {
		a.curve = curve
		a.f1 = second(curve, a.x1)
		a.d12 = a.quotient(a.x1, a.x2, a.f1, second(curve, a.x2))
	}
}

// next takes the input's next sample.
func (a *average) next(x float64) float64 {
	f := second(a.curve, x)
	d := a.quotient(x, a.x1, f, a.f1)
	y := 0.0
	if apart := x - a.x2; math.Abs(apart) > near {
		y = 2 * (d - a.d12) / apart
	} else {
		y = a.turn(float64(0.5 * (x + a.x2)))
	}
	a.x1, a.x2, a.f1, a.d12 = x, a.x1, f, d
	return y
}

// quotient is D(a, b), without cancellation where the curve is level.
func (a *average) quotient(x, y, fx, fy float64) float64 {
	if e := full[a.curve]; e > 0 && math.Abs(x) > e && math.Abs(y) > e && (x > 0) == (y > 0) {
		// F is a parabola there: D is the antiderivative in the middle.
		return first(a.curve, float64(0.5*(x+y)))
	}
	if apart := x - y; math.Abs(apart) > near {
		return (fx - fy) / apart
	}
	return first(a.curve, float64(0.5*(x+y)))
}

// turn is next where the input comes back to middle, over x1.
func (a *average) turn(middle float64) float64 {
	way := middle - a.x1
	if math.Abs(way) <= near {
		return value(a.curve, float64(0.5*(middle+a.x1)))
	}
	return 2 / way * (first(a.curve, middle) - (second(a.curve, middle)-a.f1)/way)
}
