// Package contour is the kind of module that follows a drawn contour.
//
//	rows of (time, level, curve) -> segments -> out
//
// Held by tests to the table: every point on its exact sample, for hours.
package contour

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// mostRows is how many segments a contour may have.
const mostRows = 64

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "contour", Title: "drawn contour", Family: patch.Envelopes, Symbol: "contour", Version: 1,
	Help: `An envelope of as many segments as you draw.

Each row of the table is a segment: it takes its time, and ends at its
level. The first one starts at 0 (or where the contour stands). A time of 0
is a jump. The curve says how the level gets there, with t the part of the
time that is over, 0 to 1, and c the curve:

    level = from + (to - from) x (1 - e^(-c t)) / (1 - e^(-c)),   c = 0: t

c above 0 is fast first, as a capacitor charges (c = 1 is the attack of the
envelope module; at c = 4.605 99 % of a charging curve); below 0 it is slow
first, the mirror image.

Every point stands on its exact sample: the one nearest to the sum of the
times up to it. The sums are of the table, not of rounded segments, so a
contour of an hour ends when it should.

    sustain     row at whose end it waits while the gate is held; 0 waits
                nowhere. release says what the end of the gate does before
                that: as drawn goes on to the end of the table, at once goes
                straight to the rows behind sustain (or, without sustain,
                behind an endless loop), from the level that has been reached.
    loop        rows loop from to loop to are gone through again, times times
                in all; 0 times is as long as the gate is held. The first row
                of the loop then starts at the level of the last one.
    length      the whole table (without what is repeated or waited for) takes
                exactly this long; 0 is as drawn. For a movement against the
                picture write 3.4 s here. A length that moves bends the rest:
                the contour goes on from where it is, at the new speed.

After its last point it stays there, and end gives a trigger: joined to the
trigger of another contour it starts that one.

Source: first-order circuit theory for the curve.`,
	Inputs: []patch.Input{
		{Name: "gate", Open: patch.OpenGate, Help: "Held while above 0.5; its rise starts the contour. Left open it follows the note being played."},
		{Name: "trigger", Open: patch.OpenTrigger, Help: "Rising through 0.5 starts the contour. Left open it follows the note being played."},
	},
	Outputs: []patch.Output{
		{Name: "out", Control: true, Help: "The contour times level, -1 to +1."},
		{Name: "end", Control: true, Help: "1 for the one sample on which the last point is reached, else 0."},
	},
	Controls: []patch.Control{
		{Name: "length", Help: "How long the whole table takes, 1 us to 600 s; 0 is as drawn. A cord moves it in octaves or in seconds.",
			Scales: []patch.Scale{{Unit: "s", Max: 600, Moves: []patch.Move{patch.Octaves, {Unit: "s", Kind: patch.MoveLinear, Max: 600}}}}},
		{Name: "level", Help: "What the contour is multiplied by, -100 (turned over) to +100 %. A cord moves it in percent points.",
			Scales: []patch.Scale{{Unit: "%", Min: -100, Max: 100, Default: 100, Moves: []patch.Move{{Unit: "%", Kind: patch.MoveLinear, Max: 200}}}}},
		control.Count("sustain", "The row at whose end it waits while the gate is held, 1 to 64; 0, or more than there are rows: nowhere. A cord moves it by as many.", 0, mostRows, 2),
		control.Choice("release", "What the end of the gate does before the sustain point: as drawn, the contour goes on through all rows; at once, it goes straight to those behind. A cord moves it by as many words.", "as drawn", "at once"),
		control.Count("loop from", "The first row that is repeated, 1 to 64; 0 repeats none. A cord moves it by as many.", 0, mostRows, 0),
		control.Count("loop to", "The last row that is repeated, 1 to 64; 0, one below loop from, or one beyond the table, repeats none. A cord moves it by as many.", 0, mostRows, 0),
		control.Count("times", "How often the loop is gone through in all, 1 to 100; 0 is as long as the gate is held. A cord moves it by as many.", 0, mostTimes, 0),
		control.Choice("retrigger", "What a start does while the contour stands somewhere: the first row starts from where it stands, or from zero, or (not while it runs) nothing is changed until the end is reached. A cord moves it by as many words.", "from where it stands", "from zero", "not while it runs"),
	},
	Table: &patch.Table{
		Name: "segments", Help: "The segments of the contour, one behind the other.",
		Least: 1, Most: mostRows, Drawn: patch.DrawnCurve,
		Columns: []patch.Column{
			{Name: "time", Help: "How long the segment takes, 0 (a jump) to 60 s: the time from the point before to this one.", Scale: patch.Scale{Unit: "s", Max: 60, Default: 0.1}},
			{Name: "level", Help: "The level at its end, -100 to +100 %.", Scale: patch.Scale{Unit: "%", Min: -100, Max: 100}},
			{Name: "curve", Help: "How it gets there: 0 evenly, up to +10 ever faster first, down to -10 ever slower first.", Scale: patch.Scale{Min: -10, Max: 10}},
		},
		Start: [][]float64{{0.02, 100, 1}, {0.25, 60, 3}, {0.8, 0, 3}},
	},
}
