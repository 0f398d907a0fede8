package meter

import "math"

// correlationHops is how long Correlation looks back, in hops of 10 ms; 0.4 s is
// our own choice.
const correlationHops = 40

// Correlation tells how alike two channels are: +1 the same, 0 nothing in common,
// -1 the same upside down (a mono sum cancels). It is the sum of the products over
// the root of the product of the squares. Make it with NewCorrelation.
type Correlation struct {
	clean   cleaner
	rate    float64
	frame   int64
	hop     int64
	ends    int64
	now     products
	last    [correlationHops]products
	all     products
	lowest  float64
	judged  bool
	feeding func([][]float64)
}

type products struct{ ll, rr, lr float64 }

func (p *products) add(q products) { p.ll += q.ll; p.rr += q.rr; p.lr += q.lr }

// value returns the correlation, 0 for silence in either channel.
func (p products) value() float64 {
	if both := math.Sqrt(p.ll) * math.Sqrt(p.rr); both > 0 {
		return max(-1, min(p.lr/both, 1))
	}
	return 0
}

// CorrelationReading is what a Correlation shows.
type CorrelationReading struct {
	Now     float64 // of the last 0.4 s
	All     float64 // of everything
	Lowest  float64 // of any 0.4 s that is louder than Quiet; 0 if there was none
	Balance float64 // power of the right re that of the left, dB; +-Inf if one is silent, 0 if both are
}

// NewCorrelation returns a meter for left and right, at 8,000 to 384,000 Hz.
func NewCorrelation(rate float64) *Correlation {
	mustRate(rate)
	c := &Correlation{clean: newCleaner(2), rate: rate}
	c.ends = int64(rate / hopsEachSecond)
	c.feeding = c.take
	return c
}

// Write feeds the next samples: left and right.
func (c *Correlation) Write(channels [][]float64) { feed(&c.clean, channels, c.feeding) }

// Write32 is Write for the samples of taps.
func (c *Correlation) Write32(channels [][]float32) { feed(&c.clean, channels, c.feeding) }

func (c *Correlation) take(channels [][]float64) {
	left, right := channels[0], channels[1]
	for len(left) > 0 {
		n := min(len(left), int(c.ends-c.frame))
		p := c.now
		l, r := left[:n], right[:n]
		for i, x := range l {
			y := r[i]
			p.ll += float64(x * x)
			p.rr += float64(y * y)
			p.lr += float64(x * y)
		}
		c.now = p
		left, right = left[n:], right[n:]
		if c.frame += int64(n); c.frame == c.ends {
			c.endHop()
		}
	}
}

func (c *Correlation) endHop() {
	c.last[c.hop%correlationHops] = c.now
	c.all.add(c.now)
	c.now = products{}
	c.hop++
	c.ends = int64(float64(c.hop+1) * c.rate / hopsEachSecond)
	if c.hop < correlationHops {
		return
	}
	const quiet = 1e-6 // Quiet as a power
	w := c.window()
	if enough := quiet * c.rate * correlationHops / hopsEachSecond; w.ll > enough && w.rr > enough {
		if v := w.value(); !c.judged || v < c.lowest {
			c.lowest, c.judged = v, true
		}
	}
}

func (c *Correlation) window() (w products) {
	for _, p := range c.last {
		w.add(p)
	}
	return w
}

// Reading returns what the meter shows.
func (c *Correlation) Reading() CorrelationReading {
	all := c.all
	all.add(c.now)
	r := CorrelationReading{Now: c.window().value(), All: all.value(), Lowest: c.lowest}
	if all.ll > 0 || all.rr > 0 {
		r.Balance = powerDB(all.rr) - powerDB(all.ll)
	}
	return r
}
