package instruments

import "lampblack/scope"

// switches are the settings of the instruments.
type switches struct {
	time    float64           // seconds a division, 10 divisions
	value   [channels]float64 // units a division, 8 divisions
	source  int               // what triggers: channel 0 or 1, onNotes or onPasses
	level   float64
	falling bool
	frozen  bool
	mode    scope.Mode
	holdOff float64 // seconds
	before  float64 // where the trigger stands, 0 left to 1 right
	plane   bool    // A across, B up
	fade    float64 // seconds in which what was drawn falls to 1/e; 0 is none
	cursors int     // 0 is off, 1 reads A, 2 reads B

	window  scope.Window
	samples int     // of a spectrum
	average int     // spectra
	hold    bool    // the highest levels stay
	show    int     // showLines, showBands or showDifference
	span    float64 // of the spectrum, dB down from full scale
	linear  bool    // frequency axis

	expected int  // 0 for none, or the channel that theory is asked for, and 1
	table    bool // what theory expects is listed

	gramOf   int     // channel of the spectrogram
	gramTime float64 // seconds from its left edge to its right
	gramSpan float64 // dB from blank to full ink
}

// Sources beside the channels.
const (
	onNotes  = channels     // fires where a note of the memory module starts
	onPasses = channels + 1 // fires where a pass of the memory begins
	sources  = channels + 2
)

// What the spectrum shows.
const (
	showLines = iota
	showBands
	showDifference
)

// usual are the settings that the instruments begin with.
func usual() switches {
	return switches{
		time: 5e-3, value: [channels]float64{0.25, 0.25}, span: 120,
		window: scope.BlackmanHarris, samples: 8192, average: 1,
		gramTime: 10, gramSpan: 100,
	}
}

// rolls tells whether the scope is a strip chart: its pictures are longer than
// what a tap remembers.
func (w *switches) rolls() bool { return w.time > longestShot && !w.plane }

// channel is the channel in whose unit the trigger level is set.
func (w *switches) channel() int { return min(w.source, channels-1) }

// trigger returns what a picture begins at.
func (w *switches) trigger() scope.Trigger {
	if w.source >= onNotes { // a gate of 0 or 1
		return scope.Trigger{Level: 0.5, Hysteresis: 0.25}
	}
	return scope.Trigger{Level: w.level, Falling: w.falling, Hysteresis: w.value[w.source] / 10}
}

// levelled tells whether pictures begin at a level.
func (w *switches) levelled() bool { return w.source < onNotes && !w.rolls() && !w.plane }
