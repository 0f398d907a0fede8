// Package pitch is the kind of module that hears how high a voice or an
// instrument is: the pitch follower.
//
//	in -> how much the last 25 ms repeat themselves -> pitch, voiced, periodicity
//
// Held by tests against tones of known pitch, clean and in noise, and against
// synthetic voices that glide.
package pitch

import (
	"lampblack/patch"
	"lampblack/patch/dsp/yin"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "pitch", Title: "pitch follower", Family: patch.Followers, Symbol: "pitch", Version: 1,
	Help: `Hears how high one voice sings or speaks, and says it as a voltage of 1 per
octave: 0 is A4, 440 Hz. Join pitch to an oscillator's frequency with a depth
of 1 oct and it sings along; join voiced to an envelope's gate.

A sound is periodic if it repeats itself. For every lag t from 1 sample to one
period of lowest the module sums, over a window of 0.72 such periods,

    d(t)  = sum of (x(n) - x(n-t))^2         small where it repeats
    d'(t) = d(t) / mean of d(1) ... d(t)     1 for noise, 0 for a perfect repeat

and takes the first dip of d' below threshold; its bottom is found between the
samples, and at multiples of the period where they fit. Periodicity is 1 - d'.

It looks every 1.3 ms. A new pitch is there when the window has passed it:
with lowest at 70 Hz within about 25 ms, with lowest at 200 Hz within 10 ms.
So set lowest as high as the voice allows. While there is no pitch
(consonants, whispering, pauses, noise) pitch stays where it was.

    steadiness  differences smaller than this are taken for noise and averaged
                over 60 ms; larger ones pass at once. 0 passes everything.
    glide       slides from pitch to pitch with this time constant

It follows one voice at a time: of a chord it hears a common root or nothing.

Source: de Cheveigne and Kawahara, YIN, a fundamental frequency estimator for
speech and music, JASA 111(4), 2002.`,
	Inputs: []patch.Input{{Name: "in", Help: "The voice or instrument, one note at a time."}},
	Outputs: []patch.Output{
		{Name: "pitch", Control: true, Help: "The pitch in octaves from A4 (440 Hz): -1 is 220 Hz. Without a pitch it stays at the last one; it starts at 0."},
		{Name: "voiced", Control: true, Help: "1 while there is a pitch, else 0."},
		{Name: "periodicity", Control: true, Help: "How well the sound repeats itself, 0 (noise) to 1 (a steady tone)."},
	},
	Controls: []patch.Control{
		control.Frequency("lowest", "Lowest pitch to be found, 40 Hz to 1 kHz. The window is 0.72 periods of it long, so a higher one answers sooner. A cord moves it in octaves or in Hz.", yin.Lowest, 1000, 70),
		control.Frequency("highest", "Highest pitch to be found, 80 Hz to 2 kHz. A cord moves it in octaves or in Hz.", 80, yin.Highest, 1000),
		control.Percent("threshold", "How much of itself a sound may change from period to period and still have a pitch: d' at its dip, 2 to 50 %. Higher finds rough voices, and more that are none. A cord moves it in percent points.", 2, 50, 15),
		{Name: "floor", Help: "Level (rms) below which there is silence, -96 dB to 0 dB. A cord moves it in dB or as a factor.",
			Scales: []patch.Scale{{Unit: "dB", Min: -96, Max: 0, Default: -60, Moves: []patch.Move{patch.Decibels, patch.Factor}}}},
		{Name: "steadiness", Help: "Differences smaller than this are averaged away as noise, 0 to 60 cents; larger ones pass at once. A cord moves it in octaves.",
			Scales: []patch.Scale{{Unit: "oct", Min: 0, Max: 0.05, Default: 8.0 / 1200, Moves: []patch.Move{{Unit: "oct", Kind: patch.MoveLinear, Max: 0.05}}}}},
		control.Time("glide", "Time constant with which pitch slides to a new one, 0.1 ms (at once) to 60 s. The first pitch after a pause does not slide. A cord moves it in octaves.", 0.0005),
		control.Time("hold", "How long voiced stays 1 after the last period found, 0.1 ms to 60 s: bridges short breaks. A cord moves it in octaves.", 0.01),
	},
}
