package oscillator

import "math"

// curve is how far a phase goes between two samples: the polynomial through it and
// its four neighbours on either side. With the time from the middle, u = t - 1/2, and
// v = u^2, it is
//
//	even0 + even1 v + ... + u (odd0 + odd1 v + ...)
//
// At 48 kHz a phase moved by a sine of 1.5 kHz is met within 2e-11 of the swing, of 3
// kHz within 2e-8; by a path within 3e-5 and 5e-4.
type curve struct {
	step      float64 // how far it goes in all
	even, odd [5]float64
	straight  bool
	tame      bool // it moves one way only, and evenly enough for three of Newton's steps
}

// A curve is made from the steps of the phase: four before, the one it runs along,
// and four behind.
const (
	reaches = 9 // steps
	along   = 4 // the number of the one it runs along
)

// The coefficients are sums over second differences of the phase, taken in pairs
// around the middle from there outwards: of the even powers over the sums of the
// pairs, of the odd ones over their differences (the later less the earlier one). By
// exact arithmetic.
var (
	evens = [5][4]float64{
		{-5359.0 / 65536, 1563.0 / 65536, -335.0 / 65536, 35.0 / 65536},
		{434913.0 / 1290240, -139773.0 / 1290240, 30649.0 / 1290240, -3229.0 / 1290240},
		{-3745.0 / 92160, 4869.0 / 92160, -1265.0 / 92160, 141.0 / 92160},
		{31.0 / 11520, -51.0 / 11520, 23.0 / 11520, -3.0 / 11520},
		{-5.0 / 80640, 9.0 / 80640, -5.0 / 80640, 1.0 / 80640},
	}
	odds = [5][4]float64{
		{-690107.0 / 10321920, 110109.0 / 10321920, -15775.0 / 10321920, 1225.0 / 10321920},
		{1630055.0 / 5806080, -282009.0 / 5806080, 41251.0 / 5806080, -3229.0 / 5806080},
		{-7501.0 / 138240, 3339.0 / 138240, -569.0 / 138240, 47.0 / 138240},
		{485.0 / 120960, -267.0 / 120960, 73.0 / 120960, -7.0 / 120960},
		{-35.0 / 362880, 21.0 / 362880, -7.0 / 362880, 1.0 / 362880},
	}
)

// mostBent is by how much of itself the slope of a tame curve may change.
const mostBent = 0.8

// through makes q the curve of so many steps.
func (q *curve) through(s *[reaches]float64) {
	step := s[along]
	q.step = step
	b0, b1, b2, b3 := s[1]-s[0], s[2]-s[1], s[3]-s[2], s[4]-s[3]
	b4, b5, b6, b7 := s[5]-s[4], s[6]-s[5], s[7]-s[6], s[8]-s[7]
	q.straight = b0 == 0 && b1 == 0 && b2 == 0 && b3 == 0 && b4 == 0 && b5 == 0 && b6 == 0 && b7 == 0
	if q.straight {
		q.even, q.odd = [5]float64{0: step / 2}, [5]float64{0: step}
		q.tame = step != 0
		return
	}
	q.tame = bends(s) < float64(mostBent*math.Abs(step))
	s0, s1, s2, s3 := b4+b3, b5+b2, b6+b1, b7+b0
	d0, d1, d2, d3 := b4-b3, b5-b2, b6-b1, b7-b0
	for k := range evens {
		r := &evens[k]
		q.even[k] = (float64(r[0]*s0) + float64(r[1]*s1)) + (float64(r[2]*s2) + float64(r[3]*s3))
		r = &odds[k]
		q.odd[k] = (float64(r[0]*d0) + float64(r[1]*d1)) + (float64(r[2]*d2) + float64(r[3]*d3))
	}
	q.even[0] += float64(step * 0.5)
	q.odd[0] += step
}

// minus makes q the difference of two curves.
func (q *curve) minus(r, w *curve) {
	for k := range q.even {
		q.even[k], q.odd[k] = r.even[k]-w.even[k], r.odd[k]-w.odd[k]
	}
	q.step = r.step - w.step
	q.straight = r.straight && w.straight
	q.tame = r.tame && (w.tame || w.step == 0) && math.Abs(w.step) < float64(0.2*math.Abs(r.step))
}

// at returns how far it has gone at time t.
func (q *curve) at(t float64) float64 {
	y, _ := q.near(t - 0.5)
	return y
}

// near returns how far it has gone at u from the middle, and how fast.
func (q *curve) near(u float64) (y, slope float64) {
	v := float64(u * u)
	w := float64(v * v)
	even := (q.even[0] + float64(q.even[1]*v)) + float64(w*((q.even[2]+float64(q.even[3]*v))+float64(q.even[4]*w)))
	odd := (q.odd[0] + float64(q.odd[1]*v)) + float64(w*((q.odd[2]+float64(q.odd[3]*v))+float64(q.odd[4]*w)))
	rises := sums(2*q.even[1], 4*q.even[2], 6*q.even[3], 8*q.even[4], v, w)
	turns := (q.odd[0] + float64(float64(3*q.odd[1])*v)) + float64(w*((float64(5*q.odd[2])+float64(float64(7*q.odd[3])*v))+float64(float64(9*q.odd[4])*w)))
	return even + float64(u*odd), turns + float64(u*rises)
}

