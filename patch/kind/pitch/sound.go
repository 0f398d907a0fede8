package pitch

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/bound"
	"lampblack/patch/dsp/logarithm"
	"lampblack/patch/dsp/rc"
	"lampblack/patch/dsp/yin"
	"lampblack/patch/module"
)

const (
	concert = 8.78135971352466 // log2(440): what A4 is in octaves over 1 Hz
	apart   = 0.263            // log2(1.2): two looks further apart than this are of two pitches
	lenient = 1.6              // times the threshold: a pitch that is there may be that rough
	settle  = 0.06             // seconds over which differences below the steadiness are averaged
)

// The controls, by their place.
const (
	lowest = iota
	highest
	threshold
	floor
	steadiness
	glide
	hold
)

type sound struct {
	rate    float64
	finder  *yin.Finder
	average float64 // the share of a small difference that passes at a look

	voiced   bool
	quiet    float64 // seconds since the last period found
	claimed  bool    // whether claim is a pitch that waits for the next look to agree
	claim    float64 // octaves
	aim      float64 // the pitch found, octaves
	y        float64 // the pitch put out
	periodic float64
	glide    rc.Step
}

func newSound(s module.Setup) module.Sound {
	f := yin.New(s.Rate)
	return &sound{rate: s.Rate, finder: f, average: approx.Charge(f.Hop() / settle)}
}

// Block follows the pitch. What is to be looked for is read at the sample that
// ends a hop, which stands in the same place whatever the blocks are.
func (s *sound) Block(b *module.Block) {
	in := b.In[0][:b.N]
	pitch, voiced, periodicity := b.Out[0][:b.N], b.Out[1][:b.N], b.Out[2][:b.N]
	glides := b.Controls[glide].V[:b.N]
	for i, x := range in {
		if s.finder.Next(bound.In(x, &b.Clamped)) {
			s.look(b.Controls, i)
		}
		s.y += float64(s.glide.Of(float64(glides[i]*s.rate)) * (s.aim - s.y))
		pitch[i], periodicity[i], voiced[i] = s.y, s.periodic, 0
		if s.voiced {
			voiced[i] = 1
		}
	}
}

// look asks for the pitch, with the controls of sample i.
func (s *sound) look(c []module.Control, i int) {
	limit := c[threshold].V[i]
	near := 0.0
	if s.voiced {
		near = approx.Exp2(s.aim + concert)
	}
	found := s.finder.Look(yin.Range{Lowest: c[lowest].V[i], Highest: c[highest].V[i], Threshold: limit, Near: near})
	least := c[floor].V[i]
	loud := found.Power >= float64(least*least)
	s.periodic = min(max(1-found.Dip, 0), 1)
	if !loud {
		s.periodic = 0
	}
	if !loud || found.Hz == 0 {
		s.miss(c[hold].V[i])
		return
	}
	p := logarithm.Log2(found.Hz) - concert
	switch near := math.Abs(p-s.aim) < apart; {
	case s.voiced && near && (found.Below || found.Dip < float64(limit*lenient)):
		s.follow(p, c[steadiness].V[i])
	case found.Below && s.claimed && math.Abs(p-s.claim) < apart:
		s.start(p)
	case found.Below:
		// A single look that disagrees is mostly a slip: the next one decides.
		s.claim = p
		s.claimed = true
		s.wait(c[hold].V[i])
	default:
		s.miss(c[hold].V[i])
	}
}

// follow moves the aim to p, near it. A difference d passes as d times the
// larger of a small share and (d/steady)^4, so that noise is averaged and a
// glide is not held up.
func (s *sound) follow(p, steady float64) {
	d := p - s.aim
	share := 1.0
	if r := math.Abs(d); r < steady {
		r /= steady
		r = float64(r * r)
		share = min(s.average+float64(r*r), 1)
	}
	s.aim += float64(share * d)
	s.quiet, s.claimed = 0, false
}

// start makes p the pitch. After a pause it does not slide there.
func (s *sound) start(p float64) {
	s.aim = p
	if !s.voiced {
		s.y = p
	}
	s.voiced, s.quiet, s.claimed = true, 0, false
}

// miss is a look without a pitch.
func (s *sound) miss(longest float64) {
	s.claimed = false
	s.wait(longest)
}

// wait lets the voice end when nothing was found for too long.
func (s *sound) wait(longest float64) {
	s.quiet = min(s.quiet+s.finder.Hop(), 100)
	if s.quiet > longest {
		s.voiced = false
	}
}
