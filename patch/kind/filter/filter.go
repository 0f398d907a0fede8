// Package filter is the kind of module that lets a part of the spectrum
// through: a state-variable filter of two poles.
//
//	in -> two integrators in a loop -> low, band, high, notch, bell
//
// Held by tests against the magnitudes of the Audio EQ Cookbook, and against
// random changes of its settings with every sample.
package filter

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound} }

var words = patch.Kind{
	Name: "filter", Title: "filter, 12 dB/oct", Family: patch.Filters, Symbol: "filter", Version: 2,
	Help: `Lets a part of the spectrum through. Five outputs, all at once:

    low    what lies below the cutoff; 12 dB less for each octave above it
    band   what lies around the cutoff; 6 dB less for each octave away
    high   what lies above the cutoff; 12 dB less for each octave below it
    notch  everything but the cutoff
    bell   everything, and what lies around the cutoff louder or softer by
           boost: a bump or a dip of an equaliser

Width can be written in three ways, and they behave differently when the
cutoff moves:

    in Hz  the band stays as many Hz wide: width is the distance of the two
           frequencies at which band is 3.01 dB down. A low cutoff then
           gives a low Q.
    as Q   the band stays as wide to the ear: Q = cutoff / width.
    in oct the same, written as the distance of those two frequencies in
           octaves; they stay that far apart right up to half the sample
           rate, where a given Q grows narrower.
           1 oct is Q 1.414, 1/3 oct Q 4.318: 1/Q = 2 sinh(oct ln 2 / 2).

For bell the two frequencies are those at which half of boost (in dB) is left.
A bell of -6 dB undoes one of +6 dB exactly. boost raises bell alone, peak
raises band alone.

Q also says what happens at the cutoff of low and high: their gain there is
Q. Q 0.7071 is the flattest (Butterworth, 3.01 dB down at the cutoff), Q 5
rings with a peak of 14 dB. A struck band rings on with a time constant of
Q/(pi cutoff) = 1/(pi width): 45 Hz wide rings for 7.1 ms, 1 Hz for 0.32 s.
A narrow band lets little through: noise behind it is weak, and a tone that
falls on the peak is not. Raise levels with care.

The loop is solved without delay (trapezoidal rule), so cutoff and Q may
move with every sample and the filter stays stable. When the width jumps,
band, notch, high and bell keep the strength with which they ring, and low
keeps its level: noise through cutoff and width that jump at random with
every sample stays within 20 dB of the loudest of the settings. The
magnitudes are those of the bilinear transform with the cutoff in its exact
place; towards half the sample rate the curves bend down more steeply than
an analogue filter's.

Sources: Simper, Solving the continuous SVF equations, 2013; Wishnick,
Time-varying filters for musical applications, DAFx-14; Audio EQ Cookbook,
W3C Note, 2021; Laroche, On the stability of time-varying recursive filters,
JAES 55(6), 2007; Regalia, Mitra and Vaidyanathan, Proc. IEEE 76(1), 1988
(exact width of a digital band).`,
	Inputs: []patch.Input{{Name: "in", Help: "The signal to be filtered."}},
	Outputs: []patch.Output{
		{Name: "low", Help: "Low-pass: gain 1 at 0 Hz, Q at the cutoff, 12 dB/oct above."},
		{Name: "band", Help: "Band-pass: gain 1 (0 dB) times peak at the cutoff, 6 dB/oct to both sides."},
		{Name: "high", Help: "High-pass: gain 1 far above, Q at the cutoff, 12 dB/oct below."},
		{Name: "notch", Help: "Band-stop: nothing at the cutoff, gain 1 far away; in less the band without peak."},
		{Name: "bell", Help: "Peaking filter: gain boost at the cutoff, 1 (0 dB) far away; with boost at 0 dB it is the input."},
	},
	Controls: []patch.Control{
		control.Frequency("cutoff", "Centre of band and notch, corner of low and high, 20 Hz to 20 kHz; at most 0.49 of the sample rate. A cord moves it in octaves or in Hz.", 20, 20000, 1000),
		{Name: "width", Help: "Width of the band between its points 3.01 dB down: in Hz, 1 Hz to 20 kHz (stays as many Hz when the cutoff moves), as Q = cutoff/width, 0.1 to 1000 (stays as wide to the ear), or in octaves, 0.01 to 6. A cord moves it in octaves.",
			Scales: []patch.Scale{
				{Unit: "Hz", Min: 1, Max: 20000, Default: 1000, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves}},
				{Unit: "Q", Min: 0.1, Max: 1000, Default: 0.7071, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves}},
				{Unit: "oct", Min: 0.01, Max: 6, Default: 1, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves}},
			}},
		{Name: "peak", Help: "Gain of the output band at its centre, -24 dB to +24 dB; 0 dB passes a tone there unchanged. The other outputs do not have it. A cord moves it in dB or as a factor.",
			Scales: []patch.Scale{{Unit: "dB", Min: -24, Max: 24, Moves: []patch.Move{patch.Decibels, patch.Factor}}}},
		{Name: "boost", Help: "Gain of the output bell at the cutoff, -24 dB to +24 dB; at 0 dB bell is the input, unchanged. The other outputs do not have it. A cord moves it in dB or as a factor.",
			Scales: []patch.Scale{{Unit: "dB", Min: -24, Max: 24, Moves: []patch.Move{patch.Decibels, patch.Factor}}}},
	},
}
