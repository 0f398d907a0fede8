package wander

import (
	"lampblack/patch/dsp/cycle"
	"lampblack/patch/dsp/gate"
	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// The curves, in the order of the control's choices.
const (
	straight = iota
	rounded
	spline
)

type sound struct {
	rate    float64 // samples a second
	key     uint64  // of the points
	way     cycle.Counter
	at      int64      // the point that was passed last
	points  [4]float64 // at - 1 to at + 2
	restart gate.Edge
}

func newSound(s module.Setup) module.Sound {
	n := &sound{rate: s.Rate, key: hash.Key(s.Seed)}
	n.draw(0)
	return n
}

// draw finds the points around number k. There is one before 0: the spline
// hears of it.
func (s *sound) draw(k int64) {
	s.at = k
	for i := range s.points {
		s.points[i] = hash.Signed(s.key, uint64(k+int64(i))) // one up, so that none is below 0
	}
}

// Block wanders on.
func (s *sound) Block(b *module.Block) {
	out, restart := b.Out[0][:b.N], b.In[0][:b.N]
	rate, curve := b.Controls[0].V[:b.N], b.Controls[1].V[:b.N]
	for i := range out {
		if s.restart.Rises(restart[i]) {
			s.way = cycle.Counter{}
		}
		k, part := s.way.Next(rate[i] / s.rate)
		if k != s.at {
			s.draw(k)
		}
		out[i] = s.between(control.Number(curve[i], spline), part)
	}
}

// between is where it stands, t of the way (0 to 1) from the point passed last
// to the next.
func (s *sound) between(curve int, t float64) float64 {
	p := &s.points
	switch curve {
	case straight:
		return float64((1-t)*p[1]) + float64(t*p[2])
	case rounded:
		w := float64(float64(t*t) * (3 - float64(2*t)))
		return float64((1-w)*p[1]) + float64(w*p[2])
	}
	// The weights of the uniform cubic B-spline.
	u, tt := 1-t, float64(t*t)
	a := float64(float64(u*u) * u * (1.0 / 6))
	d := float64(tt * t * (1.0 / 6))
	c := float64((1 + float64(3*(t+tt-float64(tt*t)))) * (1.0 / 6)) // the mirror image of that of p[1]
	return float64(a*p[0]) + float64((1-a-c-d)*p[1]) + float64(c*p[2]) + float64(d*p[3])
}