// sums returns (a + b v) + w (c + d v). (What it is given has been rounded.)
func sums(a, b, c, d, v, w float64) float64 {
	return (float64(a) + float64(float64(b)*v)) + float64(w*(float64(c)+float64(float64(d)*v)))
}

// derivatives returns the second to the fourth derivative at u from the middle.
func (q *curve) derivatives(u float64) (second, third, fourth float64) {
	v := float64(u * u)
	w := float64(v * v)
	e, o := &q.even, &q.odd
	second = q.second(u)
	third = sums(6*o[1], 60*o[2], 210*o[3], 504*o[4], v, w) + float64(u*sums(24*e[2], 120*e[3], 336*e[4], 0, v, w))
	fourth = sums(24*e[2], 360*e[3], 1680*e[4], 0, v, w) + float64(u*sums(120*o[2], 840*o[3], 3024*o[4], 0, v, w))
	return second, third, fourth
}

// second returns the second derivative alone.
func (q *curve) second(u float64) float64 {
	v := float64(u * u)
	w := float64(v * v)
	e, o := &q.even, &q.odd
	return sums(2*e[1], 12*e[2], 30*e[3], 56*e[4], v, w) + float64(u*sums(6*o[1], 20*o[2], 42*o[3], 72*o[4], v, w))
}

// turns returns the times at which the place turns back, in order, of the cubic
// part, which is near enough for cutting the curve into pieces that run one way;
// a time outside 0 to 1 stands for none.
func (q *curve) turns() (first, second float64) {
	// The slope is a u^2 + b u + c.
	a, b, c := float64(3*q.odd[1]), float64(2*q.even[1]), q.odd[0]
	d := float64(b*b) - float64(4*float64(a*c))
	if !(d > 0) {
		return -1, -1
	}
	root := math.Sqrt(d)
	if b < 0 {
		root = -root // no difference of two near numbers
	}
	h := -(b + root) / 2
	first, second = -1, -1
	if a != 0 {
		first = q.refine(h / a)
	}
	if h != 0 {
		second = q.refine(c / h)
	}
	return min(first, second), max(first, second)
}

// refine takes one of Newton's steps from where the cubic part turns back, at u from
// the middle, to where the curve does.
func (q *curve) refine(u float64) float64 {
	if u > -0.5 && u < 0.5 {
		if b := q.second(u); b != 0 {
			_, slope := q.near(u)
			u -= slope / b
		}
	}
	return u + 0.5
}

// find returns when it has gone so far, between times t0 and t1 where it does not
// turn back. If rounding has put that outside, it is the nearer end.
func (q *curve) find(far, t0, t1 float64) float64 {
	if q.tame {
		t := within(far / q.step)
		if !q.straight {
			return q.search(far, t0, t1)
		}
		return min(max(t, t0), t1)
	}
	return q.search(far, t0, t1)
}

// search is find for a curve that may be wild.
func (q *curve) search(far, t0, t1 float64) float64 {
	up := q.at(t1) > q.at(t0)
	t := q.parabola(far, up)
	if !(t > t0 && t < t1) {
		t = (t0 + t1) / 2
	}
	for range 60 { // Newton's steps, halvings where these lead out; a few will do
		y, slope := q.near(t - 0.5)
		if y -= far; y < 0 == up {
			t0 = t
		} else {
			t1 = t
		}
		next := t - y/slope
		if !(next > t0 && next < t1) {
			next = (t0 + t1) / 2
		}
		near := math.Abs(next-t) < 1e-7 // the step after that would be 1e-14
		if t = next; near {
			break
		}
	}
	return t
}

// parabola returns when its parabola has gone so far, on the way up or down.
func (q *curve) parabola(far float64, up bool) float64 {
	slope := q.step - q.even[1]
	root := math.Sqrt(max(float64(slope*slope)+float64(float64(4*q.even[1])*far), 0))
	if !up {
		root = -root
	}
	return float64(2*far) / (slope + root)
}

// own returns how far the oscillator's own phase, which is needed sooner, has gone
// at time t of the last step but one: by Newton's formula through all points.
func own(s *[7]float64, t float64) float64 {
	b := [5]float64{s[2] - s[1], s[3] - s[2], s[4] - s[3], s[5] - s[4], s[6] - s[5]}
	if b == [5]float64{} {
		return float64(t * s[5])
	}
	y := 0.0
	for k := len(rows6) - 1; k >= 0; k-- {
		sum := 0.0
		for i, x := range b {
			sum += float64(rows6[k][i] * x)
		}
		if k == 0 {
			sum += s[5]
		}
		y = float64((y + sum) * t)
	}
	return y
}

// rows6 holds what all second differences, the earliest first, add to the powers
// of the time, from the first on; the first power has the step itself besides.
var rows6 = [6][5]float64{
	{1.0 / 60, -6.0 / 60, 17.0 / 60, -40.0 / 60, -2.0 / 60},
	{2.0 / 360, -8.0 / 360, -3.0 / 360, 202.0 / 360, -13.0 / 360},
	{-1.0 / 48, 6.0 / 48, -16.0 / 48, 10.0 / 48, 1.0 / 48},
	{-1.0 / 144, 4.0 / 144, 0, -8.0 / 144, 5.0 / 144},
	{1.0 / 240, -6.0 / 240, 12.0 / 240, -10.0 / 240, 3.0 / 240},
	{1.0 / 720, -4.0 / 720, 6.0 / 720, -4.0 / 720, 1.0 / 720},
}
