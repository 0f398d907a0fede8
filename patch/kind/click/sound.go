package click

import (
	"lampblack/patch/dsp/approx"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

const (
	impulse = iota
	pulse
	tone
	shapes
)

const (
	most     = 8                     // clicks that may overlap
	highest  = 0.49                  // of the sample rate: the highest frequency
	octaves  = 9.965784284662087     // 60 dB: log2(1000)
	vanished = 5 * 9.965784284662087 // 300 dB: there a tone is over
)

// strike is a click on its way; one that is not has the sign 0.
type strike struct {
	shape int
	sign  float64
	phase float64 // of a pulse or a tone, in cycles, 0 to 1
	fall  float64 // of a tone so far, in octaves
}

type sound struct {
	rate    float64
	strikes [most]strike
	active  int // how many may be on their way: none beyond it is
	next    int // the strike to use once all are busy: the oldest
	trigger bool
}

func newSound(s module.Setup) module.Sound { return &sound{rate: s.Rate} }

// Block clicks.
func (s *sound) Block(b *module.Block) {
	out, trigger := b.Out[0][:b.N], b.In[0][:b.N]
	shape, polarity := b.Controls[0].V[:b.N], b.Controls[3].V[:b.N]
	duration, frequency, level := b.Controls[1].V[:b.N], b.Controls[2].V[:b.N], b.Controls[4].V[:b.N]
	for i := range out {
		up := trigger[i] > 0.5
		if up && !s.trigger {
			s.start(control.Number(shape[i], shapes-1), control.Number(polarity[i], 1))
		}
		s.trigger = up
		out[i] = 0
		if s.active > 0 {
			out[i] = float64(s.sum(duration[i], frequency[i]) * control.Gain(level[i]))
		}
	}
}

// start puts a click in a free place, or in that of the oldest.
func (s *sound) start(shape, polarity int) {
	at := -1
	for i := range s.strikes {
		if s.strikes[i].sign == 0 {
			at = i
			break
		}
	}
	if at < 0 {
		at = s.next
		s.next = (at + 1) % most
	}
	s.strikes[at] = strike{shape: shape, sign: 1 - float64(2*polarity)}
	s.active = max(s.active, at+1)
}

// sum adds up the clicks on their way and moves them on by a sample.
func (s *sound) sum(duration, frequency float64) float64 {
	step := min(1/float64(duration*s.rate), 0.5)
	turn := min(frequency/s.rate, highest)
	var y float64
	for i := range s.strikes[:s.active] {
		if k := &s.strikes[i]; k.sign != 0 {
			y += k.next(step, turn, octaves/float64(duration*s.rate))
		}
	}
	for s.active > 0 && s.strikes[s.active-1].sign == 0 {
		s.active--
	}
	return y
}

// next gives a click's sample. Step is the part of a pulse, turn that of a
// tone's cycle, and fall that of its decay which a sample takes.
func (k *strike) next(step, turn, fall float64) float64 {
	sign := k.sign
	switch k.shape {
	case impulse:
		k.sign = 0
		return sign
	case pulse:
		// (1 - cos(2 pi p))/2 is the square of the sine of half the angle.
		h := min(approx.Sine(float64(k.phase/2)), 1)
		if k.phase += step; k.phase >= 1 {
			k.sign = 0
		}
		return float64(float64(h*h) * sign)
	}
	y := float64(approx.Sine(k.phase) * approx.Exp2(-k.fall) * sign)
	if k.phase += turn; k.phase >= 1 {
		k.phase--
	}
	if k.fall += fall; k.fall > vanished {
		k.sign = 0
	}
	return y
}
