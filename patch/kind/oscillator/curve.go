package oscillator

import "math"

// curve is how a phase moves between two samples where more than frequency moves
// it: the polynomial through it and its neighbours (Newton and Lagrange), in powers
// of the time, 0 to 1. At 48 kHz a phase moved by a sine of 1.5 kHz is met within
// 3e-9 of the swing, of 3 kHz within 8e-7; by a path within 3e-5 and 5e-4.
type curve struct {
	c    [reaches + 1]float64
	tame bool // it moves one way only, and evenly enough for Newton's steps
}

// A curve is made from the steps of the phase: four before, the one it runs along,
// and two behind; of the oscillator's own phase, which is needed sooner, one.
const (
	reaches = 7 // steps
	along   = 4 // the number of the one it runs along
)

// The power k+1 of the time is the sum over all second differences of the phase,
// the earliest first, times these; the first power has the step itself besides.
// They are the coefficients of the polynomial through all points, by exact
// arithmetic.
var (
	rows7 = [7][6]float64{
		{3.0 / 420, -22.0 / 420, 79.0 / 420, -240.0 / 420, -34.0 / 420, 4.0 / 420},
		{0, 2.0 / 360, -23.0 / 360, 222.0 / 360, -23.0 / 360, 2.0 / 360},
		{-7.0 / 720, 50.0 / 720, -160.0 / 720, 70.0 / 720, 55.0 / 720, -8.0 / 720},
		{0, -1.0 / 144, 10.0 / 144, -18.0 / 144, 10.0 / 144, -1.0 / 144},
		{2.0 / 720, -13.0 / 720, 26.0 / 720, -20.0 / 720, 4.0 / 720, 1.0 / 720},
		{0, 1.0 / 720, -4.0 / 720, 6.0 / 720, -4.0 / 720, 1.0 / 720},
		{-1.0 / 5040, 5.0 / 5040, -10.0 / 5040, 10.0 / 5040, -5.0 / 5040, 1.0 / 5040},
	}
	rows6 = [6][5]float64{
		{1.0 / 60, -6.0 / 60, 17.0 / 60, -40.0 / 60, -2.0 / 60},
		{2.0 / 360, -8.0 / 360, -3.0 / 360, 202.0 / 360, -13.0 / 360},
		{-1.0 / 48, 6.0 / 48, -16.0 / 48, 10.0 / 48, 1.0 / 48},
		{-1.0 / 144, 4.0 / 144, 0, -8.0 / 144, 5.0 / 144},
		{1.0 / 240, -6.0 / 240, 12.0 / 240, -10.0 / 240, 3.0 / 240},
		{1.0 / 720, -4.0 / 720, 6.0 / 720, -4.0 / 720, 1.0 / 720},
	}
)

// heard makes q the curve of the phase that is heard, from a place. (Curves are
// filled in number by number: copied as a whole right after, they would have to
// wait until all of them are through to the cache.)
func (q *curve) heard(from float64, s *[reaches]float64) {
	b0, b1, b2, b3, b4, b5 := s[1]-s[0], s[2]-s[1], s[3]-s[2], s[4]-s[3], s[5]-s[4], s[6]-s[5]
	q.c[0], q.c[1] = from, s[along]
	if b0 == 0 && b1 == 0 && b2 == 0 && b3 == 0 && b4 == 0 && b5 == 0 {
		q.straight()
		return
	}
	// By how much the slope can differ from the step, by computation.
	bent := float64(0.01*math.Abs(b0)) + float64(0.065*math.Abs(b1)) + float64(0.2*math.Abs(b2)) +
		(float64(0.572*math.Abs(b3)) + float64(0.286*math.Abs(b4)) + float64(0.024*math.Abs(b5)))
	q.tame = bent < float64(mostBent*math.Abs(s[along]))
	for k := range rows7 {
		r := &rows7[k]
		y := float64(r[0]*b0) + float64(r[1]*b1) + float64(r[2]*b2) + (float64(r[3]*b3) + float64(r[4]*b4) + float64(r[5]*b5))
		if k == 0 {
			y += s[along]
		}
		q.c[k+1] = y
	}
}

// own makes q the curve of the oscillator's own phase along the last step but one.
// The first is not used.
func (q *curve) own(from float64, s *[reaches]float64) {
	b0, b1, b2, b3, b4 := s[2]-s[1], s[3]-s[2], s[4]-s[3], s[5]-s[4], s[6]-s[5]
	q.c[0], q.c[1] = from, s[along+1]
	q.straight()
	if b0 == 0 && b1 == 0 && b2 == 0 && b3 == 0 && b4 == 0 {
		return
	}
	bent := float64(0.034*math.Abs(b0)) + float64(0.184*math.Abs(b1)) + float64(0.434*math.Abs(b2)) +
		(float64(0.667*math.Abs(b3)) + float64(0.167*math.Abs(b4)))
	q.tame = bent < float64(mostBent*math.Abs(s[along+1]))
	for k := range rows6 {
		r := &rows6[k]
		y := float64(r[0]*b0) + float64(r[1]*b1) + (float64(r[2]*b2) + float64(r[3]*b3) + float64(r[4]*b4))
		if k == 0 {
			y += s[along+1]
		}
		q.c[k+1] = y
	}
}

