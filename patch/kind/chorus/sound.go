package chorus

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/line"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

type sound struct {
	rate, inverse float64 // samples a second, and 1 / that
	phase         float64 // of the left's first voice, in cycles
	sides         [2]side
}

// side is one channel.
type side struct {
	line  line.Line
	heads [Voices]line.Head
	used  int // voices that have heads in place
}

func newSound(s module.Setup) module.Sound {
	n := &sound{rate: s.Rate, inverse: 1 / s.Rate}
	for i := range n.sides {
		n.sides[i].line = line.New(float64(1.5 * Longest * s.Rate))
	}
	return n
}

// share[n] is 1/n, loud[n] the root of n: what n voices' mean is raised by, so
// that voices that have nothing to do with each other are as loud as one.
var share, loud = func() (share, loud [Voices + 1]float64) {
	for n := 1; n <= Voices; n++ {
		share[n], loud[n] = 1/float64(n), math.Sqrt(float64(n))
	}
	return
}()

// Block plays both sides.
func (s *sound) Block(b *module.Block) {
	left, right := b.In[0][:b.N], b.In[1][:b.N]
	outL, outR := b.Out[0][:b.N], b.Out[1][:b.N]
	delay, depth, rate := b.Controls[0].V[:b.N], b.Controls[1].V[:b.N], b.Controls[2].V[:b.N]
	phase, feedback, mix := b.Controls[3].V[:b.N], b.Controls[4].V[:b.N], b.Controls[6].V[:b.N]
	voices := max(control.Number(b.Controls[5].V[0], Voices), 1)
	for i := range outL {
		// The newest sample is one old when the line is read.
		middle := max(float64(delay[i]*s.rate)-1, 0)
		swing := min(float64(depth[i]*s.rate), middle)
		plain, late := line.Balance(mix[i])
		late *= loud[voices]
		x := line.Safe(left[i], &b.Clamped)
		y := s.sides[0].play(x, feedback[i], s.phase, middle, swing, voices, s.inverse, &b.Clamped)
		outL[i] = float64(x*plain) + float64(y*late)
		behind := s.phase - float64(phase[i]*(1.0/360))
		if behind < 0 {
			behind++
		}
		x = line.Safe(right[i], &b.Clamped)
		y = s.sides[1].play(x, feedback[i], behind, middle, swing, voices, s.inverse, &b.Clamped)
		outR[i] = float64(x*plain) + float64(y*late)
		if s.phase += float64(rate[i] * s.inverse); s.phase >= 1 {
			s.phase--
		}
	}
}

// play takes a sample of one side and returns the mean of its voices. Phase is
// that of the first one.
func (d *side) play(x, feedback, phase, middle, swing float64, voices int, inverse float64, clamped *bool) float64 {
	sum, apart := 0.0, share[voices]
	for k := range voices {
		p := phase + float64(float64(k)*apart)
		if p >= 1 {
			p--
		}
		place := whole(max(middle+float64(swing*approx.Sine(p)), 0))
		h := &d.heads[k]
		if k >= d.used {
			h.Jump(place) // a voice that was not there stands where it should
		} else {
			h.Toward(place, 100*inverse)
		}
		sum += h.Read(&d.line)
	}
	d.used = voices
	y := float64(sum * apart)
	d.line.Put(line.Safe(x+float64(feedback*y), clamped))
	return y
}

// whole returns a place that is whole but for the rounding of a time in s as a
// whole number, so that the sample there is copied.
func whole(place float64) float64 {
	if n := math.Floor(place + 0.5); math.Abs(place-n) < 1e-7 {
		return n
	}
	return place
}

// Resume goes on where from stands. The lines are copied, the rest lies in the
// struct itself.
func (s *sound) Resume(from module.Sound) {
	f, ok := from.(*sound)
	if !ok {
		return
	}
	s.phase = f.phase
	for i := range s.sides {
		s.sides[i].line.Copy(&f.sides[i].line)
		s.sides[i].heads, s.sides[i].used = f.sides[i].heads, f.sides[i].used
	}
}
