// Package oversample runs a part of a sound at 2, 4 or 8 times the rate.
//
//	x -> half-band low-passes -> 2, 4 or 8 samples ... -> half-band low-passes -> y
//
// What bends a waveform makes harmonics; those beyond half the rate come back as
// false tones. At a higher rate there is room for them, and on the way down they
// are filtered away. Every step of a factor of 2 is a half-band filter of linear
// phase: half of its weights are 0, the others are symmetric.
//
// Held by tests: flat within 0.0001 dB up to 0.416 of the rate (20 kHz at 48
// kHz); what would come back below that is 120 dB down; the time that it takes is
// Latency.
//
// Source: Bellanger, Daguet and Lepagnol, Interpolation, extrapolation and
// reduction of computation speed in digital filters, IEEE Trans. ASSP 22(4),
// 1974; Kaiser, Nonrecursive digital filter design using the I0-sinh window, 1974.
package oversample

import (
	"math"
	"sync"

	"lampblack/patch/dsp/approx"
)

// The pairs of weights of the three half-band filters, the one next to the
// original rate first. By Kaiser's formula N = (A - 8)/(2.285 w) + 1 for 131 dB:
// the first passes to 20 and stops from 28 of 96 kHz; for the others there is more
// room.
const (
	pairs1 = 26
	pairs2 = 10
	pairs3 = 8
)

// beta is 0.1102 (131 - 8.7).
const beta = 13.5

// taps are the weights of a half-band filter that are not 0, without the middle
// one, which is 1/2.
type taps []float64

var design = sync.OnceValue(func() [3]taps {
	return [3]taps{halfBand(pairs1), halfBand(pairs2), halfBand(pairs3)}
})

// halfBand returns the weights at ... -3, -1, 1, 3 ... of a windowed half-band
// sinc. Together they weigh 1/2.
func halfBand(pairs int) taps {
	w := make(taps, 2*pairs)
	sum := 0.0
	for i := range pairs {
		k := float64(2*i + 1)
		u := k / float64(2*pairs)
		v := float64(approx.Sinc(k/2) * approx.BesselI0(float64(beta*math.Sqrt(1-float64(u*u)))))
		w[pairs-1-i], w[pairs+i] = v, v
		sum += float64(2 * v)
	}
	for i := range w {
		w[i] *= 0.5 / sum
	}
	return w
}

// Converter converts up and down, one sample at a time. Make it with New; a copy
// of it goes on by itself.
type Converter struct {
	stages [3]stage // the one next to the original rate first
	number int      // of stages that are used
}

// New returns a converter by factor: 2, 4 or 8.
func New(factor int) Converter {
	number, ok := map[int]int{2: 1, 4: 2, 8: 3}[factor]
	if !ok {
		panic("oversample: the factor must be 2, 4 or 8")
	}
	c := Converter{number: number}
	for i, w := range design() {
		c.stages[i].w = w
	}
	return c
}

// Latency returns by how many samples of the higher rate what comes down again
// is late.
func Latency(factor int) int {
	// A stage of p pairs is late by 2p - 1 of its lower rate's samples.
	switch factor {
	case 2:
		return 2 * (2*pairs1 - 1)
	case 4:
		return 4*(2*pairs1-1) + 2*(2*pairs2-1)
	}
	return 8*(2*pairs1-1) + 4*(2*pairs2-1) + 2*(2*pairs3-1)
}

// Up takes a sample and fills dst with factor samples of the higher rate.
func (c *Converter) Up(x float64, dst *[8]float64) {
	a, b := c.stages[0].rise(x)
	if c.number == 1 {
		dst[0], dst[1] = a, b
		return
	}
	s := &c.stages[1]
	p, q := s.rise(a)
	r, t := s.rise(b)
	if c.number == 2 {
		dst[0], dst[1], dst[2], dst[3] = p, q, r, t
		return
	}
	s = &c.stages[2]
	dst[0], dst[1] = s.rise(p)
	dst[2], dst[3] = s.rise(q)
	dst[4], dst[5] = s.rise(r)
	dst[6], dst[7] = s.rise(t)
}

// Down takes factor samples of the higher rate and returns one.
func (c *Converter) Down(src *[8]float64) float64 {
	p, q, r, t := src[0], src[1], src[2], src[3]
	if c.number == 1 {
		return c.stages[0].fall(p, q)
	}
	if c.number == 3 {
		s := &c.stages[2]
		p, q = s.fall(p, q), s.fall(r, t)
		r, t = s.fall(src[4], src[5]), s.fall(src[6], src[7])
	}
	s := &c.stages[1]
	a := s.fall(p, q)
	return c.stages[0].fall(a, s.fall(r, t))
}
