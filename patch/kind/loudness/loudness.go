// Package loudness is the kind of module that turns how loud a sound is into a
// voltage: the loudness follower.
//
//	in -> peak, mean or rms -> rises with attack, falls with release -> out, level
//
// Held by tests against first-order theory and the mean and rms of a sine.
package loudness

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "loudness", Title: "loudness follower", Family: patch.Followers, Symbol: "follower", Version: 1,
	Help: `Turns how loud a sound is into a voltage: an envelope that a voice or a
recorded noise draws. Join out to an amplifier's level and the patch
breathes with the sound; join level to a cutoff and it brightens as the
sound grows, evenly for each dB.

    peak  the highest points: |x|, falling by release, then averaged over
          attack
    mean  the average of |x| over attack; a sine of amplitude 1 reads 0.637
    rms   the root of the average of x^2 over attack; a sine reads 0.707, any
          sound reads by its power

Mean and rms then fall no faster than release. A release no longer than the
attack leaves the plain average: mean and rms are exact. A longer one holds
the louder moments. Every part is an RC curve: after one attack a step has
risen 63.2 %, after one release the voltage is 8.69 dB down.

A short attack shows the single swings of a low tone: what is left of them is,
for a tone of f Hz and an average over t seconds, 2/3 of the mean divided by
sqrt(1 + (4 pi f t)^2). For 100 Hz and 20 ms that is 31.5 dB below the mean.

    out    0 to 1, with the gain; 1 is full scale
    level  the same in dB: 1 at full scale, 0 at range below it, and even
           steps in between. With a range of 60 dB, 0.1 is 6 dB.

Source: first-order circuit theory; the mean of |sin| is 2/pi.`,
	Inputs: []patch.Input{{Name: "in", Help: "The sound whose loudness is followed."}},
	Outputs: []patch.Output{
		{Name: "out", Control: true, Help: "The loudness, 0 to 1: 1 is full scale. It stops at 1."},
		{Name: "level", Control: true, Help: "The loudness in dB: 1 at full scale, 0 at range below it or less."},
	},
	Controls: []patch.Control{
		control.Choice("detection", "What is followed: rms (the root of the mean square), mean (the average of |x|) or peak (the highest points). A cord moves it by as many words.", "rms", "mean", "peak"),
		control.Time("attack", "Time constant over which the sound is averaged, 0.1 ms to 60 s: a step has risen 63.2 % after it. A cord moves it in octaves.", 0.01),
		control.Time("release", "Time constant with which it falls at the fastest, 0.1 ms to 60 s: 8.69 dB down after it. A cord moves it in octaves.", 0.1),
		{Name: "gain", Help: "Makes a quiet sound fill the range, -24 dB to +48 dB. A cord moves it in dB or as a factor.",
			Scales: []patch.Scale{{Unit: "dB", Min: -24, Max: 48, Moves: []patch.Move{patch.Decibels, patch.Factor}}}},
		{Name: "range", Help: "How far below full scale level reaches 0, 12 dB to 96 dB. A cord moves it in dB.",
			Scales: []patch.Scale{{Unit: "dB", Min: 12, Max: 96, Default: 60, Moves: []patch.Move{patch.Decibels}}}},
	},
}
