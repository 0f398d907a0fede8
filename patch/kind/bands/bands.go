// Package bands is the kind of module that weighs a sound by thirds of an
// octave.
//
//	in -> 30 band-passes side by side -> a level each -> + -> out
//
// Held by tests against the mid-bands of IEC 61260-1, the formula of Butterworth
// band-passes and the limits of class 1.
package bands

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound} }

var words = patch.Kind{
	Name: "bands", Title: "bands, third octave", Family: patch.Filters, Symbol: "bands", Version: 1,
	Help: `Thirty fixed filters side by side, a third of an octave each, with a level
for every one. They go from 25 Hz to 20 kHz, and what comes out is their
sum. A row of the table is the level of one band: draw a spectrum. Bands
without a row stand at 0 dB.

Take away nearly all, and a noise gets vowels; draw a hole, and a hum is gone;
draw what a wall lets through, and the sound is next door.

Controls move the whole, so that a drawn spectrum can travel:

    shift    pushes the drawn levels up or down by octaves; between bands the
             dB are interpolated, and the end bands stretch
    depth    times the drawn dB: 0 % is flat, 100 % as drawn, -100 % the inverse
    tilt     dB for each octave, around 1 kHz
    31.5 Hz to 16 kHz   the level of three neighbouring bands (an octave), on
             top of all that; a cord each makes ten voices of one noise

No band is raised over +24 dB.

The mid-bands are the exact ones, 1000 x 10^(k/10) Hz, and a band is a
Butterworth band-pass of order 6 (three pole pairs), made by the bilinear
transform with its edges in their exact places. It is 5.2 % wider than the
distance of its edges, where it is therefore 2.40 dB down and not 3.01, and
every other band has its sign turned: then neighbours add up without
ripples. With all bands at 0 dB the sum is flat within 0.3 dB from 25 Hz to
16 kHz and within 0.45 dB to 20 kHz, at rates of 44.1 kHz and more; it falls
at both ends. For that reason one band alone passes its middle at -1.98 dB.
The phase turns by a full cycle from band to band: a click comes out
smeared, longest at the low end. At rates below 80 kHz the bands from
rate/24 up run at twice the rate, so that half the rate does not bend them;
everything then comes 39 samples late (0.8 ms at 48 kHz).

Sources: IEC 61260-1:2014 (mid-bands, edges); Butterworth, On the theory of
filter amplifiers, Wireless Engineer 7, 1930.`,
	Inputs: []patch.Input{{Name: "in", Help: "The signal to be weighed. It is held within +-1000."}},
	Outputs: []patch.Output{
		{Name: "out", Help: "The sum of all bands."},
		{Name: "odd", Help: "Every other band from 25 Hz on alone: with even on the other side a sound becomes wide."},
		{Name: "even", Help: "Every other band from 31.5 Hz on alone."},
	},
	Controls: append([]patch.Control{
		{Name: "shift", Help: "Pushes the drawn levels along the frequencies, -5 to +5 octaves. A cord moves it in octaves.",
			Scales: []patch.Scale{{Unit: "oct", Min: -5, Max: 5, Moves: []patch.Move{{Unit: "oct", Kind: patch.MoveLinear, Max: 10}}}}},
		control.Percent("depth", "Times the drawn dB, -200 to +200 %: 0 % is flat, below 0 % the inverse. A cord moves it in percent points.", -200, 200, 100),
		{Name: "tilt", Help: "dB for each octave, around 1 kHz, -12 to +12 dB. A cord moves it in dB or as a factor.",
			Scales: []patch.Scale{{Unit: "dB", Min: -12, Max: 12, Moves: []patch.Move{patch.Decibels, patch.Factor}}}},
	}, octaves()...),
	Table: &patch.Table{
		Name: "bands", Help: "One row is the level of the third octave in which its frequency lies. Of two rows in one band the later counts.",
		Least: 1, Most: thirds, Drawn: patch.DrawnBars,
		Columns: []patch.Column{
			{Name: "frequency", Help: "Where the band lies, 25 Hz to 20 kHz: the nearest mid-band is meant.", Scale: patch.Scale{Unit: "Hz", Min: 25, Max: 20000, Default: 1000, Taper: patch.Logarithmic}},
			{Name: "level", Help: "Its level, -96 dB (off) to +24 dB.", Scale: patch.Scale{Unit: "dB", Min: control.LevelMin, Max: 24}},
		},
		Start: start(),
	},
}

// nominal are the names of the mid-bands (IEC 61260-1, annex).
var nominal = [thirds]float64{
	25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800,
	1000, 1250, 1600, 2000, 2500, 3150, 4000, 5000, 6300, 8000, 10000, 12500, 16000, 20000,
}

func start() [][]float64 {
	rows := make([][]float64, thirds)
	for i, hz := range nominal {
		rows[i] = []float64{hz, 0}
	}
	return rows
}

func octaves() []patch.Control {
	var all []patch.Control
	for _, o := range []struct{ name, thirds string }{
		{"31.5 Hz", "25, 31.5 and 40 Hz"}, {"63 Hz", "50, 63 and 80 Hz"}, {"125 Hz", "100, 125 and 160 Hz"},
		{"250 Hz", "200, 250 and 315 Hz"}, {"500 Hz", "400, 500 and 630 Hz"}, {"1 kHz", "800 Hz, 1 and 1.25 kHz"},
		{"2 kHz", "1.6, 2 and 2.5 kHz"}, {"4 kHz", "3.15, 4 and 5 kHz"}, {"8 kHz", "6.3, 8 and 10 kHz"}, {"16 kHz", "12.5, 16 and 20 kHz"},
	} {
		all = append(all, control.Level(o.name, "Level of the octave, that is of the bands at "+o.thirds+", -96 dB (off) to +24 dB. A cord moves it as a factor (x: depth 1 multiplies by the voltage) or in dB.", 24, 0))
	}
	return all
}
