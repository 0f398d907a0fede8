package kind_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/dsp/window"

	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// above returns the level of the loudest line above 4 kHz, in dB re full scale,
// of x at 48 kHz, in frames of 1024.
func above(x []float64) float64 {
	const n = 1024
	w := make([]float64, n)
	for i := range w {
		w[i] = 1
	}
	w = window.BlackmanHarris(w)
	sum := 0.0
	for _, v := range w {
		sum += v
	}
	fft := fourier.NewFFT(n)
	frame, loudest := make([]float64, n), 0.0
	for at := 0; at+n <= len(x); at += n / 4 {
		for i := range frame {
			frame[i] = x[at+i] * w[i]
		}
		for k, c := range fft.Coefficients(nil, frame) {
			if k >= 4000*n/48000 {
				loudest = max(loudest, 2*math.Hypot(real(c), imag(c))/sum)
			}
		}
	}
	return 20 * math.Log10(loudest)
}

// eased is a setting that jumps from a to b at a sample, as the engine smooths
// it: a one-pole of 5 ms, over octaves on a logarithmic ruler.
func eased(a, b float64, at int, log bool) rig.Wave {
	return func(n int) float64 {
		if n < at {
			return a
		}
		left := math.Exp(-float64(n-at) / 240)
		if left < 1e-6 {
			return b
		}
		if log {
			return b * math.Pow(a/b, left)
		}
		return b + (a-b)*left
	}
}

// ordinary says between which settings a control jumps whose ruler is so long
// that a fifth of it is no jump but another sound: the phase of an oscillator that
// turns by eight cycles within some milliseconds is a higher tone.
var ordinary = map[string][2]float64{"oscillator / phase": {0, 180}}

// A setting that jumps by a fifth of its ruler, while a tone of 100 Hz passes,
// makes no click over -60 dB re full scale (re the peak of what comes out, where
// that is louder), at any choice. The time at which the engine smooths is that of
// the design.
func TestNoSettingThatJumpsClicks(t *testing.T) {
	for _, k := range kind.All() {
		for i := range k.Controls {
			c := &k.Controls[i]
			for j := range c.Scales {
				if s := &c.Scales[j]; !c.Fixed && s.Taper != patch.Stepped {
					for _, word := range choices(k) {
						for _, up := range []bool{true, false} {
							checkJump(t, k, c, s, word, up)
						}
					}
				}
			}
		}
	}
}

// choices lists how a kind may be set by one choice: as it starts, and every word
// of every other one.
func choices(k *module.Kind) [][2]string {
	all := [][2]string{{}}
	for i := range k.Controls {
		if c := &k.Controls[i]; c.Scales[0].Choices != nil && !c.Fixed {
			for _, word := range c.Scales[0].Choices[1:] {
				all = append(all, [2]string{c.Name, word})
			}
		}
	}
	return all
}

func checkJump(t *testing.T, k *module.Kind, c *patch.Control, s *patch.Scale, choice [2]string, up bool) {
	const limit, at = -60, 8021
	r := rig.NewSetup(k, module.Setup{Rate: 48000, Seed: 7, Side: 0.5, Clip: toneClip})
	for _, in := range k.Inputs {
		if (in.Open == patch.OpenSilence || in.Open == patch.OpenLeft) && in.Name != "sync" { // which makes jumps
			r.Feed(in.Name, func(n int) float64 { return 0.5 * rig.Sine(100)(n) })
		}
	}
	if choice[0] != "" {
		r.Choose(choice[0], choice[1])
	}
	here := min(max(s.Fraction(s.Default), 0.1), 0.9)
	there := here + 0.2
	if there > 0.9 {
		there = here - 0.2
	}
	from, to := s.At(here), s.At(there)
	if o, ok := ordinary[k.Name+" / "+c.Name]; ok {
		from, to = o[0], o[1]
	}
	if !up {
		from, to = to, from
	}
	r.MoveRaw(c.Name, s.Unit, eased(rig.Arrives(from, s.Unit), rig.Arrives(to, s.Unit), at, s.Taper == patch.Logarithmic))
	for o, x := range r.Run(20000) {
		if k.Outputs[o].Control {
			continue
		}
		peak := 1.0
		for _, y := range x {
			peak = max(peak, math.Abs(y))
		}
		during := above(x[at-1024:15000]) - rig.DB(peak)
		rest := max(above(x[5000:at]), above(x[15000:])) - rig.DB(peak)
		if during > limit && during > rest+3 {
			t.Errorf("%s / %s from %s to %s (%s %s): a click of %.1f dB in %s; without it there are %.1f dB above 4 kHz",
				k.Name, c.Name, patch.FormatValue(from, s.Unit), patch.FormatValue(to, s.Unit), choice[0], choice[1], during, k.Outputs[o].Name, rest)
		}
	}
}

var toneClip = func() *module.Clip {
	x := make([]float64, 48000*3)
	for i := range x {
		x[i] = 0.5 * rig.Sine(200)(i)
	}
	return &module.Clip{Channels: [][]float64{x}}
}()
