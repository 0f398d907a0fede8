// Package partials is the kind of module that adds sines: up to 64 partials,
// each with a ratio and a level.
//
//	frequency x ratio -> sine x level -> + -> out
//
// Held by tests: every line where and as high as the formula has it, pitch
// within 0.001 cent, nothing that folds.
package partials

import (
	"math"

	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Most is the largest number of partials.
const Most = 64

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "partials", Title: "partials, additive", Family: patch.Sources, Symbol: "partials", Version: 1,
	Help: `A tone built of sines. Every row of the table is one partial: how many times
the frequency it has, and how loud it is. A new one starts with the first 16
harmonics of a saw, 2/(pi n), in sine phase: draw others over them.

    1, 2, 3 ...                 one tone: whole ratios melt into it
    1, 3, 5 ... at 1/n          hollow, a square
    1, 2.76, 5.40, 8.93         a bar free at both ends
    1, 1.59, 2.14, 2.30, 2.65   an ideal membrane, a drum without air
    0.5, 1, 1.2, 1.5, 2         the first partials of a bell: hum, prime, minor
                                third, fifth, nominal

Controls move the whole table, so that a few cords make a sound that lives:

    stretch    the ratio r becomes r^(1 + stretch): at +1 % the octave is 12
               cents wide of 2, below 0 % it is narrow
    stiffness  the ratio r becomes r sqrt((1 + B r^2)/(1 + B)), as of a stiff
               string; B = 0.03 % is near the middle of a piano
    tilt       in dB for each octave of ratio. Above 0 dB it takes from the low
               end, below from the high end: no partial gets louder
    balance    between rows 1, 3, 5 ... (-100 %) and 2, 4, 6 ... (+100 %)
    reach      how many rows sound, from the first on; the last fades in
    contrast   the distance of every level from the loudest, in dB: at 0 % all
               are as loud (the 16 of a new table then peak at +17.6 dB: take
               level away behind), at 100 % as drawn, at 200 % twice as far
               apart

Stretch first, then stiffness. What gets near half the sample rate fades
between 0.46 and 0.49 of the rate, so nothing folds down and nothing clicks.
The frequency may move with every sample and partials stay in step.

Sources: Fourier series; Fletcher and Rossing, The Physics of Musical
Instruments, ch. 2 (stiff string, bar), 3 (membrane) and 21 (bell).`,
	Outputs: []patch.Output{
		{Name: "out", Help: "The sum of all partials."},
		{Name: "odd", Help: "Rows 1, 3, 5 ... alone: with even on the other side a tone becomes wide."},
		{Name: "even", Help: "Rows 2, 4, 6 ... alone."},
	},
	Controls: []patch.Control{
		control.Frequency("frequency", "Frequency of ratio 1, 0.01 Hz to 20 kHz. A cord moves it in octaves or in Hz.", 0.01, 20000, 220),
		control.Percent("stretch", "Widens (above 0 %) or narrows all intervals: r becomes r^(1 + stretch), -50 to +100 %. A cord moves it in percent points.", -50, 100, 0),
		control.Percent("stiffness", "B of a stiff string, 0 to 5 %: partials get sharper the higher they are. Ratio 1 stays. A cord moves it in percent points.", 0, 5, 0),
		{Name: "tilt", Help: "dB for each octave of ratio, -24 to +24 dB. It only takes away: above 0 dB from the low end, below from the high end. A cord moves it in dB or as a factor.",
			Scales: []patch.Scale{{Unit: "dB", Min: -24, Max: 24, Moves: []patch.Move{patch.Decibels, patch.Factor}}}},
		control.Percent("balance", "Rows 1, 3, 5 ... alone at -100 %, all at 0 %, rows 2, 4, 6 ... alone at +100 %. A cord moves it in percent points.", -100, 100, 0),
		control.Percent("reach", "How many of the rows sound, 0 to 100 %, from the first on. A cord moves it in percent points.", 0, 100, 100),
		control.Percent("contrast", "The distances of the levels from the loudest, in dB, times this: 0 (all equal) to 200 %. A row at its lowest mark stays off. A cord moves it in percent points.", 0, 200, 100),
	},
	Table: &patch.Table{
		Name: "partials", Help: "One row is one partial: its ratio to the frequency, and its level.",
		Least: 1, Most: Most, Drawn: patch.DrawnBars,
		Columns: []patch.Column{
			{Name: "ratio", Help: "How many times the frequency, 0.01 to 64.", Scale: patch.Scale{Unit: "x", Min: 0.01, Max: 64, Default: 1, Taper: patch.Logarithmic}},
			{Name: "level", Help: "Level of its peak, -96 dB (off) to 0 dB.", Scale: patch.Scale{Unit: "dB", Min: control.LevelMin, Max: 0, Default: -12}},
		},
		Start: start(),
	},
}

// start is a saw: harmonic n at 2/(pi n), to the hundredth of a dB.
func start() [][]float64 {
	rows := make([][]float64, 16)
	for i := range rows {
		n := float64(i + 1)
		rows[i] = []float64{n, math.Round(2000*math.Log10(2/(math.Pi*n))) / 100}
	}
	return rows
}
