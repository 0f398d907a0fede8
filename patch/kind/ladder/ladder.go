// Package ladder is the kind of module that lets the low part of the spectrum
// through steeply: four one-pole low-passes in a row with feedback around all
// of them, which saturates and can sing by itself.
//
//	in -> drive -> + -> saturation -> pole -> pole -> pole -> pole -> out
//	               ^- <------------------ resonance <------------------|
//
// Held by tests against the analogue filter's magnitude and, when it sings,
// against the frequency that it was set to.
package ladder

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind {
	return &module.Kind{Kind: words, New: newSound, Bounded: true, Seeded: true}
}

var words = patch.Kind{
	Name: "ladder", Title: "ladder filter, 24 dB/oct", Family: patch.Filters, Symbol: "ladder", Version: 1,
	Help: `A low-pass filter of four equal poles in a row: 24 dB less for each octave
above the cutoff. That is twice as steep as the state-variable filter. What
comes out is fed back to the input, turned over; at the cutoff the four
poles have turned it by half a cycle, so there it adds: the resonance.

With k = resonance/25 % (100 % is k = 4) and s = jf/cutoff a weak signal has
the gain

    drive (1 + bass k) / ((1 + s)^4 + k).

At the cutoff that is 1/(k - 4): without resonance 12.04 dB down, at 50 %
6.02 dB down, at 75 % level, at 97.5 % +20 dB. What resonance gives there it
takes below: at 0 Hz the gain is 1/(1 + k), 12 dB down at 75 %. bass gives
that back.

From 100 % on the filter sings by itself, a sine at the cutoff: an
oscillator that can be swept like a filter. It starts from a trace of noise
at -120 dB full scale, which is there only from 100 % on, and swells the
faster the higher the resonance and the cutoff: at 110 % and 1 kHz it is
there after 0.1 s, at 101 % and 50 Hz it takes 18 s; any sound starts it
sooner. It stays within half a cent of the cutoff from 20 Hz to 12 kHz, at
any resonance and drive. Played from a keyboard (a cord of 1 oct from pitch
to cutoff, cutoff 440 Hz) it is in tune.

The sum of input and feedback saturates: near full scale it is bent as by
tanh, and it never exceeds +-1, nor does the output. So loud sounds hold the
resonance down, and a singing filter is pulled and torn by what comes in.
drive says how far the input goes into that bend; it raises the level as
well, up to where it saturates.

The loop is solved without delay. Below 88.2 kHz the filter runs at twice the
sample rate, so that what saturation makes above half the sample rate does not
come back as a false tone; the output is a few samples late by that (3 below
5 kHz, more towards 20 kHz). There s is j tan(pi f/r)/tan(pi cutoff/r), r the
rate at which it runs: the analogue curve up to 5 kHz within 0.4 dB, steeper
above.

Sources: Stilson and Smith, ICMC 1996 (the linear filter); D'Angelo and
Valimaki, IEEE TASLP 22(12), 2014 (loops without delay); Valenzuela and
Constantinides, IEE Proc. G 130(6), 1983 (halving the rate).`,
	Inputs:  []patch.Input{{Name: "in", Help: "The signal to be filtered; it saturates near +-1 at a drive of 0 dB."}},
	Outputs: []patch.Output{{Name: "out", Help: "The low-pass: never beyond +-1 by more than a trace. By itself it sings with a peak of -25 dB full scale at 101 %, -13 dB at 125 %, -11.5 dB at 150 %."}},
	Controls: []patch.Control{
		control.Frequency("cutoff", "Where the four poles lie, and the frequency of resonance, 20 Hz to 20 kHz; at most 0.49 of the sample rate. A cord moves it in octaves or in Hz.", 20, 20000, 1000),
		control.Percent("resonance", "How much of the output is fed back, 0 to 150 %. At 100 % it begins to sing. A cord moves it in percent points.", 0, 150, 50),
		{Name: "drive", Help: "Gain of the input before it saturates, -24 dB to +36 dB. A cord moves it in dB or as a factor.",
			Scales: []patch.Scale{{Unit: "dB", Min: -24, Max: 36, Moves: []patch.Move{patch.Decibels, patch.Factor}}}},
		control.Percent("bass", "How much of the low end is given back that resonance takes, 0 to 100 %: at 100 % the gain at 0 Hz is that of drive, whatever the resonance. A cord moves it in percent points.", 0, 100, 0),
	},
}
