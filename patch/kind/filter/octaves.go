package filter

import (
	"math"

	"lampblack/patch/dsp/approx"
)

// octaves is a width in octaves. With r = 2^width and c = (r + 1)/(r - 1), two
// frequencies r apart have a difference of 1/c of their sum.
type octaves struct {
	width   float64
	squeeze float64 // 1/c^2
	most    float64 // (pi c/(c + 1))^2: the square of S, if the upper frequency is half the sample rate
	spread  float64 // (2 pi)^2 c^2/(c^2 - 1): the analogue filter's S is f times the root of it
}

func octavesOf(width float64) octaves {
	r := approx.Exp2(width)
	c := (r + 1) / (r - 1)
	cc, most := float64(c*c), math.Pi*c/(c+1)
	return octaves{width, 1 / cc, float64(most * most), 4 * math.Pi * math.Pi * cc / (cc - 1)}
}

// tan returns tan(pi (f2 - f1)) for the two frequencies, over the sample rate,
// at which a digital band around f is 3.01 dB down, if f2/f1 = 2^width. m is
// sin^2(pi f).
//
// tan(pi f1) tan(pi f2) = tan^2(pi f) is, with S = pi (f1 + f2) and so
// pi (f2 - f1) = S/c,
//
//	sin^2(S/2) = m + (1 - 2m) sin^2(S/(2c)),
//
// which is nearly a straight line in S^2: three of Newton's steps from the
// analogue filter's S (or the largest that there can be) find S within 4e-7 of
// itself.
func (o *octaves) tan(f, m float64) float64 {
	q := min(float64(float64(f*f)*o.spread), o.most)
	down := 1 - float64(2*m)
	for range 3 {
		p := float64(q * o.squeeze)
		miss := sineSquare(q) - m - float64(down*sineSquare(p))
		slope := sineSlope(q) - float64(float64(down*o.squeeze)*sineSlope(p))
		q = min(max(q-miss/slope, 0), o.most)
	}
	s := sineSquare(float64(4 * float64(q*o.squeeze)))
	return math.Sqrt(s / (1 - s))
}

// sineSquare returns sin^2(sqrt(q)/2) for q of 0 to pi^2; its largest relative
// error is 2e-12. As the polynomials of package approx, it interpolates at
// Chebyshev nodes.
func sineSquare(q float64) float64 {
	u := float64(q * q)
	y := 5.689802169741683e-12 - float64(2.0997169126540083e-14*q)
	y = 1.3778486277000837e-07 - float64(1.0434610545310108e-09*q) + float64(y*u)
	y = 0.00069444443910154788 - float64(1.2400789311075665e-05*q) + float64(y*u)
	y = 0.2499999999998066 - float64(0.02083333333082495*q) + float64(y*u)
	return float64(q * y)
}

// sineSlope returns the slope of sineSquare, sin(sqrt(q))/(4 sqrt(q)); its
// largest error is 2e-8.
func sineSlope(q float64) float64 {
	u := float64(q * q)
	y := 6.77182941405801e-07 - float64(5.1735275261778399e-09*q)
	y = 0.0020831971172024441 - float64(4.9543862628729214e-05*q) + float64(y*u)
	return 0.24999998426943432 - float64(0.041666551832841486*q) + float64(y*u)
}
