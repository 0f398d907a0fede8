package quantiser

import (
	"math"

	"lampblack/patch/dsp/bound"
	"lampblack/patch/module"
)

// edge is how far beyond a limit, in octaves, a degree still counts as on it: a
// limit written as 3 semitones does not shut out the third semitone.
const edge = 1e-9

type sound struct {
	scale  *scale
	degree int     // the one taken
	begun  bool    // whether one has been
	pitch  float64 // where it stands, in octaves above the root
	safe   float64 // within this distance of it, it is the nearest for sure
}

// asked is all that the choice of a degree depends on, besides the degree that
// stands.
type asked struct{ u, low, high, hysteresis float64 }

func newSound(s module.Setup) module.Sound {
	rows := s.Rows
	if rows == nil {
		rows = words.Table.Start
	}
	return &sound{scale: newScale(rows)}
}

// Block puts every sample on the scale.
func (s *sound) Block(b *module.Block) {
	in, out, trigger := b.In[0][:b.N], b.Out[0][:b.N], b.Out[1][:b.N]
	root, lowest := b.Controls[0].V[:b.N], b.Controls[1].V[:b.N]
	highest, hysteresis := b.Controls[2].V[:b.N], b.Controls[3].V[:b.N]
	for i, x := range in {
		r := root[i]
		low, high := lowest[i]-r, highest[i]-r
		u := min(max(bound.In(x, &b.Clamped)-r, low), high)
		trigger[i] = 0
		q := asked{u, low - edge, high + edge, hysteresis[i]}
		if !s.stays(q) {
			if g := s.next(q); g != s.degree || !s.begun {
				s.take(g)
				trigger[i] = 1
			}
		}
		out[i] = r + s.pitch
	}
}

// stays reports whether it is plain that no other degree is to be taken.
func (s *sound) stays(q asked) bool {
	return math.Abs(q.u-s.pitch) < s.safe && s.pitch >= q.low && s.pitch <= q.high
}

// take takes a degree.
func (s *sound) take(g int) {
	s.degree, s.begun = g, true
	s.pitch = s.scale.pitch(g)
	s.safe = float64(min(s.scale.pitch(g+1)-s.pitch, s.pitch-s.scale.pitch(g-1))*0.5) - edge
}

// next returns which degree to take for u octaves above the root, between low
// and high.
func (s *sound) next(q asked) int {
	g := s.within(s.scale.nearest(q.u), q.low, q.high)
	if !s.begun || q.hysteresis == 0 || g == s.degree {
		return g
	}
	was, is := s.pitch, s.scale.pitch(g)
	if was < q.low || was > q.high {
		return g
	}
	if nearer := math.Abs(q.u-was) - math.Abs(q.u-is); nearer >= float64(q.hysteresis*math.Abs(is-was)) {
		return g
	}
	return s.degree
}

// within returns the degree next to g that lies between low and high, or one
// that is nearest to them if none does.
func (s *sound) within(g int, low, high float64) int {
	if s.scale.pitch(g) > high {
		g--
	}
	if s.scale.pitch(g) < low {
		g++
	}
	return g
}