// mostBent is by how much of itself the slope of a tame curve may change: Newton's
// steps from the straight line then converge.
const mostBent = 0.6

// straight takes all but the first two powers away.
func (q *curve) straight() {
	for k := 2; k < len(q.c); k++ {
		q.c[k] = 0
	}
	q.tame = q.c[1] != 0
}

// less makes q the curve r, so many times and so much lower.
func (q *curve) less(r *curve, times, x float64) {
	for k := range q.c {
		q.c[k] = float64(times * r.c[k])
	}
	q.c[0] -= x
	q.tame = r.tame
}

// minus makes q the difference of two curves.
func (q *curve) minus(r, w *curve) {
	for k := range q.c {
		q.c[k] = r.c[k] - w.c[k]
	}
	q.tame = r.tame && (w.tame || w.c[1] == 0) && math.Abs(w.c[1]) < float64(0.2*math.Abs(r.c[1]))
}

// at returns the place at time t.
func (q *curve) at(t float64) float64 {
	y := q.c[reaches]
	for k := reaches - 1; k >= 0; k-- {
		y = float64(y*t) + q.c[k]
	}
	return y
}

// near returns the place and the slope at time t.
func (q *curve) near(t float64) (y, slope float64) {
	y = float64(q.c[7]*t) + q.c[6]
	slope = q.c[7]
	for k := 5; k >= 0; k-- {
		slope = float64(slope*t) + y
		y = float64(y*t) + q.c[k]
	}
	return y, slope
}

// derivative returns the n-th derivative at time t, n = 2 to 4.
func (q *curve) derivative(n int, t float64) float64 {
	y := 0.0
	for k := reaches; k >= n; k-- {
		y = float64(y*t) + float64(falling[n][k]*q.c[k])
	}
	return y
}

// falling is k (k-1) ... (k-n+1).
var falling = [5][reaches + 1]float64{
	2: {2: 2, 6, 12, 20, 30, 42},
	3: {3: 6, 24, 60, 120, 210},
	4: {4: 24, 120, 360, 840},
}

// slope returns how fast the place moves at time t.
func (q *curve) slope(t float64) float64 {
	y := 7 * q.c[7]
	y = float64(y*t) + float64(6*q.c[6])
	y = float64(y*t) + float64(5*q.c[5])
	y = float64(y*t) + float64(4*q.c[4])
	y = float64(y*t) + float64(3*q.c[3])
	y = float64(y*t) + float64(2*q.c[2])
	return float64(y*t) + q.c[1]
}

// turns returns the times at which the place turns back, in order, of the cubic
// part, which is near enough for cutting the curve into pieces that run one way;
// a time outside 0 to 1 stands for none.
func (q *curve) turns() (first, second float64) {
	// The slope is a t^2 + b t + c.
	a, b, c := 3*q.c[3], 2*q.c[2], q.c[1]
	d := float64(b*b) - float64(4*float64(a*c))
	if !(d > 0) {
		return -1, -1
	}
	h := -(b + math.Copysign(math.Sqrt(d), b)) / 2 // no difference of two near numbers
	first, second = -1, -1
	if a != 0 {
		first = q.refine(h / a)
	}
	if h != 0 {
		second = q.refine(c / h)
	}
	return min(first, second), max(first, second)
}

// refine takes one of Newton's steps from where the cubic part turns back to
// where the curve does.
func (q *curve) refine(t float64) float64 {
	if t > 0 && t < 1 {
		if b := q.derivative(2, t); b != 0 {
			return t - q.slope(t)/b
		}
	}
	return t
}

// find returns when the place is x, on a part that does not turn back. If rounding
// has put x outside, it is the nearer end.
func (q *curve) find(x, t0, t1 float64) float64 {
	if q.tame {
		t := within((x - q.c[0]) / q.c[1])
		if q.c[2] == 0 && q.c[3] == 0 {
			return min(max(t, t0), t1)
		}
		for range 5 { // Newton's steps, each twice as near
			y, slope := q.near(t)
			more := (y - x) / slope
			if t = within(t - more); more < 1e-6 && more > -1e-6 {
				break
			}
		}
		return min(max(t, t0), t1)
	}
	up := q.at(t1) > q.at(t0)
	t := (t0 + t1) / 2
	for range 60 { // Newton's steps, halvings where these lead out; a few will do
		y, slope := q.near(t)
		if y -= x; y < 0 == up {
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
