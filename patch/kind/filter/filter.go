// Package filter is the kind of module that lets a part of the spectrum
// through: a state-variable filter of two poles.
//
//	in -> two integrators in a loop -> low, band, high, notch
//
// Held by tests against the magnitudes of the Audio EQ Cookbook.
package filter

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound} }

var words = patch.Kind{
	Name: "filter", Title: "filter, 12 dB/oct", Family: patch.Filters, Symbol: "filter", Version: 1,
	Help: `Lets a part of the spectrum through. Four outputs, all at once:

    low    what lies below the cutoff; 12 dB less for each octave above it
    band   what lies around the cutoff; 6 dB less for each octave away
    high   what lies above the cutoff; 12 dB less for each octave below it
    notch  everything but the cutoff

Width can be written in two ways, and they behave differently when the cutoff
moves:

    in Hz  the band stays as many Hz wide: width is the distance of the two
           frequencies at which band is 3.01 dB down. A low cutoff then
           gives a low Q.
    as Q   the band stays as wide to the ear: Q = cutoff / width.

Q also says what happens at the cutoff of low and high: their gain there is
Q. Q 0.7071 is the flattest (Butterworth, 3.01 dB down at the cutoff), Q 5
rings with a peak of 14 dB. A struck band rings on with a time constant of
Q/(pi cutoff) = 1/(pi width): 45 Hz wide rings for 7.1 ms, 1 Hz for 0.32 s.
A narrow band lets little through: noise behind it is weak, and a tone that
falls on the peak is not. Raise levels with care.

The loop is solved without delay (trapezoidal rule), so cutoff and Q may move
with every sample and the filter stays stable. The magnitudes are those of the
bilinear transform with the cutoff in its exact place; towards half the sample
rate the curves bend down more steeply than an analogue filter's.

Sources: Simper, Solving the continuous SVF equations, 2013; Wishnick,
Time-varying filters for musical applications, DAFx-14; Audio EQ Cookbook,
W3C Note, 2021; Regalia, Mitra and Vaidyanathan, Proc. IEEE 76(1), 1988 (exact
width of a digital band).`,
	Inputs: []patch.Input{{Name: "in", Help: "The signal to be filtered."}},
	Outputs: []patch.Output{
		{Name: "low", Help: "Low-pass: gain 1 at 0 Hz, Q at the cutoff, 12 dB/oct above."},
		{Name: "band", Help: "Band-pass: gain 1 (0 dB) times peak at the cutoff, 6 dB/oct to both sides."},
		{Name: "high", Help: "High-pass: gain 1 far above, Q at the cutoff, 12 dB/oct below."},
		{Name: "notch", Help: "Band-stop: nothing at the cutoff, gain 1 far away; in less the band without peak."},
	},
	Controls: []patch.Control{
		control.Frequency("cutoff", "Centre of band and notch, corner of low and high, 20 Hz to 20 kHz; at most 0.49 of the sample rate. A cord moves it in octaves or in Hz.", 20, 20000, 1000),
		{Name: "width", Help: "Width of the band between its points 3.01 dB down: in Hz, 1 Hz to 20 kHz (stays as many Hz when the cutoff moves), or as Q = cutoff/width, 0.1 to 1000 (stays as many octaves). A cord moves it in octaves.",
			Scales: []patch.Scale{
				{Unit: "Hz", Min: 1, Max: 20000, Default: 1000, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves}},
				{Unit: "Q", Min: 0.1, Max: 1000, Default: 0.7071, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves}},
			}},
		{Name: "peak", Help: "Gain of the output band at its centre, -24 dB to +24 dB; 0 dB passes a tone there unchanged. The other outputs do not have it. A cord moves it in dB or as a factor.",
			Scales: []patch.Scale{{Unit: "dB", Min: -24, Max: 24, Moves: []patch.Move{patch.Decibels, patch.Factor}}}},
	},
}
