// Package saturation is the kind of module that bends a waveform.
//
//	in x drive + bias -> 8 x the rate -> curve, without aliases -> the rate -> DC block -> level -> mix -> out
//
// Held by tests: harmonics as theory has them; a sine of 5 kHz driven by 20 dB has
// no false tone over -100 dB.
package saturation

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "saturation", Title: "saturation", Family: patch.Space, Symbol: "saturation", Version: 1,
	Help: `Bends a waveform, which gives it harmonics that it did not have. With x =
drive times the signal plus bias:

    soft  tanh x: bends more and more, as a valve or a tape does that gets
          too much. Below -20 dB almost straight (0.08 % third harmonic there),
          never above 1
    hard  straight up to +-1, and cut off there, as an amplifier clips
    fold  sin(pi x/2): reaches 1 at x = 1, and from there folds back, through
          0 at 2, to -1 at 3 ... A drive that moves sweeps through the harmonics

A curve that treats up and down alike makes odd harmonics (3, 5, 7 ...)
only: a sine cut down to a square has 1/3, 1/5, 1/7. Bias moves the signal
to one side of the curve, and even ones come in (2, 4, 6 ...): an octave,
fuller and warmer. What the bias itself would add at the output is taken
away. A bent waveform is seldom even about 0; that direct voltage is blocked
(first order, 3.01 dB down at 5 Hz) unless you want to keep it.

Harmonics over half the sample rate would come back as false, inharmonic
tones. Therefore the curve runs at 8 times the rate, and its value is not
taken at samples but averaged along the way between them (the second
antiderivative of the curve, differenced twice). A sine of 5 kHz at 48 kHz
driven by 20 dB then has no false tone below 20 kHz over -100 dB. Both
together take 65 samples (1.4 ms at 48 kHz); the plain sound in the mix
waits as long, so that the two fit together.

Sources: Parker, Zavalishin and Le Bivic, Reducing the aliasing of nonlinear
waveshaping using continuous-time convolution, DAFx 2016; Bilbao, Esqueda,
Parker and Valimaki, Antiderivative antialiasing for memoryless
nonlinearities, IEEE Signal Processing Letters 24(7), 2017.`,
	Inputs:  []patch.Input{{Name: "in", Help: "What is to be bent."}},
	Outputs: []patch.Output{{Name: "out", Help: "The bent sound at its level, with the plain one by mix; 65 samples late."}},
	Controls: []patch.Control{
		{Name: "drive", Help: "Gain before the curve, -24 to +48 dB. A cord moves it in dB or as a factor.",
			Scales: []patch.Scale{{Unit: "dB", Min: -24, Max: 48, Default: 6, Moves: []patch.Move{patch.Decibels, patch.Factor}}}},
		control.Percent("bias", "What is added before the curve, -100 to +100 % of full scale: it makes even harmonics. A cord moves it in percent points.", -100, 100, 0),
		control.Choice("curve", "How it bends: soft, hard or fold. Changing it while it sounds makes a soft click. A cord moves it by as many words.", "soft", "hard", "fold"),
		control.Level("level", "Gain of the bent sound, -96 dB (off) to +24 dB. A cord moves it as a factor or in dB.", 24, 0),
		control.Percent("mix", "How much of the plain sound is replaced by the bent one, 0 to 100 %. A cord moves it in percent points.", 0, 100, 100),
		control.Choice("direct voltage", "What becomes of the mean of the bent sound: blocked, or kept (for bending voltages that move controls). A cord moves it by as many words.", "blocked", "kept"),
	},
}
