package reverberator

import (
	"lampblack/patch/dsp/line"
	"lampblack/patch/module"
)

type sound struct {
	rate, inverse float64
	count         uint64 // samples
	before        [2]line.Line
	diffusers     [2][4]diffuser
	room          room
	absorption    absorption
}

func newSound(s module.Setup) module.Sound {
	n := &sound{rate: s.Rate, inverse: 1 / s.Rate, room: newRoom(s.Rate)}
	for side := range n.before {
		n.before[side] = line.New(float64(longestPredelay * s.Rate))
		for k := range n.diffusers[side] {
			n.diffusers[side][k] = newDiffuser(float64(diffusion[side][k] * s.Rate))
		}
	}
	return n
}

// signs are those with which the lines reach the left and the right: of any two
// rows of one another half are opposite, so the sides have nothing in common.
var signs = [2][lines]float64{
	{1, 1, -1, 1, -1, -1, 1, 1, 1, -1, 1, -1, -1, 1, -1, -1},
	{1, -1, -1, -1, -1, 1, 1, -1, 1, 1, 1, 1, -1, -1, -1, 1},
}

// Block lets the sound into the room and plays what comes out of it.
func (s *sound) Block(b *module.Block) {
	inL, inR := b.In[0][:b.N], b.In[1][:b.N]
	outL, outR := b.Out[0][:b.N], b.Out[1][:b.N]
	c := b.Controls
	size, predelay, sway, mix := c[5].V[:b.N], c[6].V[:b.N], c[7].V[:b.N], c[8].V[:b.N]
	var x [lines]float64
	for i := range outL {
		if s.room.follow(size[i], predelay[i]) {
			s.absorption.stale = true
		}
		s.absorption.tune(damping{c[0].V[i], c[1].V[i], c[2].V[i], c[3].V[i], c[4].V[i]}, &s.room.lengths, s.room.mean, s.inverse)
		left, right := line.Safe(inL[i], &b.Clamped), line.Safe(inR[i], &b.Clamped)
		s.room.read(&x, float64(sway[i]*s.rate))
		wetL, wetR := listen(&x)
		s.absorption.run(&x)
		hadamard(&x)
		s.send(&x, left, right)
		s.room.put(&x, &b.Clamped)
		s.room.turn()
		plain, late := line.Balance(mix[i])
		outL[i] = float64(left*plain) + float64(wetL*late)
		outR[i] = float64(right*plain) + float64(wetR*late)
		if s.count++; s.count%64 == 0 { // by the sample, not by the block
			s.absorption.rest()
		}
	}
}

// listen adds the lines to two sides.
func listen(x *[lines]float64) (left, right float64) {
	var l0, l1, r0, r1 float64
	for i := 0; i < lines; i += 2 {
		l0 += float64(x[i] * signs[0][i])
		l1 += float64(x[i+1] * signs[0][i+1])
		r0 += float64(x[i] * signs[1][i])
		r1 += float64(x[i+1] * signs[1][i+1])
	}
	return float64(0.25 * (l0 + l1)), float64(0.25 * (r0 + r1))
}

// send adds what comes in to the lines: the left to the even ones, the right to
// the odd ones.
func (s *sound) send(x *[lines]float64, left, right float64) {
	left, right = s.enter(0, left), s.enter(1, right)
	for i := 0; i < lines; i += 2 {
		x[i] += left
		x[i+1] += right
	}
}

// enter takes a side through predelay and diffusion.
func (s *sound) enter(side int, x float64) float64 {
	l, r := &s.before[side], &s.room
	l.Put(x)
	x = l.Whole(r.now.wait)
	if r.fade > 0 {
		x += float64(r.fade * (l.Whole(r.next.wait) - x))
	}
	for k := range s.diffusers[side] {
		x = s.diffusers[side][k].pass(x)
	}
	return float64(x * s.absorption.send)
}
