// Package oscillator is the kind of module that makes a tone.
//
//	frequency + shift -> own phase -> + phase + feedback -> plain shape + mended corners -> out
//	           sync in -> starts it again -> sync out
//
// Held by tests against Fourier series (harmonics, nulls, aliases), Bessel's and
// Kepler's (modulation, feedback), AES17 (purity of the sine) and ISO 16 (pitch).
package oscillator

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "oscillator", Title: "oscillator", Family: patch.Sources, Symbol: "generator", Version: 2,
	Help: `A tone: one cycle, repeated as often a second as the frequency says.

    sine      the frequency alone
    triangle  odd harmonics, 8/(pi n)^2: soft; the third is 19.1 dB down
    saw       all harmonics, 2/(pi n): bright; the second is 6.0 dB down
    pulse     4/(pi n) |sin(pi n width)|: hollow at 50 % (odd harmonics only),
              thin when narrow; harmonic n is missing where n x width is whole.
              Its mean is 2 width - 1: a narrow pulse carries a steady voltage.

The peaks of the ideal shapes are at +-1. Corners are band-limited: only
harmonics below half the sample rate are made, so a high tone brings no false
lower ones. The ripple that this leaves at the jumps of saw and pulse passes
+-1 by up to 18 % (a square of which only the fundamental is left, by 27 %);
it belongs to the sound.

To play it, join pitch of a memory to frequency with a depth of +1 oct and
write 440 Hz: equal temperament from A4 = 440 Hz (ISO 16).

Frequency modulation: another oscillator (the modulator) moves this one (the
carrier). Into frequency in oct it is exponential: it swings further up than
down, and the pitch drifts up with the depth. Into shift in Hz it is linear
and goes through zero: where frequency + shift is negative the cycle runs
backwards, so the pitch stays. A cord into frequency in Hz is linear too,
but stops at 0.01 Hz. A shift alone makes partials beat or tunes in Hz.

Phase modulation: a modulator into phase. A depth of D deg is an index of I
= D pi/180 (57.3 deg: 1); linear frequency modulation of depth D Hz by fm Hz
has the index D/fm. Both make lines (sidebands) of a sine carrier at

    fc + n fm, n = 0, +-1, +-2, ..., as strong as the Bessel function Jn(I).

About I + 1 lines on either side count (Carson). A line below 0 Hz comes
back at its frequency, turned over. fc : fm in small whole numbers makes a
harmonic tone (1:1 all harmonics, 1:2 odd ones: hollow), other ratios bells
and metal. Let an envelope move the depth and the brightness follows it:
brass has about 1:1 and an index of 0 to 5 that follows the loudness, a bell
5:7 and an index of 10 that dies away (Chowning).

Feedback: the sine of the phase moves the phase itself. At 32 % (an index of
1) a sine has become nearly a saw (Kepler's equation); beyond it turns over,
and from about 70 % on it breaks into noise. What is fed back is the mean of
the last two samples, which keeps it from jumping to and fro at half the
sample rate. The other shapes lean by that sine too, not by themselves:
their corners come earlier or later.

Hard sync: join sync of another oscillator (the master) to the sync input. The
cycle starts again with every cycle of the master, so the pitch is the
master's, and frequency moves a formant: sweep it from 1 to 5 times the
master's. The moment is exact within the sample. Sync tells the starts of the
cycle before phase and feedback move it, forwards or backwards.

What is in step: all shapes start at phase 0, rising, so their fundamentals
are in step. A sine follows a change of frequency, shift or phase at once,
the other shapes 24 samples later (0.5 ms at 48 kHz; width and phase 25),
because a band-limited corner begins before it happens; so does a sine whose
sync is joined. A tone started again by a triangle, saw or pulse follows it
by 1 sample, by a free sine by 25.

Limits: harmonics to 18 kHz are within 0.02 dB. Folded lines of the corners
are more than 120 dB down, also when another oscillator of up to 3 kHz moves
them; of a triangle only up to 1.5 kHz, and at 3 kHz about 107 dB. A sine
that is started again while 1.5 kHz move its frequency: 106 dB.
A sine's sidebands themselves fold where fc + (I + 14) fm passes 28 kHz at 48
kHz. A phase that is moved by more than 2 cycles within a sample is not
mended.

Sources: Fourier series; Brandt, Hard sync without aliasing, ICMC 2001;
Chowning, JAES 21(7), 1973; Tomisawa (averaged feedback, from memory).`,
	Inputs: []patch.Input{
		{Name: "sync", Open: patch.OpenSilence, Help: "Rising through 0 starts the cycle again, at the very time within the sample (on a straight line between samples). Join another oscillator's sync here for hard sync. Left open the oscillator runs free."},
	},
	Outputs: []patch.Output{
		{Name: "out", Help: "The tone; the peaks of the ideal shape are at +-1."},
		{Name: "sync", Control: true, Help: "Where cycles start: a start at n + t samples gives -t, then 1 - t, otherwise 0: joined to a sync input it is exact. One sample late; of two starts closer than two samples the second comes one later."},
	},
	Controls: []patch.Control{
		control.Frequency("frequency", "Cycles a second, 0.01 Hz to 20 kHz; at most 0.49 of the sample rate. A cord moves it in octaves (+1 oct doubles it) or in Hz.", 0.01, 20000, 440),
		control.Choice("shape", "Form of the cycle: sine, triangle, saw or pulse. A cord moves it by as many words.", "sine", "triangle", "saw", "pulse"),
		control.Percent("width", "Duty cycle of the pulse: how much of the cycle it is up, 1 to 99 %. Other shapes have none. A cord moves it in percent points.", 1, 99, 50),
		linear("shift", "Added to the frequency, -20 to +20 kHz: through-zero frequency modulation. Where the sum is negative the cycle runs backwards; it stops at 0.49 of the sample rate either way. A cord moves it in Hz.", "Hz", 20000),
		linear("phase", "Added to the phase, -7200 to +7200 degrees (20 cycles). A cord moves it in degrees: phase modulation, whose index in radians is depth x pi/180.", "deg", mostDegrees),
		control.Percent("feedback", "How far the sine of the oscillator's phase moves its own phase, 0 to 100 %: 100 % is half a cycle either way, an index of pi. A cord moves it in percent points.", 0, 100, 0),
	},
}

// mostDegrees is as far as the phase can be moved.
const mostDegrees = 7200

// linear is a control around 0.
func linear(name, help, unit string, most float64) patch.Control {
	return patch.Control{Name: name, Help: help, Scales: []patch.Scale{{
		Unit: unit, Min: -most, Max: most, Moves: []patch.Move{{Unit: unit, Kind: patch.MoveLinear, Max: most}},
	}}}
}
