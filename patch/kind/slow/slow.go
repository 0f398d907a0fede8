// Package slow is the kind of module that sways a control: the slow oscillator.
//
//	rate -> phase -> plain shape -> out
//
// Held by tests against the definitions of the shapes.
package slow

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind {
	return &module.Kind{Kind: words, New: newSound, Bounded: true, Heeds: heeds}
}

// heeds reports whether a note does anything: it does nothing to a cycle that
// runs on without a fade-in.
func heeds(stands func(string) (patch.Setting, bool)) bool {
	run, runMoves := stands("run")
	fade, fadeMoves := stands("fade-in")
	return run.Value != runsOn || fade.Value != 0 || runMoves || fadeMoves
}

var words = patch.Kind{
	Name: "slow", Title: "slow oscillator", Family: patch.Modulators, Symbol: "generator", Version: 1,
	Help: `A voltage that sways between -1 and +1, slowly enough to be followed.

Join it to a control: the depth of the cord says how far it pushes to either
side, in the control's own unit. A sine of 6 Hz into a frequency with a depth
of 0.03 oct is vibrato; into a level it is tremolo; at 0.1 Hz into a cutoff it
is wind.

    sine      swings like a pendulum
    triangle  goes up and down at an even speed
    saw       rises evenly and falls back at once
    pulse     jumps: up for the written width of the cycle, down for the rest
    slope     goes up for the written width of the cycle, down for the rest,
              each at an even speed: a triangle at 50 %, nearly a saw at 99 %

A saw that falls is a saw whose cord has a negative depth. Saw and pulse keep
their sharp corners, which is right for moving controls. For a tone to be
heard take an oscillator: its corners are band-limited.

All shapes rise through 0 at phase 0, the pulse by its jump. With p the phase
in cycles, 0 to 1: sine = sin(2 pi p); triangle = 4p up to a quarter, 2 - 4p
up to three quarters, then 4p - 4; saw = 2p up to a half, then 2p - 2; pulse =
1 while p is below width w, then -1; slope = 2p/w up to w/2, then falling to
-1 at 1 - w/2, then 2(p - 1)/w.

Notes may do something to it, or nothing. Fade-in lets the swing grow evenly
from 0 to its full width behind every start of a note, as a player's vibrato
comes in late. Run says what else a note does: "runs on" leaves the cycle
alone, "restarts" begins it again at phase, "once" lets one cycle run and then
rests where that has ended (a pulse rests at -1: a gate of a stated length).

Source: the formulas above are the definitions of the shapes.`,
	Inputs: []patch.Input{
		{Name: "restart", Open: patch.OpenSilence, Help: "Rising through 0.5 starts the cycle again at phase. Left open only run and the notes start it."},
		{Name: "note", Open: patch.OpenTrigger, Help: "Rising through 0.5 begins the fade-in and does what run says. Left open it follows the note being played."},
	},
	Outputs: []patch.Output{{Name: "out", Control: true, Help: "The swaying voltage, -1 to +1."}},
	Controls: []patch.Control{
		control.Frequency("rate", "Cycles a second, 0.001 Hz (one in 17 minutes) to 100 Hz. A cord moves it in octaves or in Hz.", 0.001, 100, 1),
		control.Choice("shape", "Form of the cycle: sine, triangle, saw, pulse or slope. A cord moves it by as many words.", "sine", "triangle", "saw", "pulse", "slope"),
		control.Percent("width", "How much of its cycle the pulse is up, or the slope goes up, 1 to 99 %. Other shapes have none. A cord moves it in percent points.", 1, 99, 50),
		{Name: "phase", Help: "How far into the cycle it starts, 0 to 360 degrees: 90 starts a sine at its top. Moving it later shifts the whole swing. A cord moves it in degrees.",
			Scales: []patch.Scale{{Unit: "deg", Max: 360, Moves: []patch.Move{{Unit: "deg", Kind: patch.MoveLinear, Max: 360}}}}},
		{Name: "fade-in", Help: "Time in which the swing grows evenly from 0 to its full width behind the start of a note, 0 (at once) to 60 s. A change goes on from the width that has been reached. A cord moves it in octaves or in seconds.",
			Scales: []patch.Scale{{Unit: "s", Max: 60, Moves: []patch.Move{patch.Octaves, {Unit: "s", Kind: patch.MoveLinear, Max: 60}}}}},
		control.Choice("run", "What a note does to the cycle: it runs on, it restarts at phase, or it runs once and rests at its end. A cord moves it by as many words.", "runs on", "restarts", "once"),
	},
}
